"""Our own layouts again and again: with other tastes, or the best one with some of its sheets laid out anew."""

from collections.abc import Iterator
from random import Random

from storystick.layout.sheets.construct import Filler, Taste, construct
from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job
from storystick.layout.sheets.table import Table
from storystick.layout.sheets.tree import blanks_of, chains


def varied(table: Table, filler: Filler, rounds: int) -> Iterator[tuple[str, float, list[Begun] | None]]:
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


def reworked(table: Table, filler: Filler, effort: int, rounds: int) -> Iterator[tuple[str, float, list[Begun] | None]]:
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
