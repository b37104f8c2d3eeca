"""Outline: a closed line in a plane, of straight sides and arcs.

Corners are listed anticlockwise. A side runs from its corner to the next one; its `bulge` says how much it bows:
0 is straight, otherwise the tangent of a quarter of the angle that the arc turns through, positive for an
arc that bows out of an anticlockwise outline (1 is a half circle). This is the measure that the DXF reference gives
for polylines. Areas and bounds are those of the true arcs, not of a many-sided stand-in.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

Point = tuple[float, float]

SAGITTA = 0.02
"""How far a straight piece may stand off the arc that it stands for [mm]."""


@dataclass(frozen=True)
class Outline:
    """Corners and the bulge of the side that leaves each. Always anticlockwise: turned round where it was not.

    Raises ValueError where it is no outline: under two corners, two alike in a row, no area, or not finite.
    """

    corners: tuple[Point, ...]
    bulges: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        corners = tuple((float(x) + 0.0, float(y) + 0.0) for x, y in self.corners)
        bulges = tuple(float(b) + 0.0 for b in self.bulges) or (0.0,) * len(corners)
        if len(bulges) != len(corners):
            raise ValueError(f"{len(corners)} corners and {len(bulges)} bulges: each corner needs one")
        if len(corners) < 2:
            raise ValueError("an outline needs two corners at least")
        if not all(math.isfinite(v) for v in (*(v for p in corners for v in p), *bulges)):
            raise ValueError("an outline needs numbers that are numbers")
        if any(a == b for a, b in zip(corners, corners[1:] + corners[:1], strict=True)):
            raise ValueError("two corners of an outline, one after the other, are the same point")
        if (area := _area(corners, bulges)) < 0:
            corners = corners[::-1]
            bulges = tuple(-b for b in (*bulges[-2::-1], bulges[-1]))
        if area == 0:
            raise ValueError("an outline needs an area")
        object.__setattr__(self, "corners", corners)
        object.__setattr__(self, "bulges", bulges)

    @property
    def is_straight(self) -> bool:
        """True where no side is an arc."""
        return not any(self.bulges)

    @property
    def area(self) -> float:
        """Area inside [mm2], true arcs."""
        return _area(self.corners, self.bulges)

    @property
    def perimeter(self) -> float:
        """Length all round [mm], true arcs."""
        return sum(abs(arc.sweep) * arc.radius if arc else math.dist(a, b) for a, b, arc in sides(self))

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y [mm], true arcs."""
        points = list(self.corners)
        for _, _, arc in sides(self):
            points += arc.extremes() if arc else []
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return (min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True)
class Arc:
    """Part of a circle: from the angle `start`, turning through `sweep` (positive: anticlockwise) [rad]."""

    centre: Point
    radius: float
    start: float
    sweep: float

    def at(self, share: float) -> Point:
        """The point a share (0 to 1) of the way along."""
        angle = self.start + share * self.sweep
        return (self.centre[0] + self.radius * math.cos(angle), self.centre[1] + self.radius * math.sin(angle))

    def passes(self, angle: float) -> bool:
        """Does the arc cover this direction from its centre?"""
        along = (angle - self.start) * math.copysign(1, self.sweep)
        return along % math.tau <= abs(self.sweep)

    def extremes(self) -> list[Point]:
        """Its leftmost, rightmost, highest and lowest points, where it has them."""
        (x, y), r = self.centre, self.radius
        far = ((x + r, y), (x, y + r), (x - r, y), (x, y - r))
        return [point for quarter, point in enumerate(far) if self.passes(quarter * math.pi / 2)]


def sides(outline: Outline) -> Iterator[tuple[Point, Point, Arc | None]]:
    """Each side as its two ends and, where it is an arc, the arc."""
    ends = outline.corners[1:] + outline.corners[:1]
    for a, b, bulge in zip(outline.corners, ends, outline.bulges, strict=True):
        yield a, b, (_arc(a, b, bulge) if bulge else None)


def polygon(points: Sequence[Point]) -> Outline:
    """Straight sides from point to point and back to the first."""
    return Outline(tuple(points))


def rectangle(wide: float, high: float, corner: Point = (0.0, 0.0)) -> Outline:
    """A rectangle with its lower left corner at `corner`. ValueError unless both sizes are above 0."""
    _above_zero(wide, high)
    x, y = corner
    return Outline(((x, y), (x + wide, y), (x + wide, y + high), (x, y + high)))


def circle(diameter: float, centre: Point = (0.0, 0.0)) -> Outline:
    """A circle, kept as two half circles."""
    _above_zero(diameter)
    (x, y), r = centre, diameter / 2
    return Outline(((x - r, y), (x + r, y)), (1.0, 1.0))


def rounded_rectangle(wide: float, high: float, radius: float, corner: Point = (0.0, 0.0)) -> Outline:
    """A rectangle with its four corners rounded; with none left of a straight side it is a slot or a circle."""
    _above_zero(wide, high)
    if radius <= 0:
        return rectangle(wide, high, corner)
    if radius > min(wide, high) / 2:
        raise ValueError(f"a corner radius of {radius} is more than half of {min(wide, high)}")
    x, y = corner
    r, round_off = radius, math.tan(math.pi / 8)
    right, top = x + wide, y + high
    points = [
        ((x + r, y), 0.0), ((right - r, y), round_off), ((right, y + r), 0.0), ((right, top - r), round_off),
        ((right - r, top), 0.0), ((x + r, top), round_off), ((x, top - r), 0.0), ((x, y + r), round_off),
    ]  # fmt: skip
    kept = [p for i, p in enumerate(points) if p[1] or math.dist(p[0], points[(i + 1) % 8][0]) > 0]
    return Outline(tuple(p[0] for p in kept), tuple(p[1] for p in kept))


def slot(a: Point, b: Point, width: float) -> Outline:
    """What a round cutter of that width leaves on its way from `a` to `b`."""
    _above_zero(width)
    if a == b:
        return circle(width, a)
    r, size = width / 2, math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / size * r, (b[0] - a[0]) / size * r
    corners = ((a[0] - nx, a[1] - ny), (b[0] - nx, b[1] - ny), (b[0] + nx, b[1] + ny), (a[0] + nx, a[1] + ny))
    return Outline(corners, (0.0, 1.0, 0.0, 1.0))


def points(outline: Outline, tolerance: float = SAGITTA) -> tuple[Point, ...]:
    """Corners of a straight-sided stand-in, arcs cut up so that none stands off by more than `tolerance` [mm].

    The points lie on the arcs, so a bowed-out side loses a little and a bowed-in one gains.
    """
    found: list[Point] = []
    for a, _, arc in sides(outline):
        found.append(a)
        if arc:
            pieces = max(1, math.ceil(abs(arc.sweep) / step_of(arc.radius, tolerance) - 1e-9))
            found += [arc.at(i / pieces) for i in range(1, pieces)]
    return tuple(found)


def step_of(radius: float, tolerance: float = SAGITTA) -> float:
    """The angle [rad] of a chord that stands off a circle by `tolerance`; at most a sixteenth of a turn."""
    return min(math.tau / 16, 2 * math.acos(max(0.0, 1 - tolerance / radius)))


def where(outline: Outline, point: Point, tolerance: float = 1e-6) -> Literal["inside", "on", "outside"]:
    """Is a point inside, on the line (within `tolerance` mm) or outside? True arcs."""
    if any(_distance(point, a, b, arc) <= tolerance for a, b, arc in sides(outline)):
        return "on"
    turns = sum(_seen_turn(point, a, b, arc) for a, b, arc in sides(outline)) / math.tau
    return "inside" if round(turns) else "outside"


def distance(outline: Outline, point: Point) -> float:
    """How far a point is from the line itself [mm], whichever side it is on; true arcs."""
    return min(_distance(point, a, b, arc) for a, b, arc in sides(outline))


def moved(outline: Outline, by: Point) -> Outline:
    """The same outline elsewhere."""
    return replace(outline, corners=tuple((x + by[0], y + by[1]) for x, y in outline.corners))


def flipped(outline: Outline) -> Outline:
    """Mirrored left for right, about x = 0."""
    return Outline(tuple((-x, y) for x, y in outline.corners), tuple(-b for b in outline.bulges))


def offset(outline: Outline, by: float, tolerance: float = SAGITTA) -> tuple[Outline, ...]:
    """The outline grown (`by` above 0) or shrunk by a width all round, corners kept sharp.

    It may fall into several, or vanish. Straight outlines, and those whose arcs run smoothly into their
    neighbours, come out true; others have their arcs cut up first, to within `tolerance` [mm].
    """
    if by == 0:
        return (outline,)
    smooth = _offset_smooth(outline, by)
    return (smooth,) if smooth else _offset_straight(outline, by, tolerance)


def smeared(outline: Outline, by: float) -> tuple[Outline, ...]:
    """What an outline covers as it stands `by` [mm] off to each of four sides, at once; straight sides.

    In one where that has no hole, else the four one by one.
    """
    from shapely import Polygon, union_all

    at = points(outline)
    four = [[(x + dx, y + dy) for x, y in at] for dx in (-by, by) for dy in (-by, by)]
    whole = union_all([Polygon(one) for one in four])
    if not isinstance(whole, Polygon) or whole.interiors:
        return tuple(Outline(tuple(one)) for one in four)
    ring = tuple((float(x), float(y)) for x, y in whole.exterior.coords[:-1])
    return (Outline(_from_least(ring if whole.exterior.is_ccw else ring[::-1])),)


def _offset_smooth(outline: Outline, by: float) -> Outline | None:
    """Each corner straight out by its own normal: true where sides meet without a corner. None where they do not."""
    arcs = [arc for _, _, arc in sides(outline) if arc]
    if not arcs or any(arc.radius + math.copysign(by, by * arc.sweep) <= 1e-9 for arc in arcs):
        return None
    leaving = [_heading(a, b, arc, 0.0) for a, b, arc in sides(outline)]
    reaching = [_heading(a, b, arc, 1.0) for a, b, arc in sides(outline)]
    corners = []
    for i, (x, y) in enumerate(outline.corners):
        if math.dist(leaving[i], reaching[i - 1]) > 1e-9:
            return None
        corners.append((x + leaving[i][1] * by, y - leaving[i][0] * by))
    if any(math.dist(a, b) < 1e-9 for a, b in zip(corners, corners[1:] + corners[:1], strict=True)):
        return None
    grown = Outline(tuple(corners), outline.bulges)
    return grown if _is_offset(outline, grown, by) else None


def _is_offset(outline: Outline, grown: Outline, by: float) -> bool:
    """No part of the grown line may have come nearer to the old one than it should (it would cross itself)."""
    return all(distance(outline, p) >= abs(by) - 1e-6 for p in points(grown, SAGITTA))


def _offset_straight(outline: Outline, by: float, tolerance: float) -> tuple[Outline, ...]:
    from shapely.geometry import Polygon

    grown = Polygon(points(outline, tolerance)).buffer(by, join_style="mitre", mitre_limit=100.0)
    parts = getattr(grown, "geoms", [grown])
    rings = [tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]) for part in parts if not part.is_empty]
    return tuple(Outline(ring) for ring in sorted(_from_least(ring) for ring in rings))


def _from_least(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    first = ring.index(min(ring))
    return ring[first:] + ring[:first]


def _heading(a: Point, b: Point, arc: Arc | None, share: float) -> Point:
    """Direction of travel at the start (0) or end (1) of a side."""
    if not arc:
        size = math.dist(a, b)
        return ((b[0] - a[0]) / size, (b[1] - a[1]) / size)
    angle, way = arc.start + share * arc.sweep, math.copysign(1, arc.sweep)
    return (-math.sin(angle) * way, math.cos(angle) * way)


def _arc(a: Point, b: Point, bulge: float) -> Arc:
    chord = math.dist(a, b)
    sweep = 4 * math.atan(bulge)
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    reach = chord * (1 - bulge * bulge) / (4 * bulge)  # from the chord's middle to the centre, to the left of travel
    left = (-(b[1] - a[1]) / chord, (b[0] - a[0]) / chord)
    centre = ((a[0] + b[0]) / 2 + left[0] * reach, (a[1] + b[1]) / 2 + left[1] * reach)
    return Arc(centre, radius, math.atan2(a[1] - centre[1], a[0] - centre[0]), sweep)


def _area(corners: tuple[Point, ...], bulges: tuple[float, ...]) -> float:
    total, (ox, oy) = 0.0, corners[0]
    for (ax, ay), (bx, by), bulge in zip(corners, corners[1:] + corners[:1], bulges, strict=True):
        total += ((ax - ox) * (by - oy) - (bx - ox) * (ay - oy)) / 2
        if bulge:
            arc = _arc((ax, ay), (bx, by), bulge)
            total += arc.radius**2 * (arc.sweep - math.sin(arc.sweep)) / 2
    return total


def _distance(p: Point, a: Point, b: Point, arc: Arc | None) -> float:
    if arc:
        away = math.dist(p, arc.centre)
        if away == 0 or arc.passes(math.atan2(p[1] - arc.centre[1], p[0] - arc.centre[0])):
            return abs(away - arc.radius)
        return min(math.dist(p, a), math.dist(p, b))
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, share))
    return math.dist(p, (a[0] + share * dx, a[1] + share * dy))


def _seen_turn(p: Point, a: Point, b: Point, arc: Arc | None) -> float:
    """The angle through which one turns at `p` to follow a point along the side."""
    ax, ay, bx, by = a[0] - p[0], a[1] - p[1], b[0] - p[0], b[1] - p[1]
    square, along = ax * by - ay * bx, ax * bx + ay * by
    if not arc or math.dist(p, arc.centre) >= arc.radius:
        return math.atan2(square, along)
    way = math.copysign(1, arc.sweep)  # between chord and arc, the arc goes round on the other side than the chord
    turn = math.atan2(square * way, along)
    return way * (math.pi if square == 0 else turn if turn > 0 else turn + math.tau)


def _above_zero(*sizes: float) -> None:
    if not all(size > 0 for size in sizes):
        raise ValueError(f"a size must be above 0, not {min(sizes)}")
