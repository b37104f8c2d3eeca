"""A whole answer before it is written out: which sheets are begun on how, and what each clear region is cut into."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, Limits, SheetProblem
from storystick.layout.sheets.settings import in_turn
from storystick.layout.sheets.tree import Label, Node, blanks_of, chains, enlarge, room, settle, strip_open
from storystick.model.cutting import units_up


@dataclass(frozen=True, slots=True)
class Begun:
    """One sheet: which stock, which of its kits, and a node for each region (None: nothing is cut from it)."""

    stock: int
    kit: int
    nodes: tuple[Node | None, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Sheets in order. Regions' nodes are as large as what hangs on to the regions' far edges allows."""

    sheets: tuple[Begun, ...]

    @property
    def nodes(self) -> tuple[Node, ...]:
        """All regions that something is cut from."""
        return tuple(node for sheet in self.sheets for node in sheet.nodes if node is not None)


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """How good a plan is: smaller is better, the first entry first."""

    unplaced: int
    broken_rules: int
    cost: Fraction
    settings: int
    leftover: int
    sheets: int


@dataclass(frozen=True, slots=True)
class Judged:
    """A plan with its score and the list of settings that serves it."""

    plan: Plan
    score: Score
    turns: tuple[Label, ...]


def finish(job: Job, sheets: Sequence[Begun]) -> Plan:
    """A search's answer made ready: strips opened, stock beyond the regions' edges hung on, free choices settled."""
    done = []
    for sheet in sheets:
        regions = job.stocks[sheet.stock].kits[sheet.kit].regions
        nodes = []
        for node, region in zip(sheet.nodes, regions, strict=True):
            if node is not None:
                node = strip_open(node, job.kinds, job.kerf)
                node = enlarge(node, CROSSCUT, region.area.long + region.spare_long)
                node = enlarge(node, RIP, region.area.wide + region.spare_wide)
                node = settle(node, job)
            nodes.append(node)
        if any(node is not None for node in nodes):
            done.append(Begun(sheet.stock, sheet.kit, tuple(nodes)))
    return Plan(tuple(done))


def judge(job: Job, problem: SheetProblem, sheets: Sequence[Begun], tries: int = 30) -> Judged:
    """A search's answer, made ready and scored."""
    plan = finish(job, sheets)
    turns = in_turn((chain for node in plan.nodes for chain in chains(node)), tries)
    placed = sum(1 for node in plan.nodes for _ in blanks_of(node))
    wanted = sum(len(kind.keys) * max(1, len(kind.members)) for kind in job.kinds)
    score = Score(
        wanted - placed,
        _over_limits(plan, problem.limits) + _parted_groups(job, plan),
        cost_of(job, sheets),
        len(turns),
        -best_leftover(job, plan, problem),
        len(plan.sheets),
    )
    return Judged(plan, score, turns)


def cost_of(job: Job, sheets: Sequence[Begun]) -> Fraction:
    """What the sheets cost that have to be bought."""
    return sum((job.stocks[sheet.stock].cost for sheet in sheets), Fraction(0))


def best_leftover(job: Job, plan: Plan, problem: SheetProblem) -> int:
    """Area of the largest leftover worth keeping [square units]."""
    keep = sorted((units_up(problem.keep_long), units_up(problem.keep_wide)))
    best = 0
    for sheet in plan.sheets:
        regions = job.stocks[sheet.stock].kits[sheet.kit].regions
        for node, region in zip(sheet.nodes, regions, strict=True):
            sizes = _wastes(node, job.kerf) if node else [(region.area.long, region.area.wide)]
            for size in sizes:
                low, high = sorted(size)
                if low >= keep[0] and high >= keep[1]:
                    best = max(best, low * high)
    return best


def _wastes(node: Node, kerf: int) -> Iterator[tuple[int, int]]:
    if not node.row:
        return
    left = room(node, kerf) - kerf
    if left > 0:
        yield (node.long, left) if node.way == RIP else (left, node.wide)
    for child in node.row:
        yield from _wastes(child, kerf)


def _over_limits(plan: Plan, limits: Limits) -> int:
    """How many cuts are too wide for the saw."""
    rip = units_up(limits.rip_capacity) if limits.rip_capacity is not None else None
    cross = units_up(limits.crosscut_capacity) if limits.crosscut_capacity is not None else None
    if rip is None and cross is None:
        return 0
    return sum(_too_wide(node, rip, cross) for node in plan.nodes)


def _too_wide(node: Node, rip: int | None, cross: int | None) -> int:
    own = 0
    if node.way == CROSSCUT and node.row and cross is not None and node.wide > cross:
        own = len(node.row)
    elif node.way == RIP and rip is not None:
        own = sum(1 for index, child in enumerate(node.row) if index != node.spare and child.wide > rip)
    return own + sum(_too_wide(child, rip, cross) for child in node.row)


def _parted_groups(job: Job, plan: Plan) -> int:
    """How many times blanks that belong on one sheet are on different ones."""
    groups: dict[str, set[int]] = {}
    for number, sheet in enumerate(plan.sheets):
        for node in sheet.nodes:
            for blank in blanks_of(node) if node else ():
                group = job.kinds[blank.kind].sheet_group
                if group:
                    groups.setdefault(group, set()).add(number)
    return sum(len(sheets) - 1 for sheets in groups.values())
