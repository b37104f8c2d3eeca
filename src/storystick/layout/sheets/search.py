"""Looks for a good plan: ours and the engine's, judged by one measure. It is never trusted; `refute` looks after it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice
from random import Random

from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import least_cost
from storystick.layout.sheets.construct import Filler, Taste, construct
from storystick.layout.sheets.engine import FIRST, SEVERAL, THOROUGH, TREE, Asking, ask, fill
from storystick.layout.sheets.grouped import kept_together
from storystick.layout.sheets.patterns import by_patterns
from storystick.layout.sheets.plan import Begun, Judge, Judged, Plan, Score
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, SheetProblem
from storystick.layout.sheets.settings import fewest, in_turn
from storystick.layout.sheets.tree import blanks_of, chains

Tell = Callable[[str, float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to look, in steps and not in seconds. A `stop` ends the search between two steps.

    effort     how many blanks are placed, all in all, in our own constructions after the first few
    asking     ways of asking the library, for sheets of one size
    several    ways of asking it for sheets of several sizes
    patterns   how many sheets are filled to find a cheaper layout, where the cost is not shown to be least
    thorough   slower ways of asking, before that
    """

    effort: int = 32000
    asking: tuple[Asking, ...] = FIRST
    several: tuple[Asking, ...] = SEVERAL
    patterns: int = 240
    thorough: tuple[Asking, ...] = ()


SEEDS = 24
"""So many answers are kept as patterns to begin with."""

WITHOUT = 3
"""With so many ways of asking it is tried whether the job does without what is on hand, at no more cost."""

MANY = 100
"""With more blanks than these, fewer patterns are made: each takes longer, and more of them are needed."""

VERY_MANY = 400
"""With more blanks than these the slower ways of asking are left out: patterns do better there, and sooner."""

SOME_SIZES = 3
"""With more sizes than these too, and patterns are made for longer."""

FOR_EACH = 20
MANY_ALIKE = 10
"""With very many blanks, of which so many are alike, at least FOR_EACH sheets are filled for each kind."""

EACH = 150
"""With few blanks no more than so many rounds for each of them: there is little to vary."""

BEFORE = 8
"""Such a part of the rounds is done before anything slower: for few blanks it is often enough."""

FINAL_WIDTH = 40
"""How hard the order of settings is looked for once the plan is chosen."""

NOTHING = Judged(Plan(()), Score(0, 0, Fraction(0), 0, 0, 0), ())
"""The answer where nothing can be cut."""

HASTY = Patience(0, (), (), 0)
"""A first answer, in some tenths of a second."""

USUAL = Patience()
"""Some seconds for the parts of a piece of furniture."""

PATIENT = Patience(patterns=4000, thorough=THOROUGH)
"""Some minutes at most: for large jobs, and to see whether a sheet less would do."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan, the job it is for, and the least cost that could be shown."""

    job: Job
    judged: Judged
    least_cost: Fraction
    tried: int


def search(
    problem: SheetProblem, *, patience: Patience = USUAL, tell: Tell | None = None, stop: Stop | None = None
) -> Found:
    """The best plan found: whole if the stock allows it, then cheapest, fewest sheets, settings, best leftover."""
    job = reckon(problem)
    table = _Table(job, problem, least_cost(job))
    for says, share, sheets in _answers(table, patience) if job.kinds else ():
        if sheets:
            table.offer(sheets)
        if tell is not None:
            tell(says, share)
        if table.best is not None and stop is not None and stop():
            break
    best = table.best or NOTHING
    turns = in_turn(best.plan.chains, FINAL_WIDTH)
    if len(turns) < len(best.turns):
        best = replace(best, turns=turns)
    return Found(job, best, table.bound, table.tried)


class _Table:
    """What is on the table during a search: the question and the best answer so far."""

    def __init__(self, job: Job, problem: SheetProblem, bound: Fraction) -> None:
        self.job, self.bound = job, bound
        self.judge = Judge(job, problem)
        self.best: Judged | None = None
        self.tried = 0
        self.filled: list[Begun] = []

    def offer(self, sheets: list[Begun]) -> None:
        """Look at another answer, and keep it if it is better."""
        self.tried += 1
        if self.tried <= SEEDS:
            self.filled.extend(sheets)
        new = self.judge.judge(sheets, self.best.score if self.best is not None else None)
        if new is not None and (self.best is None or new.score < self.best.score):
            self.best = new

    @property
    def whole(self) -> bool:
        """True if all blanks are placed."""
        return self.best is not None and self.best.score.unplaced == 0

    def cheapest(self) -> bool:
        """True if no layout can cost less."""
        return self.best is not None and self.whole and self.best.score.cost <= self.bound

    @property
    def done(self) -> bool:
        """True if no layout can cost less or do with fewer settings than its blanks' sizes ask for."""
        if self.best is None or not self.cheapest() or self.best.score.broken_rules:
            return False
        free = sum(self.job.stocks[sheet.stock].cost == 0 for sheet in self.best.sheets)
        if free and len(self.best.sheets) > 1 and not self.judge.problem.rack_first:
            return False  # what is on hand may not be needed
        return len(self.best.turns) == fewest(self.best.plan.chains) <= len(_needed(self.job))


def _needed(job: Job) -> set[tuple[int, int]]:
    """The settings that the blanks ask for, each lying the first way it can."""
    return {(way, kind.fits[0].size(way)) for kind in job.kinds for way in (CROSSCUT, RIP)}


def _answers(table: _Table, patience: Patience) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """Answers one after another, with what was done and how far the search has come."""
    job = table.job
    filler = Filler(job)
    even = [1.0] * len(job.kinds)
    for number, first in enumerate((RIP, CROSSCUT, None)):
        sheets = construct(filler, Taste(even, 0.0, first, 0.0, 0.0, Random(number)))
        yield "strips laid out", 0.02, sheets
    placings = sum(job.counts) * sum(len(stock.kits) for stock in job.stocks) or 1
    rounds = min(patience.effort // placings // 2, EACH * sum(job.counts))
    varied = _varied(table, filler, rounds)
    for says, _, sheets_or_none in islice(varied, rounds // BEFORE):
        yield says, 0.03, sheets_or_none
    free = any(stock.cost == 0 for stock in job.stocks)
    slots = _slots(job, paid=free)
    ways = patience.several if slots > 1 else patience.asking
    if sum(job.counts) > VERY_MANY or slots > SOME_SIZES:
        ways = tuple(asking for asking in ways if not asking.slow)
    kits = max((len(stock.kits) for stock in job.stocks), default=1)
    steps = [(asking, kit) for asking in ways for kit in range(min(kits, 2))]
    most = [stock.copies for stock in job.stocks]
    for number, (asking, kit) in enumerate(steps):
        if table.done:
            return
        if not asking.stages and table.cheapest():
            continue  # cuts of any number of turns save sheets, and seldom settings
        share = 0.05 + 0.25 * number / len(steps)
        found = _on_hand_first(job, asking, kit, most) if free else ask(job, asking, kit, None, most)
        if not found and most != (endless := _endless(job)):
            most = endless  # the library is not good at stocks of which there are few: patterns are
            found = _on_hand_first(job, asking, kit, most) if free else ask(job, asking, kit, None, most)
        yield asking.name, share, found
        if free and number < WITHOUT and not table.judge.problem.rack_first:
            yield asking.name, share, ask(job, asking, kit, job.counts, _to_buy(job, most))
    for found in kept_together(job, ways[:3]):
        yield "groups kept together", 0.3, found
    yield from _mixed(table, patience.patterns)
    yield from _asked_thoroughly(table, patience.thorough, free)
    yield from varied
    yield from _reworked(table, filler, patience.effort // 2, EACH * sum(job.counts))


def _asked_thoroughly(
    table: _Table, ways: Sequence[Asking], free: bool
) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """The library's slower answers, until one costs no more than what is shown to be least."""
    for number, asking in enumerate(ways):
        if table.cheapest():
            return
        share = 0.3 + 0.1 * number / len(ways)
        yield asking.name, share, ask(table.job, asking)
        if free and not table.cheapest():
            yield asking.name, share, _on_hand_first(table.job, asking, 0, _endless(table.job))


def _mixed(table: _Table, most: int) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """Cheaper layouts out of many patterns, unless none can be cheaper."""
    if not most or table.best is None or not table.whole or table.cheapest() or len(table.job.kinds) < 2:
        return
    number = max(MANY, sum(table.job.on_one))
    most = most * MANY // number
    if _slots(table.job, paid=False) > SOME_SIZES:
        most *= SOME_SIZES + 1
    if sum(table.job.counts) > max(VERY_MANY, MANY_ALIKE * len(table.job.kinds)):
        most = max(most, FOR_EACH * len(table.job.kinds))
    for share, found in by_patterns(table.job, table.filled, float(table.best.score.cost), most=most):
        yield "patterns mixed", 0.4 + 0.2 * share, found
        if table.cheapest():
            return


def _slots(job: Job, paid: bool) -> int:
    """How many different regions there are to fill; only of stock to be bought, if `paid`."""
    return sum(len(kit.regions) for stock in job.stocks for kit in stock.kits[:1] if stock.cost > 0 or not paid)


def _on_hand_first(job: Job, asking: Asking, kit: int, most: Sequence[int | None]) -> list[Begun]:
    """What is on hand filled as full as it goes, the largest last, and what is left cut from stock to be bought."""
    left, sheets = job.counts, list[Begun]()
    areas = [float(kind.area) for kind in job.kinds]
    free = [(s.kits[0].regions[0].area, n) for n, s in enumerate(job.stocks) if s.cost == 0 and s.kits[0].regions]
    for _, number in sorted(free, key=lambda one: (one[0].long * one[0].wide, one[1])):
        for _ in range(job.stocks[number].copies or sum(left)):
            sheet = fill(job, number, replace(asking, means=TREE), left, areas)
            if sheet is None:
                break
            sheets.append(sheet)
            for blank in (blank for node in sheet.nodes if node is not None for blank in blanks_of(node)):
                left[blank.kind] -= 1
    rest = ask(job, asking, kit, left, _to_buy(job, most))
    return sheets + rest if rest or not any(left) else []


def _to_buy(job: Job, most: Sequence[int | None]) -> list[int | None]:
    """How many there are of each stock, without what is on hand."""
    return [0 if stock.cost == 0 else number for stock, number in zip(job.stocks, most, strict=True)]


def _endless(job: Job) -> list[int | None]:
    """How many there are of each stock, without those that cost and are few; all, if there are no others."""
    few = [stock.cost > 0 and stock.copies is not None for stock in job.stocks]
    if all(none or stock.cost == 0 for none, stock in zip(few, job.stocks, strict=True)):
        return [stock.copies for stock in job.stocks]
    return [0 if none else stock.copies for none, stock in zip(few, job.stocks, strict=True)]


def _varied(table: _Table, filler: Filler, rounds: int) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """Our own layouts with varied tastes. Kinds that came last weigh more the next time."""
    job = table.job
    dice = Random(1)
    worth = [1.0] * len(job.kinds)
    for number in range(rounds):
        if table.done:
            return
        first = (RIP, CROSSCUT, None)[number % 3]
        taste = Taste(worth, 0.1 + 0.5 * dice.random(), first, dice.choice((0.0, 0.0, 0.15)), 0.3, dice)
        best = table.best
        ceiling = float(best.score.cost) if best is not None and best.score.unplaced == 0 else None
        sheets = construct(filler, taste, ceiling)
        if not sheets:
            worth = [1.0 if dice.random() < 0.1 else w for w in worth]
        else:
            worth = _weighed(job, worth, sheets)
        yield "strips varied", 0.6 + 0.15 * number / rounds, sheets


def _reworked(
    table: _Table, filler: Filler, effort: int, rounds: int
) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """The best layout with one to three of its sheets laid out anew, in strips that other sheets have too."""
    job = table.job
    dice = Random(2)
    spent = 0
    for _ in range(rounds):
        if spent >= effort or table.best is None or table.done:
            return
        sheets = list(table.best.sheets)
        number = min(len(sheets), dice.choice((1, 1, 2, 2, 3)))
        chosen = set(dice.sample(range(len(sheets)), number))
        kept = [sheet for index, sheet in enumerate(sheets) if index not in chosen]
        some, copies = [0] * len(job.kinds), [0] * len(job.stocks)
        for index in chosen:
            copies[sheets[index].stock] += 1
            for node in sheets[index].nodes:
                for blank in blanks_of(node) if node is not None else ():
                    some[blank.kind] += 1
        liked = frozenset(label for sheet in kept for node in sheet.nodes if node for c in chains(node) for label in c)
        worth = [0.9 + 0.2 * dice.random() for _ in job.kinds]
        first = dice.choice((RIP, CROSSCUT, None))
        taste = Taste(worth, 0.6 * dice.random(), first, dice.choice((0.0, 0.0, 0.15)), 0.0, dice, liked)
        spent += sum(some) + 5
        new = construct(filler, taste, None, some, copies)
        yield "sheets reworked", 0.75 + 0.25 * min(1.0, spent / effort), None if new is None else kept + new


def _weighed(job: Job, worth: list[float], sheets: list[Begun]) -> list[float]:
    """More weight for the kinds on the last sheet, which is the one to save."""
    last = {blank.kind for node in sheets[-1].nodes if node is not None for blank in blanks_of(node)}
    return [min(1.5, w * 1.04) if kind in last else max(0.8, w * 0.99) for kind, w in enumerate(worth)]
