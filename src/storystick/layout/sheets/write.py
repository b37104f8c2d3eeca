"""A plan written out: every cut with its number, place and setting, and every piece it leaves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from storystick.layout.sheets.plan import Plan
from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, SheetProblem, Split
from storystick.layout.sheets.sawn import Board, Rectangle, Saw
from storystick.layout.sheets.settings import in_turn
from storystick.layout.sheets.tree import Label, Node, blanks_of, chains
from storystick.model.cutting import Layout, Purpose, Way, from_units

WAYS = {CROSSCUT: Way.CROSSCUT, RIP: Way.RIP}

PASSES = 6
"""How many times cuts are held back further, where groups wait for one another."""

Hold = tuple[str, int, int]
"""Cuts that wait for one another: name of the blanks' group, way, size."""


@dataclass(slots=True)
class _Open:
    """A piece whose row is being cut off, with what is still in it."""

    node: Node
    rest: Rectangle
    waiting: list[int]


@dataclass(eq=False, slots=True)
class _Bench(Board):
    """One sheet on the bench."""

    open: list[_Open] = field(default_factory=list)


class _Writer:
    """Cuts, and gives blanks their names."""

    def __init__(self, job: Job, holds: dict[Hold, int]) -> None:
        self.job = job
        self.holds = holds
        self.seen: dict[Hold, set[int]] = {}
        self.kerf = from_units(job.kerf)
        self.saw = Saw()
        self.named = [0] * len(job.kinds)

    def name(self, node: Node, piece: Rectangle) -> None:
        """A piece has become a blank."""
        kind = self.job.kinds[node.kind]
        if node.member >= 0:
            piece.blank = kind.members[node.member].key
        else:
            piece.blank = kind.keys[self.named[node.kind]]
            self.named[node.kind] += 1
        piece.turned = node.turned


def write(problem: SheetProblem, job: Job, plan: Plan, turns: Sequence[Label]) -> Layout:
    """The plan as a layout: first the cuts along lines, sheet by sheet; then setting after setting over all sheets.

    Where blanks that belong to one setting would get their size at two, the earlier ones wait for the later ones,
    even if the fence has to be set once more for that.
    """
    holds: dict[Hold, int] = {}
    best: tuple[tuple[int, int], Layout] | None = None
    for _ in range(PASSES):
        layout, parted = _written(problem, job, plan, turns, holds)
        rank = (len(parted), len(layout.settings))
        if best is None or rank < best[0]:
            best = (rank, layout)
        if not parted:
            break
        holds = {**holds, **parted}
    assert best is not None
    return best[1]


def _written(
    problem: SheetProblem, job: Job, plan: Plan, turns: Sequence[Label], holds: dict[Hold, int]
) -> tuple[Layout, dict[Hold, int]]:
    """The layout with some cuts held back, and the cuts that still come at several turns: the last of these turns."""
    writer = _Writer(job, holds)
    benches = []
    copies: dict[int, int] = {}
    for begun in plan.sheets:
        sheet = problem.sheets[job.stocks[begun.stock].index]
        copies[begun.stock] = copies.get(begun.stock, 0) + 1
        bench = _Bench(sheet, copies[begun.stock])
        benches.append(bench)
        whole = writer.saw.piece(bench, Fraction(0), Fraction(0), sheet.long, sheet.wide)
        kit = job.stocks[begun.stock].kits[begun.kit]
        for region, piece in _begin(writer, bench, kit.first, whole, begun.nodes):
            _open(writer, bench, begun.nodes[region], piece)
    _cut_in_turn(writer, benches, turns)
    trees = tuple(bench.tree(problem) for bench in benches)
    done = {piece.blank for tree in trees for piece in tree.blanks}
    layout = Layout(trees, tuple(blank.key for blank in problem.blanks if blank.key not in done))
    return layout, {hold: max(seen) for hold, seen in writer.seen.items() if len(seen) > 1}


def _begin(
    writer: _Writer, bench: _Bench, step: Split | int | None, piece: Rectangle | None, nodes: Sequence[Node | None]
) -> Iterator[tuple[int, Rectangle]]:
    """The cuts along lines. A split is left out if nothing is cut from either side of it."""
    if piece is None or step is None:
        return
    if not isinstance(step, Split):
        if nodes[step] is not None:
            yield step, piece
        return
    if not any(nodes[region] is not None for region in _regions(step)):
        return
    start = piece.y if step.way == RIP else piece.x
    kerf = from_units(step.kerf)
    near, far = writer.saw.cut(bench, piece, WAYS[step.way], from_units(step.at) - start, kerf, step.purpose)
    yield from _begin(writer, bench, step.near, near, nodes)
    yield from _begin(writer, bench, step.far, far, nodes)


def _regions(step: Split | int | None) -> Iterator[int]:
    if isinstance(step, Split):
        yield from _regions(step.near)
        yield from _regions(step.far)
    elif step is not None:
        yield step


def _open(writer: _Writer, bench: _Bench, node: Node | None, piece: Rectangle) -> None:
    if node is None:
        return
    if node.leaf:
        writer.name(node, piece)
        return
    work = _Open(node, piece, list(range(len(node.row))))
    bench.open.append(work)
    _leave_spare(writer, bench, work)


def _leave_spare(writer: _Writer, bench: _Bench, work: _Open) -> None:
    """The piece that needs no cut of its own is what the others have left."""
    if work.waiting == [work.node.spare]:
        work.waiting = []
        _open(writer, bench, work.node.row[work.node.spare], work.rest)


def _cut_in_turn(writer: _Writer, benches: Sequence[_Bench], turns: Sequence[Label]) -> None:
    turn = 0
    while True:
        for label in turns:
            turn += 1
            for bench in benches:
                _cut_at(writer, bench, label, turn)
        rest = [chain for bench in benches for work in bench.open for chain in _to_come(work)]
        if not rest:
            return
        turns = in_turn(rest)


def _to_come(work: _Open) -> Iterator[tuple[Label, ...]]:
    """The settings that what is still in a row asks for."""
    node = work.node
    for index in work.waiting:
        child = node.row[index]
        mine: tuple[Label, ...] = () if index == node.spare else ((node.way, child.size(node.way)),)
        if mine:
            yield mine
        yield from chains(child, mine)


def _cut_at(writer: _Writer, bench: _Bench, label: Label, turn: int) -> None:
    """All cuts that a sheet can have at one setting."""
    way, size = label
    number = 0
    while number < len(bench.open):
        work = bench.open[number]
        number += 1
        if work.node.way != way:
            continue
        while (index := _next(writer, work, size, turn)) is not None:
            for hold in _holds_of(writer.job, work.node.row[index], way):
                writer.seen.setdefault(hold, set()).add(turn)
            near, far = writer.saw.cut(bench, work.rest, WAYS[way], from_units(size), writer.kerf, Purpose.SIZE)
            work.waiting.remove(index)
            if near is not None:
                _open(writer, bench, work.node.row[index], near)
            if far is not None:
                work.rest = far
            _leave_spare(writer, bench, work)


def _next(writer: _Writer, work: _Open, size: int, turn: int) -> int | None:
    """The piece of a row to cut off next at a setting, if any."""
    node = work.node
    waiting = work.waiting[:1] if node.pinned else work.waiting
    for index in waiting:
        child = node.row[index]
        if index == node.spare or child.size(node.way) != size:
            continue
        if all(writer.holds.get(hold, 0) <= turn for hold in _holds_of(writer.job, child, node.way)):
            return index
    return None


def _holds_of(job: Job, node: Node, way: int) -> set[Hold]:
    """The groups of blanks that get their size one way when this piece is cut off."""
    size = node.size(way)
    groups = {job.kinds[blank.kind].setting_group for blank in blanks_of(node) if blank.size(way) == size}
    return {(group, way, size) for group in groups if group}
