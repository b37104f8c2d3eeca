"""Layouts by the packingsolver library, asked in several ways, each bounded by steps and not by time where it can be.

The library may raise, stop early or leave blanks out; then there is simply no layout from that way of asking.
"""

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
    means    the library's switches: name and value
    """

    name: str
    stages: int
    cut: str
    first: str
    means: tuple[tuple[str, int], ...]
    seconds: float = 2.0


TREE = (("use_tree_search", 1), ("not_anytime_tree_search_queue_size", 64))
WORTH = (
    ("use_sequential_value_correction", 1),
    ("not_anytime_sequential_value_correction_number_of_iterations", 4),
    ("sequential_value_correction_subproblem_tree_search_queue_size", 32),
)
HALVING = (
    ("use_dichotomic_search", 1),
    ("not_anytime_dichotomic_search_subproblem_tree_search_queue_size", 32),
)
PATTERNS = (("use_column_generation", 1), ("column_generation_subproblem_tree_search_queue_size", 32))

FIRST = (
    Asking("rips first, three stages, by worth", 3, "NonExact", "Horizontal", WORTH, 1.0),
    Asking("crosscuts first, three stages, by worth", 3, "NonExact", "Vertical", WORTH, 1.0),
    Asking("rips first, three stages", 3, "NonExact", "Horizontal", TREE),
    Asking("rips first, two stages", 2, "NonExact", "Horizontal", TREE),
    Asking("rips first, two stages, exact", 2, "Exact", "Horizontal", TREE),
    Asking("crosscuts first, three stages", 3, "NonExact", "Vertical", TREE),
    Asking("crosscuts first, two stages", 2, "NonExact", "Vertical", TREE),
    Asking("any stages", 0, "NonExact", "Any", TREE),
)
"""Quick askings for sheets of one size, some tenths of a second each at most."""

SEVERAL = (
    Asking("rips first, three stages, by halving", 3, "NonExact", "Horizontal", HALVING, 1.0),
    Asking("crosscuts first, three stages, by halving", 3, "NonExact", "Vertical", HALVING, 1.0),
    Asking("rips first, two stages, by halving", 2, "NonExact", "Horizontal", HALVING, 1.0),
    Asking("any stages, by halving", 0, "NonExact", "Any", HALVING, 1.0),
    *FIRST[:2],
)
"""Quick askings for sheets of several sizes, where the library knows other ways."""

DEEPER = (
    Asking("rips first, three stages, by patterns", 3, "NonExact", "Horizontal", PATTERNS, 0.8),
    Asking("crosscuts first, three stages, by patterns", 3, "NonExact", "Vertical", PATTERNS, 0.8),
)
"""Slower ones for sheets of one size, for when the cost is not shown to be least."""

DEEPER_SEVERAL = (
    Asking("rips first, two stages, all ways", 2, "NonExact", "Horizontal", (), 1.2),
    Asking("crosscuts first, three stages, all ways", 3, "NonExact", "Vertical", (), 1.2),
)
"""Slower ones for sheets of several sizes."""


def ask(job: Job, asking: Asking, kit: int = 0) -> list[Begun]:
    """Sheets that the library fills, by one way of asking; empty if it has no whole answer.

    kit  which of each stock's kits is used (the last one, where a stock has fewer)
    """
    slots = _slots(job, kit)
    if not slots or not job.kinds:
        return []
    try:
        found = _optimize(job, slots, asking)
        placed = _read(job, found)
    except (RuntimeError, ValueError, TypeError, IndexError):
        return []
    if sum(len(blanks) for _, blanks in placed) != sum(job.counts):
        return []
    return _gathered(job, slots, placed, RIP if asking.first == "Horizontal" else CROSSCUT)


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


def _optimize(job: Job, slots: Sequence[_Slot], asking: Asking) -> Any:
    import packingsolver.rectangleguillotine as library

    builder = library.InstanceBuilder()
    objective = library.Objective
    builder.set_objective(objective.VariableSizedBinPacking if len(slots) > 1 else objective.BinPacking)
    if asking.stages:
        builder.set_number_of_stages(asking.stages)
    else:
        builder.set_number_of_stages_unlimited()
    builder.set_cut_type(getattr(library.CutType, asking.cut))
    builder.set_first_stage_orientation(getattr(library.CutOrientation, asking.first))
    builder.set_cut_thickness(job.kerf)
    number = sum(job.counts)
    for slot in slots:
        stock = job.stocks[slot.stock]
        area = stock.kits[slot.kit].regions[slot.region].area
        copies = number if stock.copies is None else min(stock.copies, number)
        builder.add_bin_type(area.long, area.wide, cost=float(slot.share), copies=copies)
    for kind in job.kinds:
        fit = kind.fits[0]
        fixed = len(kind.fits) == 1 and fit.long != fit.wide
        builder.add_item_type(fit.long, fit.wide, copies=len(kind.keys), oriented=fixed)
    parameters = library.OptimizeParameters()
    parameters.messages_to_stdout = False
    parameters.verbosity_level = 0
    parameters.time_limit = asking.seconds
    parameters.optimization_mode = library.OptimizationMode.NotAnytimeSequential
    for name, value in asking.means:
        setattr(parameters, name, bool(value) if name.startswith("use_") else value)
    return library.optimize(builder.build(), parameters).solution


def _read(job: Job, found: Any) -> list[tuple[int, list[Placed]]]:
    """The bins the library filled: number of the slot, and the blanks at their places."""
    bins = []
    for position in range(found.number_of_different_bins()):
        one = found.bin(position)
        blanks = []
        for node in one.nodes:
            # The first node is the bin itself; a bin's own number stands where a blank's would.
            if node.d < 1 or node.item_type_id < 0 or node.children:
                continue
            long, wide = node.r - node.l, node.t - node.b
            fits = [fit for fit in job.kinds[node.item_type_id].fits if (fit.long, fit.wide) == (long, wide)]
            if not fits:
                raise ValueError("a blank came back in another size")
            blanks.append(Placed(node.l, node.b, long, wide, node.item_type_id, fits[0].turned))
        if blanks:
            bins.extend([(one.bin_type_id, blanks)] * one.copies)
    return bins


def _gathered(job: Job, slots: Sequence[_Slot], placed: Sequence[tuple[int, list[Placed]]], first: int) -> list[Begun]:
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
        if copies > (job.stocks[stock].copies or copies):
            return []
        for copy in range(copies):
            row = tuple(filled[r][copy] if copy < len(filled.get(r, ())) else None for r in range(regions))
            sheets.append(Begun(stock, which, row))
    return sheets
