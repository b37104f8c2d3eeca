"""Single dimensions between two points, with witness lines: the manner of ISO 129-1, numbers clear of the line.

The line stands off the drawing, witness lines reach a little beyond it, the number is above a level line and before an
upright one, arrows outside where the distance is short.
"""

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.paper.drawing.canvas import Canvas, Spot
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import calliper, said, set_width

NUMBER, FINE = 11.0, 8.5
OVER = 1.2  # of a witness line beyond its dimension line [mm]
GAP = 0.8  # between the drawing and a witness line [mm]
SHORT = 7.0  # below this arrows stand outside [mm]


def between_level(
    canvas: Canvas, length: Dim, a: Spot, b: Spot, row: float, manner: Manner, fits: bool = False
) -> float:
    """A level dimension on a line at `row` above both points; where the next row may be."""
    low, high = min(a[0], b[0]), max(a[0], b[0])
    for x, y in (a, b):
        canvas.line((x, y - GAP), (x, row - OVER), "fine")
    fine = calliper(length, manner, fits)
    text = said(length, manner)
    wide = set_width(text, NUMBER, "semibold") + (2.0 + set_width(fine, FINE) if fine else 0.0)
    _arrows(canvas, (low, row), (high, row), (1.0, 0.0))
    left = (low + high) / 2 - wide / 2 if high - low > wide + 2.0 or high - low < SHORT else low
    left = min(max(0.5, left), canvas.wide - wide - 0.5)
    base = row - 1.0
    if high - low < SHORT:
        left = min(high + 3.6, canvas.wide - wide - 0.5)
        base = row + NUMBER * POINT * 0.33
    says = {"mm": str(length.value), "along": "level"}
    placed = canvas.text((left, base), text, NUMBER, weight="semibold", says=says)
    if fine:
        canvas.text((placed.right + 1.6, base), fine, FINE)
    return row - NUMBER * POINT - 2.6


def between_upright(
    canvas: Canvas, length: Dim, a: Spot, b: Spot, column: float, manner: Manner, leftward: bool, fits: bool = False
) -> float:
    """An upright dimension on a line at `column` beside both points; where the next column may be."""
    low, high = min(a[1], b[1]), max(a[1], b[1])
    way = -1.0 if leftward else 1.0
    for x, y in (a, b):
        canvas.line((x + way * GAP, y), (column + way * OVER, y), "fine")
    _arrows(canvas, (column, low), (column, high), (0.0, 1.0))
    text, fine = said(length, manner), calliper(length, manner, fits)
    inch, _, metric = fine.partition("  ")
    says = {"mm": str(length.value), "along": "upright"}
    x = column + way * 1.6
    middle = (low + high) / 2
    lines = [text, *(word for word in (inch, metric) if word)]
    pitch = NUMBER * POINT * 1.02
    top = min(max(1.0, middle - pitch * len(lines) / 2), canvas.high - pitch * len(lines) - 0.5)
    reach = column
    for number, line in enumerate(lines):
        size = FINE if number else NUMBER
        at = (x, top + pitch * number + NUMBER * POINT * 0.8)
        box = canvas.text(
            at, line, size, "end" if leftward else "start", "regular" if number else "semibold",
            says=None if number else says,
        )  # fmt: skip
        reach = min(reach, box.left) if leftward else max(reach, box.right)
    return reach + way * 2.5


def _arrows(canvas: Canvas, a: Spot, b: Spot, way: Spot) -> None:
    """A dimension line with its arrows: inside where there is room, outside where there is not."""
    long = (b[0] - a[0]) * way[0] + (b[1] - a[1]) * way[1]
    if long >= SHORT:
        canvas.line(a, b, "dim")
        canvas.arrow(a, (-way[0], -way[1]))
        canvas.arrow(b, way)
        return
    canvas.line((a[0] - way[0] * 3.4, a[1] - way[1] * 3.4), (b[0] + way[0] * 3.4, b[1] + way[1] * 3.4), "dim")
    canvas.arrow(a, way)
    canvas.arrow(b, (-way[0], -way[1]))
