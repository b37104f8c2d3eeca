"""Sawn curves: which triangles of a mesh stand for the round wall of a curve, and its four corners and two arcs."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from storystick.exports.lying import lying
from storystick.exports.outlines import notch_outline
from storystick.exports.patches import NEAR, Floats, Half, Loop, Skin, faces_at
from storystick.model.cut import Notch
from storystick.model.part import Part
from storystick.shapes.outline import sides
from storystick.shapes.pose import Vector, apply, direct, dot, less, plus, times, unit
from storystick.shapes.solid import Mesh


@dataclass(frozen=True, slots=True)
class Axis:
    """The middle line of a bore: where it enters, its unit direction into the wood, and one square to that."""

    point: Vector
    way: Vector
    aside: Vector


@dataclass(frozen=True, slots=True)
class ArcEdge:
    """The edge between two corners as an arc; `way` is the axis about which it goes anticlockwise, low corner first."""

    centre: Vector
    radius: float
    way: Vector


@dataclass(frozen=True, slots=True, eq=False)
class Bend:
    """The wall of a sawn curve: its four corners in turn, the wall on the left; `outward`: the wood is inside it."""

    axis: Axis
    radius: float
    corners: Loop
    inner: frozenset[int]  # corners of the mesh along its arcs, which are none of the wood
    arcs: Mapping[tuple[int, int], ArcEdge]
    outward: bool


def aside_of(way: Vector) -> Vector:
    """A direction square to another."""
    least = min(range(3), key=lambda i: abs(way[i]))
    other: Vector = (float(least == 0), float(least == 1), float(least == 2))
    return unit(less(other, times(way, dot(other, way))))


def sawn_axes(part: Part) -> Iterator[tuple[Axis, float]]:
    """The middle line and the radius of every curve that is sawn in a part, as it lies on the bench [mm]."""
    pose = lying(part)
    way = unit(direct(pose, (0.0, 0.0, 1.0)))
    for cut in part.cuts:
        if isinstance(cut, Notch):
            for _, _, arc in sides(notch_outline(cut)):
                if arc is not None:
                    point = apply(pose, (arc.centre[0], arc.centre[1], 0.0))
                    yield Axis(point, way, aside_of(way)), arc.radius


def on_curve(mesh: Mesh, axis: Axis, radius: float) -> list[int]:
    """Triangles that stand upright on a circle about an axis."""
    beside = mesh.vertices - np.array(axis.point)
    along = beside @ np.array(axis.way)
    away = np.linalg.norm(beside - along[:, None] * np.array(axis.way), axis=1)
    of_along, of_away = along[mesh.triangles], away[mesh.triangles]
    upright = of_along.max(axis=1) - of_along.min(axis=1) > NEAR
    found: list[int] = np.nonzero((np.abs(of_away - radius).max(axis=1) <= NEAR) & upright)[0].tolist()
    return found


def bend(
    skin: Skin, patch: list[int], rims: Sequence[Loop], axis: Axis, triangles: Sequence[int], first: int
) -> Bend | None:
    """The wall of a curve between two arcs; None where the patch is not just that. `first` is the first flat patch."""
    if len(rims) != 1:
        return None
    runs = _two_runs(skin, rims[0], axis)
    if runs is None or not all(_has_one_neighbour(skin, patch, run, first) for run in runs):
        return None
    radius = float(np.linalg.norm(_across(skin.mesh.vertices[[runs[0][0]]], axis)))
    arcs: dict[tuple[int, int], ArcEdge] = {}
    for run in runs:
        ends, arc = _arc(skin, run, axis, radius)
        if ends in arcs or (len(run) > 2 and _is_a_rim(skin, patch, ends)):
            return None
        arcs[ends] = arc
    inner = frozenset(corner for run in runs for corner in run[1:-1])
    corners = (runs[0][0], runs[0][-1], runs[1][0], runs[1][-1])
    return Bend(axis, radius, corners, inner, arcs, _is_outward(skin, triangles, axis))


def _two_runs(skin: Skin, rim: Loop, axis: Axis) -> tuple[Loop, Loop] | None:
    """The corners of a rim along its two arcs, each at one height; None where it goes any other way."""
    along = (skin.mesh.vertices[list(rim)] - np.array(axis.point)) @ np.array(axis.way)
    high = along > (float(along.min()) + float(along.max())) / 2
    if float(np.where(high, along.max() - along, along - along.min()).max()) > NEAR:
        return None
    turns = [i for i in range(len(rim)) if high[i] != high[i - 1]]
    if len(turns) != 2:
        return None
    a, b = turns
    one, other = rim[a:b], rim[b:] + rim[:a]
    return (one, other) if len(one) > 1 and len(other) > 1 else None


def _has_one_neighbour(skin: Skin, patch: list[int], run: Loop, first: int) -> bool:
    """True where one flat face lies all along a run, and no third face touches it between its ends."""
    beyond = {patch[skin.owner[b, a]] for a, b in pairwise(run)}
    alone = all(len(faces_at(skin, patch, half)) == 2 for half in pairwise(run[1:]))
    return len(beyond) == 1 and beyond.pop() >= first and alone


def _arc(skin: Skin, run: Loop, axis: Axis, radius: float) -> tuple[Half, ArcEdge]:
    """A run as an arc: its ends, the low corner first, and the axis about which it goes anticlockwise from there."""
    corners = skin.mesh.vertices[list(run)]
    away = _across(corners, axis)
    turned = float(np.cross(away[:-1], away[1:]).sum(axis=0) @ np.array(axis.way))
    height = float((corners[0] - np.array(axis.point)) @ np.array(axis.way))
    low, high = min(run[0], run[-1]), max(run[0], run[-1])
    sign = (1.0 if turned > 0 else -1.0) * (1.0 if run[0] == low else -1.0)
    return (low, high), ArcEdge(plus(axis.point, times(axis.way, height)), radius, times(axis.way, sign))


def _is_a_rim(skin: Skin, patch: list[int], ends: Half) -> bool:
    """True where a straight edge between two faces has the same ends as an arc."""
    a, b = ends
    return (a, b) in skin.owner and patch[skin.owner[a, b]] != patch[skin.owner[b, a]]


def _is_outward(skin: Skin, triangles: Sequence[int], axis: Axis) -> bool:
    """True where the wall looks away from its axis."""
    chosen = list(triangles)
    middles = skin.mesh.vertices[skin.mesh.triangles[chosen]].mean(axis=1)
    return float((skin.across[chosen] * _across(middles, axis)).sum()) > 0


def _across(points: Floats, axis: Axis) -> Floats:
    """From the axis straight out to each point."""
    beside = points - np.array(axis.point)
    return np.asarray(beside - (beside @ np.array(axis.way))[:, None] * np.array(axis.way))
