"""DXF: every different part, a file for each side that is cut, and every sheet, in millimetres.

Layers are named by operation and depth (`BORE-5-DEEP-12`, `CHANNEL-DEEP-6`, `BOARD` for what is sawn through), so that
a machine's program can give each layer its tool. Outlines are closed polylines with true arcs, bores are circles.
Source of units and codes: DXF Reference, AutoCAD 2000 ($INSUNITS 4 = millimetres, $MEASUREMENT 1 = metric).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING

from storystick.exports.export import Export, File, Piece
from storystick.exports.flat import Closed, Flat, Line, Round, flats
from storystick.exports.naming import by_letter, file_of, plain
from storystick.exports.sheets import SheetMap, sheet_maps

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

MILLIMETRES, METRIC = 4, 1
WHITE, RED, GREEN, BLUE, GREY = 7, 1, 3, 5, 8  # of the DXF colour table
_COLOURS = {"BORE": BLUE, "CHANNEL": GREEN, "COUNTERSINK": BLUE, "COUNTERBORE": BLUE, "BEVEL": RED, "KEEP": GREY,
            "RIP": RED, "CROSSCUT": RED}  # fmt: skip


def make(piece: Piece) -> Iterator[File]:
    """Parts by their letters, then sheets."""
    for parts in by_letter(piece.build).values():
        for flat in flats(parts[0]):
            yield File(f"{file_of(parts[0])}-{plain(flat.side.value)}.dxf", side_text(flat))
    for sheet in sheet_maps(piece):
        yield File(f"{sheet.file}.dxf", sheet_text(sheet))


def side_text(flat: Flat) -> bytes:
    """One side of a part as a drawing."""
    with _no_day():
        drawing = _drawing(flat.layers)
        space = drawing.modelspace()
        for mark in flat.marks:
            _draw(space, mark)
        return _written(drawing, flat.size)


def sheet_text(sheet: SheetMap) -> bytes:
    """A sheet with its pieces, their letters and the lines of the cuts."""
    with _no_day():
        drawing = _drawing((*dict.fromkeys(mark.layer for mark in sheet.marks), "LETTER"))
        space = drawing.modelspace()
        for mark in sheet.marks:
            _draw(space, mark)
        for word in sheet.words:
            space.add_text(word.text, height=word.high, dxfattribs={"layer": "LETTER", "insert": word.at})
        return _written(drawing, sheet.size)


@contextmanager
def _no_day() -> Iterator[None]:
    """The library's own way to leave times and chance out of a file: as it is made and as it is written."""
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _drawing(layers: tuple[str, ...]) -> "Drawing":
    import ezdxf

    drawing = ezdxf.new("R2000", setup=False)  # type: ignore[attr-defined]
    drawing.header["$INSUNITS"] = MILLIMETRES
    drawing.header["$MEASUREMENT"] = METRIC
    for layer in layers:
        drawing.layers.add(layer, color=_COLOURS.get(layer.split("-")[0], WHITE))
    return drawing


def _draw(space: "Modelspace", mark: Closed | Round | Line) -> None:
    look = {"layer": mark.layer}
    match mark:
        case Closed(_, outline):
            corners = [(x, y, bulge) for (x, y), bulge in zip(outline.corners, outline.bulges, strict=True)]
            space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=look)
        case Round(_, centre, diameter):
            space.add_circle(centre, diameter / 2, dxfattribs=look)
        case Line(_, start, end):
            space.add_line(start, end, dxfattribs=look)


def _written(drawing: "Drawing", size: tuple[float, float]) -> bytes:
    """The file's bytes."""
    drawing.header["$EXTMIN"], drawing.header["$EXTMAX"] = (0.0, 0.0, 0.0), (*size, 0.0)
    space = drawing.modelspace()
    space.dxf.extmin, space.dxf.extmax = (0.0, 0.0, 0.0), (*size, 0.0)
    out = StringIO()
    drawing.write(out)
    return out.getvalue().encode(drawing.encoding, errors="dxfreplace")


EXPORT = Export("dxf", ".dxf", "parts by their sides, and sheets: outlines and bores in layers by operation, mm", make)
