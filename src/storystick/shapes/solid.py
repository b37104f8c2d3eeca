"""Solid: a body in space, closed and with an inside. Made, joined, cut, moved, measured.

A frozen wrapper on a boundary mesh (manifold3d). Round things are many-sided: their corners lie on the true circle
and no side stands off it by more than 0.02 mm, so a round bar is never thicker than asked and its volume a little
small (2.6 % with 16 sides, for wires of 2 mm and less; 0.6 % at 8 mm, 0.1 % at 35 mm). Judge the fit of a dowel in its
hole from the numbers, not from these bodies.
"""

import atexit
import hashlib
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache, reduce
from itertools import pairwise

import numpy as np
from manifold3d import CrossSection, Error, Manifold, Mesh64, OpType, triangulate
from numpy.typing import NDArray

from storystick.shapes.outline import SAGITTA, Outline, points, step_of
from storystick.shapes.pose import HERE, Pose, Turn, Vector, apply, compose, shifted

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]
Bounds = tuple[Vector, Vector]


@dataclass(frozen=True)
class Mesh:
    """Corners, one a row [mm], and triangles as rows of three corner numbers, anticlockwise as seen from outside."""

    vertices: Floats
    triangles: Counts


@dataclass(frozen=True)
class Shaft:
    """A round hole, or a stretch of it, with whole wood about it, straight along an axis.

    axis   0, 1 or 2: the one that it runs along
    at     where it is on the other two [mm]
    rings  (radius, place on the axis) from its mouth on [mm]
    ahead  whether it runs toward where the axis points
    open   at its far end too
    """

    axis: int
    at: tuple[float, float]
    rings: tuple[tuple[float, float], ...]
    widest: float  # radius of the whole hole [mm], which says how many sides it has
    ahead: bool
    open: bool


@dataclass(frozen=True)
class Drilled:
    """What the round holes of a body take out of the body `around` it, as it was made.

    boxes   that the holes are in [mm]
    volume  [mm3]; None where a hole has not whole wood all about it: then the mesh alone can tell
    moment  volume times place [mm4]
    shafts  each hole as it stands in wood; none where the mesh alone can tell
    """

    boxes: tuple[Bounds, ...]
    volume: float | None
    moment: Vector
    shafts: tuple[Shaft, ...] = ()


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed body, possibly in several pieces, possibly empty; where it was moved, from which other, by what.

    around   a body of fewer faces that it is all within, its round holes filled; both as they were made
    drilled  those holes; where they have whole wood about them, much is known of the body without cutting them
    """

    body: Manifold
    still: "Solid | None" = None
    moves: tuple[Pose, ...] = ()  # the first one first
    around: "Solid | None" = None
    drilled: Drilled | None = None

    @cached_property
    def is_empty(self) -> bool:
        """True where nothing is left."""
        return bool(self.body.is_empty()) if self.as_large is self else self.as_large.is_empty

    @cached_property
    def own(self) -> "Solid":
        """The body as it was made, before it was placed anywhere."""
        return self.still or self

    @cached_property
    def plain(self) -> "Solid":
        """The body around it in the same place; itself where there is none."""
        around = self.own.around
        return self if around is None else reduce(moved, self.moves, around)

    @cached_property
    def as_large(self) -> "Solid":
        """The plainest body known that is as large as it, in as many pieces, empty where it is: itself or the plain."""
        drilled = self.own.drilled
        return self if drilled is None or drilled.volume is None else self.plain

    @cached_property
    def in_one_piece(self) -> bool:
        """Whether it hangs together, and is not empty."""
        return len(self.as_large.body.decompose()) == 1

    @cached_property
    def mark(self) -> object:
        """What tells it from every other body: to ask under, and light to keep when the body itself is let go."""
        return object()

    @cached_property
    def pose(self) -> Pose:
        """How `own` was placed."""
        return reduce(lambda placed, then: compose(then, placed), self.moves, HERE)

    @cached_property
    def turn(self) -> Turn:
        """How `own` was turned, without the dust that turns after one another leave behind the 14th digit."""
        a, b, c = ((round(x, 14) + 0.0, round(y, 14) + 0.0, round(z, 14) + 0.0) for x, y, z in self.pose.turn)
        return (a, b, c)

    @cached_property
    def volume(self) -> float:
        """Volume [mm3]."""
        if self.still is not None:
            return self.still.volume
        if self.drilled is not None and self.drilled.volume is not None:
            return self.plain.volume - self.drilled.volume
        return float(self.body.volume())

    @cached_property
    def surface(self) -> float:
        """Area of all its faces [mm2]."""
        return float(self.body.surface_area())

    @cached_property
    def bounds(self) -> Bounds:
        """Least and greatest corner of the box round it [mm]. ValueError for an empty body."""
        if self.is_empty:
            raise ValueError("an empty body has no bounds")
        if self.as_large is not self:
            return self.as_large.bounds
        x0, y0, z0, x1, y1, z1 = (float(v) for v in self.body.bounding_box())
        return ((x0, y0, z0), (x1, y1, z1))

    @cached_property
    def mesh(self) -> Mesh:
        """Its triangles, sorted by place: the mesh library's own order depends on what was made before."""
        raw = self.body.to_mesh64()
        vertices = np.array(raw.vert_properties[:, :3], dtype=np.float64) + 0.0
        triangles = np.array(raw.tri_verts, dtype=np.int64)
        return _sorted(vertices, triangles)

    @cached_property
    def centre(self) -> Vector:
        """Centre of its volume [mm]: where it balances. ValueError for an empty body."""
        if self.still is not None:
            return apply(self.pose, self.still.centre)
        if self.drilled is not None and self.drilled.volume is not None:
            whole, less = self.plain, self.drilled.moment
            a, b, c = ((whole.volume * p - m) / self.volume for p, m in zip(whole.centre, less, strict=True))
            return (a, b, c)
        first, last = self.bounds
        middle = (np.array(first) + np.array(last)) / 2
        corners = (self.mesh.vertices - middle)[self.mesh.triangles]
        sixfold = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
        x, y, z = middle + (corners.sum(axis=1) * sixfold[:, None]).sum(axis=0) / (4 * sixfold.sum())
        return (float(x), float(y), float(z))

    @cached_property
    def digest(self) -> str:
        """A print of its very bytes: equal bodies made in the same way have the same one."""
        text = self.mesh.vertices.tobytes() + self.mesh.triangles.tobytes()
        return hashlib.sha256(text).hexdigest()


@lru_cache(maxsize=1)
def nothing() -> Solid:
    """A body with nothing in it."""
    return Solid(Manifold())


@lru_cache(maxsize=1024)
def box(wide: float, deep: float, high: float) -> Solid:
    """A box from the origin to (wide, deep, high) [mm]. ValueError unless all three are above 0."""
    _above_zero(wide, deep, high)
    return Solid(Manifold.cube((wide, deep, high)))


def box_between(first: Vector, last: Vector) -> Solid:
    """A box by its least and greatest corner [mm]."""
    return moved(box(last[0] - first[0], last[1] - first[1], last[2] - first[2]), shifted(first))


@lru_cache(maxsize=1024)
def cylinder(diameter: float, length: float) -> Solid:
    """A round bar standing on the origin along z [mm]."""
    _above_zero(diameter, length)
    return Solid(Manifold.cylinder(length, diameter / 2, circular_segments=round_sides(diameter)))


@lru_cache(maxsize=1024)
def cone(low_diameter: float, high_diameter: float, length: float) -> Solid:
    """A cone or the stump of one along z: `low_diameter` at the origin, `high_diameter` at z = length [mm].

    A countersink is one with its wide end up.
    """
    widest = max(low_diameter, high_diameter)
    _above_zero(widest, length)
    if min(low_diameter, high_diameter) < 0:
        raise ValueError("a diameter cannot be below 0")
    if low_diameter == 0:
        turned_over = cone(high_diameter, 0.0, length)
        return moved(turned_over, Pose(((1, 0, 0), (0, 1, 0), (0, 0, -1)), (0, 0, length)))
    return Solid(Manifold.cylinder(length, low_diameter / 2, high_diameter / 2, circular_segments=round_sides(widest)))


@lru_cache(maxsize=1024)
def revolved(profile: tuple[tuple[float, float], ...]) -> Solid:
    """A turned thing about z: points (radius, height) of its outline from the bottom up, closed along the axis [mm].

    One of these serves a bore with its countersink: its steps share their sides, and so cut cleanly.
    """
    widest = max(radius for radius, _ in profile)
    _above_zero(widest, profile[-1][1] - profile[0][1])
    if min(radius for radius, _ in profile) < 0 or any(b[1] < a[1] for a, b in pairwise(profile)):
        raise ValueError("the outline of a turned thing rises from point to point, with no radius below 0")
    half = np.array([(0.0, profile[0][1]), *profile, (0.0, profile[-1][1])])
    return Solid(Manifold.revolve(CrossSection([half]), round_sides(2 * widest)))


@lru_cache(maxsize=256)
def ball(diameter: float) -> Solid:
    """A ball about the origin [mm]."""
    _above_zero(diameter)
    return Solid(Manifold.sphere(diameter / 2, circular_segments=round_sides(diameter)))


@lru_cache(maxsize=256)
def prism(outline: Outline, length: float, holes: tuple[Outline, ...] = ()) -> Solid:
    """An outline in the plane z = 0, drawn out to z = length [mm]; with holes through it where given."""
    _above_zero(length)
    rings = [points(outline), *(points(hole)[::-1] for hole in holes)]
    flat = np.array([p for ring in rings for p in ring])
    count = len(flat)
    faces = np.array(triangulate([np.array(ring) for ring in rings]), dtype=np.int64)
    walls, first = [], 0
    for ring in rings:
        here = first + np.arange(len(ring))
        there = first + np.roll(np.arange(len(ring)), -1)
        walls += [np.stack([here, there, there + count], axis=1), np.stack([here, there + count, here + count], axis=1)]
        first += len(ring)
    vertices = np.concatenate([np.c_[flat, np.zeros(count)], np.c_[flat, np.full(count, length)]])
    triangles = np.concatenate([faces[:, ::-1], faces + count, *walls])
    return from_mesh(vertices, triangles)


def from_mesh(vertices: Floats, triangles: Counts) -> Solid:
    """A body from corners and triangles. ValueError where they do not close."""
    raw = Mesh64(np.ascontiguousarray(vertices), np.ascontiguousarray(triangles.astype(np.uint64)))
    made = Manifold(raw)
    if made.status() != Error.NoError:
        raise ValueError(f"the surface does not close: {made.status().name}")
    return Solid(made)


def tube_frame(wide: float, deep: float, high: float, tube: float, is_round: bool = False) -> Solid:
    """Twelve tubes along the edges of a box, all inside (wide, deep, high) from the origin [mm]; taken as full bars."""
    size = (wide, deep, high)
    if 2 * tube > min(size):
        raise ValueError(f"tubes of {tube} do not fit in {min(size)}")
    half = tube / 2
    bars = []
    for along in range(3):
        across = [i for i in range(3) if i != along]
        for a in (0.0, size[across[0]] - tube):
            for b in (0.0, size[across[1]] - tube):
                first, last = [0.0] * 3, [tube] * 3
                first[across[0]], first[across[1]], last[along] = a, b, size[along]
                last[across[0]], last[across[1]] = a + tube, b + tube
                bars.append(_bar(first, last, along, half) if is_round else _box_of(first, last))
    if is_round:
        corners = [(x, y, z) for x in (half, wide - half) for y in (half, deep - half) for z in (half, high - half)]
        bars += [moved(ball(tube), shifted(corner)) for corner in corners]
    return union(bars)


def union(solids: Iterable[Solid]) -> Solid:
    """All of them as one body."""
    bodies = [solid.body for solid in solids]
    return Solid(Manifold.batch_boolean(bodies, OpType.Add)) if bodies else nothing()


def minus(solid: Solid, tools: Iterable[Solid]) -> Solid:
    """The body with every tool cut out of it, all at once."""
    bodies = [tool.body for tool in tools]
    return Solid(Manifold.batch_boolean([solid.body, *bodies], OpType.Subtract)) if bodies else solid


def meet(a: Solid, b: Solid) -> Solid:
    """What two bodies have in common. Bodies that only touch may leave slivers: see near.overlap."""
    return Solid(a.body ^ b.body)


def moved(solid: Solid, pose: Pose) -> Solid:
    """The body placed by a pose; its inside stays inside in a mirrored one too."""
    if pose == HERE:
        return solid
    (a, b, c), (x, y, z) = pose.turn, pose.origin
    return Solid(solid.body.transform(((*a, x), (*b, y), (*c, z))), solid.own, (*solid.moves, pose))


def pieces(solid: Solid) -> tuple[Solid, ...]:
    """Its separate pieces, in a fixed order: by their least corner."""
    found = [Solid(part) for part in solid.body.decompose()]
    return tuple(sorted((part for part in found if not part.is_empty), key=lambda part: (part.bounds, part.volume)))


def round_sides(diameter: float, tolerance: float = SAGITTA, least: int = 16) -> int:
    """Sides for a circle so that none stands off by more than `tolerance` [mm]: a multiple of 4, not under `least`."""
    return max(least, 4 * math.ceil(math.tau / step_of(diameter / 2, tolerance) / 4 - 1e-9))


def boxes_apart(a: Bounds, b: Bounds) -> float:
    """How far two boxes along the axes are apart [mm]; 0 where they touch or overlap."""
    return math.hypot(*(max(0.0, b[0][i] - a[1][i], a[0][i] - b[1][i]) for i in range(3)))


def _sorted(vertices: Floats, triangles: Counts) -> Mesh:
    order = np.lexsort(vertices.T[::-1])
    rank = np.empty(len(order), dtype=np.int64)
    rank[order] = np.arange(len(order))
    turned_round = rank[triangles]
    least = turned_round.argmin(axis=1)[:, None] if len(triangles) else np.zeros((0, 1), dtype=np.int64)
    turned_round = np.take_along_axis(turned_round, (least + np.arange(3)) % 3, axis=1)
    mesh = Mesh(vertices[order], turned_round[np.lexsort(turned_round.T[::-1])])
    mesh.vertices.flags.writeable = mesh.triangles.flags.writeable = False
    return mesh


def _box_of(first: Sequence[float], last: Sequence[float]) -> Solid:
    return box_between((first[0], first[1], first[2]), (last[0], last[1], last[2]))


def _bar(first: Sequence[float], last: Sequence[float], along: int, half: float) -> Solid:
    axes: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    x, y, z = axes[(along + 1) % 3], axes[(along + 2) % 3], axes[along]
    turn = tuple((x[i], y[i], z[i]) for i in range(3))
    length = last[along] - first[along] - 2 * half
    if length <= 0:
        return nothing()
    return moved(
        cylinder(2 * half, length),
        Pose((turn[0], turn[1], turn[2]), (first[0] + half, first[1] + half, first[2] + half)),
    )


def _above_zero(*sizes: float) -> None:
    if not all(size > 0 and math.isfinite(size) for size in sizes):
        raise ValueError(f"a size must be above 0, not {min(sizes)}")


@atexit.register
def _let_go() -> None:
    """Drop the prototypes before Python closes: the mesh library complains on the screen of any body still held."""
    for prototypes in (nothing, box, cylinder, cone, revolved, ball, prism):
        prototypes.cache_clear()
