"""Layouts in which blanks that must be of one thickness come out of one sheet each group."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from storystick.layout.sheets.engine import TREE, Asking, ask, fill
from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import Job
from storystick.layout.sheets.tree import blanks_of

HEAVY = 1000.0
"""What a blank of a group is worth beside any other, where a sheet is filled with the whole group."""


def kept_together(job: Job, ways: Sequence[Asking]) -> Iterator[list[Begun]]:
    """A layout for each way of asking: a sheet for each group, filled up with others; what is left is cut as ever."""
    groups = sorted({kind.sheet_group for kind in job.kinds} - {""})
    for asking in ways if groups else ():
        left, used = job.counts, [0] * len(job.stocks)
        sheets = []
        for group in groups:
            sheet = _with_all(job, group, replace(asking, means=TREE), left, used)
            if sheet is not None:
                sheets.append(sheet)
                used[sheet.stock] += 1
                for kind in _kinds(sheet):
                    left[kind] -= 1
        most = [None if stock.copies is None else stock.copies - n for stock, n in zip(job.stocks, used, strict=True)]
        rest = ask(job, asking, 0, left, most) if any(left) else []
        if sheets and (rest or not any(left)):
            yield sheets + rest


def _with_all(job: Job, group: str, asking: Asking, left: Sequence[int], used: Sequence[int]) -> Begun | None:
    """The cheapest sheet that holds a whole group; None, if none does."""
    own = [kind.sheet_group == group for kind in job.kinds]
    worth = [float(kind.area) * (HEAVY if mine else 1.0) for kind, mine in zip(job.kinds, own, strict=True)]
    there = [0 if kind.sheet_group not in ("", group) else n for kind, n in zip(job.kinds, left, strict=True)]
    wanted = sum(n for n, mine in zip(left, own, strict=True) if mine)
    for number in sorted(range(len(job.stocks)), key=lambda n: (job.stocks[n].cost, n)):
        most = job.stocks[number].copies
        if most is not None and used[number] >= most:
            continue
        sheet = fill(job, number, asking, there, worth)
        if sheet is not None and sum(own[kind] for kind in _kinds(sheet)) == wanted:
            return sheet
    return None


def _kinds(sheet: Begun) -> list[int]:
    return [blank.kind for node in sheet.nodes if node is not None for blank in blanks_of(node)]
