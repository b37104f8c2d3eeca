"""What is on the table during a search: the question, the best answer so far, and what there is to make others of."""

from fractions import Fraction

from storystick.layout.sheets.plan import Begun, Judge, Judged
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, SheetProblem
from storystick.layout.sheets.settings import fewest

SEEDS = 24
"""So many answers are kept as patterns to begin with."""


class Table:
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
