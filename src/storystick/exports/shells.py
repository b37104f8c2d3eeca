"""From triangles to the faces that they stand for: flat faces with their outlines, and the true round walls of bores.

The mesh says what is there; the part's bores say which walls are round. A wall is taken as round only where it runs
from one whole circle to another, each shared with a single neighbour; all others stay flat facets, as in the mesh.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from storystick.exports.lying import lying
from storystick.exports.patches import NEAR, NONE, Floats, Loop, Skin, flatten, loops, together
from storystick.model.body import spot_of, way_in
from storystick.model.cut import Bore
from storystick.model.part import Part
from storystick.shapes.pose import Vector, apply, cross, direct, dot, less, plus, times, unit
from storystick.shapes.solid import Mesh


@dataclass(frozen=True, slots=True)
class Axis:
    """The middle line of a bore: where it enters, its unit direction into the wood, and one square to that."""

    point: Vector
    way: Vector
    aside: Vector


@dataclass(frozen=True, slots=True)
class Ring:
    """A whole circle where a round wall ends. `turns`: +1 where the wall goes anticlockwise round it about the axis."""

    centre: Vector
    radius: float
    along: float
    turns: int


@dataclass(frozen=True, slots=True)
class RoundWall:
    """The wall of a bore, or of its countersink: between two rings, in order along the axis, the wood outside it."""

    axis: Axis
    rings: tuple[Ring, Ring]


@dataclass(frozen=True, slots=True)
class RingUsed:
    """A ring of a wall as a loop of a flat face; `turns` as the flat face goes round it."""

    wall: int
    end: int
    turns: int


@dataclass(frozen=True, slots=True, eq=False)
class FlatFace:
    """A flat face: its normal out of the wood, and its loops, the outer one first."""

    normal: Vector
    loops: tuple[Loop | RingUsed, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Shell:
    """A closed skin of flat faces and round walls over the corners of a mesh."""

    corners: Floats
    flats: tuple[FlatFace, ...]
    walls: tuple[RoundWall, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Triangles that may be a round wall."""

    axis: Axis
    triangles: tuple[int, ...]


def shell_of(mesh: Mesh, part: Part) -> Shell:
    """The skin of a part that lies on the bench. `mesh` is that of one closed piece of it."""
    skin = Skin(mesh)
    round_ones = list(_round_ones(skin, part))
    while True:
        patch = [NONE] * len(skin.triangles)
        for number, found in enumerate(round_ones):
            for triangle in found.triangles:
                patch[triangle] = number
        seeds = flatten(skin, patch, len(round_ones))
        rims = loops(skin, patch)
        walls = [_wall(skin, patch, rims[number], found.axis) for number, found in enumerate(round_ones)]
        if None not in walls:
            return _shell(skin, seeds, rims, [wall for wall in walls if wall is not None])
        round_ones = [found for found, wall in zip(round_ones, walls, strict=True) if wall is not None]


def _round_ones(skin: Skin, part: Part) -> Iterator[_Found]:
    """Walls and countersinks of the part's bores, as far as the mesh has them; no triangle twice."""
    taken: set[int] = set()
    for bore in part.cuts:
        if isinstance(bore, Bore):
            axis = _axis(bore, part)
            for chosen in _on_bore(skin.mesh, axis, bore):
                for group in together(skin, [t for t in chosen if t not in taken]):
                    taken.update(group)
                    yield _Found(axis, tuple(group))


def _axis(bore: Bore, part: Part) -> Axis:
    size = (float(part.size[0]), float(part.size[1]), float(part.size[2]))
    pose = lying(part)
    point = apply(pose, spot_of(bore.side, (float(bore.at[0]), float(bore.at[1])), size))
    way = unit(direct(pose, way_in(bore)))
    least = min(range(3), key=lambda i: abs(way[i]))
    other: Vector = (float(least == 0), float(least == 1), float(least == 2))
    return Axis(point, way, unit(less(other, times(way, dot(other, way)))))


def _on_bore(mesh: Mesh, axis: Axis, bore: Bore) -> Iterator[list[int]]:
    """Triangles on the wall of a bore, on that of its counterbore, on its countersink (90 degrees)."""
    beside = mesh.vertices - np.array(axis.point)
    along = beside @ np.array(axis.way)
    away = np.linalg.norm(beside - along[:, None] * np.array(axis.way), axis=1)
    of_along, of_away = along[mesh.triangles], away[mesh.triangles]
    slanting = of_along.max(axis=1) - of_along.min(axis=1) > NEAR
    for diameter in (bore.diameter, bore.step[0] if bore.step else None):
        if diameter is not None:
            on_wall = np.abs(of_away - float(diameter) / 2).max(axis=1) <= NEAR
            yield np.nonzero(on_wall & slanting)[0].tolist()
    if bore.sink is not None:
        on_cone = np.abs(of_away + of_along - float(bore.sink) / 2).max(axis=1) <= NEAR
        yield np.nonzero(on_cone & slanting)[0].tolist()


def _wall(skin: Skin, patch: list[int], rims: Sequence[Loop], axis: Axis) -> RoundWall | None:
    """The wall between two rings; None where the patch is not just that."""
    if len(rims) != 2:
        return None
    one, other = (_ring(skin, patch, rim, axis) for rim in rims)
    if one is None or other is None or one.turns == other.turns:
        return None
    return RoundWall(axis, (one, other) if one.along < other.along else (other, one))


def _ring(skin: Skin, patch: list[int], rim: Loop, axis: Axis) -> Ring | None:
    """A whole circle square to the axis with one and the same neighbour all round; None where it is not."""
    beside = skin.mesh.vertices[list(rim)] - np.array(axis.point)
    along = beside @ np.array(axis.way)
    across = beside - along[:, None] * np.array(axis.way)
    away = np.linalg.norm(across, axis=1)
    if np.ptp(along) > NEAR or np.ptp(away) > NEAR:
        return None
    beyond = {patch[skin.owner[b, a]] for a, b in zip(rim, (*rim[1:], rim[0]), strict=True)}
    if len(beyond) != 1 or len(set(rim)) != len(rim) or _others_there(skin, patch, rim):
        return None
    x, y = across @ np.array(axis.aside), across @ np.array(cross(axis.way, axis.aside))
    turned = math.fsum(np.arctan2(x * np.roll(y, -1) - y * np.roll(x, -1), x * np.roll(x, -1) + y * np.roll(y, -1)))
    if abs(abs(turned) - math.tau) > NEAR:
        return None
    middle = float(np.mean(along))
    return Ring(plus(axis.point, times(axis.way, middle)), float(np.mean(away)), middle, 1 if turned > 0 else -1)


def _others_there(skin: Skin, patch: list[int], rim: Loop) -> bool:
    """Does a third face touch the rim in a corner?"""
    for number, corner in enumerate(rim):
        start = half = (corner, rim[(number + 1) % len(rim)])
        met = set()
        while True:
            triangle = skin.owner[half]
            met.add(patch[triangle])
            last = next(c for c in skin.triangles[triangle] if c not in half)
            half = (corner, last)
            if half == start:
                break
        if len(met) > 2:
            return True
    return False


def _shell(skin: Skin, seeds: Sequence[int], rims: Mapping[int, Sequence[Loop]], walls: list[RoundWall]) -> Shell:
    used = {frozenset(rim): (wall, _end(skin, rim, walls[wall])) for wall in range(len(walls)) for rim in rims[wall]}
    kept = _kept(skin, rims, len(walls), used)
    flats = []
    for number, seed in enumerate(seeds, len(walls)):
        across = skin.across[seed].tolist()
        normal = unit((across[0], across[1], across[2]))
        found: list[tuple[float, Loop | RingUsed]] = []
        for rim in rims[number]:
            area = _area(skin.mesh.vertices, rim, normal)
            if frozenset(rim) in used:
                wall, end = used[frozenset(rim)]
                found.append((area, RingUsed(wall, end, -walls[wall].rings[end].turns)))
            else:
                found.append((area, tuple(corner for corner in rim if corner in kept)))
        found.sort(key=lambda one: -one[0])
        flats.append(FlatFace(normal, tuple(loop for _, loop in found)))
    return Shell(skin.mesh.vertices, tuple(flats), tuple(walls))


def _end(skin: Skin, rim: Loop, wall: RoundWall) -> int:
    """Which of a wall's two rings a rim is."""
    first = skin.mesh.vertices[rim[0]]
    along = float((first - np.array(wall.axis.point)) @ np.array(wall.axis.way))
    return 0 if abs(along - wall.rings[0].along) < abs(along - wall.rings[1].along) else 1


def _kept(
    skin: Skin, rims: Mapping[int, Sequence[Loop]], first: int, used: Mapping[frozenset[int], tuple[int, int]]
) -> frozenset[int]:
    """Corners at which something turns: a corner in the middle of a straight edge of two faces is left out of both."""
    around: dict[int, int] = {}
    bent: set[int] = set()
    vertices = skin.mesh.vertices
    for number, found in rims.items():
        for rim in found if number >= first else ():
            if frozenset(rim) in used:
                continue
            for before, corner, after in zip((rim[-1], *rim[:-1]), rim, (*rim[1:], rim[0]), strict=True):
                around[corner] = around.get(corner, 0) + 1
                one, two = vertices[corner] - vertices[before], vertices[after] - vertices[corner]
                if float(np.linalg.norm(np.cross(one, two))) > 1e-9 * float(np.linalg.norm(one) * np.linalg.norm(two)):
                    bent.add(corner)
    return frozenset(corner for corner, count in around.items() if count > 2 or corner in bent)


def _area(vertices: Floats, rim: Loop, normal: Vector) -> float:
    """Twice the area inside a loop, above 0 where it runs anticlockwise about the normal."""
    corners = vertices[list(rim)]
    return float(np.cross(corners, np.roll(corners, -1, axis=0)).sum(axis=0) @ np.array(normal))
