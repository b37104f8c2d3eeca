"""Looks for a good way to cut sticks: the fullest stick first, in several tastes, and a library's answers."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import least_cost
from storystick.layout.sheets.engine import nearly_nothing
from storystick.layout.sheets.plan import Begun, Judge, Judged
from storystick.layout.sheets.problem import CROSSCUT, Job, Region
from storystick.layout.sheets.search import NOTHING, Found, Stop, Tell
from storystick.layout.sheets.tree import Node
from storystick.layout.strips.problem import StripProblem, as_sheets

MOST_SUMS = 3000

FEW_KINDS = 20
"""With more different lengths than these, fewer rounds are made: each takes longer."""


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to look: our own rounds, and the seconds that the library has at most for each asking."""

    rounds: int = 60
    seconds: float = 1.5


HASTY = Patience(0, 0.0)
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
    for share, answer in _answers(job, patience) if job.kinds else ():
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


def _answers(job: Job, patience: Patience) -> Iterator[tuple[float, list[Begun]]]:
    even = [1.0] * len(job.kinds)
    yield 0.1, _fullest_first(job, even, Random(0), skip=0.0)
    for number, means in enumerate(("use_sequential_value_correction", "use_column_generation")):
        if patience.seconds > 0:
            yield 0.2 + 0.1 * number, _asked(job, means, patience.seconds)
    dice = Random(1)
    rounds = patience.rounds * FEW_KINDS**2 // max(FEW_KINDS, len(job.kinds)) ** 2
    for number in range(rounds):
        worth = [1 + 0.2 * dice.random() for _ in job.kinds]
        yield 0.5 + 0.5 * number / rounds, _fullest_first(job, worth, dice, skip=0.3)


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


def _asked(job: Job, means: str, seconds: float) -> list[Begun]:
    """The library's answer; empty if it has none. It knows no kerf: blanks and sticks are each one kerf longer."""
    if any(len(stock.kits[0].regions) != 1 for stock in job.stocks):
        return []
    try:
        found = _optimize(job, means, seconds)
        sticks = []
        for position in range(found.number_of_different_bins()):
            one = found.bin(position)
            kinds = [item.item_type_id for item in one.items]
            region = job.stocks[one.bin_type_id].kits[0].regions[0]
            sticks.extend([Begun(one.bin_type_id, 0, (_row(job, region, kinds),))] * one.copies)
    except (RuntimeError, ValueError, TypeError, IndexError):
        return []
    placed = sum(len(node.row) or 1 for stick in sticks for node in stick.nodes if node is not None)
    return sticks if placed == sum(job.counts) else []


def _optimize(job: Job, means: str, seconds: float) -> Any:
    import packingsolver.onedimensional as library

    builder = library.InstanceBuilder()
    several = len(job.stocks) > 1
    builder.set_objective(
        library.Objective.VariableSizedBinPacking if several else library.Objective.BinPacking
    )
    number = sum(job.counts)
    for stock in job.stocks:
        copies = number if stock.copies is None else min(stock.copies, number)
        length = stock.kits[0].regions[0].area.long
        builder.add_bin_type(length + job.kerf, cost=float(max(stock.cost, nearly_nothing(job))), copies=copies)
    for kind in job.kinds:
        builder.add_item_type(kind.fits[0].long + job.kerf, copies=len(kind.keys))
    parameters = library.OptimizeParameters()
    parameters.messages_to_stdout = False
    parameters.verbosity_level = 0
    parameters.time_limit = seconds
    parameters.optimization_mode = library.OptimizationMode.NotAnytimeSequential
    setattr(parameters, means, True)
    return library.optimize(builder.build(), parameters).solution
