"""Looks for a good plan: ours and the engine's, judged by one measure. It is never trusted; `refute` looks after it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import least_cost
from storystick.layout.sheets.construct import Filler, Taste, construct
from storystick.layout.sheets.engine import DEEPER, FIRST, Asking, ask
from storystick.layout.sheets.plan import Begun, Judged, Plan, Score, judge
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, SheetProblem
from storystick.layout.sheets.settings import fewest
from storystick.layout.sheets.tree import blanks_of, chains

Tell = Callable[[str, float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to look. The engine's own bounds apply to each asking; a `stop` ends the search between two steps.

    rounds   our own constructions after the first few
    asking   ways of asking the engine
    deeper   slower ways, asked only where the cost is not shown to be least
    """

    rounds: int = 400
    asking: tuple[Asking, ...] = FIRST
    deeper: tuple[Asking, ...] = DEEPER


HASTY = Patience(0, (), ())
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
    best = table.best or Judged(Plan(()), Score(len(problem.blanks), 0, Fraction(0), 0, 0, 0), ())
    return Found(job, best, table.bound, table.tried)


class _Table:
    """What is on the table during a search: the question and the best answer so far."""

    def __init__(self, job: Job, problem: SheetProblem, bound: Fraction) -> None:
        self.job, self.problem, self.bound = job, problem, bound
        self.best: Judged | None = None
        self.tried = 0

    def offer(self, sheets: list[Begun]) -> None:
        """Look at another answer, and keep it if it is better."""
        self.tried += 1
        new = judge(self.job, self.problem, sheets)
        if self.best is None or new.score < self.best.score:
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
        different = fewest(chain for node in self.best.plan.nodes for chain in chains(node))
        return len(self.best.turns) == different <= len(_needed(self.job))


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
    kits = max((len(stock.kits) for stock in job.stocks), default=1)
    steps = [(asking, kit) for asking in patience.asking for kit in range(min(kits, 2))]
    for number, (asking, kit) in enumerate(steps):
        yield asking.name, 0.05 + 0.4 * number / len(steps), ask(job, asking, kit)
    for asking in patience.deeper:
        if not table.cheapest and len(job.kinds) > 1:
            yield asking.name, 0.5, ask(job, asking)
    yield from _varied(table, filler, patience.rounds)


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
        yield "strips varied", 0.5 + 0.5 * number / rounds, sheets


def _weighed(job: Job, worth: list[float], sheets: list[Begun]) -> list[float]:
    """More weight for the kinds on the last sheet, which is the one to save."""
    last = {blank.kind for node in sheets[-1].nodes if node is not None for blank in blanks_of(node)}
    return [min(1.5, w * 1.04) if kind in last else max(0.8, w * 0.99) for kind, w in enumerate(worth)]
