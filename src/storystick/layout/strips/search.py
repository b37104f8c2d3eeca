"""Looks for a good way to cut sticks: the fullest stick first, in several tastes, and the cheapest mix of patterns."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import inf
from random import Random

from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import attainable, least_cost
from storystick.layout.sheets.plan import Begun, Judge, Judged
from storystick.layout.sheets.problem import CROSSCUT, Job, Region
from storystick.layout.sheets.search import NOTHING, Found, Stop, Tell
from storystick.layout.sheets.tree import Node, blanks_of
from storystick.layout.strips.columns import Columns, as_pattern, lengths_of, told
from storystick.layout.strips.diving import Dive
from storystick.layout.strips.problem import StripProblem, as_sheets

MOST_SUMS = 3000

FEW_KINDS = 20
"""With more different lengths than these, fewer rounds are made: each takes longer."""


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to look, in steps and not in seconds.

    rounds   of our own, fullest stick first
    steps    of filling sticks and mixing patterns, where the cost is not shown to be least
    """

    rounds: int = 60
    steps: int = 1_000_000_000


HASTY = Patience(0, 0)
USUAL = Patience()


def search(
    problem: StripProblem, *, patience: Patience = USUAL, tell: Tell | None = None, stop: Stop | None = None
) -> Found:
    """The best way found: whole if the stock allows it, then cheapest, then with the longest leftover."""
    sheets = as_sheets(problem)
    job = reckon(sheets)
    bound = least_cost(job)
    judge = Judge(job, sheets)
    best: Judged | None = None
    tried = 0
    for share, answer, least in _answers(job, bound, patience) if job.kinds else ():
        bound = max(bound, least)
        if answer:
            tried += 1
            best = judge.judge(answer, best.score if best is not None else None) or best
        if tell is not None:
            tell("sticks laid out", share)
        if best is not None and stop is not None and stop():
            break
        if best is not None and best.score.unplaced == 0 and best.score.cost <= bound and share >= 0.5:
            break
    return Found(job, best or NOTHING, bound, tried)


def _answers(job: Job, bound: Fraction, patience: Patience) -> Iterator[tuple[float, list[Begun], Fraction]]:
    """Answers one after another: how far the search has come, the sticks, and what no answer costs less than."""
    even = [1.0] * len(job.kinds)
    first = _fullest_first(job, even, Random(0), skip=0.0)
    yield 0.1, first, bound
    yield from _mixed(job, first, bound, patience.steps)
    dice = Random(1)
    rounds = patience.rounds * FEW_KINDS**2 // max(FEW_KINDS, len(job.kinds)) ** 2
    for number in range(rounds):
        worth = [1 + 0.2 * dice.random() for _ in job.kinds]
        yield 0.5 + 0.5 * number / rounds, _fullest_first(job, worth, dice, skip=0.3), bound


def _mixed(job: Job, first: list[Begun], bound: Fraction, most: int) -> Iterator[tuple[float, list[Begun], Fraction]]:
    """Cheaper answers out of many patterns, unless none can be cheaper."""
    lengths = lengths_of(job)
    whole = sum(1 for stick in first for _ in _blanks(stick)) == sum(job.counts)
    cost = sum((job.stocks[stick.stock].cost for stick in first), Fraction(0))
    if lengths is None or not most or (whole and cost <= bound):
        return
    columns = Columns(lengths)
    for stick in first:
        columns.add(*as_pattern(lengths, stick.stock, [blank.kind for blank in _blanks(stick)]))
    price = {stick.stock: stick.price for stick in lengths.sticks}
    ceiling = sum(price[stick.stock] for stick in first) if whole else inf
    costs = [stock.cost for stock in job.stocks if stock.cost > 0]
    for made in Dive(columns, ceiling, most, float(bound / lengths.dearest)).answers():
        sticks = []
        for stock, kinds in told(job, lengths, made):
            sticks.append(Begun(stock, 0, (_row(job, job.stocks[stock].kits[0].regions[0], kinds),)))
        yield 0.2, sticks, attainable(columns.bound * lengths.dearest, costs)
    yield 0.4, [], attainable(columns.bound * lengths.dearest, costs)


def _blanks(stick: Begun) -> Iterator[Node]:
    return (blank for node in stick.nodes if node is not None for blank in blanks_of(node))


def _fullest_first(job: Job, worth: Sequence[float], dice: Random, skip: float) -> list[Begun]:
    """Stick after stick, each as full as it can be; on hand first, then the most length for the money."""
    left = job.counts
    used = [0] * len(job.stocks)
    passed = [stock.cost == 0 and dice.random() < skip for stock in job.stocks]
    sticks: list[Begun] = []
    while any(left):
        options = []
        for number, stock in enumerate(job.stocks):
            if stock.copies is not None and used[number] >= stock.copies:
                continue
            mine = list(left)
            stick = Begun(number, 0, tuple(_filled(job, region, mine, worth) for region in stock.kits[0].regions))
            gain = sum((a - b) * kind.fits[0].long for a, b, kind in zip(left, mine, job.kinds, strict=True))
            if not gain:
                continue
            if stock.cost == 0:
                promise = (-1.0 if passed[number] else 2.0, float(gain))
            elif not any(mine):
                promise = (1.0, -float(stock.cost))
            else:
                promise = (0.0, gain / float(stock.cost))
            options.append((promise, -number, stick, mine))
        if not options:
            break
        _, _, stick, left = max(options, key=lambda option: option[:2])
        used[stick.stock] += 1
        sticks.append(stick)
    return sticks


def _filled(job: Job, region: Region, left: list[int], worth: Sequence[float]) -> Node | None:
    chosen = _fullest(job, region.area.long, left, worth)
    for kind, count in chosen:
        left[kind] -= count
    return _row(job, region, [kind for kind, count in chosen for _ in range(count)])


def _fullest(job: Job, length: int, left: Sequence[int], worth: Sequence[float]) -> tuple[tuple[int, int], ...]:
    """The blanks of the greatest worth that go into a length: (kind, how many)."""
    room = length + job.kerf
    reached: dict[int, tuple[float, tuple[tuple[int, int], ...]]] = {0: (0.0, ())}
    for kind, count in enumerate(left):
        step = job.kinds[kind].fits[0].long + job.kerf
        if not count or step > room:
            continue
        for total, (value, parts) in list(reached.items()):
            for number in range(1, min(count, (room - total) // step) + 1):
                size, gain = total + number * step, value + number * step * worth[kind]
                if size not in reached or reached[size][0] < gain:
                    reached[size] = (gain, (*parts, (kind, number)))
        if len(reached) > MOST_SUMS:
            best = sorted(reached.items(), key=lambda item: -item[1][0])[: MOST_SUMS // 2]
            reached = {0: (0.0, ()), **dict(best)}
    return max(reached.items(), key=lambda item: (item[1][0], item[0]))[1][1]


def _row(job: Job, region: Region, kinds: Sequence[int]) -> Node | None:
    if not kinds:
        return None
    area = region.area
    row = tuple(Node(job.kinds[kind].fits[0].long, area.wide, kind) for kind in kinds)
    if len(row) == 1 and row[0].long == area.long:
        return row[0]
    return Node(area.long, area.wide, way=CROSSCUT, row=row)
