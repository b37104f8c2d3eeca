"""The cheapest layout out of many patterns: for sheets by the dozen, where filling one after another loses the most.

The cheapest mix of the patterns there are says what each blank is worth. The library fills a sheet with the blanks
worth most; if that is worth more than the sheet costs, it is a new pattern, and the mix is made again (Gilmore and
Gomory, A linear programming approach to the cutting stock problem, 1961). Then a layout is made of it: the pattern
that the mix takes most of is cut, and the mix is made anew for what is left. Bounded by the number of sheets filled.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor, gcd
from random import Random

from storystick.layout.sheets.engine import FEW_WORTHS, HALVING, Asking, ask, fill
from storystick.layout.sheets.mixing import Mix, Pattern, cheapest_mix
from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import Job
from storystick.layout.sheets.raster import Raster
from storystick.layout.sheets.tree import Node, blanks_of

ROUGHLY = 1e-4
FEW = 3
"""So many sheets at the end are laid out together."""

MANY = 6
"""So many are, if the mix has become too dear."""

TELLING = 2e-3
"""A mix is made better as long as it gains this share."""

SERIES = 40
"""So many sheets, at most, are filled one after another at the worths of one mix."""

ALIKE = 10
"""How often, at most, the mix for what is left is made better before the next pattern is fixed."""


def _fillings(width: int) -> tuple[Asking, ...]:
    means = (("use_tree_search", 1), ("not_anytime_tree_search_queue_size", width))
    return (
        Asking("rips first", 3, "NonExact", "Horizontal", means),
        Asking("crosscuts first", 3, "NonExact", "Vertical", means),
        Asking("any stages", 0, "NonExact", "Any", means),
    )


WEIGHS = (1, 1, 8)
"""What a filling takes of the effort, by the ways of filling: one of any stages is the slowest."""

LAST_WEIGHS = (8, 8, 60)
"""What the last sheets take, laid out together."""

LONG = 1000
"""From so much effort on, any stages are tried too: they take longest, most of all with many sizes."""

WIDEST = 256
"""The widest queue that sheets are filled with, where narrower ones say that no layout is cheaper."""

ALIKE_EACH = 3
"""From so many blanks of each kind on, in the mean, sheets are also filled as if there were no end of any."""

BARREN = 40
"""After so many layouts that are no cheaper the search ends, or a twentieth of the effort."""


@dataclass(frozen=True, slots=True)
class _Made:
    """A pattern and the sheet it was read from."""

    pattern: Pattern
    sheet: Begun


class Patterns:
    """All patterns of one job. `filled` counts the effort: the sheets that the library was asked to fill."""

    def __init__(self, job: Job, width: int, ways: int) -> None:
        self.job = job
        self.ways = ways
        self.ended: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
        self.known: dict[tuple[int, tuple[int, ...]], _Made] = {}
        self.width = width
        self.fillings = _fillings(width)[:ways]
        self.next = 0
        self.filled = 0
        paid = [stock.cost for stock in job.stocks if stock.cost > 0]
        self.nothing = float(min(paid, default=Fraction(1))) / 1000
        raster = Raster(job) if sum(job.counts) >= ALIKE_EACH * len(job.kinds) else None
        self.raster = raster if raster is not None and raster.serves else None
        self.limited = [(n, s.copies) for n, s in enumerate(job.stocks) if s.copies is not None]

    def look_closer(self) -> bool:
        """Fill sheets with more care from now on; False if it can't be done with more."""
        if self.ways == len(_fillings(0)) and self.width >= WIDEST:
            return False
        self.ways, self.width = len(_fillings(0)), self.width * 4
        self.fillings = _fillings(self.width)
        return True

    def add(self, sheet: Begun) -> bool:
        """Keep a sheet as a pattern; False if there is one like it."""
        told = Counter(blank.kind for node in sheet.nodes if node is not None for blank in blanks_of(node))
        gives = tuple(told[kind] for kind in range(len(self.job.kinds)))
        if (sheet.stock, gives) in self.known:
            return False
        cost = max(float(self.job.stocks[sheet.stock].cost), self.nothing)
        self.known[sheet.stock, gives] = _Made(Pattern(gives, sheet.stock, cost), sheet)
        return True

    def mix(self, left: Sequence[int], used: Sequence[int], before: Mix | None = None) -> tuple[Mix, list[_Made]]:
        """The cheapest mix for what is left, and the patterns it is made of, as far as they help.

        before  the last mix, if nothing but patterns came since
        """
        useful: dict[tuple[int, tuple[int, ...]], _Made] = {}
        for made in self.known.values():
            gives = tuple(map(min, made.pattern.gives, left))
            if any(gives):
                here = replace(made.pattern, gives=gives)
                useful.setdefault((here.stock, gives), replace(made, pattern=here))
        there = list(useful.values())
        limited = [(stock, copies - used[stock]) for stock, copies in self.limited]
        base = before.base if before is not None else ()
        return cheapest_mix([made.pattern for made in there], left, limited, base), there

    def improve(self, left: Sequence[int], used: Sequence[int], mix: Mix) -> bool:
        """Look for patterns that make the mix cheaper; False if no way of filling finds one.

        Sheet after sheet is filled with the blanks that the ones before have not taken, as long as each pays. Where all
        rectangles can be reckoned, this is done first.
        """
        if self.raster is not None and self._rastered(left, used, mix):
            return True
        for _ in range(len(self.fillings)):
            asking = self.fillings[self.next % len(self.fillings)]
            better = False
            for number, stock in enumerate(self.job.stocks):
                if stock.copies is None or used[number] < stock.copies:
                    better |= self._series(number, asking, list(left), mix)
            if better:
                return True
            self.next += 1
        return False

    def _rastered(self, left: Sequence[int], used: Sequence[int], mix: Mix) -> bool:
        """The sheets worth most if there were no end of any blank, as far as they pay with the blanks there are."""
        assert self.raster is not None
        better = False
        self.filled += len(self.job.stocks)
        worth = [value if have else 0.0 for value, have in zip(mix.worth, left, strict=True)]
        for sheet in self.raster.filled(worth):
            if sheet is None:
                continue
            there = self.job.stocks[sheet.stock].copies
            told = Counter(blank.kind for node in sheet.nodes if node is not None for blank in blanks_of(node))
            gain = sum(mix.worth[kind] * min(number, left[kind]) for kind, number in told.items())
            pays = gain > self._price(sheet.stock, mix) * (1 + ROUGHLY / 10)
            if pays and (there is None or used[sheet.stock] < there):
                better |= self.add(sheet)
        return better

    def _price(self, stock: int, mix: Mix) -> float:
        """What a sheet costs, and its rent where there are few."""
        rents = {number: rent for (number, _), rent in zip(self.limited, mix.rent, strict=True)}
        return max(float(self.job.stocks[stock].cost), self.nothing) + rents.get(stock, 0.0)

    def _series(self, number: int, asking: Asking, left: list[int], mix: Mix) -> bool:
        price = self._price(number, mix)
        better = False
        for _ in range(SERIES):
            self.filled += WEIGHS[self.fillings.index(asking)]
            sheet = fill(self.job, number, asking, left, mix.worth)
            if sheet is None:
                break
            blanks = [blank.kind for node in sheet.nodes if node is not None for blank in blanks_of(node)]
            if sum(mix.worth[kind] for kind in blanks) <= price * (1 + ROUGHLY):
                break
            better |= self.add(sheet)
            for kind in blanks:
                left[kind] -= 1
        return better


def by_patterns(
    job: Job, seeds: Sequence[Begun], best: float, *, most: int, width: int = 16, long: bool = False
) -> Iterator[tuple[float, list[Begun] | None]]:
    """Layouts out of patterns, with the share of the work done. Ends as soon as the mix says that none is cheaper.

    seeds   sheets to begin with
    best    the cost to be beaten
    most    how many sheets are filled, about
    long    any stages are tried too
    """
    shop = Patterns(job, width, 3 if long else 2)
    for sheet in seeds:
        shop.add(sheet)
    left, used = job.counts, [0] * len(job.stocks)
    whole: Mix | None = None
    step = _step(job)
    while shop.filled < most / 2:
        whole, _ = shop.mix(left, used, whole)
        if not shop.improve(left, used, whole) and not (whole.cost > best - step and shop.look_closer()):
            break
        yield shop.filled / most, None
    dice = Random(3)
    barren = 0
    for number in range(most):
        whole, _ = shop.mix(job.counts, used, whole)
        if shop.filled >= most or whole.cost > best - step + ROUGHLY * best or barren > max(BARREN, most // 20):
            return
        before = shop.filled
        answer = _dive(shop, best - step, dice if number else None)
        barren += 1
        if answer is not None:
            barren = 0
            cost = sum(float(job.stocks[sheet.stock].cost) for sheet in answer)
            best = min(best, cost)
        shop.filled = max(shop.filled, before + 1)
        yield min(1.0, shop.filled / most), answer


def _step(job: Job) -> float:
    """The least by which one cost can be under another."""
    costs = [stock.cost for stock in job.stocks if stock.cost > 0]
    if not costs:
        return 0.0
    scale = max(cost.denominator for cost in costs)
    return gcd(*(int(cost * scale) for cost in costs)) / scale


def _dive(shop: Patterns, ceiling: float, dice: Random | None) -> list[Begun] | None:
    """One layout: pattern after pattern is fixed, the mix made anew for what is left. None if it costs too much."""
    job = shop.job
    left, used = job.counts, [0] * len(job.stocks)
    fixed: list[Begun] = []
    cost = 0.0
    while any(left):
        mix, there = shop.mix(left, used)
        for _ in range(ALIKE if fixed else 0):
            if not shop.improve(left, used, mix):
                break
            more, there = shop.mix(left, used, mix)
            gained, mix = mix.cost - more.cost, more
            if gained < TELLING * mix.cost and cost + mix.cost <= ceiling:
                break
        over = cost + mix.cost > ceiling * (1 + ROUGHLY) + shop.nothing * 10
        if sum(mix.amounts) <= (MANY if over else FEW) + ROUGHLY:
            ends = _ended(shop, left, used, ceiling - cost)
            if ends is not None:
                return _exact(fixed + ends, job)
        if over:
            return None
        for index, times in _chosen(mix, there, left, dice):
            made = there[index]
            for _ in range(times):
                fixed.append(made.sheet)
                used[made.pattern.stock] += 1
                cost += float(job.stocks[made.pattern.stock].cost)
                left = [max(0, have - gives) for have, gives in zip(left, made.pattern.gives, strict=True)]
    return _exact(fixed, job) if cost <= ceiling * (1 + ROUGHLY) else None


def _chosen(mix: Mix, there: Sequence[_Made], left: Sequence[int], dice: Random | None) -> list[tuple[int, int]]:
    """Which patterns are fixed now, and how often: all that the mix takes wholly, or the one it takes most of."""
    whole = [(i, floor(a + ROUGHLY)) for i, a in enumerate(mix.amounts) if a >= 1 - ROUGHLY]
    if whole:
        return whole
    ordered = sorted(range(len(mix.amounts)), key=lambda i: (-round(mix.amounts[i], 6), -_worth(mix, there[i]), i))
    if dice is None:
        return [(ordered[0], 1)]
    hopeful = [i for i in ordered[:6] if mix.amounts[i] > 0.2] or ordered[:1]
    return [(dice.choices(hopeful, [mix.amounts[i] ** 2 + ROUGHLY for i in hopeful])[0], 1)]


def _worth(mix: Mix, made: _Made) -> float:
    return round(sum(g * w for g, w in zip(made.pattern.gives, mix.worth, strict=True)), 6)


def _ended(shop: Patterns, left: Sequence[int], used: Sequence[int], rest: float) -> list[Begun] | None:
    """The last sheets laid out together by the library, if it finds them cheap enough."""
    job = shop.job
    copies = [None if s.copies is None else s.copies - u for s, u in zip(job.stocks, used, strict=True)]
    same = tuple(left), tuple(used[stock] for stock, _ in shop.limited)
    if same in shop.ended:
        return None
    shop.ended.add(same)
    several = sum(have is None or have > 0 for have in copies) > 1
    for asking, weighs in zip(_fillings(64)[: shop.ways], LAST_WEIGHS, strict=False):
        shop.filled += weighs
        means = (HALVING if len(job.stocks) <= FEW else FEW_WORTHS) if several else asking.means
        sheets = ask(job, replace(asking, means=means), 0, left, copies)
        if sheets and sum(float(job.stocks[sheet.stock].cost) for sheet in sheets) <= rest * (1 + ROUGHLY) + ROUGHLY:
            return sheets
    return None


def _exact(sheets: Sequence[Begun], job: Job) -> list[Begun]:
    """The sheets without the blanks that are there more often than asked for."""
    left = job.counts
    kept: list[Begun] = []
    for sheet in sheets:
        told = Counter(blank.kind for node in sheet.nodes if node is not None for blank in blanks_of(node))
        if all(left[kind] >= number for kind, number in told.items()):
            kept.append(sheet)
            for kind, number in told.items():
                left[kind] -= number
            continue
        nodes = tuple(_taken(node, left) if node is not None else None for node in sheet.nodes)
        if any(node is not None for node in nodes):
            kept.append(replace(sheet, nodes=nodes))
    return kept


def _taken(node: Node, left: list[int]) -> Node | None:
    """The node with only the blanks that are still asked for. Takes them out of `left`."""
    if node.leaf:
        if not left[node.kind]:
            return None
        left[node.kind] -= 1
        return node
    row = tuple(child for one in node.row if (child := _taken(one, left)) is not None)
    return replace(node, row=row) if row else None
