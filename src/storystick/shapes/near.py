"""Near: how far two bodies are apart, or how far they run into one another.

Faces that touch are not an overlap. Cutting one body with another leaves slivers where they only touch, so pieces of
the overlap thinner than 0.01 mm are dropped, and what is left counts from 0.5 mm3 on (both `practice`:
slivers of touching bodies were measured at most at a millionth of that).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from storystick.ground.kept import Kept
from storystick.shapes.lines import clusters
from storystick.shapes.pose import Pose, Vector, apply, invert, plus
from storystick.shapes.relation import Relation, relation
from storystick.shapes.solid import Bounds, Floats, Solid, boxes_apart, meet, pieces
from storystick.shapes.triangles import beyond, boxes, cross, distances, near_pairs

THINNEST = 0.01
"""Pieces of an overlap thinner than this are slivers, not wood against wood [mm]."""
FLUSH = 1e-4
"""Faces nearer than this are in one plane [mm]."""
LEAST_VOLUME = 0.5
"""An overlap smaller than this is none [mm3]."""
DUST = 1e-6
"""Distances that differ by less are the same [mm]."""
NOWHERE = (1e12, 1e12, 1e12)

_OVERLAPS: "Kept[Overlap | None]" = Kept(1024)
_GAPS: "Kept[Gap | None]" = Kept(1024)
_LEAST: Kept[float | None] = Kept(2048)


@dataclass(frozen=True)
class Overlap:
    """Two bodies in one place. `thickness` is how far one must give way, about: the worst piece's."""

    volume: float
    thickness: float
    at: Vector


@dataclass(frozen=True)
class Gap:
    """The least distance between two bodies [mm], and the nearest points: on the first, and on the other."""

    distance: float
    at: Vector
    other: Vector


def boxes_far(ones: Sequence[Solid], others: Sequence[Solid]) -> Floats:
    """How far the boxes round bodies of two sets are apart [mm], a row for each of the first; no end for empty ones."""
    empty = ((math.inf,) * 3,) * 2
    a, b = (
        np.array([empty if one.is_empty else one.bounds for one in some]).reshape(-1, 2, 3) for some in (ones, others)
    )
    away = np.maximum(0.0, np.maximum(b[None, :, 0] - a[:, None, 1], a[:, None, 0] - b[None, :, 1]))
    return np.asarray(np.sqrt((away**2).sum(axis=2)))


def overlap(a: Solid, b: Solid) -> Overlap | None:
    """The place that two bodies share, or None: where they are apart, touch, or share only slivers."""
    if a.is_empty or b.is_empty or _boxes_share(a.bounds, b.bounds) < THINNEST:
        return None
    pair = relation(a, b)
    shared = _OVERLAPS.of(pair.key, lambda: _overlap(*pair.placed) if _may_overlap(pair) else None)
    return shared and replace(shared, at=plus(shared.at, a.pose.origin))


def _may_overlap(pair: Relation) -> bool:
    """Whether the plainer bodies around two share a place: where these do not, neither do they."""
    one, two = pair.first.around or pair.first, pair.other.around or pair.other
    if one is pair.first and two is pair.other:
        return True
    return meet(*replace(pair, first=one, other=two).placed).volume >= LEAST_VOLUME


def _overlap(a: Solid, b: Solid) -> Overlap | None:
    common = meet(a, b)
    if common.volume < LEAST_VOLUME:
        return None
    real = [(piece, thick) for piece in pieces(common) if (thick := _thickness(piece)) >= THINNEST]
    volume = sum(piece.volume for piece, _ in real)
    if volume < LEAST_VOLUME:
        return None
    worst, thickness = max(real, key=lambda found: found[1])
    return Overlap(volume, thickness, worst.centre)


def _boxes_share(a: Bounds, b: Bounds) -> float:
    """How thick the room that two boxes share is, where it is thinnest [mm]; below 0 where they are apart."""
    return min(min(a[1][i], b[1][i]) - max(a[0][i], b[0][i]) for i in range(3))


def gap(a: Solid, b: Solid, within: float = math.inf) -> Gap | None:
    """The least distance between two bodies and where it is; None where it is more than `within` [mm].

    0 where they touch or overlap; then the place is one that they share. A body inside another overlaps it.
    """
    if a.is_empty or b.is_empty or boxes_apart(a.bounds, b.bounds) > within:
        return None
    pair = relation(a, b)
    found = _GAPS.of((pair.key, within), lambda: _gap_of(pair, within))
    by = a.pose.origin
    return found and Gap(found.distance, plus(found.at, by), plus(found.other, by))


def is_nearer(a: Solid, b: Solid, than: float) -> bool:
    """Whether two bodies may be nearer to one another than that, by more than floats' dust [mm]."""
    least = no_nearer(a, b, than)
    return least is not None and least < than - DUST


def no_nearer(a: Solid, b: Solid, within: float) -> float | None:
    """What two bodies are apart at least [mm], by the plainer ones around them; None where that is more than `within`,
    dust aside. Many times as fast as `gap`: it does not ask where that is.
    """
    if a.is_empty or b.is_empty or boxes_apart(a.bounds, b.bounds) > within:
        return None
    pair = relation(a, b)
    return _LEAST.of((pair.key, within), lambda: _no_nearer(pair, within))


def _no_nearer(pair: Relation, within: float) -> float | None:
    a, b = _plain(pair).placed
    least = float(a.body.min_gap(b.body, within + FLUSH))
    return least if least <= within + DUST else None


def _plain(pair: Relation) -> Relation:
    """The plainer bodies around two, in the same place."""
    return replace(pair, first=pair.first.around or pair.first, other=pair.other.around or pair.other)


def _gap_of(pair: Relation, within: float) -> Gap | None:
    """The same of the plainer bodies around two: it is theirs too where it ends in none of their round holes."""
    plain = _plain(pair)
    found = _gap(*plain.placed, within)
    if found is None or plain == pair or not (_in_a_hole(pair, 0, found.at) or _in_a_hole(pair, 1, found.other)):
        return found
    return _gap(*pair.placed, within)


def _in_a_hole(pair: Relation, which: int, at: Vector) -> bool:
    """Whether a point may be in one of the round holes of the first body or the other; by the boxes of these."""
    drilled = (pair.first, pair.other)[which].drilled
    if drilled is None:
        return False
    spot = apply(invert(Pose(pair.turns[which], pair.off if which else (0.0, 0.0, 0.0))), at)
    return any(all(low[a] - FLUSH <= spot[a] <= high[a] + FLUSH for a in range(3)) for low, high in drilled.boxes)


def _gap(a: Solid, b: Solid, within: float) -> Gap | None:
    longest = _farthest(a, b)
    reach = min(within, longest)
    least = float(a.body.min_gap(b.body, reach))
    if least >= reach and reach < longest:
        return None
    if least == 0.0 and _boxes_share(a.bounds, b.bounds) >= THINNEST and (shared := _overlap(a, b)):
        return Gap(0.0, shared.at, shared.at)
    return _nearest(a, b, least)


def _nearest(a: Solid, b: Solid, reach: float) -> Gap:
    first, other = a.mesh.vertices[a.mesh.triangles], b.mesh.vertices[b.mesh.triangles]
    (low, high), (olow, ohigh) = boxes(first), boxes(other)
    i, j = near_pairs((low, high), (olow, ohigh), reach + 1e-6)
    away = np.maximum(0.0, np.maximum(low[i] - ohigh[j], olow[j] - high[i]))
    kept = np.einsum("ij,ij->i", away, away) <= (reach + 1e-6) ** 2
    i, j = i[kept], j[kept]
    kept = beyond(first[i], other[j]) <= reach + 1e-6
    i, j = i[kept], j[kept]
    apart, at, there = distances(first[i], other[j])
    least = float(apart.min())
    ties = np.flatnonzero(apart <= least + 1e-9)
    order = np.lexsort(np.round(at[ties], 6).T)  # of equal places always the same one
    best = ties[order[0]]
    return Gap(least, _vector(at[best]), _vector(there[best]))


def _farthest(a: Solid, b: Solid) -> float:
    """More than any two points of the two bodies can be apart."""
    low = np.minimum(a.bounds[0], b.bounds[0])
    high = np.maximum(a.bounds[1], b.bounds[1])
    return float(np.linalg.norm(high - low)) + 1.0


def _thickness(piece: Solid) -> float:
    """How thick a piece is, on the whole, in the direction of one of its faces where that is least.

    Its volume over the area that it covers, seen along that direction. Sheets of no thickness often hang on to an
    overlap where the bodies also touch; their two sides lie in one plane and cancel, so they count for nothing.
    """
    normals, areas = _planes(piece)
    directions = np.unique(np.concatenate([normals, np.eye(3)]), axis=0)
    covers = np.abs(directions @ normals.T) @ areas / 2
    most = float(covers.max())
    return piece.volume / most if most else 0.0


def _planes(piece: Solid) -> tuple[Floats, Floats]:
    """Each plane that a piece has faces in: its direction, and the area facing one way less that facing the other."""
    corners = piece.mesh.vertices[piece.mesh.triangles]
    doubled = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(doubled, axis=1)
    corners, doubled, sizes = (rows[sizes > 1e-9] for rows in (corners, doubled, sizes))
    normals = np.round(doubled / sizes[:, None], 6) + 0.0
    leading = normals[np.arange(len(normals)), (np.abs(normals) > 1e-5).argmax(axis=1)]
    normals = np.where(leading[:, None] < 0, -normals, normals) + 0.0
    _, direction = np.unique(normals, axis=0, return_inverse=True)
    plane = clusters(direction.ravel(), np.einsum("ij,ij->i", normals, corners[:, 0]), FLUSH)
    net = np.bincount(plane, weights=sizes * np.sign(leading) / 2)
    first = np.unique(plane, return_index=True)[1]
    return normals[first], np.abs(net)


def _vector(row: Floats) -> Vector:
    return (float(row[0]) + 0.0, float(row[1]) + 0.0, float(row[2]) + 0.0)
