"""Layouts by the packingsolver library, asked in several ways, each bounded by steps and not by time where it can be.

The library may raise, stop early or leave blanks out; then there is simply no layout from that way of asking.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from storystick.layout.sheets.plan import Begun
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job
from storystick.layout.sheets.tree import Node, Placed, taken_apart


@dataclass(frozen=True, slots=True)
class Asking:
    """One way of asking.

    stages   how many times the way of the cuts may change, the first included; 0: as often as wanted
    cut      "NonExact" (a blank may be trimmed once more after the last stage) or "Exact"
    first    "Horizontal" (rips first), "Vertical" (crosscuts first) or "Any"
    means    the library's switches: name and value; queues are made narrower where there are many blanks
    seconds  for the worst case only: the narrow queues end the library's search long before
    """

    name: str
    stages: int
    cut: str
    first: str
    means: tuple[tuple[str, int], ...]
    seconds: float = 20.0

    @property
    def slow(self) -> bool:
        """True for ways that take much longer where there are many blanks."""
        return self.means == HALVING


WITH_FEW = 1.5
"""With a stock of which there are few, beside others, the library may go on without end: so many seconds are enough."""

USUAL_NUMBER = 60
"""So many blanks are searched with queues of full width."""

TREE = (("use_tree_search", 1), ("not_anytime_tree_search_queue_size", 64))
FEW_WORTHS = (
    ("use_sequential_value_correction", 1),
    ("not_anytime_sequential_value_correction_number_of_iterations", 2),
    ("sequential_value_correction_subproblem_tree_search_queue_size", 8),
)
WORTH = (
    ("use_sequential_value_correction", 1),
    ("not_anytime_sequential_value_correction_number_of_iterations", 4),
    ("sequential_value_correction_subproblem_tree_search_queue_size", 32),
)
HALVING = (
    ("use_dichotomic_search", 1),
    ("not_anytime_dichotomic_search_subproblem_tree_search_queue_size", 8),
)
FIRST = (
    Asking("rips first, three stages, by worth", 3, "NonExact", "Horizontal", WORTH),
    Asking("crosscuts first, three stages, by worth", 3, "NonExact", "Vertical", WORTH),
    Asking("rips first, three stages", 3, "NonExact", "Horizontal", TREE),
    Asking("rips first, two stages", 2, "NonExact", "Horizontal", TREE),
    Asking("rips first, two stages, exact", 2, "Exact", "Horizontal", TREE),
    Asking("crosscuts first, three stages", 3, "NonExact", "Vertical", TREE),
    Asking("crosscuts first, two stages", 2, "NonExact", "Vertical", TREE),
    Asking("any stages", 0, "NonExact", "Any", TREE),
)
"""Quick askings for sheets of one size, some tenths of a second each at most."""

SEVERAL = (
    Asking("rips first, three stages, by halving", 3, "NonExact", "Horizontal", HALVING),
    Asking("crosscuts first, three stages, by halving", 3, "NonExact", "Vertical", HALVING),
    Asking("rips first, two stages, by halving", 2, "NonExact", "Horizontal", HALVING),
    Asking("any stages, by halving", 0, "NonExact", "Any", HALVING),
    Asking("rips first, three stages, by worth", 3, "NonExact", "Horizontal", FEW_WORTHS),
    Asking("crosscuts first, three stages, by worth", 3, "NonExact", "Vertical", FEW_WORTHS),
)
"""Quick askings for sheets of several sizes, where the library knows other ways."""


COLUMNS = (("use_column_generation", 1), ("column_generation_subproblem_tree_search_queue_size", 32))
WIDE_COLUMNS = (("use_column_generation", 1), ("column_generation_subproblem_tree_search_queue_size", 256))
STRIPS = (("use_column_generation_strips", 1),)
SHEET_AFTER_SHEET = (("use_sequential_single_knapsack", 1),)
MANY_WORTHS = (
    ("use_sequential_value_correction", 1),
    ("not_anytime_sequential_value_correction_number_of_iterations", 32),
    ("sequential_value_correction_subproblem_tree_search_queue_size", 64),
)
WIDE_TREE = (("use_tree_search", 1), ("not_anytime_tree_search_queue_size", 1024))
THOROUGH = (
    Asking("rips first, three stages, many worths", 3, "NonExact", "Horizontal", MANY_WORTHS),
    Asking("crosscuts first, three stages, sheet after sheet", 3, "NonExact", "Vertical", SHEET_AFTER_SHEET),
    Asking("crosscuts first, three stages, columns", 3, "NonExact", "Vertical", COLUMNS, 60.0),
    Asking("rips first, three stages, columns of strips", 3, "NonExact", "Horizontal", STRIPS),
    Asking("rips first, three stages, wide columns", 3, "NonExact", "Horizontal", WIDE_COLUMNS, 90.0),
    Asking("crosscuts first, three stages, columns of strips", 3, "NonExact", "Vertical", STRIPS),
    Asking("crosscuts first, three stages, wide", 3, "NonExact", "Vertical", WIDE_TREE),
    Asking("rips first, three stages, wide", 3, "NonExact", "Horizontal", WIDE_TREE),
)
"""Slow askings, some seconds each, for when the cost is not shown to be the least.

Only here can the clock bind (the library bounds its columns by seconds alone), so only a patient search uses them.
"""


def ask(
    job: Job,
    asking: Asking,
    kit: int = 0,
    some: Sequence[int] | None = None,
    copies: Sequence[int | None] | None = None,
) -> list[Begun]:
    """Sheets that the library fills, by one way of asking; empty if it has no whole answer.

    kit     which of each stock's kits is used (the last one, where a stock has fewer)
    some    how many of each kind, if not all
    copies  how many of each stock there are, if not as many as the job says
    """
    counts = job.counts if some is None else some
    most = [stock.copies for stock in job.stocks] if copies is None else copies
    slots = [slot for slot in _slots(job, kit) if most[slot.stock] != 0]
    if not slots or not any(counts):
        return []
    try:
        placed = _read(job, counts, _optimize(job, slots, asking, counts, most))
    except (RuntimeError, ValueError, TypeError, IndexError):
        return []
    if sum(len(blanks) for _, blanks in placed) != sum(counts):
        return []
    return _gathered(job, slots, placed, most, RIP if asking.first == "Horizontal" else CROSSCUT)


def fill(job: Job, stock: int, asking: Asking, counts: Sequence[int], worth: Sequence[float]) -> Begun | None:
    """One sheet filled so that the worth of the blanks on it is as large as the library finds; None if it finds none.

    counts, worth   for each kind: how many may be taken, and what one is worth
    """
    slots = [slot for slot in _slots(job, 0) if slot.stock == stock]
    there = map(min, counts, job.on_one)
    wanted = [count if value > 0 else 0 for count, value in zip(there, worth, strict=True)]
    if not slots or not any(wanted):
        return None
    one = [1] * len(job.stocks)
    try:
        placed = _read(job, wanted, _optimize(job, slots, asking, wanted, one, worth))
    except (RuntimeError, ValueError, TypeError, IndexError):
        return None
    if any(number > wanted[kind] for kind, number in _tally(placed).items()):
        return None
    sheets = _gathered(job, slots, placed, one, RIP if asking.first == "Horizontal" else CROSSCUT)
    return sheets[0] if len(sheets) == 1 else None


def _tally(placed: Sequence[tuple[int, list[Placed]]]) -> Counter[int]:
    return Counter(blank.kind for _, blanks in placed for blank in blanks)


@dataclass(frozen=True, slots=True)
class _Slot:
    stock: int
    kit: int
    region: int
    share: Fraction


def _slots(job: Job, kit: int) -> list[_Slot]:
    slots = []
    for number, stock in enumerate(job.stocks):
        which = min(kit, len(stock.kits) - 1)
        regions = stock.kits[which].regions
        total = sum(r.area.long * r.area.wide for r in regions)
        for index, region in enumerate(regions):
            share = max(stock.cost, nearly_nothing(job)) * region.area.long * region.area.wide / total
            slots.append(_Slot(number, which, index, share))
    return slots


def nearly_nothing(job: Job) -> Fraction:
    """What stock on hand is said to cost, since the library takes no price of nothing."""
    return min((stock.cost for stock in job.stocks if stock.cost > 0), default=Fraction(1)) / 1000


def _optimize(
    job: Job,
    slots: Sequence[_Slot],
    asking: Asking,
    counts: Sequence[int],
    most: Sequence[int | None],
    worth: Sequence[float] | None = None,
) -> Any:
    import packingsolver.rectangleguillotine as library

    builder = library.InstanceBuilder()
    objective = library.Objective
    several = objective.VariableSizedBinPacking if len(slots) > 1 else objective.BinPacking
    builder.set_objective(several if worth is None else objective.Knapsack)
    if asking.stages:
        builder.set_number_of_stages(asking.stages)
    else:
        builder.set_number_of_stages_unlimited()
    builder.set_cut_type(getattr(library.CutType, asking.cut))
    builder.set_first_stage_orientation(getattr(library.CutOrientation, asking.first))
    builder.set_cut_thickness(job.kerf)
    number = sum(counts)
    for slot in slots:
        area = job.stocks[slot.stock].kits[slot.kit].regions[slot.region].area
        there = most[slot.stock]
        copies = number if there is None else min(there, number)
        builder.add_bin_type(area.long, area.wide, cost=float(slot.share), copies=copies)
    for index in _asked(counts):
        fit = job.kinds[index].fits[0]
        fixed = len(job.kinds[index].fits) == 1 and fit.long != fit.wide
        gain = {} if worth is None else {"profit": worth[index]}
        builder.add_item_type(fit.long, fit.wide, copies=counts[index], oriented=fixed, **gain)
    parameters = library.OptimizeParameters()
    parameters.messages_to_stdout = False
    parameters.verbosity_level = 0
    few = any(most[slot.stock] is not None for slot in slots) and len(slots) > 1
    parameters.time_limit = min(asking.seconds, WITH_FEW) if few and worth is None else asking.seconds
    parameters.optimization_mode = library.OptimizationMode.NotAnytimeSequential
    for name, value in asking.means:
        setattr(parameters, name, bool(value) if name.startswith("use_") else _narrowed(name, value, counts))
    return library.optimize(builder.build(), parameters).solution


def _narrowed(name: str, value: int, counts: Sequence[int]) -> int:
    """A switch's value; the width of a queue is made less in the measure that there are many blanks."""
    return max(4, value * USUAL_NUMBER // max(USUAL_NUMBER, sum(counts))) if name.endswith("queue_size") else value


def _asked(counts: Sequence[int]) -> list[int]:
    """The kinds that the library is told of, in order."""
    return [index for index, count in enumerate(counts) if count]


def _read(job: Job, counts: Sequence[int], found: Any) -> list[tuple[int, list[Placed]]]:
    """The bins the library filled: number of the slot, and the blanks at their places."""
    told = _asked(counts)
    bins = []
    for position in range(found.number_of_different_bins()):
        one = found.bin(position)
        blanks = []
        for node in one.nodes:
            # The first node is the bin itself; a bin's own number stands where a blank's would.
            if node.d < 1 or node.item_type_id < 0 or node.children:
                continue
            long, wide = node.r - node.l, node.t - node.b
            kind = told[node.item_type_id]
            fits = [fit for fit in job.kinds[kind].fits if (fit.long, fit.wide) == (long, wide)]
            if not fits:
                raise ValueError("a blank came back in another size")
            blanks.append(Placed(node.l, node.b, long, wide, kind, fits[0].turned))
        if blanks:
            bins.extend([(one.bin_type_id, blanks)] * one.copies)
    return bins


def _gathered(
    job: Job,
    slots: Sequence[_Slot],
    placed: Sequence[tuple[int, list[Placed]]],
    most: Sequence[int | None],
    first: int,
) -> list[Begun]:
    """Regions put together to sheets."""
    nodes: dict[int, dict[int, list[Node]]] = {}
    for number, blanks in placed:
        slot = slots[number]
        area = job.stocks[slot.stock].kits[slot.kit].regions[slot.region].area
        if any(b.x < 0 or b.y < 0 or b.x + b.long > area.long or b.y + b.wide > area.wide for b in blanks):
            return []
        node = taken_apart(blanks, area.long, area.wide, job.kerf, first)
        if node is None:
            return []
        nodes.setdefault(slot.stock, {}).setdefault(slot.region, []).append(node)
    sheets = []
    for stock, filled in sorted(nodes.items()):
        which = next(slot.kit for slot in slots if slot.stock == stock)
        regions, copies = len(job.stocks[stock].kits[which].regions), max(len(row) for row in filled.values())
        there = most[stock]
        if there is not None and copies > there:
            return []
        for copy in range(copies):
            row = tuple(filled[r][copy] if copy < len(filled.get(r, ())) else None for r in range(regions))
            sheets.append(Begun(stock, which, row))
    return sheets
