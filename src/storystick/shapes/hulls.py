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
from storystick.shapes.motion import Motion, Rates, Shares, Still, moment, rates
from storystick.shapes.pose import UNTURNED
from storystick.shapes.solid import Floats, Solid
from storystick.shapes.stretch import Stretch, first_stretches, halves, wider

type Pairs = NDArray[np.bool_]

LOOSE = 40.0
"""A stretch in which a body may stray by more than this is halved before triangles are looked at [mm]."""
_FEW: "Kept[tuple[Floats, Floats]]" = Kept(512)
MOST = 16
"""A body whose hull has more corners than this is taken as the box round it, along its own axes."""


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
) -> tuple[list[Stretch], Pairs]:
    """Stretches of a motion in which some of the pairs asked for may come within a distance [mm], and these pairs."""
    work, found, meet = list(first_stretches(*motions)), list[Stretch](), np.zeros_like(asked)
    if not asked.any():
        return found, meet
    a, b = both_hulls(ones, twos, motions)
    while work:
        stretch = work.pop()
        near = (apart(a, b, stretch.middle, stretch.half)[0] <= within) & asked
        if not near.any():
            continue
        if strays(a, b, near, stretch.half) > LOOSE:
            work += halves(stretch, wider(a.bounds, b.bounds, stretch.half), None)
        else:
            found.append(stretch)
            meet |= near
    return found, meet


def strays(a: Hulls, b: Hulls, near: Pairs, half: Shares) -> float:
    """The farthest that any body of the pairs named may go from where it is in the middle of a stretch [mm]."""
    ways = [hulls.speeds @ np.array(half) for hulls in (a, b)]
    return max(float(ways[0][near.any(axis=1)].max()), float(ways[1][near.any(axis=0)].max()))


def apart(a: Hulls, b: Hulls, middle: Shares, half: Shares) -> tuple[Floats, Floats]:
    """The least that each body of the first may be from each of the other's in a stretch of the motion, and in its
    middle alone (bodies, bodies) [mm].

    By the best of the directions across the faces of either, and of those in which these together part them; below
    nothing where none does.
    """
    here, there = _at(a, middle, half), _at(b, middle, half)
    along, now = np.maximum(_across(here, there).transpose(0, 2, 1), _across(there, here)) - 1e-9
    return along, now


@dataclass(frozen=True)
class _At:
    """Hulls at one moment: corners, how far each may stray in any direction and along which by how much, directions."""

    corners: Floats
    strays: tuple[Floats, ...]
    bend: Floats | None
    ways: Floats


def _at(hulls: Hulls, middle: Shares, half: Shares) -> _At:
    if isinstance(hulls.motion, Still):
        return _At(hulls.corners, (), None, hulls.ways)
    now, (first, last) = moment(hulls.motion, middle), half
    bend = hulls.bounds.bend.reshape(2, 2, *hulls.corners.shape[:2])
    stray = (bend[0, 0] * first**2 + bend[1, 1] * last**2) / 2 + bend[0, 1] * (first * last)
    speeds = [(hulls.corners @ now.turn_rates[i].T + now.at_rates[i]) * half[i] for i in (0, 1) if half[i]]
    return _At(hulls.corners @ now.turn.T + now.at, tuple(speeds), stray[:, :, None], hulls.ways @ now.turn.T)


def _across(one: _At, two: _At) -> Floats:
    """How far two sets are apart along the best direction of the first's: in a stretch, and now (2, two, one)."""
    mine = _reach(one, one.ways.transpose(0, 2, 1))
    theirs = _reach(two, one.ways.reshape(-1, 3).T).reshape(2, 2, len(two.corners), *one.ways.shape[:2])
    beyond, before = theirs[:, 1] - mine[:, 0, None], mine[:, 1, None] - theirs[:, 0]
    blank = ~one.ways.any(axis=2)
    best: Floats = np.where(blank, -np.inf, np.maximum(beyond, before)).max(axis=3)
    between = np.einsum("mnk,nkj->mnj", np.maximum(beyond[1], 0.0) - np.maximum(before[1], 0.0), one.ways)
    size = np.sqrt(np.einsum("mnj,mnj->mn", between, between))
    between /= np.where(size > 0, size, 1.0)[:, :, None]
    near, far = _reach(two, between.transpose(0, 2, 1)), _reach(one, between.transpose(1, 2, 0))
    return np.maximum(best, np.where(size > 0, near[:, 1] - far[:, 0].transpose(0, 2, 1), -np.inf))


def _reach(at: _At, turned: Floats) -> Floats:
    """The most and the least that any corner of each body gets to along directions, given as columns.

    All through the stretch, and in its middle alone (2, 2, bodies, directions).
    """
    along = at.corners @ turned
    high, low = along.max(axis=1), along.min(axis=1)
    if at.bend is None:
        return np.array(((high, low), (high, low)))
    stray = sum((np.abs(speed @ turned) for speed in at.strays), at.bend)
    return np.array((((along + stray).max(axis=1), (along - stray).min(axis=1)), (high, low)))


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
