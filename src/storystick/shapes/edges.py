"""Edges: which lines of a body are worth drawing when it is looked at from one side.

Creases, where two faces meet at more than 25 degrees; and silhouettes, where the surface turns away from the eye. The
facets of round things meet at 22.5 degrees at most, so they show by rim and silhouette alone.
"""

import math

import numpy as np
from numpy.typing import NDArray

from storystick.shapes.solid import Counts, Floats, Mesh
from storystick.shapes.triangles import cross

CREASE = math.cos(math.radians(25.0))
NO_HEIGHT = 1e-6
"""Triangles lower than this are slivers left over by a cut [mm]."""
EDGE_ON = 1e-7
"""Faces that look past the eye by less than this share count as turned away."""


def face_normals(corners: Floats) -> Floats:
    """Outward unit normals of rows of triangles; zero for one with no height to speak of."""
    sides = corners[:, (1, 2, 0)] - corners
    normals = cross(sides[:, 0], sides[:, 1])
    sizes = np.linalg.norm(normals, axis=1)
    real = sizes > NO_HEIGHT * np.linalg.norm(sides, axis=2).max(axis=1)
    return np.asarray(normals / np.where(real, sizes, np.inf)[:, None])


def drawn_edges(mesh: Mesh, toward: Floats) -> tuple[Counts, NDArray[np.bool_]]:
    """Pairs of corner numbers of every edge to draw, seen from `toward`; and which are behind their own body for sure.

    Those are the ones with no face turned to the eye: the body itself is in the way.
    """
    triangles = mesh.triangles
    if not len(triangles):
        return np.zeros((0, 2), dtype=np.int64), np.zeros(0, dtype=bool)
    normals = face_normals(mesh.vertices[triangles])
    ends = triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    faces = np.repeat(np.arange(len(triangles)), 3)
    low, high = ends.min(axis=1), ends.max(axis=1)
    forth = ends[:, 0] == low
    order = np.lexsort((~forth, high, low))
    low, high, faces = low[order], high[order], faces[order]
    # a closed surface has each edge twice, once each way; where it touches itself an edge may be there four times
    one, two = faces[0::2], faces[1::2]
    long = np.linalg.norm(mesh.vertices[low[0::2]] - mesh.vertices[high[0::2]], axis=1)
    normals = _slivers_leaned_on(normals, one, two, long)
    aslant = np.einsum("ij,ij->i", normals[one], normals[two]) < CREASE
    to_eye = normals @ toward > EDGE_ON
    keep = aslant | (to_eye[one] != to_eye[two])
    behind = ~to_eye[one] & ~to_eye[two]
    return np.stack([low[0::2][keep], high[0::2][keep]], axis=1), behind[keep]


def _slivers_leaned_on(normals: Floats, one: Counts, two: Counts, long: Floats) -> Floats:
    """Give a triangle with no height the normal of its neighbour on its longest side: it shows no line of its own."""
    leaned = normals.copy()
    for _ in range(8):
        flat = ~leaned.any(axis=1)
        if not flat.any():
            break
        longest = np.zeros(len(normals))
        np.maximum.at(longest, one, long)
        np.maximum.at(longest, two, long)
        for mine, other in ((one, two), (two, one)):
            lean = flat[mine] & ~flat[other] & (long >= longest[mine])
            leaned[mine[lean]] = leaned[other[lean]]
    return leaned
