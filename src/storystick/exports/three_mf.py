"""3MF: the whole piece, an object for each part under its name and letter. Millimetres.

Parts that are alike share one mesh. Source: 3MF Core Specification 1.3, 3.4 (model), 4.1 (meshes), 4.2 (components).
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING
from xml.sax.saxutils import quoteattr

from storystick.exports.export import Export, File, Piece
from storystick.exports.naming import plain
from storystick.exports.packed import packed

if TYPE_CHECKING:
    from storystick.exports.lying import Body
    from storystick.shapes.pose import Pose

_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
CONTENT = (
    f'{_XML}<Types xmlns="{_TYPES}">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
START = (
    f'{_XML}<Relationships xmlns="{_RELATIONS}"><Relationship Target="/3D/3dmodel.model" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)


def make(piece: Piece) -> Iterator[File]:
    """One file."""
    from storystick.exports.lying import bodies

    model = "".join(_model(piece.build.title, tuple(bodies(piece.scene))))
    files = [("[Content_Types].xml", CONTENT), ("_rels/.rels", START), ("3D/3dmodel.model", model)]
    yield File(f"{plain(piece.build.title)}.3mf", packed((name, text.encode()) for name, text in files))


def _model(title: str, found: "tuple[Body, ...]") -> Iterator[str]:
    yield f'{_XML}<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">\n'
    yield f'<metadata name="Title">{quoteattr(title)[1:-1]}</metadata>\n<resources>\n'
    for number, body in enumerate(found, 1):
        yield from _mesh(number, body)
    items = []
    number = len(found)
    for mesh, body in enumerate(found, 1):
        for part, pose in zip(body.parts, body.placed, strict=True):
            number += 1
            name = quoteattr(f"{part.letter} {part.name}".strip())
            letter = quoteattr(part.letter or part.name)
            yield f'<object id="{number}" type="model" name={name} partnumber={letter}><components>'
            yield f'<component objectid="{mesh}" transform="{_transform(pose)}"/></components></object>\n'
            items.append(f'<item objectid="{number}"/>\n')
    yield "</resources>\n<build>\n" + "".join(items) + "</build>\n</model>\n"


def _mesh(number: int, body: "Body") -> Iterator[str]:
    mesh = body.solid.mesh
    yield f'<object id="{number}" type="model" name={quoteattr(body.called)}><mesh>\n<vertices>\n'
    yield from (f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>\n' for x, y, z in mesh.vertices.tolist())
    yield "</vertices>\n<triangles>\n"
    yield from (f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in mesh.triangles.tolist())
    yield "</triangles>\n</mesh></object>\n"


def _transform(pose: "Pose") -> str:
    """Twelve numbers: where each own axis points, one after the other, then the shift (3MF multiplies rows)."""
    numbers = [row[i] for i in range(3) for row in pose.turn] + list(pose.origin)
    return " ".join(f"{v:.12g}" for v in numbers)


EXPORT = Export("3mf", ".3mf", "the whole piece, an object a part with name and letter, mm", make)
