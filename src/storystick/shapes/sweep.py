"""Sweep: the least gap between moving bodies and others over a whole motion, missing nothing in between.

The motion is cut into stretches. On each, two triangles are kept apart by a plane: how near they can get follows from
where their corners are in the middle of the stretch, how fast these come towards the plane, and how much their ways can
bend (Taylor's theorem with the remainder bounded). A stretch whose triangles can come no nearer than the least gap
found so far, less the tolerance, is done; any other is halved. So the answer is a bound, not a sample.
"""

import heapq
import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from storystick.shapes.edges import face_normals
from storystick.shapes.motion import Moment, Motion, Rates, Shares, Still, breaks, moment, pose_at, rates
from storystick.shapes.near import Overlap, gap, overlap
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Counts, Floats, Solid, boxes_apart, moved
from storystick.shapes.triangles import distances, near_pairs

TOLERANCE = 0.01
"""The gap is found to this, on the safe side [mm]."""
LOOSE = 40.0
"""A stretch in which a body may stray by more than this is halved before triangles are looked at [mm]."""
MOST = 20000
"""Stretches looked at before the search is ended with the bound that it has."""
STILL = Still()


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


@dataclass(frozen=True)
class Strike:
    """Two bodies that run into one another on the way: which, the shares when first seen, and by how much then."""

    bodies: tuple[int, int]
    when: Shares
    overlap: Overlap


@dataclass(frozen=True)
class _Side:
    """All triangles of one set of bodies at rest, whose they are, and how they move."""

    corners: Floats
    owners: Counts
    motion: Motion
    bounds: Rates


@dataclass(frozen=True)
class _Stretch:
    """A part of the motion: the middle and half widths of the shares, and the pairs of triangles still in question."""

    middle: Shares
    half: Shares
    pairs: tuple[Counts, Counts] | None = None


def least_gap(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motion: Motion,
    tolerance: float = TOLERANCE,
    others_motion: Motion = STILL,
    within: float = math.inf,
    apart: Iterable[tuple[int, int]] = (),
) -> Least | None:
    """The least gap between two sets of bodies over a motion of the first (and of the second, if it moves too).

    0 as soon as any two touch or overlap anywhere on the way. None where no two come within `within` [mm] or there is
    nothing to compare. Pairs of numbers in `apart` are not looked at: what rests on something always touches it.
    """
    a, b = _side(moving, motion), _side(others, others_motion)
    skip = frozenset(apart)
    if not len(a.corners) or not len(b.corners):
        return None
    stretches = list(_first_stretches(motion, others_motion))
    search = _Search(a, b, tolerance, within, skip, _first_look(moving, others, motion, others_motion, within, skip))
    return search.run(stretches)


class _Search:
    """Best-first halving of stretches; keeps the least gap seen and the least bound given up on."""

    def __init__(
        self,
        a: _Side,
        b: _Side,
        tolerance: float,
        within: float,
        skip: frozenset[tuple[int, int]],
        first: Least | None,
    ) -> None:
        self.a, self.b, self.tolerance, self.skip = a, b, tolerance, skip
        self.best = first
        self.upper = first.gap if first else within
        self.floor = math.inf

    def run(self, stretches: list[_Stretch]) -> Least | None:
        heap: list[tuple[float, int, _Stretch]] = []
        number = itertools.count()
        for stretch in stretches:
            heapq.heappush(heap, (0.0, next(number), stretch))
        looked = 0
        while heap and self.upper > 0 and looked < MOST and heap[0][0] < self.upper - self.tolerance:
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

    def _look(self, stretch: _Stretch) -> tuple[float, tuple[_Stretch, _Stretch]] | None:
        """The least that the gap may be on this stretch and its two halves; None where it is done with."""
        if stretch.pairs is None:
            a, b = _at(self.a, stretch.middle), _at(self.b, stretch.middle)
            strays = _strays(self.a.bounds, stretch.half), _strays(self.b.bounds, stretch.half)
            if max(float(stray.max()) for stray in strays) > LOOSE:
                wider = _wider(self.a.bounds, self.b.bounds, stretch.half)
                return (0.0, _halves(stretch, wider, None)) if self._may_meet(a, b, strays) else None
            one, other = self._near(a, b, strays)
        else:
            one, other = stretch.pairs
        return self._judge(stretch, one, other) if len(one) else None

    def _judge(self, stretch: _Stretch, one: Counts, other: Counts) -> tuple[float, tuple[_Stretch, _Stretch]] | None:
        """The same, for a few pairs of triangles by their numbers."""
        side_a, i = _picked(self.a, one)
        side_b, j = _picked(self.b, other)
        a, b = _at(side_a, stretch.middle), _at(side_b, stretch.middle)
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
        bound = _bound(a, b, i, j, p, q, stretch.half)
        kept = bound < self.upper - self.tolerance
        self.floor = min(self.floor, float(bound[~kept].min(initial=math.inf)))
        if not kept.any():
            return None
        wider = _wider(side_a.bounds, side_b.bounds, stretch.half)
        return max(0.0, float(bound.min())), _halves(stretch, wider, (one[kept], other[kept]))

    def _near(self, a: "_Placed", b: "_Placed", strays: tuple[Floats, Floats]) -> tuple[Counts, Counts]:
        """Pairs of triangles whose boxes, with all that they may stray, come within the least gap seen so far."""
        reach = self.upper + strays[0].max(axis=1) + float(strays[1].max())
        i, j = near_pairs(a.corners, b.corners, np.asarray(reach))
        for one, other in self.skip:
            keep = (self.a.owners[i] != one) | (self.b.owners[j] != other)
            i, j = i[keep], j[keep]
        return i, j

    def _in_reach(self, a: "_Placed", b: "_Placed", i: Counts, j: Counts, half: Shares) -> NDArray[np.bool_]:
        """The same by closer boxes, that follow each triangle's own way."""
        low_a, high_a = _boxes_on_the_way(a, half)
        low_b, high_b = _boxes_on_the_way(b, half)
        away = np.maximum(0.0, np.maximum(low_a[i] - high_b[j], low_b[j] - high_a[i]))
        return np.asarray(np.sqrt(np.einsum("ij,ij->i", away, away)) < self.upper)

    def _may_meet(self, a: "_Placed", b: "_Placed", strays: tuple[Floats, Floats]) -> bool:
        """Body by body: may any two come within the least gap seen so far?"""
        for one in np.unique(self.a.owners):
            mine = self.a.owners == one
            for other in np.unique(self.b.owners):
                theirs = self.b.owners == other
                if (int(one), int(other)) in self.skip:
                    continue
                stray = float(strays[0][mine].max() + strays[1][theirs].max())
                if boxes_apart(_box(a.corners[mine]), _box(b.corners[theirs])) - stray < self.upper:
                    return True
        return False


@dataclass(frozen=True)
class _Placed:
    """A side at one moment: its corners (n, 3, 3), their first derivatives by each share, and bounds of the second."""

    corners: Floats
    speeds: tuple[Floats, Floats]
    bend: Floats


def _at(side: _Side, shares: Shares) -> _Placed:
    now: Moment = moment(side.motion, shares)
    flat = side.corners.reshape(-1, 3)
    speeds = tuple((flat @ now.turn_rates[i].T + now.at_rates[i]).reshape(side.corners.shape) for i in (0, 1))
    bend = side.bounds.bend.reshape(2, 2, *side.corners.shape[:2])
    return _Placed((flat @ now.turn.T + now.at).reshape(side.corners.shape), (speeds[0], speeds[1]), bend)


def _picked(side: _Side, numbers: Counts) -> tuple[_Side, Counts]:
    """Only the triangles named, once each, and which of these each name stands for."""
    rows, which = np.unique(numbers, return_inverse=True)
    corners = (3 * rows[:, None] + np.arange(3)).ravel()
    bounds = replace(side.bounds, speed=side.bounds.speed[:, corners], bend=side.bounds.bend[:, :, corners])
    return _Side(side.corners[rows], side.owners[rows], side.motion, bounds), which


def _wider(a: Rates, b: Rates, half: Shares) -> int:
    """The drive whose width of the stretch lets things stray most."""
    ways = [half[drive] * float(a.speed[drive].max() + b.speed[drive].max()) for drive in (0, 1)]
    return 0 if ways[0] >= ways[1] else 1


def _bends(placed: _Placed, half: Shares) -> Floats:
    """Second-order part of the way that each corner may go within the stretch [mm]."""
    first, last = half
    bend = placed.bend
    return np.asarray((bend[0, 0] * first**2 + bend[1, 1] * last**2) / 2 + bend[0, 1] * (first * last))


def _boxes_on_the_way(placed: _Placed, half: Shares) -> tuple[Floats, Floats]:
    """Boxes that hold each triangle all through the stretch."""
    stray = _bends(placed, half)[:, :, None]
    stray = stray + np.abs(placed.speeds[0]) * half[0] + np.abs(placed.speeds[1]) * half[1]
    return (placed.corners - stray).min(axis=1), (placed.corners + stray).max(axis=1)


def _bound(a: _Placed, b: _Placed, i: Counts, j: Counts, p: Floats, q: Floats, half: Shares) -> Floats:
    """The least that each pair's distance may be anywhere in the stretch, by the best of a few planes between them."""
    best = np.zeros(len(i))
    between = q - p
    size = np.linalg.norm(between, axis=1)
    witness = between / np.where(size > 1e-12, size, 1.0)[:, None]
    bend_a, bend_b = _bends(a, half)[i], _bends(b, half)[j]
    for normals in (witness, face_normals(a.corners[i]), -face_normals(b.corners[j])):
        far_a = _along(a, i, normals, half) + bend_a
        near_b = -_along(b, j, -normals, half) - bend_b
        best = np.maximum(best, near_b.min(axis=1) - far_a.max(axis=1))
    return best - 1e-9


def _along(placed: _Placed, rows: Counts, normals: Floats, half: Shares) -> Floats:
    """How far each corner may get along a direction within the stretch, but for the bend of its way."""
    along = np.einsum("nkj,nj->nk", placed.corners[rows], normals)
    for drive in (0, 1):
        if half[drive]:
            along += np.abs(np.einsum("nkj,nj->nk", placed.speeds[drive][rows], normals)) * half[drive]
    return np.asarray(along)


def _strays(bounds: Rates, half: Shares) -> Floats:
    """How far each corner may go from where it is in the middle of the stretch (n, 3) [mm]."""
    return np.asarray((bounds.speed[0] * half[0] + bounds.speed[1] * half[1]).reshape(-1, 3))


def _halves(stretch: _Stretch, drive: int, pairs: tuple[Counts, Counts] | None) -> tuple[_Stretch, _Stretch]:
    middle, half = list(stretch.middle), list(stretch.half)
    half[drive] /= 2
    found = []
    for way in (-1, 1):
        shares = middle.copy()
        shares[drive] += way * half[drive]
        found.append(_Stretch((shares[0], shares[1]), (half[0], half[1]), pairs))
    return found[0], found[1]


def _first_stretches(motion: Motion, others_motion: Motion) -> Iterator[_Stretch]:
    """The whole motion, cut where it changes its way. A drive that nothing hangs on has no width."""
    spans: list[list[tuple[float, float]]] = []
    for drive in (0, 1):
        ends = sorted({*breaks(motion, drive), *breaks(others_motion, drive)})
        spans.append(list(itertools.pairwise(ends)) if _uses(motion, others_motion, drive) else [(0.0, 0.0)])
    for (a, b), (c, d) in itertools.product(*spans):
        yield _Stretch(((a + b) / 2, (c + d) / 2), ((b - a) / 2, (d - c) / 2))


def _uses(motion: Motion, others_motion: Motion, drive: int) -> bool:
    probe = np.array([[1.0, 2.0, 3.0], [-5.0, 7.0, 11.0], [0.0, 0.0, 0.0]])
    return any(float(rates(each, probe).speed[drive].max()) > 0 for each in (motion, others_motion))


def _first_look(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motion: Motion,
    others_motion: Motion,
    within: float,
    skip: frozenset[tuple[int, int]],
) -> Least | None:
    """The least gap at the ends of the motion. Finds also what is wholly inside something else from the start."""
    best: Least | None = None
    marks = [(0.0, 1.0) if _uses(motion, others_motion, drive) else (0.0,) for drive in (0, 1)]
    for when in itertools.product(*marks):
        shares = (when[0], when[1])
        placed = [moved(solid, pose_at(motion, shares)) for solid in moving]
        there = [moved(solid, pose_at(others_motion, shares)) for solid in others]
        for i, j in itertools.product(range(len(placed)), range(len(there))):
            if (i, j) in skip or (best and best.gap == 0):
                continue
            found = gap(placed[i], there[j], within=best.gap if best else within)
            if found and (best is None or found.distance < best.gap):
                best = Least(found.distance, found.at, found.other, shares, (i, j))
    return best


def strikes(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motion: Motion,
    step: float = 2.0,
    apart: Iterable[tuple[int, int]] = (),
) -> tuple[Strike, ...]:
    """Pairs that run into one another on the way (touching is not enough), each when it is first seen to.

    Looks at poses so close that nothing moves by more than `step` [mm] in between, along the first drive, the second
    at rest. Unlike least_gap this may miss a brush that is over within a step; it is for bodies that rest on others.
    """
    skip = set(apart)
    found: dict[tuple[int, int], Strike] = {}
    corners = _side(moving, motion).bounds.speed[0]
    count = max(1, math.ceil(float(corners.max(initial=0.0)) / step))
    for share in range(count + 1):
        when = (share / count, 0.0)
        for i, solid in enumerate(moving):
            placed = moved(solid, pose_at(motion, when))
            for j, other in enumerate(others):
                if (i, j) in skip or (i, j) in found:
                    continue
                if shared := overlap(placed, other):
                    found[i, j] = Strike((i, j), when, shared)
    return tuple(found[key] for key in sorted(found))


def _side(solids: Sequence[Solid], motion: Motion) -> _Side:
    corners = [solid.mesh.vertices[solid.mesh.triangles] for solid in solids]
    owners = [np.full(len(rows), number) for number, rows in enumerate(corners)]
    every = np.concatenate([np.zeros((0, 3, 3)), *corners])
    return _Side(every, np.concatenate([np.zeros(0, np.int64), *owners]), motion, rates(motion, every.reshape(-1, 3)))


def _box(corners: Floats) -> tuple[Vector, Vector]:
    flat = corners.reshape(-1, 3)
    return _vector(flat.min(axis=0)), _vector(flat.max(axis=0))


def _vector(row: Floats) -> Vector:
    return (float(row[0]) + 0.0, float(row[1]) + 0.0, float(row[2]) + 0.0)
