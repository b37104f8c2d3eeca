"""The triangles of a body with round holes, put together without cutting: for drawings that can't wait.

Cutting many holes takes the mesh library some ten times as long as dealing with the same faces by themselves. Where
each hole has whole wood about it, all that changes is known: the flat faces that it opens in get a round opening, and
its walls and its bottom are added. The body is the same; how its flat faces are divided into triangles is not.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import cos, pi, sin

import numpy as np
from manifold3d import triangulate

from storystick.shapes.edges import drawn_edges
from storystick.shapes.outline import SAGITTA
from storystick.shapes.pose import facing
from storystick.shapes.solid import Counts, Floats, Mesh, Shaft, Solid, round_sides

FLAT = 1e-6
"""Corners that are off a plane by less lie in it [mm]."""

type Plane = tuple[int, float, bool]
"""An axis, where on it, and whether the outside is on the far side."""


def creased(solid: Solid, off: float = SAGITTA, least: int = 16) -> tuple[Mesh, Counts]:
    """The triangles of a body as it was made, and its creases as pairs of corners; cut where that can't be helped.

    off    how far a side of a hole that is not cut may stand off the circle [mm];  least  how many sides it has then
    """
    known, around = solid.drilled, solid.around
    if known is not None and known.shafts and around is not None and solid.still is None:
        made = bored(around.mesh, known.shafts, off, least)
        if made is not None:
            return made
    return solid.mesh, _creases(solid.mesh)


def _creases(mesh: Mesh) -> Counts:
    return drawn_edges(mesh, np.zeros(3))[0]  # nothing is turned toward a point: creases alone are left


def bored(around: Mesh, shafts: Sequence[Shaft], off: float = SAGITTA, least: int = 16) -> tuple[Mesh, Counts] | None:
    """Triangles and creases of a body with shafts in it, each in whole wood; None where its faces can't be told apart.

    Every ring of a shaft is a crease: at its mouth, where it widens, at its bottom.
    """
    corners, triangles, creases = [around.vertices], list[Counts](), list[Counts]()
    count = len(around.vertices)
    mouths: dict[Plane, list[Counts]] = {}
    for shaft in shafts:
        rings = _rings(shaft, round_sides(2 * shaft.widest, off, least))
        sides = len(rings) // len(shaft.rings)
        corners.append(rings)
        walls, lines = _lined(sides, len(shaft.rings), shaft.open)
        triangles.append(walls + count)
        creases.append(lines + count)
        near = count + np.arange(sides)
        mouths.setdefault((shaft.axis, round(shaft.rings[0][1], 7), not shaft.ahead), []).append(near)
        count += len(rings)
        if shaft.open:
            far = np.arange(count - 1, count - sides - 1, -1)  # clockwise as seen from outside, as the mouth is
            mouths.setdefault((shaft.axis, round(shaft.rings[-1][1], 7), shaft.ahead), []).append(far)
    vertices = np.concatenate(corners)
    left = np.ones(len(around.triangles), dtype=bool)
    for plane, openings in mouths.items():
        face = _face(around, plane)
        rims = _rims(around.triangles[face])
        if not face.any() or rims is None:
            return None
        left &= ~face
        triangles.append(_opened(vertices, plane, rims, openings))
    made = Mesh(vertices, np.concatenate([around.triangles[left], *triangles]))
    return made, np.concatenate([_creases(around), *creases])


def _rings(shaft: Shaft, sides: int) -> Floats:
    """The corners of a shaft's rings, one ring after another, anticlockwise about its way into the wood [mm]."""
    ring = _round(sides, shaft.axis, shaft.ahead)
    radii = np.array([radius for radius, _ in shaft.rings])
    spots = np.insert(np.tile(np.array(shaft.at), (len(radii), 1)), shaft.axis, [at for _, at in shaft.rings], axis=1)
    return np.asarray((spots[:, None] + radii[:, None, None] * ring).reshape(-1, 3))


@lru_cache(maxsize=256)
def _round(sides: int, axis: int, ahead: bool) -> Floats:
    """The corners of a ring of radius 1 about an axis, as a round tool has them that goes that way."""
    way = [0.0, 0.0, 0.0]
    way[axis] = 1.0 if ahead else -1.0
    x, y, _ = (np.array(one) for one in facing((way[0], way[1], way[2])).axes)
    turns = [2 * pi * k / sides for k in range(sides)]
    return np.array([cos(t) * x + sin(t) * y for t in turns])


@lru_cache(maxsize=256)
def _lined(sides: int, rings: int, is_open: bool) -> tuple[Counts, Counts]:
    """Triangles of the walls and the bottom of a shaft, seen from its inside, and its rings as lines; from corner 0."""
    here = np.arange(sides * rings).reshape(rings, sides)
    onward = np.roll(here, -1, axis=1)
    near, on, deep, below = (one.ravel() for one in (here[:-1], onward[:-1], here[1:], onward[1:]))
    triangles = [np.stack([near, deep, on], axis=1), np.stack([on, deep, below], axis=1)]
    if not is_open:
        last = here[-1]
        triangles.append(np.stack([np.full(sides - 2, last[0]), last[2:], last[1:-1]], axis=1))
    return np.concatenate(triangles), np.stack([here.ravel(), onward.ravel()], axis=1)


def _face(mesh: Mesh, plane: Plane) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
    """Which triangles lie in a plane with their outside on its side."""
    axis, where, _ = plane
    one, two = _across(plane)
    level = np.abs(mesh.vertices[:, axis] - where) < FLAT
    flat = level[mesh.triangles].all(axis=1)
    a, b, c = (mesh.vertices[mesh.triangles[:, i]] for i in range(3))
    area = (b - a)[:, one] * (c - a)[:, two] - (b - a)[:, two] * (c - a)[:, one]
    return np.asarray(flat & (area > 0))


def _rims(triangles: Counts) -> list[Counts] | None:
    """The lines round some triangles, each closed; None where two of them meet in a corner."""
    edges = {(int(a), int(b)) for a, b in triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)}
    onward = {a: b for a, b in edges if (b, a) not in edges}
    if len(onward) != sum((b, a) not in edges for a, b in edges):
        return None
    found = []
    for start in sorted(onward):
        if start not in onward:
            continue
        rim, here = [start], onward.pop(start)
        while here != start:
            rim.append(here)
            here = onward.pop(here)
        found.append(np.array(rim))
    return found


def _opened(vertices: Floats, plane: Plane, rims: Sequence[Counts], openings: Sequence[Counts]) -> Counts:
    """A flat face within its rims, with openings."""
    rings = [*rims, *openings]
    flat = vertices[:, _across(plane)]
    return np.concatenate(rings)[np.array(triangulate([flat[ring] for ring in rings]), dtype=np.int64)]


def _across(plane: Plane) -> list[int]:
    """The two axes of a plane, so that what is anticlockwise on them is so as seen from outside."""
    axis, _, far = plane
    return [(axis + 1) % 3, (axis + 2) % 3] if far else [(axis + 2) % 3, (axis + 1) % 3]
