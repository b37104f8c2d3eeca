"""glTF (binary): the whole piece, a node for each part under its name and letter. Metres, y up, as glTF wants it.

Parts that are alike share one mesh. Source: glTF 2.0 specification (Khronos), 3.4 (units), 3.6 (accessors), 4 (GLB).
"""

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from storystick.exports.export import Export, File, Piece
from storystick.exports.naming import plain

if TYPE_CHECKING:
    from storystick.exports.lying import Body
    from storystick.shapes.pose import Pose

METRES = 0.001
FLOAT, ARRAY_BUFFER = 5126, 34962
UPRIGHT = [-(0.5**0.5), 0.0, 0.0, 0.5**0.5]  # z up to y up: a quarter turn back about x
HOME = [1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0]
"""The matrix of what stays where it is: the validator wants it left out."""
WOODS = ((0.80, 0.66, 0.47), (0.72, 0.55, 0.36), (0.87, 0.77, 0.61), (0.55, 0.40, 0.27), (0.90, 0.84, 0.72))


def make(piece: Piece) -> Iterator[File]:
    """One file."""
    from storystick.exports.lying import bodies

    yield File(f"{plain(piece.build.title)}.glb", glb(piece.build.title, tuple(bodies(piece.scene))))


def glb(title: str, found: "tuple[Body, ...]") -> bytes:
    """The container: its heading, the description as JSON, the numbers."""
    stocks = list(dict.fromkeys(body.parts[0].stock.name for body in found))
    chunks: list[bytes] = []
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    meshes: list[dict[str, Any]] = []
    for body in found:
        places = []
        for words, extremes in _arrays(body):
            at = sum(len(chunk) for chunk in chunks)
            accessor = {"bufferView": len(views), "componentType": FLOAT, "count": len(words) // 12, "type": "VEC3"}
            views.append({"buffer": 0, "byteOffset": at, "byteLength": len(words), "target": ARRAY_BUFFER})
            accessors.append(accessor | extremes)
            chunks.append(words)
            places.append(len(accessors) - 1)
        surface = {
            "attributes": {"POSITION": places[0], "NORMAL": places[1]},
            "material": stocks.index(body.parts[0].stock.name),
        }
        meshes.append({"name": body.called, "primitives": [surface]})
    nodes = _nodes(title, found)
    numbers = b"".join(chunks)
    told: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": "storystick"},
        "scene": 0,
        "scenes": [{"name": title, "nodes": [0]}],
        "nodes": nodes,
    }
    if meshes:
        told |= {
            "meshes": meshes, "materials": _materials(stocks), "accessors": accessors, "bufferViews": views,
            "buffers": [{"byteLength": len(numbers)}],
        }  # fmt: skip
    text = json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()
    return _container(text, numbers)


def _arrays(body: "Body") -> "Iterator[tuple[bytes, dict[str, list[float]]]]":
    """Corners and their normals, three for each triangle, so that every face shades flat."""
    import numpy as np

    mesh = body.solid.mesh
    corners = (mesh.vertices * METRES)[mesh.triangles].astype("<f4")
    exact = mesh.vertices[mesh.triangles]
    across = np.cross(exact[:, 1] - exact[:, 0], exact[:, 2] - exact[:, 0])
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    flat = corners.reshape(-1, 3)
    yield flat.tobytes(), {"min": flat.min(axis=0).tolist(), "max": flat.max(axis=0).tolist()}
    yield np.repeat(across.astype("<f4"), 3, axis=0).tobytes(), {}


def _nodes(title: str, found: "tuple[Body, ...]") -> list[dict[str, Any]]:
    inner: list[dict[str, Any]] = []
    for number, body in enumerate(found):
        for part, pose in zip(body.parts, body.placed, strict=True):
            extras = {"letter": part.letter, "part": part.name, "stock": part.stock.name}
            name = f"{part.letter} {part.name}".strip()
            node = {"name": name, "mesh": number, "matrix": _matrix(pose), "extras": extras}
            if node["matrix"] == HOME:
                del node["matrix"]
            inner.append(node)
    root: dict[str, Any] = {"name": title, "rotation": UPRIGHT}
    return [root | {"children": list(range(1, len(inner) + 1))} if inner else root, *inner]


def _matrix(pose: "Pose") -> list[float]:
    """Column by column, shifts in metres."""
    columns = [[row[i] for row in pose.turn] + [0.0] for i in range(3)]
    return [*columns[0], *columns[1], *columns[2], *(v * METRES for v in pose.origin), 1.0]


def _materials(stocks: list[str]) -> list[dict[str, Any]]:
    return [
        {
            "name": stock,
            "pbrMetallicRoughness": {
                "baseColorFactor": [*WOODS[number % len(WOODS)], 1.0],
                "metallicFactor": 0.0,
                "roughnessFactor": 0.8,
            },
        }
        for number, stock in enumerate(stocks)
    ]


def _container(text: bytes, numbers: bytes) -> bytes:
    parts = [(b"JSON", text + b" " * (-len(text) % 4))]
    if numbers:
        parts.append((b"BIN\0", numbers + b"\0" * (-len(numbers) % 4)))
    chunks = b"".join(len(body).to_bytes(4, "little") + kind + body for kind, body in parts)
    return b"glTF" + (2).to_bytes(4, "little") + (12 + len(chunks)).to_bytes(4, "little") + chunks


EXPORT = Export("gltf", ".glb", "the whole piece, a node a part with name and letter, metres (binary glTF 2.0)", make)
