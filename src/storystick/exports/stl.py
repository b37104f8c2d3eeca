"""STL (binary): every different part as it lies on the bench, and the whole piece as it stands. Millimetres.

STL has no units and no names: the file's name tells the part, and a program that asks has to be told millimetres.
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from storystick.exports.export import Export, File, Piece
from storystick.exports.naming import file_of, plain

if TYPE_CHECKING:
    from storystick.shapes.solid import Mesh


def make(piece: Piece) -> Iterator[File]:
    """The whole piece, then parts by their letters."""
    from storystick.exports.lying import bodies

    yield File(f"{plain(piece.build.title)}.stl", stl(solid.mesh for solid in piece.scene.parts.values()))
    for body in bodies(piece.scene):
        yield File(f"{file_of(body.parts[0])}.stl", stl([body.solid.mesh]))


def stl(meshes: "Iterable[Mesh]") -> bytes:
    """Triangles with their normals, 50 bytes each, after a heading of 80 and their number."""
    import numpy as np

    corners = np.concatenate([mesh.vertices[mesh.triangles] for mesh in meshes] or [np.zeros((0, 3, 3))])
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(across, axis=1, keepdims=True)
    rows = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    rows["normal"] = np.divide(across, length, out=np.zeros_like(across), where=length > 0)
    rows["corners"] = corners
    heading = b"storystick, millimetres".ljust(80)
    return heading + len(corners).to_bytes(4, "little") + rows.tobytes()


EXPORT = Export("stl", ".stl", "each part lying on its back, and the whole piece: triangles, mm", make)
