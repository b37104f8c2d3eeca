"""CSV: parts, buying, cutting and steps, a file each; UTF-8 with the mark that spreadsheets want. Source: RFC 4180."""

import csv
import re
from collections.abc import Iterator
from fractions import Fraction
from io import StringIO

from storystick.exports.export import Export, File, Piece
from storystick.exports.grids import Cell, Grid, grids

MARK = "\ufeff"
_RUNS = re.compile(r"^\s*[=+\-@]|^[\t\r]")


def make(piece: Piece) -> Iterator[File]:
    """Four files."""
    return (File(f"{grid.name}.csv", text(grid).encode()) for grid in grids(piece))


def text(grid: Grid) -> str:
    """A table with its headings. Numbers have a decimal point, whatever the country."""
    out = StringIO()
    out.write(MARK)
    lines = csv.writer(out, lineterminator="\r\n")
    lines.writerow([column.heading for column in grid.columns])
    lines.writerows([[said(cell) for cell in row] for row in grid.rows])
    return out.getvalue()


def said(cell: Cell) -> str:
    """A cell as text. Plans come from strangers: text that a spreadsheet would run gets an apostrophe before it."""
    match cell:
        case None:
            return ""
        case Fraction():
            return f"{float(cell):.6f}".rstrip("0").rstrip(".")
        case int():
            return str(cell)
        case str():
            return f"'{cell}" if _RUNS.match(cell) else cell


EXPORT = Export("csv", ".csv", "tables of parts, buying, cutting and steps, lengths in mm and as printed", make)
