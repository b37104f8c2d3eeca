"""Story sticks and drilling strips in their true size: strips to cut out and join, marked at every distance.

A story stick has a tick across it at each distance; a drilling strip has each hole on its middle line.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Side
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Canvas
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.full_size import ASIDE, HEAD, LAP, lap, meeting, prove, strip
from storystick.paper.drawing.measure import NUMBER, Tick
from storystick.paper.drawing.rows import spread_out
from storystick.paper.drawing.side import distances
from storystick.paper.glyphs import CAP, DROP, POINT
from storystick.paper.lettering import said, set_width

WIDE = 9.0
"""Width of a strip [mm]."""
PITCH = 27.5
"""From one strip to the next on the page [mm]."""
FOOT = 4.0
"""Below the strips [mm]."""


@dataclass(frozen=True)
class Length:
    """A stretch of one stick: from, to [mm], and the ticks in it; `holes` wide where it is a drilling strip."""

    letter: str
    number: int
    start: float
    end: float
    ticks: tuple[Dim, ...]
    is_last: bool
    holes: Dim | None = None
    is_first: bool = True


def ticks_of(part: Part) -> list[Dim]:
    """Every distance along a part from its reference end, its whole length last."""
    along = [tick for side in (Side.FACE, Side.BACK) for tick in distances(part, side)[0]]
    each = {tick.value: tick for tick in along}
    return [*(each[value] for value in sorted(each)), part.length]


def lengths_of(
    letter: str,
    ticks: Sequence[Dim],
    room: float,
    start: float = 0.0,
    end: float | None = None,
    holes: Dim | None = None,
) -> list[Length]:
    """A stick in stretches that go on a page with so much height [mm]; it ends at its last tick if not said.

    None ends so near a tick or a hole that this would be cut through.
    """
    whole = float(ticks[-1]) if end is None else end
    long = room - HEAD - LAP - FOOT
    off = 1.5 + (float(holes) / 2 if holes is not None else 0.0)
    found: list[Length] = []
    low, last = start, False
    while not last:
        last = whole - low <= long + 1e-9
        high = whole if last else _clear_of(low, low + long, [float(tick) for tick in ticks], off)
        here = tuple(t for t in ticks if low < float(t) < high or (float(t) == high and last) or float(t) == low > 0)
        found.append(Length(letter, len(found) + 1, low, high, here, last, holes, not found))
        low = high
    return found


def _clear_of(low: float, high: float, spots: Sequence[float], off: float) -> float:
    """Where a stretch may end, at `high` or so much before it that no spot is nearer than `off` [mm]."""
    end = high
    for spot in sorted(spots, reverse=True):
        if abs(spot - end) < off and spot - off > low + (high - low) / 2:
            end = spot - off
    return end


def stick_page(lengths: Sequence[Length], manner: Manner, wide: float, high: float) -> Drawn:
    """A page of strips side by side in their true size, beside the rules that prove it."""
    canvas = Canvas(wide, high)
    prove(canvas, manner)
    for column, above in enumerate(in_columns(lengths, high)):
        bottom = high - FOOT
        for length in above:
            _strip(canvas, length, ASIDE + column * PITCH, bottom, manner, alone=len(above) == 1)
            bottom -= _takes(length) + BETWEEN
    names = ", ".join(dict.fromkeys(length.letter for length in lengths))
    alt = f"Strips in true size for {names}, {len(lengths)} of them, and a rule and square to prove the scale."
    return Drawn(canvas.svg(alt), alt, 1.0, wide, high, tuple(canvas.lettering))


def on_a_page(wide: float) -> int:
    """How many strips go side by side."""
    return int((wide - ASIDE + 1.0) / PITCH)


def in_columns(lengths: Sequence[Length], high: float) -> list[list[Length]]:
    """Strips in columns on a page so high [mm], from below: a short one stands over another where there is room."""
    columns: list[list[Length]] = []
    left: list[float] = []
    for length in lengths:
        takes = _takes(length)
        free = (n for n, room in enumerate(left) if room >= takes + BETWEEN and all(map(_keeps_to_itself, columns[n])))
        over = next(free, None) if _keeps_to_itself(length) else None
        if over is None:
            columns.append([length])
            left.append(high - FOOT - HEAD - takes)
        else:
            columns[over].append(length)
            left[over] -= takes + BETWEEN
    return columns


def on_pages(lengths: Sequence[Length], wide: float, high: float) -> list[list[Length]]:
    """As many strips on each page, in their order, as its columns hold."""
    pages: list[list[Length]] = []
    for length in lengths:
        if pages and len(in_columns([*pages[-1], length], high)) <= on_a_page(wide):
            pages[-1].append(length)
        else:
            pages.append([length])
    return pages


BETWEEN = 11.0  # between one strip and the next over it [mm]
LINE = NUMBER * POINT * 1.15  # from one number beside a strip to the next [mm]


def _takes(length: Length) -> float:
    """How high a strip is with its tab [mm]."""
    return length.end - length.start + (0.0 if length.is_last else LAP)


def _keeps_to_itself(length: Length) -> bool:
    """True where all numbers of a strip go beside it, and its name on it."""
    long = length.end - length.start
    return len(length.ticks) * LINE <= long + 6.0 and set_width(_name(length), NUMBER, "semibold") + 10.0 <= long


def _name(length: Length) -> str:
    """What a strip is called: its stick, and its number where that has several; a letter where the stick has one."""
    if length.is_last and length.is_first:
        return length.letter
    which = chr(ord("a") + length.number - 1) if length.letter[-1:].isdigit() and length.number <= 26 else length.number
    return f"{length.letter} {which}"


def _strip(canvas: Canvas, length: Length, left: float, bottom: float, manner: Manner, alone: bool = True) -> None:
    """One strip, its start below: ticks or holes across it, numbers beside it; `alone` where no other is above."""
    right = left + WIDE

    def y(value: float) -> float:
        return bottom - (value - length.start)

    top = y(length.end)
    strip(canvas, Box(left, top, right, bottom))
    if not length.is_last:
        lap(canvas, left, right, top)
    if not length.is_first:
        meeting(canvas, (left + right) / 2, bottom)
    if length.holes is not None:
        canvas.line(((left + right) / 2, bottom), ((left + right) / 2, top), "pencil")
    canvas.line((left, bottom), (right, bottom), "new" if length.start == 0 else "edge")
    ticks = [Tick(tick, y(float(tick))) for tick in length.ticks]
    low, foot = (HEAD - 6.0, canvas.high - 1.0) if alone else (top - 3.0, bottom + 3.0)
    placed = spread_out([t.at for t in reversed(ticks)], [LINE] * len(ticks), low, foot) or []
    for tick, middle in zip(reversed(ticks), placed, strict=False):
        if length.holes is None:
            canvas.line((left, tick.at), (right, tick.at), "outline")
        else:
            _hole(canvas, (left + right) / 2, tick.at, float(length.holes) / 2)
        canvas.run([(right, tick.at), (right + 2.6, middle)], "fine")
        text = said(tick.length, manner, bare=True)
        says = {"mm": str(tick.length.value), "along": "upright"}
        canvas.text((right + 3.2, middle + NUMBER * POINT * 0.33), text, NUMBER, says=says)
    radius = float(length.holes) / 2 + 0.8 if length.holes is not None else 0.9
    rim = 0.6 if length.is_last else 3.4
    _word(canvas, _name(length), left, (top, bottom), [(tick.at - radius, tick.at + radius) for tick in ticks], rim)


def _hole(canvas: Canvas, x: float, y: float, radius: float) -> None:
    """A hole at its true diameter, with the cross that the brad point goes on."""
    canvas.ring((x, y), radius, "edge", "paper")
    canvas.line((x - WIDE / 2, y), (x + WIDE / 2, y), "fine")
    canvas.line((x, y - radius - 1.0), (x, y + radius + 1.0), "fine")


def _word(
    canvas: Canvas,
    word: str,
    left: float,
    between: tuple[float, float],
    taken: Sequence[tuple[float, float]],
    rim: float,
) -> None:
    """What a strip is called, across it if short, along it else: near its start, off its ticks, holes and rings.

    One that has no room for its name has it above its end.

    taken  from where to where others lie along it;  rim  what is kept free at its end [mm]
    """
    top, bottom = between
    long = set_width(word, NUMBER, "semibold")
    across = long <= WIDE - 1.0
    above, below = ((CAP + 0.2) * NUMBER * POINT, (DROP + 0.1) * NUMBER * POINT) if across else (long + 0.6, 0.6)
    spots = [bottom - 6.0 - 0.5 * n for n in range(int(2 * max(0.0, bottom - top - 6.0)))]
    inside = [at for at in spots if at - above > top + rim]
    clear = (at for at in inside if not any(at - above < foot and head < at + below for head, foot in taken))
    at = next(clear, None)
    middle, over = left + WIDE / 2, top - rim - 1.2
    room = Box(middle - long / 2, over - CAP * NUMBER * POINT, middle + long / 2, over + DROP * NUMBER * POINT)
    if at is None and canvas.is_free(room):  # no room on it: over its end
        canvas.text((middle, over), word, NUMBER, "middle", "semibold")
        return
    at = bottom - 6.0 if at is None else at
    if across:
        canvas.text((left + WIDE / 2, at), word, NUMBER, "middle", "semibold", ground=True)
    else:
        at_middle = left + WIDE / 2 + NUMBER * POINT * 0.33
        canvas.text((at_middle, at), word, NUMBER, weight="semibold", upright=True, ground=True)
