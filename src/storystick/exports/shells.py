"""From triangles to the faces that they stand for: flat faces with their outlines, round walls of bores and curves.

The mesh says what is there; the part's bores and sawn curves say which walls are round. A bore's wall is taken as round
only where it runs from one whole circle to another, a curve's (`bends`) where it runs from one arc to another, each
shared with a single neighbour; all others stay flat facets, as in the mesh.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from storystick.exports.bends import ArcEdge, Axis, Bend, aside_of, bend, on_curve, sawn_axes
from storystick.exports.lying import lying
from storystick.exports.patches import NEAR, NONE, Floats, Loop, Skin, flatten, loops, others_there, together
from storystick.model.body import spot_of, way_in
from storystick.model.cut import Bore
from storystick.model.part import Part
from storystick.shapes.pose import Vector, apply, cross, direct, plus, times, unit
from storystick.shapes.solid import Mesh


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


@dataclass(frozen=True, eq=False)
class Shell:
    """A closed skin of flat faces and round walls over the corners of a mesh; `arcs` are the edges that are curved."""

    corners: Floats
    flats: tuple[FlatFace, ...]
    walls: tuple[RoundWall, ...]
    bends: tuple[Bend, ...] = ()

    @cached_property
    def arcs(self) -> Mapping[tuple[int, int], ArcEdge]:
        """Curved edges by their corners, the low one first."""
        return {ends: arc for bend in self.bends for ends, arc in bend.arcs.items()}


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Triangles that may be a round wall."""

    axis: Axis
    triangles: tuple[int, ...]
    is_sawn: bool = False


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
        made = [_made(skin, patch, rims[number], found, len(round_ones)) for number, found in enumerate(round_ones)]
        if None not in made:
            return _shell(skin, seeds, rims, [one for one in made if one is not None])
        round_ones = [found for found, one in zip(round_ones, made, strict=True) if one is not None]


def _made(skin: Skin, patch: list[int], rims: Sequence[Loop], found: _Found, first: int) -> RoundWall | Bend | None:
    """The round wall or the bend that some triangles are; None where they are neither."""
    if not found.is_sawn:
        return _wall(skin, patch, rims, found.axis)
    return bend(skin, patch, rims, found.axis, found.triangles, first)


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
    for axis, radius in sawn_axes(part):
        for group in together(skin, [t for t in on_curve(skin.mesh, axis, radius) if t not in taken]):
            taken.update(group)
            yield _Found(axis, tuple(group), is_sawn=True)


def _axis(bore: Bore, part: Part) -> Axis:
    size = (float(part.size[0]), float(part.size[1]), float(part.size[2]))
    pose = lying(part)
    point = apply(pose, spot_of(bore.side, (float(bore.at[0]), float(bore.at[1])), size))
    way = unit(direct(pose, way_in(bore)))
    return Axis(point, way, aside_of(way))


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
    if len(beyond) != 1 or len(set(rim)) != len(rim) or others_there(skin, patch, rim):
        return None
    x, y = across @ np.array(axis.aside), across @ np.array(cross(axis.way, axis.aside))
    turned = math.fsum(np.arctan2(x * np.roll(y, -1) - y * np.roll(x, -1), x * np.roll(x, -1) + y * np.roll(y, -1)))
    if abs(abs(turned) - math.tau) > NEAR:
        return None
    middle = float(np.mean(along))
    return Ring(plus(axis.point, times(axis.way, middle)), float(np.mean(away)), middle, 1 if turned > 0 else -1)


def _shell(
    skin: Skin, seeds: Sequence[int], rims: Mapping[int, Sequence[Loop]], made: Sequence[RoundWall | Bend]
) -> Shell:
    walls = [one for one in made if isinstance(one, RoundWall)]
    bends = [one for one in made if isinstance(one, Bend)]
    used = {
        frozenset(rim): (walls.index(one), _end(skin, rim, one))
        for number, one in enumerate(made)
        if isinstance(one, RoundWall)
        for rim in rims[number]
    }
    kept = _kept(skin, rims, len(made), used)
    kept = (kept - frozenset(c for one in bends for c in one.inner)) | {c for one in bends for c in one.corners}
    flats = []
    for number, seed in enumerate(seeds, len(made)):
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
    return Shell(skin.mesh.vertices, tuple(flats), tuple(walls), tuple(bends))


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
