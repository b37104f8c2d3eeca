"""SVG: every different part, a file for each side that is cut, at full size: a millimetre is a millimetre.

Layers are groups; outlines are paths with true arcs, bores are circles. Source: SVG 1.1, 7.10 (units), 8.3.8 (arcs).
"""

import math
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from storystick.exports.export import Export, File, Piece
from storystick.exports.flat import Closed, Flat, Line, Mark, Round, flats
from storystick.exports.lying import called
from storystick.exports.naming import by_letter, figures, file_of, plain
from storystick.shapes.outline import Outline, Point, sides

HAIRLINE = 0.1  # width of the lines [mm]
MARGIN = 1.0  # so that no line is cut in half at the rim [mm]


def make(piece: Piece) -> Iterator[File]:
    """Parts by their letters."""
    for parts in by_letter(piece.build).values():
        for flat in flats(parts[0]):
            yield File(f"{file_of(parts[0])}-{plain(flat.side.value)}.svg", side_text(flat).encode())


def side_text(flat: Flat) -> str:
    """One side of a part. The picture's y runs down, so the side's upper edge is at the top."""
    wide, high = flat.size
    box = (-MARGIN, -MARGIN, wide + 2 * MARGIN, high + 2 * MARGIN)
    title = f"{called(flat.part)}, {flat.side.value}"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{_n(box[2])}mm" height="{_n(box[3])}mm" '
        f'viewBox="{" ".join(map(_n, box))}" fill="none" stroke="black" stroke-width="{HAIRLINE}">',
        f"<title>{escape(title)}</title>",
    ]
    for layer in flat.layers:
        lines.append(f"<g id={quoteattr(layer)}>")
        lines += [_drawn(mark, high) for mark in flat.marks if mark.layer == layer]
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])


def _drawn(mark: Mark, high: float) -> str:
    match mark:
        case Closed(_, outline):
            return f'<path d="{path(outline, high)}"/>'
        case Round(_, (x, y), diameter):
            return f'<circle cx="{_n(x)}" cy="{_n(high - y)}" r="{_n(diameter / 2)}"/>'
        case Line(_, a, b):
            return f'<path d="M{_at(a, high)}L{_at(b, high)}"/>'


def path(outline: Outline, high: float) -> str:
    """A closed outline as path data, upside down in a picture `high` [mm]."""
    words = [f"M{_at(outline.corners[0], high)}"]
    for _, b, arc in sides(outline):
        if arc:
            large, way = int(abs(arc.sweep) > math.pi), int(arc.sweep < 0)
            words.append(f"A{_n(arc.radius)} {_n(arc.radius)} 0 {large} {way} {_at(b, high)}")
        else:
            words.append(f"L{_at(b, high)}")
    return "".join([*words, "Z"])


def _at(point: Point, high: float) -> str:
    return f"{_n(point[0])} {_n(high - point[1])}"


def _n(value: float) -> str:
    return figures(value, 6)


EXPORT = Export("svg", ".svg", "each part by its sides at full size, one group an operation, mm", make)
