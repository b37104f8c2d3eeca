"""Hulls: how near whole bodies may come to one another in a part of a motion, by a few corners and directions of each.

A body is within the hull of its corners, all through the motion: what these leave free along any direction, it does.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from storystick.ground.kept import Kept
from storystick.shapes.edges import face_normals
from storystick.shapes.motion import Motion, Rates, Still, moments, rates
from storystick.shapes.pose import UNTURNED
from storystick.shapes.solid import Floats, Solid
from storystick.shapes.stretch import Stretch, first_stretches, halves

type Pairs = NDArray[np.bool_]

LOOSE = 40.0
"""A stretch in which a body may stray by more than this is halved before triangles are looked at [mm]."""
AT_ONCE, MOST_PARTS = 256, 20000
_FEW: "Kept[tuple[Floats, Floats]]" = Kept(512)
MOST = 16
"""A body whose hull has more corners than this is taken as the box round it, along its own axes."""


@dataclass(frozen=True)
class Part:
    """A stretch of a motion, pairs of bodies that are in question in it, and how near these may come at least [mm]."""

    bound: float
    stretch: Stretch
    meet: Pairs


@dataclass(frozen=True)
class Hulls:
    """Corners of the hull of each body at rest (bodies, corners, 3), unit directions across its faces
    (bodies, directions, 3), how they all move and how fast at most: each corner, and each body (bodies, 2).
    """

    corners: Floats
    ways: Floats
    motion: Motion
    bounds: Rates
    speeds: Floats


def hulls_of(solids: Sequence[Solid], motion: Motion) -> Hulls:
    """Hulls of bodies, none of them empty, that move in one way."""
    found = [_placed(solid) for solid in solids]
    corners = _even([corners for corners, _ in found], 1.0)
    ways = _even([ways for _, ways in found], 0.0)
    bounds = rates(motion, corners.reshape(-1, 3))
    return Hulls(corners, ways, motion, bounds, bounds.speed.T.reshape(*corners.shape[:2], 2).max(axis=1))


def both_hulls(ones: Sequence[Solid], twos: Sequence[Solid], motions: tuple[Motion, Motion]) -> tuple[Hulls, Hulls]:
    """Of two sets, each with its motion."""
    return hulls_of(ones, motions[0]), hulls_of(twos, motions[1])


def all_but(skip: Iterable[tuple[int, int]], ones: int, twos: int) -> Pairs:
    """All pairs of two sets that large, but for some by their numbers."""
    asked = np.ones((ones, twos), dtype=bool)
    for one, two in skip:
        asked[one, two] = False
    return asked


def in_question(
    ones: Sequence[Solid], twos: Sequence[Solid], motions: tuple[Motion, Motion], within: float, asked: Pairs
) -> tuple[list[Part], Pairs]:
    """Stretches of a motion in which some of the pairs asked for may come within a distance [mm], and these pairs."""
    if not asked.any():
        return [], np.zeros_like(asked)
    hulls = both_hulls(ones, twos, motions)
    found, _ = narrowed(*hulls, list(first_stretches(*motions)), asked, np.nextafter(within, np.inf))
    return found, np.logical_or.reduce([part.meet for part in found]) if found else np.zeros_like(asked)


def narrowed(
    a: Hulls, b: Hulls, stretches: Sequence[Stretch], asked: Pairs, limit: float, sure: float = np.inf
) -> tuple[list[Part], float]:
    """Small stretches of those given in which pairs may come nearer than `limit`, and the least that others may [mm].

    Halved, twice at a time, until nothing in question strays by more than LOOSE, and on, where all of it is `sure` in
    the middle.
    """
    work, found, least = list(stretches), list[Part](), np.inf
    speeds = [float(a.speeds[:, drive].max() + b.speeds[:, drive].max()) for drive in (0, 1)]
    while work and len(found) + len(work) < MOST_PARTS:
        batch, work = work[:AT_ONCE], work[AT_ONCE:]
        half = np.array([one.half for one in batch])
        along, now = apart(a, b, np.array([one.middle for one in batch]), half)
        near = (along < limit) & asked
        least = min(least, float(along[~near & asked].min(initial=np.inf)))
        bounds = np.where(near, along, np.inf).min(axis=(1, 2))
        loose = strays(a, b, near, half) > LOOSE
        loose |= np.where(near, now, np.inf).min(axis=(1, 2)) >= sure
        for row in np.flatnonzero(near.any(axis=(1, 2))).tolist():
            if loose[row]:
                for one in halves(batch[row], _farther(batch[row], speeds), None):
                    work += halves(one, _farther(one, speeds), None)
            else:
                found.append(Part(max(0.0, float(bounds[row])), batch[row], near[row]))
    left = [Part(0.0, one, asked) for one in work]
    return found + left, least


def _farther(stretch: Stretch, speeds: Sequence[float]) -> int:
    """The drive that takes things farther in a stretch."""
    return int(stretch.half[1] * speeds[1] > stretch.half[0] * speeds[0])


def strays(a: Hulls, b: Hulls, near: Pairs, half: Floats) -> Floats:
    """The farthest that any body of the pairs named may go from where it is in the middle of each stretch [mm]."""
    ways = [half @ hulls.speeds.T * near.any(axis=axis) for hulls, axis in ((a, 2), (b, 1))]
    return np.asarray(np.maximum(ways[0].max(axis=1), ways[1].max(axis=1)))


def apart(a: Hulls, b: Hulls, middle: Floats, half: Floats) -> tuple[Floats, Floats]:
    """The least that each body of the first may be from each of the other's in stretches of the motion, and in the
    middle of each alone (stretches, bodies, bodies) [mm]. Middle and half width of the shares a row (stretches, 2).

    By the best of the directions across the faces of either, and of those in which these together part them; below
    nothing where none does.
    """
    here, there = _at(a, middle, half), _at(b, middle, half)
    along, now = np.maximum(_across(here, there).swapaxes(2, 3), _across(there, here)) - 1e-9
    return along, now


@dataclass(frozen=True)
class _At:
    """Hulls at some moments: corners, how far each may stray in any direction and along which by how much, directions.

    All (moments, bodies, ...); of what never moves there is one moment.
    """

    corners: Floats
    strays: tuple[Floats, ...]
    bend: Floats | None
    ways: Floats


def _at(hulls: Hulls, middle: Floats, half: Floats) -> _At:
    if isinstance(hulls.motion, Still):
        return _At(hulls.corners[None], (), None, hulls.ways[None])
    now, (first, last) = moments(hulls.motion, middle), half.T[:, :, None, None]
    bend = hulls.bounds.bend.reshape(2, 2, 1, *hulls.corners.shape[:2])
    stray = (bend[0, 0] * first**2 + bend[1, 1] * last**2) / 2 + bend[0, 1] * (first * last)
    turn = now.turn.swapaxes(1, 2)[:, None]
    speeds = [
        (hulls.corners @ rates.swapaxes(1, 2)[:, None] + at[:, None, None]) * width[..., None]
        for rates, at, width in zip(now.turn_rates, now.at_rates, (first, last), strict=True)
        if width.any()
    ]
    return _At(hulls.corners @ turn + now.at[:, None, None], tuple(speeds), stray[..., None], hulls.ways @ turn)


def _across(one: _At, two: _At) -> Floats:
    """How far two sets are apart along the best direction of the first's: in stretches, and now (2, n, two, one)."""
    many, ways = len(one.ways), one.ways
    mine = _reach(one, ways.swapaxes(2, 3))
    theirs = _reach(two, ways.reshape(many, 1, -1, 3).swapaxes(2, 3))
    theirs = theirs.reshape(*theirs.shape[:4], *ways.shape[1:3])
    beyond, before = theirs[:, 1] - mine[:, 0, :, None], mine[:, 1, :, None] - theirs[:, 0]
    best: Floats = np.where(ways.any(axis=3)[:, None], np.maximum(beyond, before), -np.inf).max(axis=4)
    between = (np.maximum(beyond[1], 0.0) - np.maximum(before[1], 0.0))[..., None, :] @ ways[:, None]
    between = between[..., 0, :]
    size = np.sqrt((between**2).sum(axis=3))
    between /= np.where(size > 0, size, 1.0)[..., None]
    near, far = _reach(two, between.swapaxes(2, 3)), _reach(one, between.transpose(0, 2, 3, 1))
    return np.maximum(best, np.where(size > 0, near[:, 1] - far[:, 0].swapaxes(2, 3), -np.inf))


def _reach(at: _At, turned: Floats) -> Floats:
    """The most and the least that any corner of each body gets to along directions, given as columns.

    All through the stretches, and in their middles alone (2, 2, stretches, bodies, directions).
    """
    along = at.corners @ turned
    high, low = along.max(axis=2), along.min(axis=2)
    if at.bend is None:
        return np.array(((high, low), (high, low)))
    stray = sum((np.abs(speed @ turned) for speed in at.strays), at.bend)
    return np.array((((along + stray).max(axis=2), (along - stray).min(axis=2)), (high, low)))


def _placed(solid: Solid) -> tuple[Floats, Floats]:
    own = solid.own.plain
    corners, ways = _FEW.of(own.mark, lambda: _few(own))
    pose = solid.pose
    turn = np.array(pose.turn).T
    return (corners if pose.turn == UNTURNED else corners @ turn) + np.array(pose.origin), ways @ turn


def _even(rows: Sequence[Floats], times: float) -> Floats:
    """One array of all; where one has fewer rows than the most, its first is put in again, or nothing for it."""
    most = max(len(one) for one in rows)
    return np.stack([np.concatenate([one, np.repeat(one[:1] * times, most - len(one), axis=0)]) for one in rows])


def _few(solid: Solid) -> tuple[Floats, Floats]:
    """Corners that a body as it was made is within the hull of, and unit directions across the faces of that hull."""
    hull = Solid(solid.body.hull()).mesh
    if len(hull.vertices) > MOST:
        return np.array(list(product(*zip(*solid.bounds, strict=True)))), np.eye(3)
    normals = face_normals(hull.vertices[hull.triangles])
    normals = normals[np.abs(normals).max(axis=1) > 0.5]
    alike = np.round(normals, 6) + 0.0
    leading = alike[np.arange(len(alike)), (np.abs(alike) > 1e-5).argmax(axis=1)]
    _, first = np.unique(np.where(leading[:, None] < 0, -alike, alike) + 0.0, axis=0, return_index=True)
    return hull.vertices, normals[first]
