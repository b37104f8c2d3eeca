"""Stretch: a part of a motion, and how near the triangles of two sides may come in it.

The plain mathematics under sweep.py: places and speeds in the middle of a stretch, and what these, with the bounds of a
motion's bends, allow for the rest of it.
"""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from storystick.shapes.edges import face_normals
from storystick.shapes.motion import Motion, Rates, Shares, Still, breaks, moment, rates
from storystick.shapes.solid import Counts, Floats, Solid
from storystick.shapes.triangles import boxes


@dataclass(frozen=True)
class Side:
    """All triangles of one set of bodies at rest, whose they are, and how they move."""

    corners: Floats
    owners: Counts
    motion: Motion
    bounds: Rates


@dataclass(frozen=True)
class Stretch:
    """A part of the motion: the middle and half widths of the shares, and the pairs of triangles still in question."""

    middle: Shares
    half: Shares
    pairs: tuple[Counts, Counts] | None = None


@dataclass(frozen=True)
class Placed:
    """A side at one moment: its corners (n, 3, 3), their first derivatives by each share, and bounds of the second."""

    corners: Floats
    speeds: tuple[Floats, Floats]
    bend: Floats


def placed_at(side: Side, shares: Shares) -> Placed:
    """Where a side's triangles are at these shares of the two drives, and how they are going."""
    if isinstance(side.motion, Still):
        none = np.zeros_like(side.corners)
        return Placed(side.corners, (none, none), np.zeros((2, 2, *side.corners.shape[:2])))
    now = moment(side.motion, shares)
    flat = side.corners.reshape(-1, 3)
    speeds = tuple((flat @ now.turn_rates[i].T + now.at_rates[i]).reshape(side.corners.shape) for i in (0, 1))
    bend = side.bounds.bend.reshape(2, 2, *side.corners.shape[:2])
    return Placed((flat @ now.turn.T + now.at).reshape(side.corners.shape), (speeds[0], speeds[1]), bend)


def picked(side: Side, numbers: Counts) -> tuple[Side, Counts]:
    """Only the triangles named, once each, and which of these each name stands for."""
    rows, which = np.unique(numbers, return_inverse=True)
    corners = (3 * rows[:, None] + np.arange(3)).ravel()
    bounds = replace(side.bounds, speed=side.bounds.speed[:, corners], bend=side.bounds.bend[:, :, corners])
    return replace(side, corners=side.corners[rows], owners=side.owners[rows], bounds=bounds), which


def wider(a: Rates, b: Rates, half: Shares) -> int:
    """The drive whose width of the stretch lets things stray most."""
    ways = [half[drive] * float(a.speed[drive].max() + b.speed[drive].max()) for drive in (0, 1)]
    return 0 if ways[0] >= ways[1] else 1


def _bends(placed: Placed, half: Shares) -> Floats:
    """Second-order part of the way that each corner may go within the stretch [mm]."""
    first, last = half
    bend = placed.bend
    return np.asarray((bend[0, 0] * first**2 + bend[1, 1] * last**2) / 2 + bend[0, 1] * (first * last))


def boxes_on_the_way(placed: Placed, half: Shares) -> tuple[Floats, Floats]:
    """Boxes that hold each triangle all through the stretch."""
    stray = _bends(placed, half)[:, :, None]
    stray = stray + np.abs(placed.speeds[0]) * half[0] + np.abs(placed.speeds[1]) * half[1]
    return boxes(placed.corners - stray)[0], boxes(placed.corners + stray)[1]


def least_between(a: Placed, b: Placed, i: Counts, j: Counts, p: Floats, q: Floats, half: Shares) -> Floats:
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


def _along(placed: Placed, rows: Counts, normals: Floats, half: Shares) -> Floats:
    """How far each corner may get along a direction within the stretch, but for the bend of its way."""
    along = np.einsum("nkj,nj->nk", placed.corners[rows], normals)
    for drive in (0, 1):
        if half[drive]:
            along += np.abs(np.einsum("nkj,nj->nk", placed.speeds[drive][rows], normals)) * half[drive]
    return np.asarray(along)


def halves(stretch: Stretch, drive: int, pairs: tuple[Counts, Counts] | None) -> tuple[Stretch, Stretch]:
    """A stretch cut in two along one drive, both with the same pairs in question."""
    middle, half = list(stretch.middle), list(stretch.half)
    half[drive] /= 2
    found = []
    for way in (-1, 1):
        shares = middle.copy()
        shares[drive] += way * half[drive]
        found.append(Stretch((shares[0], shares[1]), (half[0], half[1]), pairs))
    return found[0], found[1]


def first_stretches(motion: Motion, others_motion: Motion) -> Iterator[Stretch]:
    """The whole motion, cut where it changes its way. A drive that nothing hangs on has no width."""
    spans: list[list[tuple[float, float]]] = []
    for drive in (0, 1):
        ends = sorted({*breaks(motion, drive), *breaks(others_motion, drive)})
        spans.append(list(itertools.pairwise(ends)) if uses(motion, others_motion, drive) else [(0.0, 0.0)])
    for (a, b), (c, d) in itertools.product(*spans):
        yield Stretch(((a + b) / 2, (c + d) / 2), ((b - a) / 2, (d - c) / 2))


def uses(motion: Motion, others_motion: Motion, drive: int) -> bool:
    """Does anything move with this drive?"""
    probe = np.array([[1.0, 2.0, 3.0], [-5.0, 7.0, 11.0], [0.0, 0.0, 0.0]])
    return any(float(rates(each, probe).speed[drive].max()) > 0 for each in (motion, others_motion))


def side_of(solids: Sequence[Solid], motion: Motion) -> Side:
    """Bodies, none of them empty, as one side that moves in one way."""
    corners = [solid.mesh.vertices[solid.mesh.triangles] for solid in solids]
    owners = [np.full(len(rows), number) for number, rows in enumerate(corners)]
    every = np.concatenate([np.zeros((0, 3, 3)), *corners])
    bounds = rates(motion, every.reshape(-1, 3))
    return Side(every, np.concatenate([np.zeros(0, np.int64), *owners]), motion, bounds)
