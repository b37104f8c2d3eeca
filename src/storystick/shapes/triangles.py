"""Distances between many pairs of triangles at once.

Rows of (n, 3, 3) arrays are triangles by their corners [mm]. Method: the nearest points of two triangles that do not
cross lie on two edges, or on a corner and the face under it (C. Ericson, Real-Time Collision Detection, 2005,
chapter 5; recalled, not looked up, and tested against a brute force).
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]
CHUNK = 4_000_000
NEXT = [1, 2, 0]
EACH, ALL = [0, 0, 0, 1, 1, 1, 2, 2, 2], [0, 1, 2] * 3  # sides of one with sides of the other
AFTER_EACH, AFTER_ALL = [NEXT[i] for i in EACH], [NEXT[i] for i in ALL]
AT_ONCE = 1024
SLIVER = 1e-4  # height over length


def cross(a: Floats, b: Floats) -> Floats:
    """Vector products of rows; for short arrays several times as fast as the general one."""
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.stack((ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx), axis=1)


def boxes(corners: Floats) -> tuple[Floats, Floats]:
    """Least and greatest corner of the box round each triangle."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    return np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)


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


def beyond(first: Floats, other: Floats) -> Floats:
    """How far each is beyond the plane of its partner at least: no more than the two are apart [mm]."""
    best = np.zeros(len(first))
    for one, two in ((first, other), (other, first)):
        normal = cross(two[:, 1] - two[:, 0], two[:, 2] - two[:, 0])
        size = np.sqrt(np.einsum("nj,nj->n", normal, normal))
        sides = two[:, NEXT] - two
        long = np.einsum("nij,nij->ni", sides, sides).max(axis=1)
        steady = np.where(size > SLIVER * long, size, np.inf)  # the plane of a sliver is anyone's guess
        heights = np.einsum("nij,nj->ni", one - two[:, :1], normal / steady[:, None])
        best = np.maximum(best, np.maximum(heights.min(axis=1), -heights.max(axis=1)))
    return best


def distances(first: Floats, other: Floats) -> tuple[Floats, Floats, Floats]:
    """Least distance of each pair of rows [mm] and the nearest point on each; 0 where they cross or touch."""
    if not len(first):
        return np.zeros(0), np.zeros((0, 3)), np.zeros((0, 3))
    runs = range(0, len(first), AT_ONCE)
    found = [_distances(first[i : i + AT_ONCE], other[i : i + AT_ONCE]) for i in runs]
    away, at, there = ([one[k] for one in found] for k in range(3))
    return np.concatenate(away), np.concatenate(at), np.concatenate(there)


def _distances(first: Floats, other: Floats) -> tuple[Floats, Floats, Floats]:
    """The same for a few thousand pairs: every edge with every edge, every corner and edge with the other's face."""
    many = len(first)
    a, b = np.ascontiguousarray(first.transpose(1, 0, 2)), np.ascontiguousarray(other.transpose(1, 0, 2))
    ends = (a[EACH], a[AFTER_EACH], b[ALL], b[AFTER_ALL])
    tried = [_segments(*(end.reshape(-1, 3) for end in ends))]
    for one, two, swap in ((a, b, False), (b, a, True)):
        tried += [(d, q, p) if swap else (d, p, q) for d, p, q in _face(one, two)]
    squared = np.concatenate([d.reshape(-1, many) for d, _, _ in tried])
    best, rows = squared.argmin(axis=0), np.arange(many)
    at = np.concatenate([p.reshape(-1, many, 3) for _, p, _ in tried])
    there = np.concatenate([q.reshape(-1, many, 3) for _, _, q in tried])
    return np.sqrt(squared[best, rows]), at[best, rows], there[best, rows]


def _face(one: Floats, two: Floats) -> list[tuple[Floats, Floats, Floats]]:
    """From each corner of the first straight down to the second's face, and where each side of the first crosses it.

    Squared distance, infinite where the foot is beside the face; and the points on both. All by corner, then by row.
    """
    normal = cross(two[1] - two[0], two[2] - two[0])
    size = np.einsum("nj,nj->n", normal, normal)
    flat = size <= 1e-24
    size = np.where(flat, 1.0, size)
    heights = np.where(flat, np.nan, np.einsum("inj,nj->in", one - two[0], normal))
    foot = one - normal * (heights / size)[:, :, None]
    down = np.where(_within(foot, two, normal), heights**2 / size, np.inf)
    after = heights[NEXT]
    across = heights * after < 0
    share = np.where(across, heights / np.where(across, heights - after, 1.0), 0.0)
    point = one + (one[NEXT] - one) * share[:, :, None]
    through = np.where(across & _within(point, two, normal), 0.0, np.inf)
    return [(down, one, foot), (through, point, point)]


def _within(points: Floats, corners: Floats, normal: Floats) -> NDArray[np.bool_]:
    """Is each point (k, n, 3), known to lie in the plane of the triangle of its row (3, n, 3), inside it?"""
    inward = cross(np.tile(normal, (3, 1)), (corners[NEXT] - corners).reshape(-1, 3)).reshape(corners.shape)
    return np.asarray((np.einsum("kinj,inj->ikn", points[:, None] - corners, inward) >= 0).all(axis=0))


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
