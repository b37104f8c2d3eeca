"""DXF in inches, for a machine that takes a bare number for an inch: the same drawings with every number in inches.

Layers are named by operation and depth (`BORE-5-DEEP-12`, `CHANNEL-DEEP-6`, `BOARD` for what is sawn through), so that
a machine's program can give each layer its tool. Outlines are closed polylines with true arcs, bores are circles.
Source of units and codes: DXF reference, release 2000 ($INSUNITS 4 = millimetres, $MEASUREMENT 1 = metric).
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from importlib.machinery import PathFinder
from importlib.util import find_spec, module_from_spec
from io import StringIO
from types import ModuleType
from typing import TYPE_CHECKING

from storystick.exports.export import Export, File, Piece
from storystick.exports.flat import Closed, Flat, Line, Mark, Round, Said, flats, in_mm
from storystick.exports.naming import by_letter, file_of, plain
from storystick.exports.sheets import SheetMap, sheet_maps

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

LIBRARY = "ezdxf"
WHITE, RED, GREEN, BLUE, GREY = 7, 1, 3, 5, 8  # of the DXF colour table
_COLOURS = {"BORE": BLUE, "CHANNEL": GREEN, "COUNTERSINK": BLUE, "COUNTERBORE": BLUE, "BEVEL": RED, "KEEP": GREY,
            "RIP": RED, "CROSSCUT": RED}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Units:
    """What a drawing is in: the two header codes, millimetres of a unit, how layers' names say a length."""

    code: int
    metric: int
    millimetres: float
    said: Said


MM = Units(4, 1, 1.0, in_mm)


def make(piece: Piece) -> Iterator[File]:
    """Parts by their letters, then sheets, in millimetres."""
    yield from in_units(piece, MM)


def in_units(piece: Piece, units: Units) -> Iterator[File]:
    """Parts by their letters, then sheets."""
    for parts in by_letter(piece.build).values():
        for flat in flats(parts[0], units.said):
            yield File(f"{file_of(parts[0])}-{plain(flat.side.value)}.dxf", side_text(flat, units))
    for sheet in sheet_maps(piece):
        yield File(f"{sheet.file}.dxf", sheet_text(sheet, units))


def side_text(flat: Flat, units: Units = MM) -> bytes:
    """One side of a part as a drawing."""
    with _no_day():
        drawing = _drawing(flat.layers, units)
        space = drawing.modelspace()
        for mark in flat.marks:
            _draw(space, mark, units.millimetres)
        return _written(drawing, flat.size, units.millimetres)


def sheet_text(sheet: SheetMap, units: Units = MM) -> bytes:
    """A sheet with its pieces, their letters and the lines of the cuts."""
    one = units.millimetres
    with _no_day():
        drawing = _drawing((*dict.fromkeys(mark.layer for mark in sheet.marks), "LETTER"), units)
        space = drawing.modelspace()
        for mark in sheet.marks:
            _draw(space, mark, one)
        for word in sheet.words:
            at = (word.at[0] / one, word.at[1] / one)
            space.add_text(word.text, height=word.high / one, dxfattribs={"layer": "LETTER", "insert": at})
        return _written(drawing, sheet.size, one)


class _NoFonts:
    """A list of the machine's fonts that is there already and holds none, wherever it is looked for."""

    def __truediv__(self, name: str) -> "_NoFonts":
        return self

    def exists(self) -> bool:
        """So that none is made."""
        return True

    def read_text(self) -> str:
        """As the library writes a list that holds no font."""
        from ezdxf.fonts.font_manager import FontManager

        return FontManager().dumps()


@cache
def _library() -> ModuleType:
    """The library, kept from listing the machine's fonts in the user's cache folder, as it does when it is loaded.

    Its settings are loaded before it and given a list that is there already; we set no type, only single letters.
    """
    whole = find_spec(LIBRARY)
    settings = PathFinder.find_spec(f"{LIBRARY}._options", whole.submodule_search_locations if whole else None)
    if settings is not None and settings.loader is not None and LIBRARY not in sys.modules:
        first = sys.modules[settings.name] = module_from_spec(settings)
        settings.loader.exec_module(first)
        first.Options.xdg_path = staticmethod(lambda *_: _NoFonts())
    return import_module(LIBRARY)


@contextmanager
def _no_day() -> Iterator[None]:
    """The library's own way to leave times and chance out of a file: as it is made and as it is written."""
    options = _library().options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _drawing(layers: tuple[str, ...], units: Units) -> "Drawing":
    drawing: Drawing = _library().new("R2000", setup=False)
    drawing.header["$INSUNITS"] = units.code
    drawing.header["$MEASUREMENT"] = units.metric
    for layer in layers:
        drawing.layers.add(layer, color=_COLOURS.get(layer.split("-")[0], WHITE))
    return drawing


def _draw(space: "Modelspace", mark: Mark, one: float) -> None:
    """A mark, in units of so many millimetres."""
    look = {"layer": mark.layer}
    match mark:
        case Closed(_, outline):
            corners = [(x / one, y / one, bulge) for (x, y), bulge in zip(outline.corners, outline.bulges, strict=True)]
            space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=look)
        case Round(_, (x, y), diameter):
            space.add_circle((x / one, y / one), diameter / one / 2, dxfattribs=look)
        case Line(_, (x, y), (far_x, far_y)):
            space.add_line((x / one, y / one), (far_x / one, far_y / one), dxfattribs=look)


def _written(drawing: "Drawing", size: tuple[float, float], one: float) -> bytes:
    """The file's bytes."""
    corner = (size[0] / one, size[1] / one, 0.0)
    drawing.header["$EXTMIN"], drawing.header["$EXTMAX"] = (0.0, 0.0, 0.0), corner
    space = drawing.modelspace()
    space.dxf.extmin, space.dxf.extmax = (0.0, 0.0, 0.0), corner
    out = StringIO()
    drawing.write(out)
    return out.getvalue().encode(drawing.encoding, errors="dxfreplace")


EXPORT = Export("dxf", ".dxf", "parts by their sides, and sheets: outlines and bores in layers by operation, mm", make)
