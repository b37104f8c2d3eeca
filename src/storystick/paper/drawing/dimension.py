"""Single dimensions between two points, with witness lines: the manner of ISO 129-1, numbers clear of the line.

The line stands off the drawing, witness lines reach a little beyond it, the number is above a level line and before an
upright one, arrows outside where the distance is short.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.paper.drawing.canvas import Anchor, Box, Canvas, Spot
from storystick.paper.glyphs import POINT, Weight
from storystick.paper.lettering import calliper, said, set_width

NUMBER, FINE = 11.0, 8.5
OVER = 1.2  # of a witness line beyond its dimension line [mm]
GAP = 0.8  # between the drawing and a witness line [mm]
SHORT = 7.0  # below this arrows stand outside [mm]


@dataclass
class Dimensions:
    """Single dimensions in the making: their lines are on the canvas at once, their numbers when all lines are there.

    So no witness line runs through a number: a number keeps off those that are known, and clears the paper under it.
    """

    canvas: Canvas
    manner: Manner
    witnesses: list[Box] = field(default_factory=list)
    waiting: list[Callable[[], Box]] = field(default_factory=list)

    def set_numbers(self) -> None:
        """The numbers, now that every line is drawn."""
        for setting in self.waiting:
            setting()
        self.waiting.clear()

    def level(
        self, length: Dim, a: Spot, b: Spot, row: float, fits: bool = False, others: Sequence[float] = ()
    ) -> float:
        """A level dimension on a line at `row` above both points; where the next row may be.

        others  where witness lines of further rows will stand, which the number keeps off where it can [mm]
        """
        low, high = min(a[0], b[0]), max(a[0], b[0])
        self._witness([((x, y - GAP), (x, row - OVER)) for x, y in (a, b)])
        text, fine = said(length, self.manner), calliper(length, self.manner, fits)
        own = set_width(text, NUMBER, "semibold")
        wide = own + (1.6 + set_width(fine, FINE) if fine else 0.0)
        _arrows(self.canvas, (low, row), (high, row), (1.0, 0.0))
        aside = 4.2 if high - low < SHORT else 1.4
        beside = row + NUMBER * POINT * 0.33
        spots = [((low + high) / 2 - wide / 2, row - 1.0)] if high - low > wide + 1.0 else []
        spots += [(high + aside, beside), (low - aside - wide, beside)]
        clear = [at for at in spots if not any(at[0] - 0.8 < x < at[0] + wide + 0.8 for x in others)]
        left, base = (clear or spots)[0]
        left = min(max(0.5, left), self.canvas.wide - wide - 0.5)
        self._set((left, base), text, "start", {"mm": str(length.value), "along": "level"})
        if fine:
            self._set((left + own + 1.6, base), fine, "start")
        return row - NUMBER * POINT - 2.6

    def upright(self, length: Dim, a: Spot, b: Spot, column: float, leftward: bool, fits: bool = False) -> float:
        """An upright dimension on a line at `column` beside both points; where the next column may be."""
        low, high = min(a[1], b[1]), max(a[1], b[1])
        way = -1.0 if leftward else 1.0
        self._witness([((x + way * GAP, y), (column + way * OVER, y)) for x, y in (a, b)])
        _arrows(self.canvas, (column, low), (column, high), (0.0, 1.0))
        text, fine = said(length, self.manner), calliper(length, self.manner, fits)
        inch, _, metric = fine.partition("  ")
        x = column + way * 1.8
        lines = [text, *(word for word in (inch, metric) if word)]
        pitch = NUMBER * POINT * 1.02
        top = (low + high) / 2 - pitch * len(lines) / 2
        top = min(max(1.0, top), self.canvas.high - pitch * len(lines) - 0.5)
        anchor: Anchor = "end" if leftward else "start"
        reach = 0.0
        for number, line in enumerate(lines):
            at = (x, top + pitch * number + NUMBER * POINT * 0.8)
            says = None if number else {"mm": str(length.value), "along": "upright"}
            reach = max(reach, self._set(at, line, anchor, says))
        return x + way * (reach + 2.5)

    def _witness(self, lines: Sequence[tuple[Spot, Spot]]) -> None:
        for a, b in lines:
            self.canvas.line(a, b, "fine")
            xs, ys = sorted((a[0], b[0])), sorted((a[1], b[1]))
            self.witnesses.append(Box(xs[0], ys[0], xs[1], ys[1]))

    def _set(self, at: Spot, text: str, anchor: Anchor, says: Mapping[str, str] | None = None) -> float:
        """A number or what stands beside it, to be set when all lines are drawn; how wide it is [mm]."""
        weight: Weight = "semibold" if says else "regular"
        size = NUMBER if says else FINE
        self.waiting.append(lambda: self.canvas.text(at, text, size, anchor, weight, ground=True, says=says))
        return set_width(text, size, weight)


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
