"""What is on hand is used before anything is bought: which stocks there are, and layouts that fill these first."""

from collections.abc import Sequence
from dataclasses import replace

from storystick.layout.sheets.engine import TREE, Asking, ask, fill
from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import Job
from storystick.layout.sheets.tree import blanks_of


def slots(job: Job, paid: bool) -> int:
    """How many different regions there are to fill; only of stock to be bought, if `paid`."""
    return sum(len(kit.regions) for stock in job.stocks for kit in stock.kits[:1] if stock.cost > 0 or not paid)


def on_hand_first(job: Job, asking: Asking, kit: int, most: Sequence[int | None]) -> list[Begun]:
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
    rest = ask(job, asking, kit, left, to_buy(job, most))
    return sheets + rest if rest or not any(left) else []


def to_buy(job: Job, most: Sequence[int | None]) -> list[int | None]:
    """How many there are of each stock, without what is on hand."""
    return [0 if stock.cost == 0 else number for stock, number in zip(job.stocks, most, strict=True)]


def endless(job: Job) -> list[int | None]:
    """How many there are of each stock, without those that cost and are few; all, if there are no others."""
    few = [stock.cost > 0 and stock.copies is not None for stock in job.stocks]
    if all(none or stock.cost == 0 for none, stock in zip(few, job.stocks, strict=True)):
        return [stock.copies for stock in job.stocks]
    return [0 if none else stock.copies for none, stock in zip(few, job.stocks, strict=True)]
