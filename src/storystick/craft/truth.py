"""How a clear room comes about in the real thing: from the boards and channels that are cut, not from the plan's sums.

The number is the same; what it rests on is not. A case is as wide inside as its bottom is long between the floors of
its dadoes, whatever the sheet's thickness turns out to be; its width over all is that and two sheets.
"""

from storystick.craft.draft import Bench, Draft, Wanted, minus, plus
from storystick.ground.dim import Dim
from storystick.model.cut import Channel


def between(bench: Bench, along: Draft, low: Draft, high: Draft, axis: int) -> Dim | None:
    """The clear room between two boards, reckoned along a third that both are joined to; None where they are not."""
    start = _inner_face(bench, along, low, axis, -1)
    end = _inner_face(bench, along, high, axis, 1)
    return None if start is None or end is None else minus(end, start)


def over_all(bench: Bench, along: Draft, low: Draft, high: Draft, axis: int) -> Dim | None:
    """The size over two boards and what lies between them, in the real thing; None where `between` can't tell."""
    clear = between(bench, along, low, high, axis)
    return None if clear is None else clear + low.whole(axis) + high.whole(axis)


def _inner_face(bench: Bench, along: Draft, board: Draft, axis: int, sign: int) -> Dim | None:
    """Where the inner face of a board lies in the own coordinate of the one that it is joined to, from its low end."""
    into = _joint(bench, along, board, axis, sign)
    if into is not None:  # `along` ends at the board, or in it
        growth = along.grown.get((axis, sign))
        nothing = minus(along.whole(axis), along.whole(axis))
        reach = _as_deep(bench, board, into, growth.by) if growth else nothing
        return reach if sign < 0 else minus(along.whole(axis), reach)
    taken = _joint(bench, board, along)
    if taken is None or not along.datum_low(axis):
        return None
    short = f"{along.name}.{taken.name.rsplit('.', 1)[-1]}"
    word = ("from the end", "from the edge")[along.lies.index(axis)]
    at = bench.book.pages.get(f"{short}.{word}")
    if at is None:
        return None
    return plus(at, board.whole(axis)) if sign < 0 else at


def _as_deep(bench: Bench, board: Draft, into: Wanted, by: Dim) -> Dim:
    """How far a board reaches into the other: down to the floor of that very channel, where it reaches so far."""
    floor = next((cut for cut in board.cuts if isinstance(cut, Channel) and cut.joint == into.name), None)
    if floor is None or floor.depth is not by:
        return by
    return bench.book.pages.get(f"{board.name}.{into.name.rsplit('.', 1)[-1]}.deep", by)


def _joint(bench: Bench, guest: Draft, host: Draft, axis: int | None = None, sign: int = 0) -> Wanted | None:
    for wanted in bench.piece.joints:
        if wanted.guest is guest and wanted.host is host and axis in (None, wanted.axis) and sign in (0, wanted.sign):
            return wanted
    return None
