"""Distances between many pairs of triangles at once.

Rows of (n, 3, 3) arrays are triangles by their corners [mm]. Method: the nearest points of two triangles that do not
cross lie on two edges, or on a corner and the face under it (C. Ericson, Real-Time Collision Detection, 2005,
chapter 5; recalled, not looked up, and tested against a brute force).
"""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]
CHUNK = 4_000_000
NEXT = (1, 2, 0)


def cross(a: Floats, b: Floats) -> Floats:
    """Vector products of rows; for short arrays several times as fast as the general one."""
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.stack((ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx), axis=1)


def boxes(corners: Floats) -> tuple[Floats, Floats]:
    """Least and greatest corner of the box round each triangle."""
    return corners.min(axis=1), corners.max(axis=1)


def near_pairs(first: tuple[Floats, Floats], other: tuple[Floats, Floats], reach: float) -> tuple[Counts, Counts]:
    """Every pair (one from each) of boxes, given by least and greatest corners, that come within `reach` [mm]."""
    (low, high), (olow, ohigh) = first, other
    if not len(low) or not len(olow):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    low, high = low - reach, high + reach
    mine = np.flatnonzero(((low <= ohigh.max(axis=0)) & (high >= olow.min(axis=0))).all(axis=1))
    if not len(mine):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    theirs = np.flatnonzero(((olow <= high[mine].max(axis=0)) & (ohigh >= low[mine].min(axis=0))).all(axis=1))
    if not len(theirs):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    step = max(1, CHUNK // len(theirs))
    found = [_meeting(low, high, olow, ohigh, mine[i : i + step], theirs) for i in range(0, len(mine), step)]
    return np.concatenate([f[0] for f in found]), np.concatenate([f[1] for f in found])


def _meeting(
    low: Floats, high: Floats, olow: Floats, ohigh: Floats, mine: Counts, theirs: Counts
) -> tuple[Counts, Counts]:
    apart = np.zeros((len(mine), len(theirs)), dtype=bool)
    for axis in range(3):
        apart |= low[mine, axis][:, None] > ohigh[theirs, axis]
        apart |= high[mine, axis][:, None] < olow[theirs, axis]
    i, j = np.nonzero(~apart)
    return mine[i], theirs[j]


def distances(first: Floats, other: Floats) -> tuple[Floats, Floats, Floats]:
    """Least distance of each pair of rows [mm] and the nearest point on each; 0 where they cross or touch."""
    best = np.full(len(first), np.inf)
    at, there = np.zeros((len(first), 3)), np.zeros((len(first), 3))

    def offer(squared: Floats, p: Floats, q: Floats) -> None:
        better = squared < best
        best[better] = squared[better]
        at[better], there[better] = p[better], q[better]

    for i in range(3):
        for j in range(3):
            offer(*_segments(first[:, i], first[:, NEXT[i]], other[:, j], other[:, NEXT[j]]))
    for one, two, swap in ((first, other, False), (other, first, True)):
        normal = cross(two[:, 1] - two[:, 0], two[:, 2] - two[:, 0])
        size = np.einsum("ij,ij->i", normal, normal)
        flat = size <= 1e-24
        size = np.where(flat, 1.0, size)
        heights = [np.where(flat, np.nan, np.einsum("ij,ij->i", one[:, i] - two[:, 0], normal)) for i in range(3)]
        for i in range(3):
            foot = one[:, i] - normal * (heights[i] / size)[:, None]
            squared = np.where(_within(foot, two, normal), heights[i] ** 2 / size, np.inf)
            offer(*((squared, foot, one[:, i]) if swap else (squared, one[:, i], foot)))
        for i, j in (*pairwise(range(3)), (2, 0)):
            across = heights[i] * heights[j] < 0
            share = np.where(across, heights[i] / np.where(across, heights[i] - heights[j], 1.0), 0.0)
            point = one[:, i] + (one[:, j] - one[:, i]) * share[:, None]
            squared = np.where(across & _within(point, two, normal), 0.0, np.inf)
            offer(squared, point, point)
    return np.sqrt(best), at, there


def _within(points: Floats, corners: Floats, normal: Floats) -> NDArray[np.bool_]:
    """Is each point, known to lie in the plane of its triangle, inside it?"""
    inside = np.ones(len(points), dtype=bool)
    for i in range(3):
        edge = corners[:, NEXT[i]] - corners[:, i]
        inside &= np.einsum("ij,ij->i", cross(edge, points - corners[:, i]), normal) >= 0
    return inside


def _segments(p1: Floats, q1: Floats, p2: Floats, q2: Floats) -> tuple[Floats, Floats, Floats]:
    """Squared distance and nearest points of each pair of segments."""
    d1, d2, r = q1 - p1, q2 - p2, p1 - p2
    a, e = np.einsum("ij,ij->i", d1, d1), np.einsum("ij,ij->i", d2, d2)
    b, c, f = np.einsum("ij,ij->i", d1, d2), np.einsum("ij,ij->i", d1, r), np.einsum("ij,ij->i", d2, r)
    a, e = np.maximum(a, 1e-300), np.maximum(e, 1e-300)
    area = a * e - b * b
    aslant = area > 1e-12 * a * e
    s = np.where(aslant, np.clip((b * f - c * e) / np.where(aslant, area, 1.0), 0.0, 1.0), 0.0)
    t = np.clip((b * s + f) / e, 0.0, 1.0)
    s = np.clip((b * t - c) / a, 0.0, 1.0)
    p, q = p1 + d1 * s[:, None], p2 + d2 * t[:, None]
    gap = p - q
    return np.einsum("ij,ij->i", gap, gap), p, q
