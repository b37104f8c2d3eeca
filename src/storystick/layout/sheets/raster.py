"""The sheets worth most where there are many of each blank: every rectangle that sums of blanks' sizes give, reckoned.

What a rectangle is worth at most follows from its parts: one blank, or two rectangles side by side either way. Only
sides that are sums of blanks' sizes need be looked at (Gilmore and Gomory, Multistage cutting stock problems of two and
more dimensions, 1965; Herz, Recursive computational procedure for two-dimensional stock cutting, 1972; from memory).
Rows are joined one way and then the other until nothing gains, which gives all layouts by edge-to-edge cuts. Blanks are
taken as if there were no end of them, so this serves jobs with many alike.
"""

from bisect import bisect_right
from collections.abc import Sequence
from math import gcd
from typing import Any

from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job
from storystick.layout.sheets.tree import Placed, taken_apart

WORTHS = 2**30
"""Worths are reckoned in so many parts of the greatest one, in whole numbers."""

MOST_WORK = 60_000_000
"""So many pairs of rectangles, at most, are joined to reckon all rows one way."""

MOST_STEPS = 20_000
"""A sheet of more steps than these, of the greatest common one of all sizes, has too many rectangles anyway."""

MOST_JOINED = 12
"""Rows are joined so often, at most: the ways of the cuts change no oftener."""


class Raster:
    """The rectangles of one job. `serves` says whether there are few enough to reckon them all."""

    def __init__(self, job: Job) -> None:
        self.job = job
        regions = [stock.kits[0].regions for stock in job.stocks]
        self.areas = [only[0].area if len(only) == 1 else None for only in regions]
        there = [area for area in self.areas if area is not None]
        fits = [fit for kind in job.kinds for fit in kind.fits]
        self.step = gcd(*(fit.size(way) + job.kerf for fit in fits for way in (CROSSCUT, RIP))) if fits else 1
        self.sides: tuple[list[int], list[int]] = ([], [])
        ends = [max((area.long for area in there), default=0), max((area.wide for area in there), default=0)]
        most = [(end + job.kerf) // self.step for end in ends]
        if max(most) <= MOST_STEPS:
            for way in (CROSSCUT, RIP):
                sizes = {(fit.size(way) + job.kerf) // self.step for fit in fits}
                self.sides[way].extend(_sums(sizes, most[way]))
        long, wide = map(len, self.sides)
        few = 0 < long * wide * (long + wide) <= 2 * MOST_WORK
        self.serves = few and len(there) == len(self.areas)

    def filled(self, worth: Sequence[float]) -> list[Begun | None]:
        """A sheet of each stock with the blanks that are worth most together; None where none is worth anything."""
        import numpy as np

        scale = WORTHS / max(max(worth, default=1.0), 1e-12)
        self.worth = [int(value * scale) for value in worth]
        best = np.zeros((len(self.sides[0]), len(self.sides[1])), dtype=np.int64)
        for kind, value in zip(self.job.kinds, self.worth, strict=True):
            for fit in kind.fits:
                i, j = (self._least(fit.size(way), way) for way in (CROSSCUT, RIP))
                np.maximum(best[i:, j:], value, out=best[i:, j:])
        way, still = CROSSCUT, 0
        for _ in range(MOST_JOINED):
            before = best.copy()
            _join(np, best if way == CROSSCUT else best.T, self.sides[way])
            still = still + 1 if (before == best).all() else 0
            if still == 2:
                break
            way = 1 - way
        self.best = best
        return [self._sheet(number) for number in range(len(self.areas))]

    def _least(self, size: int, way: int) -> int:
        """Index of the first side that is as large as a size."""
        return bisect_right(self.sides[way], (size + self.job.kerf) // self.step - 1)

    def _most(self, room: int, way: int) -> int:
        """Index of the last side that goes into a room, both with a kerf."""
        return bisect_right(self.sides[way], room) - 1

    def _sheet(self, number: int) -> Begun | None:
        area = self.areas[number]
        assert area is not None
        ends = [(size + self.job.kerf) // self.step for size in (area.long, area.wide)]
        at = self._most(ends[CROSSCUT], CROSSCUT), self._most(ends[RIP], RIP)
        placed: list[Placed] = []
        if min(at) < 0 or not self.best[at]:
            return None
        self._taken(at, 0, 0, placed)
        node = taken_apart(placed, area.long, area.wide, self.job.kerf, RIP)
        node = node or taken_apart(placed, area.long, area.wide, self.job.kerf, CROSSCUT)
        return Begun(number, 0, (node,)) if node is not None else None

    def _taken(self, at: tuple[int, int], x: int, y: int, placed: list[Placed]) -> None:
        """The blanks of a rectangle, found again from what it is worth. `x`, `y`: its near corner [steps]."""
        i, j = at
        value = int(self.best[i, j])
        if not value:
            return
        for kind, (one, worth) in enumerate(zip(self.job.kinds, self.worth, strict=True)):
            for fit in one.fits if worth == value else ():
                if self._least(fit.long, CROSSCUT) <= i and self._least(fit.wide, RIP) <= j:
                    placed.append(Placed(x * self.step, y * self.step, fit.long, fit.wide, kind, fit.turned))
                    return
        for way in (CROSSCUT, RIP):
            sides, row = self.sides[way], self.best[:, j] if way == CROSSCUT else self.best[i, :]
            for cut in range(at[way]):
                rest = self._most(sides[at[way]] - sides[cut], way)
                if rest >= 0 and int(row[cut]) + int(row[rest]) == value:
                    near, far = ((cut, j), (rest, j)) if way == CROSSCUT else ((i, cut), (i, rest))
                    self._taken(near, x, y, placed)
                    self._taken(far, x + sides[cut] * (way == CROSSCUT), y + sides[cut] * (way == RIP), placed)
                    return
            if at[way] and int(row[at[way] - 1]) == value:
                self._taken((i - 1, j) if way == CROSSCUT else (i, j - 1), x, y, placed)
                return


def _sums(sizes: set[int], most: int) -> list[int]:
    """All sums of sizes up to a room, the least first."""
    reached = 1
    for size in sorted(sizes):
        if size <= most:
            grown = 0
            while grown != reached:
                grown, reached = reached, reached | reached << size
                reached &= (1 << most + 1) - 1
    return [number for number in range(1, most + 1) if reached >> number & 1]


def _join(np: Any, best: Any, sides: Sequence[int]) -> None:
    """Rectangles put side by side along the first axis, the shortest first, as often as it gains."""
    lengths = np.asarray(sides)
    for at in range(1, len(sides)):
        half = int(np.searchsorted(lengths, lengths[at] // 2, side="right"))
        np.maximum(best[at], best[at - 1], out=best[at])
        if half:
            rest = np.searchsorted(lengths, lengths[at] - lengths[:half], side="right") - 1
            np.maximum(best[at], (best[:half] + best[rest]).max(axis=0), out=best[at])
