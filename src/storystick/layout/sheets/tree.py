"""A sheet taken apart: nested rows of pieces, with no order of cuts yet and no positions.

A `Node` is a piece. It is a blank, or it is divided one way into a row of pieces; what the row does not fill
is waste at its far end. The pieces of a row may be cut off in any order unless the row is `pinned`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from storystick.layout.sheets.problem import CROSSCUT, RIP, Job, Kind

Label = tuple[int, int]
"""A setting: way of the cut and size of the piece it sets [units]."""


@dataclass(frozen=True, slots=True)
class Node:
    """A piece of a sheet [units].

    kind     index of the kind of blank this piece is; -1: none
    member   which blank of a strip it is; -1: not one of a strip
    way      way of the cuts that divide it
    row      what it is divided into
    pinned   the row keeps its order, from the near end
    spare    index in the row of the one piece that needs no cut of its own, since the others leave it; -1: none
    """

    long: int
    wide: int
    kind: int = -1
    turned: bool = False
    way: int = CROSSCUT
    row: tuple["Node", ...] = ()
    pinned: bool = False
    spare: int = -1
    member: int = -1

    def size(self, way: int) -> int:
        """The side that a cut of this way sets."""
        return self.wide if way == RIP else self.long

    @property
    def leaf(self) -> bool:
        """True for a single finished blank."""
        return self.kind >= 0 and not self.row


def resized(node: Node, way: int, size: int) -> Node:
    """The same node with another size one way."""
    return replace(node, wide=size) if way == RIP else replace(node, long=size)


def room(node: Node, kerf: int) -> int:
    """What a row leaves over at its far end, kerf of the last cut included [units]."""
    return node.size(node.way) - sum(child.size(node.way) for child in node.row) - kerf * (len(node.row) - 1)


def blanks_of(node: Node) -> Iterator[Node]:
    """The blanks in a node, in order."""
    if node.leaf:
        yield node
    for child in node.row:
        yield from blanks_of(child)


def enlarge(node: Node, way: int, size: int) -> Node:
    """The node with more stock left on one way: blanks in it get a cut of their own to come to size."""
    if node.size(way) == size:
        return resized(node, way, size)
    if node.leaf:
        return Node(*_both(node, way, size), way=way, row=(node,))
    if node.way == way:
        return replace(resized(node, way, size), spare=-1)
    return replace(resized(node, way, size), row=tuple(enlarge(child, way, size) for child in node.row))


def _both(node: Node, way: int, size: int) -> tuple[int, int]:
    return (node.long, size) if way == RIP else (size, node.wide)


def strip_open(node: Node, kinds: Sequence[Kind], kerf: int) -> Node:
    """Each blank that stands for a whole strip of blanks, divided into them."""
    if node.row:
        return replace(node, row=tuple(strip_open(child, kinds, kerf) for child in node.row))
    if not node.leaf or not kinds[node.kind].members or node.member >= 0:
        return node
    kind = kinds[node.kind]
    way = RIP if kind.across != node.turned else CROSSCUT
    row = []
    for index, member in enumerate(kind.members):
        long, wide = (member.wide, member.long) if node.turned else (member.long, member.wide)
        blank = Node(long, wide, node.kind, node.turned, member=index)
        across = CROSSCUT if way == RIP else RIP
        row.append(enlarge(blank, across, node.size(across)))
    return Node(node.long, node.wide, way=way, row=tuple(row), pinned=True, spare=len(row) - 1)


def settle(node: Node, job: Job) -> Node:
    """The node with its free choices made so that few settings are needed, and the places where no cut is needed known.

    A piece whose size is no blank's size needs a setting of its own. One such in each row can do without: it keeps the
    row's waste, and its blanks are cut to size later, at settings that are needed anyway. The others grow to the next
    size that is needed anyway, if the row has room.
    """
    if not node.row:
        return node
    left = room(node, job.kerf)
    row = list(node.row)
    way = node.way
    odd = [i for i, c in enumerate(row) if c.row and (way, c.size(way)) not in job.finished]
    if node.pinned:
        spare = len(row) - 1 if left == 0 else -1
        return replace(node, row=tuple(settle(child, job) for child in row), spare=spare)
    odd.sort(key=lambda i: (-row[i].size(way), i))
    if left > 0:
        for index in odd[1:]:
            size = row[index].size(way)
            fitting = [s for w, s in job.finished if w == way and size < s <= size + left]
            if fitting:
                left -= min(fitting) - size
                row[index] = enlarge(row[index], way, min(fitting))
        if odd:
            row[odd[0]] = enlarge(row[odd[0]], way, row[odd[0]].size(way) + left)
            left = 0
    spare = -1
    if left == 0:
        still = [i for i, c in enumerate(row) if (way, c.size(way)) not in job.finished]
        spare = still[0] if still else max(range(len(row)), key=lambda i: (*_may_be_spare(row[i], way, job), i))
    return replace(node, row=tuple(settle(child, job) for child in row), spare=spare)


def _may_be_spare(node: Node, way: int, job: Job) -> tuple[bool, bool, int]:
    """How well a piece does without a cut of its own: better not, if a group of blanks is to get its size by it."""
    size = node.size(way)
    grouped = any(job.kinds[b.kind].setting_group for b in blanks_of(node) if b.size(way) == size)
    return not grouped, bool(node.row), size


def chains(node: Node, before: tuple[Label, ...] = ()) -> Iterator[tuple[Label, ...]]:
    """For each last piece, the settings that its cuts need, in the order they must come.

    The piece that needs no cut of its own has to wait for every other one of its row.
    """
    if not node.row:
        if before:
            yield before
        return
    way, so_far = node.way, before
    others = {(way, child.size(way)) for index, child in enumerate(node.row) if index != node.spare}
    for index, child in enumerate(node.row):
        if index != node.spare:
            mine = (*so_far, (way, child.size(way)))
            yield from chains(child, mine)
            so_far = mine if node.pinned else so_far
        elif node.pinned or not others:
            yield from chains(child, so_far)
        else:
            for label in sorted(others):
                yield from chains(child, (*before, label))


@dataclass(frozen=True, slots=True)
class Placed:
    """A blank at its place on a sheet [units]."""

    x: int
    y: int
    long: int
    wide: int
    kind: int
    turned: bool


def taken_apart(placed: Sequence[Placed], long: int, wide: int, kerf: int, first: int) -> Node | None:
    """Edge-to-edge cuts that free all the blanks of a piece `long` by `wide`; None, if there are none.

    Where both ways divide, `first` is taken. Rows close up towards the near edge.
    """
    if len(placed) == 1 and (placed[0].long, placed[0].wide) == (long, wide):
        return Node(long, wide, placed[0].kind, placed[0].turned)
    groups = {way: _groups(placed, way, kerf) for way in (CROSSCUT, RIP)}
    whole = (long, wide)
    for way in sorted((CROSSCUT, RIP), key=lambda w: (len(groups[w]) == 1, w != first)):
        (begin, end, _), *more = groups[way]
        if not more and end - begin >= whole[way]:
            continue
        row = []
        for begin, end, members in groups[way]:
            size = (long, end - begin) if way == RIP else (end - begin, wide)
            child = taken_apart(members, *size, kerf, 1 - way)
            if child is None:
                return None
            row.append(child)
        return Node(long, wide, way=way, row=tuple(row))
    return None


def _groups(placed: Sequence[Placed], way: int, kerf: int) -> list[tuple[int, int, list[Placed]]]:
    """The blanks put together as far as no cut of this way goes between them: begin, end, blanks."""
    ends = ((p.y, p.y + p.wide, p) if way == RIP else (p.x, p.x + p.long, p) for p in placed)
    spans = sorted(ends, key=lambda span: span[:2])
    groups: list[tuple[int, int, list[Placed]]] = []
    for begin, end, one in spans:
        if groups and begin < groups[-1][1] + kerf and (kerf or begin < groups[-1][1]):
            first, last, members = groups[-1]
            groups[-1] = (first, max(last, end), [*members, one])
        else:
            groups.append((begin, end, [one]))
    return groups
