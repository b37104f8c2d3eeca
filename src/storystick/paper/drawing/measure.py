"""The stick beside a drawing: a strip ticked at every distance from one datum, each tick with its number.

Laid along a part as a story stick is laid on the work: all distances start at the same end, none is chained to another.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.paper.drawing.canvas import Anchor, Box, Canvas, Spot
from storystick.paper.drawing.rows import spread_out
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import said, set_width

STRIP = 1.8
"""How wide the strip is drawn [mm]."""
AWAY = 3.0
"""From the part to the strip [mm]."""
JOG = 3.2
"""Room for the lines that lead from tick to number [mm]."""
NUMBER = 11.0
SMALL_NUMBER = 10.0
OVERALL = 16.0


CLEAR = 1.6
"""Between the numbers beside an upright stick and the whole width [mm]."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A distance from the datum, and where it falls on the paper [mm]."""

    length: Dim
    at: float


def once_each(lengths: Sequence[Dim], whole: Fraction) -> list[Dim]:
    """Each length once, rising; none at the datum itself or at the far side."""
    found = {length.value: length for length in reversed(lengths) if 0 < length.value < whole}
    return [found[value] for value in sorted(found)]


@dataclass(frozen=True, slots=True)
class Lettered:
    """Numbers placed: size in points, whether they stand upright, their middles and how deep they reach [mm]."""

    points: float
    upright: bool
    middles: tuple[float | None, ...]
    deep: float


def numbers_along(ticks: Sequence[Tick], manner: Manner, low: float, high: float) -> Lettered:
    """Place numbers under a level strip, from `low` to `high`: level if there is room, else upright, else smaller."""
    texts = [said(tick.length, manner, bare=True) for tick in ticks]
    order = sorted(range(len(ticks)), key=lambda i: ticks[i].at)
    wanted = [ticks[i].at for i in order]
    for points, upright, gap in ((NUMBER, False, 1.8), (NUMBER, True, 0.9), (SMALL_NUMBER, True, 0.4)):
        sizes = [(points * POINT if upright else set_width(texts[i], points)) + gap for i in order]
        placed = spread_out(wanted, sizes, low, high)
        if placed is not None:
            middles: list[float | None] = [None] * len(ticks)
            for i, middle in zip(order, placed, strict=True):
                middles[i] = middle
            return _lettered(texts, points, upright, middles)
    return _lettered(texts, SMALL_NUMBER, True, _as_many_as_go(ticks, order))


def _as_many_as_go(ticks: Sequence[Tick], order: Sequence[int]) -> list[float | None]:
    """Numbers at their ticks, leaving out those that would lie on the one before; the table of cuts has them all."""
    middles: list[float | None] = [None] * len(ticks)
    taken = float("-inf")
    for i in order:
        if ticks[i].at - taken >= SMALL_NUMBER * POINT + 0.4:
            middles[i] = taken = ticks[i].at
    return middles


def _lettered(texts: Sequence[str], points: float, upright: bool, middles: Sequence[float | None]) -> Lettered:
    longest = max((set_width(text, points) for text in texts), default=0.0)
    return Lettered(points, upright, tuple(middles), longest if upright else points * POINT)


def level_stick(canvas: Canvas, ticks: Sequence[Tick], manner: Manner, zero: float, end: float, top: float) -> float:
    """Draw a level stick from `zero` to `end` with its strip at `top`, numbers below; where these end [mm]."""
    low, high = min(zero, end), max(zero, end)
    below = top + STRIP
    canvas.box(Box(low, top, high, below), "fine", "wood")
    _datum(canvas, (zero, top + STRIP / 2), (0.0, 1.0))
    if not ticks:
        return below + 1.0
    set_out = numbers_along(ticks, manner, max(1.0, low - 12), min(canvas.wide - 1.0, high + 12))
    base = below + JOG
    for tick, middle in zip(ticks, set_out.middles, strict=True):
        canvas.line((tick.at, top), (tick.at, below + 0.8), "edge")
        if middle is None:
            canvas.left_out += 1
            continue
        if abs(middle - tick.at) > 0.2:
            canvas.run([(tick.at, below + 0.8), (middle, base - 0.4)], "fine")
        else:
            canvas.line((tick.at, below + 0.8), (tick.at, base - 0.4), "fine")
        _number(canvas, tick, manner, (middle, base), set_out)
    return base + set_out.deep + 1.0


def _number(canvas: Canvas, tick: Tick, manner: Manner, at: Spot, set_out: Lettered) -> None:
    text, says = said(tick.length, manner, bare=True), {"mm": str(tick.length.value), "along": "level"}
    size = set_out.points * POINT
    if set_out.upright:
        canvas.text((at[0] + size * 0.33, at[1] + 0.3), text, set_out.points, "end", upright=True, says=says)
    else:
        canvas.text((at[0], at[1] + size * 0.78), text, set_out.points, "middle", says=says)


@dataclass(frozen=True, slots=True)
class Upright:
    """An upright strip: its ticks, where it begins (below) and ends (above) [mm]."""

    ticks: tuple[Tick, ...]
    zero: float
    end: float


PITCH = NUMBER * POINT * 1.12
"""From one number to the next beside an upright strip [mm]."""


def upright_sticks(
    canvas: Canvas, strips: Sequence[Upright], manner: Manner, near: float, leftward: bool, foot: float
) -> float:
    """Upright strips above one another at `near`, their numbers away from the part and none below `foot`.

    The numbers of all strips share one column, so that those of one never lie on those of another; there must be
    paper enough above. Returns how far they reach [mm].
    """
    way = -1.0 if leftward else 1.0
    far = near + way * STRIP
    for strip in strips:
        low, high = sorted((strip.zero, strip.end))
        canvas.box(Box(min(near, far), low, max(near, far), high), "fine", "wood")
        _datum(canvas, ((near + far) / 2, strip.zero), (1.0, 0.0))
    ticks = sorted((tick for strip in strips for tick in strip.ticks), key=lambda tick: tick.at)
    if not ticks:
        return far + way
    top = min([min(strip.zero, strip.end) for strip in strips]) - 3.0
    top = min(top, foot - len(ticks) * PITCH)
    placed = spread_out([tick.at for tick in ticks], [PITCH] * len(ticks), top, foot) or []
    reach = far
    for tick, middle in zip(ticks, placed, strict=True):
        canvas.line((near, tick.at), (far + way * 0.8, tick.at), "edge")
        canvas.run([(far + way * 0.8, tick.at), (far + way * (JOG - 0.4), middle)], "fine")
        text, says = said(tick.length, manner, bare=True), {"mm": str(tick.length.value), "along": "upright"}
        at = (far + way * JOG, middle + NUMBER * POINT * 0.33)
        box = canvas.text(at, text, NUMBER, "end" if leftward else "start", says=says)
        reach = min(reach, box.left) if leftward else max(reach, box.right)
    return reach + way * CLEAR


def _datum(canvas: Canvas, at: Spot, way: Spot) -> None:
    """The mark where all distances begin: a bold bar across the strip."""
    a = (at[0] - way[0] * 2.0, at[1] - way[1] * 2.0)
    b = (at[0] + way[0] * 2.0, at[1] + way[1] * 2.0)
    canvas.line(a, b, "new")
    canvas.ring(at, 0.9, "none", "ink")


def level_overall(canvas: Canvas, length: Dim, manner: Manner, a: float, b: float, y: float) -> float:
    """The whole length, big, between two arrows; where it ends below [mm]."""
    text = said(length, manner)
    wide = set_width(text, OVERALL, "semibold") + 2.0
    middle, low, high = (a + b) / 2, min(a, b), max(a, b)
    base = y + OVERALL * POINT * 0.70
    line = y + OVERALL * POINT * 0.37
    canvas.line((low, line - 2.0), (low, line + 2.0), "fine")
    canvas.line((high, line - 2.0), (high, line + 2.0), "fine")
    says = {"mm": str(length.value), "along": "level"}
    if wide + 8 <= high - low:
        canvas.line((low, line), (middle - wide / 2, line), "dim")
        canvas.line((middle + wide / 2, line), (high, line), "dim")
        canvas.arrow((low, line), (-1.0, 0.0))
        canvas.arrow((high, line), (1.0, 0.0))
        canvas.text((middle, base), text, OVERALL, "middle", "semibold", says=says)
        return base + 1.5
    canvas.line((low, line), (high, line), "dim")
    if high + 1.5 + wide <= canvas.wide:
        canvas.text((high + 1.5, base), text, OVERALL, "start", "semibold", says=says)
    elif low - 1.5 - wide >= 0:
        canvas.text((low - 1.5, base), text, OVERALL, "end", "semibold", says=says)
    else:
        base += OVERALL * POINT
        left = min(max(0.5, middle - wide / 2), canvas.wide - wide - 0.5)
        canvas.text((left, base), text, OVERALL, "start", "semibold", says=says)
    return base + 1.5


def upright_overall(canvas: Canvas, length: Dim, manner: Manner, a: float, b: float, x: float, leftward: bool) -> None:
    """The whole width, big, beside the numbers of the stick."""
    text = said(length, manner)
    long = set_width(text, OVERALL, "semibold") + 2.0
    deep = OVERALL * POINT
    middle, low, high = (a + b) / 2, min(a, b), max(a, b)
    line = x - deep * 0.37 if leftward else x + deep * 0.37
    base = line + deep * 0.33
    says = {"mm": str(length.value), "along": "upright"}
    canvas.line((line - 2.0, low), (line + 2.0, low), "fine")
    canvas.line((line - 2.0, high), (line + 2.0, high), "fine")
    if long + 8 <= high - low:
        canvas.line((line, low), (line, middle - long / 2), "dim")
        canvas.line((line, middle + long / 2), (line, high), "dim")
        canvas.arrow((line, low), (0.0, -1.0))
        canvas.arrow((line, high), (0.0, 1.0))
        canvas.text((base, middle), text, OVERALL, "middle", "semibold", upright=True, says=says)
        return
    canvas.line((line, low), (line, high), "dim")
    anchor: Anchor = "end" if leftward else "start"
    canvas.text(
        (line - 2.8 if leftward else line + 2.8, middle + deep * 0.33), text, OVERALL, anchor, "semibold", says=says
    )
