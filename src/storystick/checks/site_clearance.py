"""Site clearance: the piece keeps clear of what is already there, at rest and through every motion of either."""

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from storystick.checks.moving import (
    Mover,
    Named,
    arrivals,
    bodies_of,
    boxed,
    drawers,
    leaves,
    riders,
    shapes_of,
    site_movers,
)
from storystick.checks.saying import at_least, at_most, decimal, mm, where
from storystick.checks.stated import changes
from storystick.checks.stopping import safe_share
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.length import Manner
from storystick.ground.source import Source
from storystick.model.build import SiteBody
from storystick.model.check import Asked, Check
from storystick.shapes.motion import Path, Slide, pose_at
from storystick.shapes.near import DUST, Overlap, boxes_far, gap, no_nearer, overlap
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Solid, box_between, boxes_apart, moved
from storystick.shapes.sweep import Least, least_gap

SOLIDS = Source(
    "least distance between the solids of the piece and of the site, at rest and through every motion", "practice"
)
NEWS_MM = 100.0  # farther off than this, and than what is to be kept, is not told
TOUCH_MM = 0.05
LEAST_LOOKS, MOST_LOOKS = 24, 200
SWEEP_MM = 0.1  # how near to the truth a gap in motion is found, on the safe side


@dataclass(frozen=True, slots=True)
class Nearest:
    """The nearest that the piece comes to a body of the site: which part, how near, where, when; how deep."""

    part: str
    distance: float
    at: Vector
    when: tuple[Mover, float] | None = None
    runs_in: Overlap | None = None
    sides: tuple[Sequence[Solid], Sequence[Solid]] = ((), ())  # what moves, and what it must not come near to

    @property
    def order(self) -> float:
        """Worse is less: the gap, or below nothing how deep it runs in."""
        return -self.runs_in.thickness if self.runs_in else self.distance


def run(asked: Asked) -> Iterator[Finding]:
    """Each body of the site: the nearest that anything of the piece comes to it."""
    piece = bodies_of(asked)
    movers, moved_site = [*drawers(asked), *leaves(asked)], list(site_movers(asked))
    ridden, arriving = list(riders(asked)), list(arrivals(asked))
    for body in asked.build.site:
        within = float(body.keep or 0) + NEWS_MM
        shapes = shapes_of(body)
        carried = _carried_by(asked, body)
        below = frozenset(
            j for j, shape in enumerate(shapes) if any(_rests(s, shape) for n, s in piece if n in carried)
        )
        beside = tuple(shape for j, shape in enumerate(shapes) if j not in below)
        found = list(_at_rest(piece, shapes, within, carried, below))
        for mover in movers:
            against = beside if mover.names & carried else shapes
            found += _in_motion(mover, mover.bodies, against, _least(found, within))
        for moving, mover in moved_site:
            if moving is body:
                solids = [solid for _, solid in mover.bodies]
                still = [one for one in piece if one[0] not in carried]  # what stands on it goes with it
                found += _in_motion(mover, still, solids, _least(found, within), site_moves=True)
        for mover in (*(m for on, m in ridden if on is not body), *(() if body.stays_free else arriving)):
            against = beside if mover.names & carried else shapes
            found += _in_motion(mover, mover.bodies, against, _least(found, within))
        if found:
            yield _finding(asked, body, min(found, key=lambda one: (one.order, one.part)))


def _least(found: Sequence[Nearest], within: float) -> float:
    """How near a thing must come to be nearer than what was found so far [mm]; not less than a touch."""
    return max(TOUCH_MM, min((one.distance - DUST for one in found), default=within))


def _carried_by(asked: Asked, body: SiteBody) -> frozenset[str]:
    """Names of parts and items of the assemblies that stand on a body of the site: these may touch it from above."""
    stands = [one.name for one in asked.build.assemblies if one.stands_on.split(".")[0] == body.name]
    within = frozenset(name for one in stands for name in asked.scene.inside(one))
    parts = {part.name for part in asked.build.parts if part.assembly in within}
    return frozenset(parts | {item.name for item in asked.build.items if item.assembly in within})


def _at_rest(
    piece: Sequence[Named], shapes: Sequence[Solid], within: float, carried: frozenset[str], below: frozenset[int]
) -> Iterator[Nearest]:
    """The nearest of all pairs; what stands on the shapes `below` may be as near to them as it likes, not in them.

    What may be the nearest comes first: by the boxes of the two, then by how near they can be; then it is measured.
    """
    far = boxes_far([solid for _, solid in piece], shapes)
    near_by = np.argwhere(far <= within).tolist()
    waiting = [(round(float(far[i, j]), 6), False, piece[i][0], i, j) for i, j in near_by]
    heapq.heapify(waiting)
    best = within
    while waiting and waiting[0][0] <= max(best, TOUCH_MM):
        least, is_known, name, i, j = heapq.heappop(waiting)
        (_, solid), shape, reach = piece[i], shapes[j], max(best, TOUCH_MM)
        resting = name in carried and j in below
        if not is_known:
            known = None if resting and least > 0 else no_nearer(solid, shape, reach)
            if known is not None:
                heapq.heappush(waiting, (round(known, 6), True, name, i, j))
            continue
        near = gap(solid, shape, reach)
        if near is None:
            continue
        runs_in = overlap(solid, shape) if near.distance == 0 else None
        if runs_in is None and resting:
            continue
        best = min(best, near.distance - DUST)
        yield Nearest(name, near.distance, runs_in.at if runs_in else near.at, None, runs_in)


def _rests(solid: Solid, shape: Solid) -> bool:
    """Whether a body lies on top of another: its underside is level with the other's top, and they touch."""
    if solid.is_empty or abs(solid.bounds[0][2] - shape.bounds[1][2]) >= TOUCH_MM:
        return False
    return gap(solid, shape, TOUCH_MM) is not None


def _in_motion(
    mover: Mover, piece: Sequence[Named], shapes: Sequence[Solid], within: float, site_moves: bool = False
) -> Iterator[Nearest]:
    """The nearest that things come while one side moves; `piece` names the piece's bodies, moving or not."""
    solids = [solid for _, solid in piece]
    moving, others = (shapes, solids) if site_moves else (solids, shapes)
    found = _least_of(moving, others, mover, within)
    if found is None:
        return
    least, (i, j) = found
    if least.gap <= 0 and (hit := first_hit(moving, others, mover)) is not None:
        share, (i, j), shared = hit
        yield Nearest(piece[j if site_moves else i][0], 0.0, shared.at, (mover, share), shared, (moving, others))
        return
    when = (mover, least.when[0])
    yield Nearest(piece[j if site_moves else i][0], max(0.0, least.gap), least.at, when, None, (moving, others))


def _least_of(
    moving: Sequence[Solid], others: Sequence[Solid], mover: Mover, within: float
) -> tuple[Least, tuple[int, int]] | None:
    """The least gap while it moves, and between which two; only of what comes near at all, by boxes round its way."""
    near = [
        (i, j)
        for j, other in enumerate(others)
        if not other.is_empty and boxes_apart(mover.whole, other.bounds) <= within
        for i, way in enumerate(mover.ways)
        if boxes_apart(way, other.bounds) <= within
    ]
    ones, twos = sorted({i for i, _ in near}), sorted({j for _, j in near})
    least = least_gap([moving[i] for i in ones], [others[j] for j in twos], mover.motion, SWEEP_MM, within=within)
    return None if least is None else (least, (ones[least.bodies[0]], twos[least.bodies[1]]))


def first_hit(
    moving: Sequence[Solid], others: Sequence[Solid], mover: Mover
) -> tuple[float, tuple[int, int], Overlap] | None:
    """The last share of the way that is still free, then the pair that runs into one another and by how much."""
    looks = min(MOST_LOOKS, max(LEAST_LOOKS, round(mover.way / 4)))
    for step in range(looks + 1):
        pose = pose_at(mover.motion, (step / looks, 0.0))
        for i, solid in enumerate(moving):
            placed = moved(solid, pose)
            for j, other in enumerate(others):
                if shared := overlap(placed, other):
                    return max(0, step - 1) / looks, (i, j), shared
    return None


def _finding(asked: Asked, body: SiteBody, near: Nearest) -> Finding:
    manner = asked.build.manner
    keep = body.keep.value if body.keep else Fraction(0)
    about = (near.part, body.name)
    when = f" ({near.when[0].name} {near.when[0].after(near.when[1], manner)})" if near.when else ""
    wanted = f"; {mm(keep, manner)} is to be kept" if keep else ""
    if near.runs_in is not None:
        deep = near.runs_in.thickness
        verb = "enters the room to be left free," if body.stays_free else "runs into"
        said = (
            f"{near.part} {verb} {body.name}{when}, {mm(deep, manner)} deep, {where(near.runs_in.at, manner)}{wanted}."
        )
        advice = f"Move or shorten {near.part} by {at_least(deep + float(keep), manner)} or more away from {body.name}."
        if near.when is not None:
            advice = f"{_stopped(near, float(keep), manner)}, or keep {near.part} and {body.name} out of its way."
        numbers = (SOLIDS, -deep, keep, "mm", about, None, tuple(_tries(asked, body, near, deep + float(keep))))
        return Finding(CHECK.code, Grade.STOP, body.place, said, advice, *numbers)
    said = (
        f"{near.part} comes within {mm(near.distance, manner)} of {body.name}{when}, {where(near.at, manner)}{wanted}."
    )
    if near.distance >= float(keep) - 1e-6:
        return Finding(CHECK.code, Grade.FINE, body.place, said, "", SOLIDS, near.distance, keep, "mm", about)
    advice = f"Move {near.part} {at_least(float(keep) - near.distance, manner)} or more away from {body.name}"
    advice += f", or {_small(_stopped(near, float(keep), manner))}." if near.when is not None else "."
    tries = tuple(_tries(asked, body, near, float(keep) - near.distance))
    numbers = (SOLIDS, near.distance, keep, "mm", about, None, tries)
    return Finding(CHECK.code, Grade.CARE, body.place, said, advice, *numbers)


def _tries(asked: Asked, body: SiteBody, near: Nearest, by: float) -> Iterator[Mend]:
    """A drawer that comes out less far; the piece moved away, or made smaller on that side."""
    manner = asked.build.manner
    slider = next((s for s in asked.build.sliders if near.when is not None and s.name == near.when[0].name), None)
    if slider is not None:
        yield from changes(slider.travel, -by, manner)
    part = asked.build.parts_by_name.get(near.part)
    if part is None:
        return
    outer = asked.build.assembly(part.assembly)
    while outer.inside_of:
        outer = asked.build.assembly(outer.inside_of)
    low, high = asked.scene.parts[near.part].bounds
    theirs = box_between(*boxed(shape.bounds for shape in shapes_of(body))).bounds
    gaps = [max(theirs[0][a] - high[a], low[a] - theirs[1][a]) for a in range(3)]
    axis = max(range(3), key=lambda a: gaps[a])
    beyond = theirs[0][axis] + theirs[1][axis] > low[axis] + high[axis]
    own = {0: 1, 1: 0}.get(axis, 2) if outer.turns % 2 else axis
    yield from changes(outer.size[own], -by, manner)
    yield from changes(outer.at[axis], -by if beyond else by, manner)


def _stopped(near: Nearest, keep: float, manner: Manner) -> str:
    """Where to stop a motion so that it stays clear, on the safe side."""
    assert near.when is not None
    mover, _ = near.when
    if isinstance(mover.motion, Path):
        return "Bring it in another way, or narrower"
    share = safe_share(near.sides[0], near.sides[1], mover.motion, keep)
    if share <= 0:
        return f"Leave {mover.name} as it is"
    if isinstance(mover.motion, Slide):
        return f"Stop {mover.name} after {at_most(share * mover.way, manner)}"
    degrees = int(mover.way * share * 2) / 2
    return f"Stop {mover.name} after {decimal(degrees, 1)} degrees or sooner"


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


CHECK = Check(
    "site-clearance",
    "Does the piece keep clear of what is already there, also while drawers run and things of the site move?",
    run,
    SOLIDS,
    looks="bodies",
)
