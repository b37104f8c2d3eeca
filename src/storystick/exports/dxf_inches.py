"""DXF in inches, for a machine that takes a bare number for an inch: the same drawings with every number in inches.

Source of the codes: DXF reference, release 2000 ($INSUNITS 1 = inches, $MEASUREMENT 0 = English).
"""

from collections.abc import Iterator

from storystick.exports.dxf import Units, in_units
from storystick.exports.export import Export, File, Piece
from storystick.exports.flat import in_inches

INCHES = Units(1, 0, 25.4, in_inches)


def make(piece: Piece) -> Iterator[File]:
    """Parts by their letters, then sheets, in inches."""
    yield from in_units(piece, INCHES)


EXPORT = Export(
    "dxf-inches", ".dxf", "parts by their sides, and sheets: outlines and bores in layers by operation, inches", make
)
