"""A whole answer before it is written out: which sheets are begun on how, and what each clear region is cut into."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, Limits, SheetProblem
from storystick.layout.sheets.settings import Chain, fewest, in_turn, telling
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

    @property
    def chains(self) -> tuple[Chain, ...]:
        """The settings that each last piece asks for."""
        return tuple(chain for node in self.nodes for chain in chains(node))


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """How good a plan is: smaller is better, the first entry first."""

    unplaced: int
    broken_rules: int
    cost: Fraction
    sheets: int
    settings: int
    leftover: int


@dataclass(frozen=True, slots=True)
class Judged:
    """A plan with its score, the list of settings that serves it, and the search's answer it was made of."""

    plan: Plan
    score: Score
    turns: tuple[Label, ...]
    sheets: tuple[Begun, ...] = ()


@dataclass(frozen=True, slots=True)
class _Seen:
    """What is known of one sheet, whatever the others are."""

    raw: Begun
    ready: Begun
    chains: tuple[Chain, ...]
    placed: int
    over: int
    leftover: int
    groups: frozenset[str]


class Judge:
    """Scores a search's answers for one job. A sheet seen before is not looked at again."""

    def __init__(self, job: Job, problem: SheetProblem) -> None:
        self.job, self.problem = job, problem
        self.wanted = sum(len(kind.keys) * max(1, len(kind.members)) for kind in job.kinds)
        self.keep = tuple(sorted((units_up(problem.keep_long), units_up(problem.keep_wide))))
        self.known: dict[int, _Seen] = {}

    def judge(self, sheets: Sequence[Begun], best: Score | None = None, width: int = 2) -> Judged | None:
        """An answer made ready and scored; None as soon as it is plain that it is no better than `best`."""
        seen = [self._seen(sheet) for sheet in sheets]
        groups = Counter(group for one in seen for group in one.groups)
        unplaced = self.wanted - sum(one.placed for one in seen)
        broken = sum(one.over for one in seen) + sum(times - 1 for times in groups.values())
        cost = sum((self.job.stocks[sheet.stock].cost for sheet in sheets), Fraction(0))
        count = sum(1 for s in sheets if not self.problem.rack_first or self.job.stocks[s.stock].cost > 0)
        leftover = -max((one.leftover for one in seen), default=0)
        told = telling(chain for one in seen for chain in one.chains)
        least = Score(unplaced, broken, cost, count, fewest(told), leftover)
        if best is not None and not least < best:
            return None
        turns = in_turn(told, width)
        plan = Plan(tuple(one.ready for one in seen if any(node is not None for node in one.ready.nodes)))
        score = Score(unplaced, broken, cost, count, len(turns), leftover)
        return Judged(plan, score, turns, tuple(sheets))

    def _seen(self, sheet: Begun) -> _Seen:
        # Known by identity: sheets are never changed, and the record keeps them alive.
        if id(sheet) not in self.known:
            if len(self.known) > 20000:
                self.known.clear()
            self.known[id(sheet)] = self._look(sheet)
        return self.known[id(sheet)]

    def _look(self, sheet: Begun) -> _Seen:
        ready = finish(self.job, sheet)
        nodes = [node for node in ready.nodes if node is not None]
        blanks = [blank for node in nodes for blank in blanks_of(node)]
        groups = frozenset(self.job.kinds[blank.kind].sheet_group for blank in blanks) - {""}
        told = telling(chain for node in nodes for chain in chains(node))
        over = _over_limits(nodes, self.problem.limits)
        return _Seen(sheet, ready, tuple(told), len(blanks), over, self._leftover(ready), groups)

    def _leftover(self, sheet: Begun) -> int:
        """Area of the largest leftover worth keeping [square units]."""
        regions = self.job.stocks[sheet.stock].kits[sheet.kit].regions
        best = 0
        for node, region in zip(sheet.nodes, regions, strict=True):
            for size in _wastes(node, self.job.kerf) if node else [(region.area.long, region.area.wide)]:
                low, high = sorted(size)
                if low >= self.keep[0] and high >= self.keep[1]:
                    best = max(best, low * high)
        return best


def finish(job: Job, sheet: Begun) -> Begun:
    """A sheet made ready: strips opened, stock beyond the regions' edges hung on, free choices settled."""
    nodes = []
    for node, region in zip(sheet.nodes, job.stocks[sheet.stock].kits[sheet.kit].regions, strict=True):
        if node is not None:
            node = strip_open(node, job.kinds, job.kerf)
            node = enlarge(node, CROSSCUT, region.area.long + region.spare_long)
            node = enlarge(node, RIP, region.area.wide + region.spare_wide)
            node = settle(node, job)
        nodes.append(node)
    return Begun(sheet.stock, sheet.kit, tuple(nodes))


def _wastes(node: Node, kerf: int) -> Iterator[tuple[int, int]]:
    if not node.row:
        return
    left = room(node, kerf) - kerf
    if left > 0:
        yield (node.long, left) if node.way == RIP else (left, node.wide)
    for child in node.row:
        yield from _wastes(child, kerf)


def _over_limits(nodes: Sequence[Node], limits: Limits) -> int:
    """How many cuts are too wide for the saw."""
    rip = units_up(limits.rip_capacity) if limits.rip_capacity is not None else None
    cross = units_up(limits.crosscut_capacity) if limits.crosscut_capacity is not None else None
    if limits.by_line or (rip is None and cross is None):
        return 0
    return sum(_too_wide(node, rip, cross) for node in nodes)


def _too_wide(node: Node, rip: int | None, cross: int | None) -> int:
    own = 0
    if node.way == CROSSCUT and node.row and cross is not None and node.wide > cross:
        own = len(node.row)
    elif node.way == RIP and rip is not None:
        own = sum(1 for index, child in enumerate(node.row) if index != node.spare and child.wide > rip)
    return own + sum(_too_wide(child, rip, cross) for child in node.row)
