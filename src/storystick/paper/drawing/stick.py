"""Story sticks in their true size: strips to cut out and join, ticked at every distance along a part."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.ground.dim import Dim
from storystick.ground.length import INCH, Manner
from storystick.model.cut import Side
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Canvas
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.measure import NUMBER, Tick
from storystick.paper.drawing.rows import spread_out
from storystick.paper.drawing.side import distances
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import said

WIDE = 11.0
"""Width of a strip [mm]."""
PITCH = 33.5
"""From one strip to the next on the page [mm]."""
HEAD = 20.0
"""Room above the strips for the line that proves the scale [mm]."""
LAP = 12.0
"""How far a strip runs on beyond its end, to be glued under the next [mm]."""


@dataclass(frozen=True)
class Length:
    """A stretch of one part's stick: from, to [mm], and the ticks in it."""

    letter: str
    number: int
    start: float
    end: float
    ticks: tuple[Dim, ...]
    is_last: bool


def ticks_of(part: Part) -> list[Dim]:
    """Every distance along a part from its reference end, its whole length last."""
    along = [tick for side in (Side.FACE, Side.BACK) for tick in distances(part, side)[0]]
    each = {tick.value: tick for tick in along}
    return [*(each[value] for value in sorted(each)), part.length]


def lengths_of(letter: str, part: Part, room: float) -> list[Length]:
    """A part's stick in stretches that go on a page with so much height [mm]."""
    whole, long = float(part.length), room - HEAD - LAP - 4.0
    count = max(1, ceil(whole / long - 1e-9))
    ticks = ticks_of(part)
    found = []
    for i in range(count):
        start, end = i * long, min(whole, (i + 1) * long)
        last = i == count - 1
        here = tuple(t for t in ticks if start < float(t) < end or (float(t) == end and last) or float(t) == start > 0)
        found.append(Length(letter, i + 1, start, end, here, last))
    return found


def stick_page(lengths: Sequence[Length], manner: Manner, wide: float, high: float) -> Drawn:
    """A page of strips side by side in their true size, under a line that proves it."""
    canvas = Canvas(wide, high)
    _proof(canvas, manner)
    for i, length in enumerate(lengths):
        _strip(canvas, length, 4.0 + i * PITCH, high - 4.0, manner)
    names = ", ".join(dict.fromkeys(length.letter for length in lengths))
    alt = f"Story sticks in true size for {names}, {len(lengths)} strips, and a line to prove the scale."
    return Drawn(canvas.svg(alt), alt, 1.0, wide, high, tuple(canvas.lettering))


def _proof(canvas: Canvas, manner: Manner) -> None:
    """The line that proves the scale: 100 mm, or 4 inches."""
    step, count, word = (INCH, 4, '4"') if manner.unit == "inch" else (Fraction(20), 5, "100 mm")
    x, y = 4.0, 7.0
    end = x + float(step * count)
    canvas.line((x, y), (end, y), "outline")
    for i in range(count + 1):
        canvas.line((x + float(step * i), y - 2.5), (x + float(step * i), y + 2.5), "edge")
    canvas.text((end + 4.0, y + 1.4), f"is {word} when the scale is true", 11.0)


def _strip(canvas: Canvas, length: Length, left: float, bottom: float, manner: Manner) -> None:
    """One strip, its start below: ticks across it, numbers beside it."""
    right = left + WIDE

    def y(value: float) -> float:
        return bottom - (value - length.start)

    top = y(length.end)
    canvas.run([(left, bottom), (right, bottom), (right, top), (left, top)], "edge", "wood", closed=True)
    if not length.is_last:
        canvas.run([(left, top), (left, top - LAP), (right, top - LAP), (right, top)], "hidden")
    canvas.line((left, bottom), (right, bottom), "new" if length.start == 0 else "edge")
    word = f"{length.letter} {length.number}"
    ticks = [Tick(tick, y(float(tick))) for tick in length.ticks]
    size = NUMBER * POINT * 1.15
    placed = spread_out([t.at for t in reversed(ticks)], [size] * len(ticks), 2.0 + HEAD - 8.0, canvas.high - 1.0) or []
    for tick, middle in zip(reversed(ticks), placed, strict=False):
        canvas.line((left, tick.at), (right, tick.at), "outline")
        canvas.run([(right, tick.at), (right + 2.6, middle)], "fine")
        text = said(tick.length, manner, bare=True)
        says = {"mm": str(tick.length.value), "along": "upright"}
        canvas.text((right + 3.2, middle + NUMBER * POINT * 0.33), text, NUMBER, says=says)
    canvas.text((left + WIDE / 2, bottom - 3.0), word, NUMBER, "middle", "semibold", ground=True)
