"""Sweep: the least gap between moving bodies and others over a whole motion, missing nothing in between.

The motion is cut into stretches. On each, two triangles are kept apart by a plane: how near they can get follows from
where their corners are in the middle of the stretch, how fast these come towards the plane, and how much their ways can
bend (Taylor's theorem with the remainder bounded). A stretch whose triangles can come no nearer than the least gap
found so far, less the tolerance, is done; any other is halved. So the answer is a bound, not a sample.
"""

import heapq
import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from storystick.ground.kept import Kept
from storystick.shapes.hulls import Pairs, Part, all_but, both_hulls, in_question, narrowed
from storystick.shapes.motion import Motion, Shares, Still, pose_at
from storystick.shapes.near import gap, is_nearer
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Counts, Floats, Solid, moved
from storystick.shapes.stretch import (
    Placed,
    Side,
    Stretch,
    boxes_on_the_way,
    halves,
    least_between,
    picked,
    placed_at,
    side_of,
    uses,
    wider,
)
from storystick.shapes.triangles import distances, near_pairs

TOLERANCE = 0.01
"""The gap is found to this, on the safe side [mm]."""
MOST = 20000
"""Stretches looked at before the search is ended with the bound that it has."""
STILL = Still()
NONE = np.zeros(0, dtype=np.int64)
_LEAST: "Kept[Least | None]" = Kept(256)


@dataclass(frozen=True)
class Least:
    """The least gap over a motion [mm]: never more than it truly is, and less by the tolerance at most.

    `at` is the nearest point on the moving body and `other` that on the other one, when the shares of the two drives
    are `when`; `bodies` says which of each set. `is_sure` is False only where the search was ended early: then
    the gap is still a bound, but may be less than the truth by more than the tolerance.
    """

    gap: float
    at: Vector
    other: Vector
    when: Shares
    bodies: tuple[int, int]
    is_sure: bool = True


def least_gap(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motion: Motion,
    tolerance: float = TOLERANCE,
    others_motion: Motion = STILL,
    within: float = math.inf,
    apart: Iterable[tuple[int, int]] = (),
    enough: float = 0.0,
) -> Least | None:
    """The least gap between two sets of bodies over a motion of the first (and of the second, if it moves too).

    0 as soon as any two touch or overlap anywhere on the way. None where no two come within `within` [mm], less the
    tolerance, or there is nothing to compare. Pairs of numbers in `apart` are not looked at: what rests on something
    always touches it. The search ends where a gap of `enough` or less was found [mm], were there a lesser one or not.
    ValueError for an empty body.
    """
    if any(solid.is_empty for solid in (*moving, *others)):
        raise ValueError("an empty body has no place to be")
    skip = frozenset(apart)
    ones, twos = (tuple((solid.own.mark, solid.moves) for solid in solids) for solids in (moving, others))
    asked = (ones, twos, motion, others_motion, tolerance, within, skip, enough)
    motions = (motion, others_motion)
    return _LEAST.of(asked, lambda: _least_gap(moving, others, motions, tolerance, within, skip, enough))


def _least_gap(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motions: tuple[Motion, Motion],
    tolerance: float,
    within: float,
    skip: frozenset[tuple[int, int]],
    enough: float,
) -> Least | None:
    """The same, of those bodies alone that come near one another at all; of the plainer bodies around them first."""
    asked = all_but(skip, len(moving), len(others))
    parts, meet = in_question(moving, others, motions, within, asked)
    i, j = np.flatnonzero(meet.any(axis=1)).tolist(), np.flatnonzero(meet.any(axis=0)).tolist()
    if not parts:
        return None
    ones, twos = [moving[n] for n in i], [others[n] for n in j]
    asked, stretches = asked[np.ix_(i, j)], [part.stretch for part in parts]
    plain = [one.plain for one in ones], [two.plain for two in twos]
    least = _searched(*plain, motions, tolerance, within, asked, stretches, enough)
    is_plain = plain == (ones, twos)
    if least and not is_plain and not _holds(least, ones, twos, motions, max(least.gap + tolerance, enough)):
        least = _searched(ones, twos, motions, tolerance, within, asked, stretches, enough)
    return least and replace(least, bodies=(i[least.bodies[0]], j[least.bodies[1]]))


def _holds(
    least: Least, ones: Sequence[Solid], twos: Sequence[Solid], motions: tuple[Motion, Motion], reach: float
) -> bool:
    """Whether the bodies themselves come within that where the plainer ones do: nowhere do they come nearer."""
    (one, two), (mine, theirs) = least.bodies, (pose_at(motion, least.when) for motion in motions)
    return gap(moved(ones[one], mine), moved(twos[two], theirs), within=reach) is not None


def _searched(
    ones: Sequence[Solid],
    twos: Sequence[Solid],
    motions: tuple[Motion, Motion],
    tolerance: float,
    within: float,
    asked: Pairs,
    stretches: Sequence[Stretch],
    enough: float,
) -> Least | None:
    first = _first_look(ones, twos, *motions, within, asked)
    upper = first.gap if first else within
    if upper <= enough:
        return first
    limit, hulls = upper - tolerance, both_hulls(ones, twos, motions)
    parts, floor = narrowed(*hulls, stretches, asked, limit, upper - tolerance / 2)
    sides = side_of(ones, motions[0]), side_of(twos, motions[1])
    return _Search(sides, tolerance, upper, floor, first).run(parts, enough)


class _Search:
    """Best-first halving of stretches; keeps the least gap seen and the least bound given up on."""

    def __init__(
        self, sides: tuple[Side, Side], tolerance: float, upper: float, floor: float, first: Least | None
    ) -> None:
        (self.a, self.b), self.tolerance = sides, tolerance
        self.upper, self.floor, self.best = upper, floor, first

    def run(self, parts: Sequence[Part], enough: float) -> Least | None:
        number = itertools.count()
        heap: list[tuple[float, int, Stretch | Part]] = [(part.bound, next(number), part) for part in parts]
        heapq.heapify(heap)
        looked = 0
        while heap and self.upper > enough and looked < MOST and heap[0][0] < self.upper - self.tolerance:
            looked += 1
            _, _, stretch = heapq.heappop(heap)
            if (found := self._look(stretch)) is not None:
                bound, split = found
                for half in split:
                    heapq.heappush(heap, (bound, next(number), half))
        if self.best is None:
            return None
        left = min([item[0] for item in heap], default=math.inf)
        sure = left >= self.upper - self.tolerance or self.upper <= 0
        return replace(self.best, gap=max(0.0, min(self.upper, self.floor, left)), is_sure=sure)

    def _look(self, part: Stretch | Part) -> tuple[float, tuple[Stretch, Stretch]] | None:
        """The least that the gap may be on this stretch and its two halves; None where it is done with."""
        if isinstance(part, Part):
            return self._judge(part.stretch, *self._near(part.stretch, part.meet))
        return self._judge(part, *(part.pairs or (NONE, NONE)))

    def _judge(self, stretch: Stretch, one: Counts, other: Counts) -> tuple[float, tuple[Stretch, Stretch]] | None:
        """The same, for a few pairs of triangles by their numbers."""
        if not len(one):
            return None
        side_a, i = picked(self.a, one)
        side_b, j = picked(self.b, other)
        a, b = placed_at(side_a, stretch.middle), placed_at(side_b, stretch.middle)
        near = self._in_reach(a, b, i, j, stretch.half)
        one, other, i, j = one[near], other[near], i[near], j[near]
        if not len(i):
            return None
        apart, p, q = distances(a.corners[i], b.corners[j])
        best = int(apart.argmin())
        if apart[best] < self.upper:
            self.upper = float(apart[best])
            bodies = (int(side_a.owners[i[best]]), int(side_b.owners[j[best]]))
            self.best = Least(self.upper, _vector(p[best]), _vector(q[best]), stretch.middle, bodies)
        bound = least_between(a, b, i, j, p, q, stretch.half)
        kept = bound < self.upper - self.tolerance
        self.floor = min(self.floor, float(bound[~kept].min(initial=math.inf)))
        if not kept.any():
            return None
        drive = wider(side_a.bounds, side_b.bounds, stretch.half)
        return max(0.0, float(bound.min())), halves(stretch, drive, (one[kept], other[kept]))

    def _near(self, stretch: Stretch, meet: NDArray[np.bool_]) -> tuple[Counts, Counts]:
        """Pairs of triangles, of bodies that may meet, whose boxes on their way come within the least gap so far."""
        rows_a = np.flatnonzero(meet.any(axis=1)[self.a.owners])
        rows_b = np.flatnonzero(meet.any(axis=0)[self.b.owners])
        a, b = (placed_at(picked(s, rows)[0], stretch.middle) for s, rows in ((self.a, rows_a), (self.b, rows_b)))
        i, j = near_pairs(boxes_on_the_way(a, stretch.half), boxes_on_the_way(b, stretch.half), self.upper)
        i, j = rows_a[i], rows_b[j]
        kept = meet[self.a.owners[i], self.b.owners[j]]
        return i[kept], j[kept]

    def _in_reach(self, a: Placed, b: Placed, i: Counts, j: Counts, half: Shares) -> NDArray[np.bool_]:
        """The same by closer boxes, that follow each triangle's own way."""
        low_a, high_a = boxes_on_the_way(a, half)
        low_b, high_b = boxes_on_the_way(b, half)
        away = np.maximum(0.0, np.maximum(low_a[i] - high_b[j], low_b[j] - high_a[i]))
        return np.asarray(np.sqrt(np.einsum("ij,ij->i", away, away)) < self.upper)


def _first_look(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motion: Motion,
    others_motion: Motion,
    within: float,
    asked: Pairs,
) -> Least | None:
    """The least gap at the ends of the motion. Finds also what is wholly inside something else from the start."""
    best: Least | None = None
    marks = [(0.0, 1.0) if uses(motion, others_motion, drive) else (0.0,) for drive in (0, 1)]
    for when in itertools.product(*marks):
        shares = (when[0], when[1])
        placed = [moved(solid, pose_at(motion, shares)) for solid in moving]
        there = [moved(solid, pose_at(others_motion, shares)) for solid in others]
        for i, j in itertools.product(range(len(placed)), range(len(there))):
            if not asked[i, j] or (best and (best.gap == 0 or not is_nearer(placed[i], there[j], best.gap))):
                continue
            found = gap(placed[i], there[j], within=best.gap if best else within)
            if found and (best is None or found.distance < best.gap):
                best = Least(found.distance, found.at, found.other, shares, (i, j))
    return best


def _vector(row: Floats) -> Vector:
    return (float(row[0]) + 0.0, float(row[1]) + 0.0, float(row[2]) + 0.0)
