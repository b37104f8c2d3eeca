"""Spots: where on a drawing a body shows most, so that its letter can stand there.

The drawing is looked at through a grid of some ten thousand points. For each body, the spot is deep inside the
largest clear patch of it that is seen; it is a place for a letter, not a measure.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from storystick.shapes.edges import face_normals
from storystick.shapes.hidden import GRAZING, on_paper_rows
from storystick.shapes.solid import Counts, Floats, Solid
from storystick.shapes.view import Spot, View

GRID = 240
"""Points along the longer side of the drawing."""


@dataclass(frozen=True)
class Seen:
    """Where a body shows: a spot well inside, how far it is to the rim there [mm], and the area seen in all [mm2]."""

    owner: str
    at: Spot
    room: float
    area: float


def spots(bodies: Sequence[tuple[str, Solid]], view: View, grid: int = GRID) -> tuple[Seen, ...]:
    """The best spot of each body that shows at all, in the order given; one hidden or too thin to catch is left out."""
    axes = np.array([view.right, view.up, view.toward])
    faces, owners = _faces(bodies, axes)
    if not len(faces):
        return ()
    flat = faces.reshape(-1, 3)[:, :2]
    low, high = flat.min(axis=0), flat.max(axis=0)
    step = float((high - low).max()) / grid
    columns, rows = (int(n) for n in np.ceil((high - low) / step).astype(int))
    x = low[0] + (np.arange(columns) + 0.5) * step
    y = low[1] + (np.arange(rows) + 0.5) * step
    shown = _shown(faces, owners, x, y)
    depth = _depth(shown)
    found = []
    for number, (owner, _) in enumerate(bodies):
        mine = shown == number
        if mine.any():
            i, j = _deepest(np.where(mine, depth, 0))
            room = (float(depth[i, j]) - 0.5) * step
            at = (round(float(x[j]), 3), round(float(y[i]), 3))
            found.append(Seen(owner, at, round(room, 3), round(int(mine.sum()) * step * step, 3)))
    return tuple(found)


def _faces(bodies: Sequence[tuple[str, Solid]], axes: Floats) -> tuple[Floats, Counts]:
    found, owners = [np.zeros((0, 3, 3))], [np.zeros(0, np.int64)]
    for number, (_, solid) in enumerate(bodies):
        corners = on_paper_rows(solid.mesh.vertices, axes)[solid.mesh.triangles]
        corners = corners[face_normals(corners)[:, 2] > GRAZING]
        found.append(corners)
        owners.append(np.full(len(corners), number))
    return np.concatenate(found), np.concatenate(owners)


def _shown(faces: Floats, owners: Counts, x: Floats, y: Floats) -> Counts:
    """Which body is nearest to the eye at each point of the grid, by number; -1 for none."""
    import shapely

    points = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    tree = shapely.STRtree(np.asarray(shapely.points(points)))
    low, high = faces[:, :, :2].min(axis=1), faces[:, :, :2].max(axis=1)
    face, point = tree.query(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    inside = np.ones(len(face), dtype=bool)
    for i in range(3):
        corner, side = faces[face, i], faces[face, (i + 1) % 3] - faces[face, i]
        at = points[point] - corner[:, :2]
        inside &= side[:, 0] * at[:, 1] - side[:, 1] * at[:, 0] >= 0
    face, point = face[inside], point[inside]
    normals = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    slopes = -normals[:, :2] / normals[:, 2:]
    at = points[point] - faces[face, 0, :2]
    near = faces[face, 0, 2] + (slopes[face] * at).sum(axis=1)
    order = np.lexsort((-owners[face], np.round(near, 3), point))
    shown = np.full(len(points), -1, dtype=np.int64)
    shown[point[order]] = owners[face[order]]  # the last one written is the nearest
    return shown.reshape(len(y), len(x))


def _depth(shown: Counts) -> Counts:
    """For each point, how many rings of its own kind are around it: 1 at the rim of a patch."""
    padded = np.pad(shown, 1, constant_values=-1)
    alive = padded >= 0
    depth = alive.astype(np.int64)
    for sideways in range(max(shown.shape)):
        alive = alive & _all_round(padded, alive, diagonal=sideways % 2 == 0)
        if not alive.any():
            break
        depth += alive
    return depth[1:-1, 1:-1]


def _all_round(padded: Counts, alive: NDArray[np.bool_], diagonal: bool) -> NDArray[np.bool_]:
    """Points whose neighbours are all alive and of the same body; looking at corners every other time rounds it off."""
    ways = [(0, 1), (0, -1), (1, 0), (-1, 0)] + ([(1, 1), (1, -1), (-1, 1), (-1, -1)] if diagonal else [])
    kept = np.ones(alive.shape, dtype=bool)
    for way in ways:
        kept &= np.roll(alive, way, (0, 1)) & (np.roll(padded, way, (0, 1)) == padded)
    return kept


def _deepest(depth: Counts) -> tuple[int, int]:
    """The point with the most rings; of equals, the one nearest to their middle."""
    rows, columns = np.nonzero(depth == depth.max())
    away = (rows - rows.mean()) ** 2 + (columns - columns.mean()) ** 2
    best = int(np.lexsort((columns, rows, np.round(away, 6)))[0])
    return int(rows[best]), int(columns[best])
