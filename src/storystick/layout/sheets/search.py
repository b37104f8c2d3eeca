"""Looks for a good plan: ours and the engine's, judged by one measure. It is never trusted; `refute` looks after it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import least_cost
from storystick.layout.sheets.construct import Filler, Taste, construct
from storystick.layout.sheets.engine import DEEPER, DEEPER_SEVERAL, FIRST, SEVERAL, Asking, ask
from storystick.layout.sheets.plan import Begun, Judge, Judged, Plan, Score
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, SheetProblem
from storystick.layout.sheets.settings import fewest, in_turn
from storystick.layout.sheets.tree import blanks_of, chains

Tell = Callable[[str, float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to look. The engine's own bounds apply to each asking; a `stop` ends the search between two steps.

    effort           how many blanks are placed, all in all, in our own constructions after the first few
    asking           ways of asking the engine, for sheets of one size
    several          ways of asking it for sheets of several sizes
    deeper           slower ways, asked only where the cost is not shown to be least, for sheets of one size
    deeper_several   the same for sheets of several sizes
    """

    effort: int = 16000
    asking: tuple[Asking, ...] = FIRST
    several: tuple[Asking, ...] = SEVERAL
    deeper: tuple[Asking, ...] = DEEPER
    deeper_several: tuple[Asking, ...] = DEEPER_SEVERAL


FINAL_WIDTH = 40
"""How hard the order of settings is looked for once the plan is chosen."""

NOTHING = Judged(Plan(()), Score(0, 0, Fraction(0), 0, 0, 0), ())
"""The answer where nothing can be cut."""

HASTY = Patience(0, (), (), (), ())
"""A first answer, in some tenths of a second."""

USUAL = Patience()
"""Some seconds for the parts of a piece of furniture."""


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
    """The best plan found: whole if the stock allows it, then cheapest, then fewest settings, then best leftover."""
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

    def offer(self, sheets: list[Begun]) -> None:
        """Look at another answer, and keep it if it is better."""
        self.tried += 1
        new = self.judge.judge(sheets, self.best.score if self.best is not None else None)
        if new is not None and (self.best is None or new.score < self.best.score):
            self.best = new

    @property
    def whole(self) -> bool:
        """True if all blanks are placed."""
        return self.best is not None and self.best.score.unplaced == 0

    @property
    def cheapest(self) -> bool:
        """True if no layout can cost less."""
        return self.best is not None and self.whole and self.best.score.cost <= self.bound

    @property
    def done(self) -> bool:
        """True if no layout can cost less or do with fewer settings than its blanks' sizes ask for."""
        if self.best is None or not self.cheapest or self.best.score.broken_rules:
            return False
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
    ways, deeper = (patience.asking, patience.deeper)
    if _slots(job) > 1:
        ways, deeper = (patience.several, patience.deeper_several)
    kits = max((len(stock.kits) for stock in job.stocks), default=1)
    steps = [(asking, kit) for asking in ways for kit in range(min(kits, 2))]
    for number, (asking, kit) in enumerate(steps):
        yield asking.name, 0.05 + 0.35 * number / len(steps), ask(job, asking, kit)
    for asking in deeper:
        if not table.cheapest and len(job.kinds) > 1:
            yield asking.name, 0.4, ask(job, asking)
    placings = sum(job.counts) * sum(len(stock.kits) for stock in job.stocks) or 1
    yield from _varied(table, filler, patience.effort // placings // 2)
    yield from _reworked(table, filler, patience.effort // 2)


def _slots(job: Job) -> int:
    return sum(len(kit.regions) for stock in job.stocks for kit in stock.kits[:1])


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
        yield "strips varied", 0.4 + 0.3 * number / rounds, sheets


def _reworked(table: _Table, filler: Filler, effort: int) -> Iterator[tuple[str, float, list[Begun] | None]]:
    """The best layout with one to three of its sheets laid out anew, in strips that other sheets have too."""
    job = table.job
    dice = Random(2)
    spent = 0
    while spent < effort and table.best is not None and not table.done:
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
        yield "sheets reworked", 0.7 + 0.3 * min(1.0, spent / effort), None if new is None else kept + new


def _weighed(job: Job, worth: list[float], sheets: list[Begun]) -> list[float]:
    """More weight for the kinds on the last sheet, which is the one to save."""
    last = {blank.kind for node in sheets[-1].nodes if node is not None for blank in blanks_of(node)}
    return [min(1.5, w * 1.04) if kind in last else max(0.8, w * 0.99) for kind, w in enumerate(worth)]
