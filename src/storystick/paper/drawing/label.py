"""Labels on their sheet: letter, name, size, joint numbers, the marks of face, edge and grain, and a code to be read.

The code is a QR code (ISO/IEC 18004), one dark square a module, with the quiet zone of four modules that it asks for.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storystick.paper.drawing.canvas import Box, Canvas, Spot
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.marks import face_mark, grain_arrow
from storystick.paper.glyphs import CAP, POINT, Weight
from storystick.paper.lettering import runs, set_width
from storystick.paper.press import Paper

LETTER, NAME, WORD = 28.0, 10.5, 10.0  # sizes of lettering [pt]
LEAST, LEAST_FRACTION = 7.5, 10.0  # and the least, of plain words and of those with a fraction [pt]
LINE = 3.9  # from line to line [mm]
INSET = 2.2  # kept free inside a label [mm]
CODE = 20.0  # a code's side, quiet zone included, where there is room [mm]
LEAST_CODE = 12.0  # below that a phone does not read it well, and it is left out [mm]
QUIET = 4  # modules
MARKS = 6.5  # what the marks take below the last line [mm]
CUT_OUT = 30.5  # height of a label that is cut out [mm]


@dataclass(frozen=True, slots=True)
class Label:
    """What is written on one piece; `code` is what its QR code says, "" for none."""

    letter: str
    name: str
    size: str
    stock: str
    joints: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of labels: how many, how big, where the first begins and from one to the next, from its corner [mm]."""

    columns: int
    rows: int
    wide: float
    high: float
    left: float
    top: float
    across: float
    down: float

    def boxes(self) -> Iterator[Box]:
        """Where the labels are, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                left, top = self.left + column * self.across, self.top + row * self.down
                yield Box(left, top, left + self.wide, top + self.high)

    def goes_on(self, paper: Paper) -> bool:
        """True where every label lies on the paper, and none on another."""
        right = self.left + (self.columns - 1) * self.across + self.wide
        foot = self.top + (self.rows - 1) * self.down + self.high
        apart = (self.columns == 1 or self.across >= self.wide) and (self.rows == 1 or self.down >= self.high)
        return apart and self.left >= 0 and self.top >= 0 and right <= paper.wide + 0.5 and foot <= paper.high + 0.5


def to_cut_out(wide: float, high: float) -> LabelSheet:
    """Three in a row, in a room of some size, to be cut apart on their lines."""
    each = wide / 3
    rows = int(high / CUT_OUT)
    return LabelSheet(3, rows, each, CUT_OUT, 0.0, 0.0, each, CUT_OUT)


def label_page(labels: Sequence[Label], sheet: LabelSheet, wide: float, high: float, lines: bool) -> Drawn:
    """One page of labels; with `lines` to cut them apart by."""
    canvas = Canvas(wide, high)
    placed = list(zip(labels, sheet.boxes(), strict=False))
    if lines:
        _cutting_lines(canvas, [box for _, box in placed])
    for label, box in placed:
        _label(canvas, label, box)
    alt = f"Labels for {', '.join(dict.fromkeys(label.letter for label in labels))}."
    return Drawn(canvas.svg(alt), alt, 1.0, wide, high, tuple(canvas.lettering))


def _cutting_lines(canvas: Canvas, boxes: Sequence[Box]) -> None:
    """A line along each side of each label, where two meet once; none so near the drawing's rim that it loses half."""

    def x(at: float) -> float:
        return round(min(max(at, RIM), canvas.wide - RIM), 3)

    def y(at: float) -> float:
        return round(min(max(at, RIM), canvas.high - RIM), 3)

    sides: dict[tuple[Spot, Spot], None] = {}
    for box in boxes:
        left, top, right, foot = x(box.left), y(box.top), x(box.right), y(box.bottom)
        for a, b in (((left, top), (right, top)), ((left, foot), (right, foot))):
            sides[a, b] = None
        for a, b in (((left, top), (left, foot)), ((right, top), (right, foot))):
            sides[a, b] = None
    for a, b in sides:
        canvas.line(a, b, "pencil")


RIM = 0.1
"""A cutting line keeps so far off the rim of its drawing [mm]."""


def _label(canvas: Canvas, label: Label, box: Box) -> None:
    left, top, right, foot = box.left + INSET, box.top + INSET, box.right - INSET, box.bottom - INSET
    side = min(CODE, foot - top, (right - left) * 0.4)
    if label.code and side >= LEAST_CODE:
        draw_code(canvas, label.code, (right - side, (top + foot - side) / 2), side)
        right -= side + 1.0
    big = min(LETTER, (foot - top) * 0.45 / (CAP * POINT))
    base = top + big * CAP * POINT
    own = canvas.text((left, base), label.letter, big, weight="semibold")
    beside = fitted(label.name, right - own.right - 2.0, 2, NAME, "semibold")
    for number, (line, points) in enumerate(beside):
        canvas.text((own.right + 2.0, top + 2.7 + LINE * number), line, points, weight="semibold")
    at = max(base, top + 2.7 + LINE * (len(beside) - 1)) + 4.6
    for words, lines in _told(label, right - left):
        for line, points in fitted(words, right - left, lines, WORD):
            if at > foot + 0.2:
                return
            canvas.text((left, at), line, points)
            at += LINE
    if at - LINE + MARKS < foot:
        _marks(canvas, left + 2.0, foot - 0.8)


def _told(label: Label, room: float) -> Iterator[tuple[str, int]]:
    """Size, stock and joints, and on how many lines each may go; the stock goes on behind a size of two lines."""
    if len(fitted(label.size, room, 2, WORD)) > 1 or not label.stock:
        yield f"{label.size}, {label.stock}".rstrip(", "), 2
    else:
        yield label.size, 1
        yield label.stock, 1
    yield label.joints, 2


def _marks(canvas: Canvas, left: float, foot: float) -> None:
    """Face and edge mark, and the way of the grain."""
    face_mark(canvas, (left, foot), 4.2)
    grain_arrow(canvas, (left + 11.0, foot), 13.0)


def fitted(words: str, room: float, lines: int, points: float, weight: Weight = "regular") -> list[tuple[str, float]]:
    """Words on at most so many lines, smaller where they must be; cut short with dots where even that is too long."""
    least = LEAST if all(isinstance(run, str) for run in runs(words)) else LEAST_FRACTION
    size = points
    while words and size >= least:
        rows = _wrapped(words, room, size, weight)
        if len(rows) <= lines and all(set_width(row, size, weight) <= room for row in rows):
            return [(row, size) for row in rows]
        size -= 0.5
    return [(_cut_short(row, room, least, weight), least) for row in _wrapped(words, room, least, weight)[:lines]]


def _wrapped(words: str, room: float, points: float, weight: Weight) -> list[str]:
    rows: list[str] = []
    for word in words.split():
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and set_width(longer, points, weight) <= room:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows


def _cut_short(row: str, room: float, points: float, weight: Weight) -> str:
    if set_width(row, points, weight) <= room:
        return row
    while row and set_width(row + "…", points, weight) > room:
        row = row[:-1]
    return row + "…"


def draw_code(canvas: Canvas, says: str, at: Spot, side: float) -> None:
    """A QR code in a square with its upper left corner at `at`, quiet zone included [mm]."""
    import segno

    rows = [bytes(row) for row in segno.make(says, error="m", micro=False, boost_error=False).matrix]
    module = side / (len(rows) + 2 * QUIET)
    runs = []
    for number, row in enumerate(rows):
        start = None
        for column, dark in enumerate((*row, 0)):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                x, y = at[0] + (QUIET + start) * module, at[1] + (QUIET + number) * module
                runs.append(Box(x, y, x + (column - start) * module, y + module))
                start = None
    canvas.blocks(runs)
