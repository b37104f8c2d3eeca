"""Our own layouts: strips of blanks of one width, which is what keeps the settings few. Quick, and always whole.

A piece is filled with strips of the width of some blank, each strip with blanks of just that width, and what is left
of the strip is filled the same way. Every cut is then at the size of some blank. A `Taste` says what is preferred;
a search tries many of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import CROSSCUT, RIP, Area, Job
from storystick.layout.sheets.tree import Node

DEEPEST = 5
"""How many times strips are laid in what is left of strips."""


@dataclass(slots=True)
class Taste:
    """What one construction prefers.

    worth    weight of each kind, about 1: more for those that were hard to place
    noise    spread of chance in the choice of strips: 0 is none
    first    way of the first cuts of a sheet; None: whichever fills it better
    switch   chance that what is left of a piece is cut the other way
    skip     chance that stock on hand is left alone
    dice     source of chance, with a fixed seed
    liked    settings that are needed anyway: strips of these widths are preferred a little
    """

    worth: list[float]
    noise: float
    first: int | None
    switch: float
    skip: float
    dice: Random
    liked: frozenset[tuple[int, int]] = frozenset()


class Filler:
    """Fills pieces for one job. It remembers the best strips, so that it gets quicker."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.known: dict[tuple[int, int, int, tuple[tuple[int, int], ...]], tuple[tuple[int, int], ...]] = {}
        self.offers: tuple[dict[int, list[tuple[int, int, bool]]], ...] = ({}, {})
        for index, kind in enumerate(job.kinds):
            for fit in kind.fits:
                for way in (CROSSCUT, RIP):
                    along = fit.size(1 - way)
                    self.offers[way].setdefault(fit.size(way), []).append((index, along, fit.turned))
        self.widths = tuple(sorted(offers, reverse=True) for offers in self.offers)

    def piece(self, area: tuple[int, int], way: int, left: list[int], taste: Taste, deep: int = 0) -> Node | None:
        """A piece (long, wide) divided into strips by cuts of one way. Takes what it places out of `left`."""
        kerf = self.job.kerf
        across, along = (area[1], area[0]) if way == RIP else (area[0], area[1])
        row: list[Node] = []
        rest = across
        while rest > 0:
            if row and deep < DEEPEST and taste.switch and taste.dice.random() < taste.switch:
                other = self.piece((along, rest) if way == RIP else (rest, along), 1 - way, left, taste, deep + 1)
                if other is not None:
                    row.append(other)
                    rest = 0
                    break
            strip = self._best_strip(way, along, rest, left, taste)
            if strip is None:
                break
            width, chosen = strip
            row.append(self._strip(way, along, width, chosen, left, taste, deep))
            rest -= width + kerf
        return Node(area[0], area[1], way=way, row=tuple(row)) if row else None

    def _best_strip(
        self, way: int, along: int, rest: int, left: Sequence[int], taste: Taste
    ) -> tuple[int, tuple[tuple[int, int], ...]] | None:
        best: tuple[float, int, tuple[tuple[int, int], ...]] | None = None
        kerf = self.job.kerf
        for width in self.widths[way]:
            if width > rest:
                continue
            chosen = self._row(way, width, along, left)
            if not chosen:
                continue
            worth = 0.0
            for offer, number in chosen:
                kind, length, _ = self.offers[way][width][offer]
                worth += taste.worth[kind] * (length + kerf) * number
            # Wide strips first: they are the hardest to place, and narrow ones fill up what they leave.
            score = worth / (along + kerf) * (width / rest) ** 0.35
            if (way, width) in taste.liked:
                score *= 1.15
            if taste.noise:
                score *= 1 + taste.noise * (taste.dice.random() - 0.5)
            if best is None or score > best[0]:
                best = (score, width, chosen)
        return best and best[1:]

    def _row(self, way: int, width: int, along: int, left: Sequence[int]) -> tuple[tuple[int, int], ...]:
        """The blanks of one width that fill a strip's length best: (which offer, how many)."""
        offers = self.offers[way][width]
        there = tuple((i, left[kind]) for i, (kind, length, _) in enumerate(offers) if left[kind] and length <= along)
        if not there:
            return ()
        key = (way, width, along, there)
        if key not in self.known:
            self.known[key] = self._fullest(way, width, along, there)
        return self.known[key]

    def _fullest(
        self, way: int, width: int, along: int, there: Sequence[tuple[int, int]]
    ) -> tuple[tuple[int, int], ...]:
        """The fullest strip, by all sums of lengths that can be reached; a blank that may lie both ways counts once."""
        kerf = self.job.kerf
        room = along + kerf
        reached: dict[int, tuple[tuple[int, int], ...]] = {0: ()}
        seen: set[int] = set()
        for offer, count in there:
            kind, length, _ = self.offers[way][width][offer]
            if kind in seen:
                continue
            seen.add(kind)
            step = length + kerf
            for total, parts in list(reached.items()):
                for number in range(1, min(count, (room - total) // step) + 1):
                    reached.setdefault(total + number * step, (*parts, (offer, number)))
            if len(reached) > 4000:
                reached = dict(sorted(reached.items())[-2000:])
        return reached[max(reached)]

    def _strip(
        self,
        way: int,
        along: int,
        width: int,
        chosen: Sequence[tuple[int, int]],
        left: list[int],
        taste: Taste,
        deep: int,
    ) -> Node:
        kerf = self.job.kerf
        row: list[Node] = []
        rest = along
        for offer, number in chosen:
            kind, length, turned = self.offers[way][width][offer]
            left[kind] -= number
            size = (length, width) if way == RIP else (width, length)
            row.extend([Node(*size, kind=kind, turned=turned)] * number)
            rest -= number * (length + kerf)
        if rest > 0 and deep < DEEPEST:
            more = self.piece((rest, width) if way == RIP else (width, rest), way, left, taste, deep + 1)
            if more is not None:
                row.append(more)
        size = (along, width) if way == RIP else (width, along)
        if len(row) == 1 and (row[0].long, row[0].wide) == size:
            return row[0]
        return Node(*size, way=1 - way, row=tuple(row))


def construct(
    filler: Filler,
    taste: Taste,
    ceiling: float | None = None,
    some: Sequence[int] | None = None,
    copies: Sequence[int] | None = None,
) -> list[Begun] | None:
    """A layout of all blanks, sheet after sheet, or of as many as the stock has room for.

    ceiling   give up (None) as soon as the cost is above it
    some      how many of each kind, if not all
    copies    how many of each stock there are, if not as many as the job says; give up if they do not suffice
    """
    job = filler.job
    left = job.counts if some is None else list(some)
    used = [0] * len(job.stocks)
    most: list[int | None] = [stock.copies for stock in job.stocks] if copies is None else list(copies)
    passed = [bool(s.cost == 0 and taste.skip and taste.dice.random() < taste.skip) for s in job.stocks]
    sheets: list[Begun] = []
    cost = 0.0
    while any(left):
        if ceiling is not None and cost > ceiling:
            return None
        options: list[tuple[tuple[int, float, float], int, Begun, list[int]]] = []
        for number, stock in enumerate(job.stocks):
            enough = most[number]
            if enough is not None and used[number] >= enough:
                continue
            for kit in range(len(stock.kits)):
                for way in (RIP, CROSSCUT) if taste.first is None else (taste.first,):
                    mine = list(left)
                    begun = Begun(number, kit, _filled(filler, number, kit, way, mine, taste))
                    if mine != left:
                        promise = _promise(job, begun, left, mine, passed[number], taste)
                        options.append((promise, -len(options), begun, mine))
        if not options:
            if copies is not None:
                return None
            break
        _, _, begun, left = max(options, key=lambda option: option[:2])
        cost += float(job.stocks[begun.stock].cost)
        used[begun.stock] += 1
        sheets.append(begun)
    return sheets


def _filled(filler: Filler, stock: int, kit: int, way: int, left: list[int], taste: Taste) -> tuple[Node | None, ...]:
    regions = filler.job.stocks[stock].kits[kit].regions
    return tuple(_region(filler, region.area, way, left, taste) for region in regions)


def _region(filler: Filler, area: Area, way: int, left: list[int], taste: Taste) -> Node | None:
    return filler.piece((area.long, area.wide), way, left, taste)


def _promise(
    job: Job, begun: Begun, before: Sequence[int], after: Sequence[int], passed: bool, taste: Taste
) -> tuple[int, float, float]:
    """How good it is to begin this sheet now: on hand first, then finishing the job cheaply, then value for money."""
    stock = job.stocks[begun.stock]
    placed = sum((b - a) * kind.area * w for b, a, kind, w in zip(before, after, job.kinds, taste.worth, strict=True))
    if stock.cost == 0:
        return (-1 if passed else 2, placed, 0.0)
    if not any(after):
        return (1, -float(stock.cost), placed)
    return (0, placed / float(stock.cost), placed)
