"""Footing: what a piece stands on as a ground plan, and every edge of it that the piece may go over."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import asin, atan, degrees, hypot

from storystick.checks.masses import solids_of, standing
from storystick.checks.moving import boxed, motion_of, shapes_of
from storystick.checks.not_held import ties
from storystick.model.build import SiteBody
from storystick.model.check import Asked
from storystick.model.part import Assembly
from storystick.physics.tipping import CARPET_MM, FLOOR_FALLS
from storystick.shapes.motion import Swing, pose_at
from storystick.shapes.pose import Vector, apply, direct, dot, invert

LEVEL_MM = 1.0  # what is lowest within so much of the lowest stands on the floor
STRAIGHT = 0.02  # edges whose ways differ by less are one
SLANT = 0.38  # sine: an edge that looks this much to a side is named with it
LEANS_MM, HIGH_ENOUGH = 60.0, 2 / 3  # a wall that near and that high, as a share, keeps it from going over that way
STEPS = 12  # a tilt is looked at so many times on its way

type Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Footing:
    """Which way a piece may go over: the direction in the room, and where its edge is along that direction [mm].

    ground  height of what it stands on [mm]
    reach   from the edge to the farthest that its feet stand behind it [mm]
    """

    word: str
    way: Vector
    edge: float
    ground: float
    reach: float

    def behind(self, at: Vector) -> float:
        """How far a place is behind the edge [mm]; below nothing in front of it."""
        return self.edge - dot(at, self.way)

    @property
    def lean_deg(self) -> float:
        """How far a floor may lean towards the edge: as a garage falls, or carpet lifts the other side [deg]."""
        return degrees(max(atan(FLOOR_FALLS), atan(CARPET_MM / self.reach) if self.reach > 0 else 0.0))


def standing_as_one(asked: Asked) -> tuple[tuple[Assembly, ...], ...]:
    """What stands by itself, those that joints or fasteners tie to one another together, the largest first.

    None that is tied to something that is fixed to a wall.
    """
    tied = ties(asked.build)
    groups: dict[str, list[Assembly]] = {}
    for one in standing(asked):
        groups.setdefault(_tied_to(asked, tied, one), []).append(one)
    fixed = {_tied_to(asked, tied, one) for one in asked.build.assemblies if any("wall" in w for w in one.held_by)}
    return tuple(
        tuple(sorted(found, key=lambda one: -(one.size[0].value * one.size[1].value * one.size[2].value)))
        for root, found in groups.items()
        if root not in fixed
    )


def _tied_to(asked: Asked, tied: Mapping[str, str], one: Assembly) -> str:
    """A word for the body that an assembly belongs to: that of its largest part."""
    within = asked.scene.inside(one.name)
    parts = [part for part in asked.build.parts if part.assembly in within]
    largest = max(parts, key=lambda p: p.length.value * p.width.value * p.thickness.value, default=None)
    return tied[largest.name] if largest is not None else one.name


def footings(asked: Asked, ones: tuple[Assembly, ...], within: frozenset[str]) -> tuple[Footing, ...]:
    """Every edge of the outline of its feet, castors turned the worst way; of its lowest boards where it has none."""
    one, around = ones[0], []
    pose = asked.scene.poses[one.name]
    spots = [apply(asked.scene.poses[o.name], (float(x), float(y), 0.0)) for o in ones for x, y in o.feet]
    around += [(x, y) for x, y, _ in spots]
    footless = frozenset(n for o in ones if not o.feet for n in asked.scene.inside(o.name))
    boxes = [solid.bounds for solid in solids_of(asked, footless or (frozenset() if spots else within))]
    ground = min([z for *_, z in spots] + [box[0][2] for box in boxes])
    low = [box for box in boxes if box[0][2] < ground + LEVEL_MM]
    around += [(x, y) for box in low for x in (box[0][0], box[1][0]) for y in (box[0][1], box[1][1])]
    swivels = max(o.swivels for o in ones)
    found = []
    for way, edge, reach in edges(around):
        room: Vector = (way[0], way[1], 0.0)
        word = _word(direct(invert(pose), room))
        found.append(Footing(word, room, edge - swivels, ground, max(0.0, reach - 2 * swivels)))
    return tuple(found)


def free_edges(asked: Asked, ones: tuple[Assembly, ...], within: frozenset[str]) -> tuple[Footing, ...]:
    """The same without those over which it would only lean against something of the site that is as high."""
    found = footings(asked, ones, within)
    low, high = boxed(solid.bounds for solid in solids_of(asked, within))
    free = tuple(edge for edge in found if not _leans_on_site(asked, edge, low, high))
    return free or found


def _leans_on_site(asked: Asked, edge: Footing, low: Vector, high: Vector) -> bool:
    """Whether something stands close before it that way, at least as high as two thirds of it and half as wide."""
    axis = max((0, 1), key=lambda a: abs(edge.way[a]))
    if abs(edge.way[axis]) < 1 - STRAIGHT:
        return False
    over = 1 - axis
    for body in asked.build.site:
        if body.stays_free or body.move is not None:
            continue
        for box in (shape.bounds for shape in shapes_of(body)):
            apart = box[0][axis] - high[axis] if edge.way[axis] > 0 else low[axis] - box[1][axis]
            across = min(box[1][over], high[over]) - max(box[0][over], low[over])
            tall = box[1][2] >= low[2] + HIGH_ENOUGH * (high[2] - low[2]) and box[0][2] < high[2]
            if -LEVEL_MM <= apart <= LEANS_MM and across >= (high[over] - low[over]) / 2 and tall:
                return True
    return False


def edges(spots: list[Spot]) -> list[tuple[Spot, float, float]]:
    """Each edge round some spots: the way out over it, where it is along that way, how far the spots reach behind."""
    round_ = hull(spots)
    if len(round_) < 3:
        return _of_a_line(round_)
    found: list[tuple[Spot, float, float]] = []
    for (ax, ay), (bx, by) in zip(round_, [*round_[1:], round_[0]], strict=True):
        long = hypot(bx - ax, by - ay)
        way = ((by - ay) / long + 0.0, (ax - bx) / long + 0.0)
        if found and hypot(found[-1][0][0] - way[0], found[-1][0][1] - way[1]) < STRAIGHT:
            continue
        along = [x * way[0] + y * way[1] for x, y in round_]
        found.append((way, max(along), max(along) - min(along)))
    return found


def _of_a_line(spots: list[Spot]) -> list[tuple[Spot, float, float]]:
    """A line or a point stands on nothing: it goes over either way."""
    if not spots:
        return []
    (ax, ay), (bx, by) = spots[0], spots[-1]
    long = hypot(bx - ax, by - ay)
    along = ((bx - ax) / long, (by - ay) / long) if long else (1.0, 0.0)
    across = (-along[1], along[0])
    ways = [(along[0] * s, along[1] * s) for s in (1, -1)] + [(across[0] * s, across[1] * s) for s in (1, -1)]
    return [(way, max(x * way[0] + y * way[1] for x, y in spots), long if n < 2 else 0.0) for n, way in enumerate(ways)]


def hull(spots: list[Spot]) -> list[Spot]:
    """The outline round some spots, left turns only: Andrew's monotone chain."""
    ordered = sorted(set(spots))
    if len(ordered) < 3:
        return ordered
    sides = []
    for points in (ordered, ordered[::-1]):
        side: list[Spot] = []
        for point in points:
            while len(side) > 1 and _turn(side[-2], side[-1], point) <= 1e-9:
                side.pop()
            side.append(point)
        sides.append(side[:-1])
    return sides[0] + sides[1]


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _word(way: Vector) -> str:
    """A way in the piece's own words."""
    words = []
    if abs(way[1]) > SLANT:
        words.append("forward" if way[1] < 0 else "backward")
    if abs(way[0]) > SLANT:
        words.append("to the left" if way[0] < 0 else "to the right")
    return " and ".join(words) or "over"


@dataclass(frozen=True, slots=True)
class Tilt:
    """A thing of the site that tilts with what stands on it: how far at most [deg], and each way it leans on the way.

    leans  for each look, what then counts as down in the axes of the piece at rest: a vector of length 1
    """

    body: SiteBody
    most: float
    leans: tuple[Vector, ...]

    def lean_deg(self, footing: Footing) -> float:
        """The farthest that it ever leans towards an edge [deg]; 90 where it hangs upside down."""
        if any(down[2] > -1e-9 and dot(down, footing.way) > 0 for down in self.leans):
            return 90.0
        return max(degrees(asin(max(-1.0, min(1.0, dot(down, footing.way))))) for down in self.leans)


def tilt_of(asked: Asked, one: Assembly) -> Tilt | None:
    """How the thing of the site that an assembly stands on tilts with it; None where it does not."""
    name = one.stands_on.split(".")[0]
    body = next((each for each in asked.build.site if each.name == name), None)
    moves = [body.move] if body is not None and body.move is not None else []
    swings = [motion for move in moves if isinstance(motion := motion_of(move), Swing) and abs(motion.axis[2]) < 0.99]
    if body is None or not swings:
        return None
    motion = swings[0]
    turns = [invert(pose_at(motion, (step / STEPS, 0.0))) for step in range(STEPS + 1)]
    leans = tuple(direct(turn, (0.0, 0.0, -1.0)) for turn in turns)
    return Tilt(body, max(abs(motion.start), abs(motion.end)), leans)
