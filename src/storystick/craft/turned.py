"""Boards of another assembly seen in this one's axes, however the two are turned; their cuts stay their own."""

from dataclasses import replace

from storystick.craft.draft import Draft, X, Y, minus, plus
from storystick.craft.kinds import Built, Task
from storystick.ground.dim import Dim

OWN_IN_ROOM = {  # own x and y: which room axis, which way, after so many quarter turns to the left
    0: ((X, 1), (Y, 1)), 1: ((Y, 1), (X, -1)), 2: ((X, -1), (Y, -1)), 3: ((Y, -1), (X, 1)),
}  # fmt: skip


def into_own(task: Task, low: list[Dim], size: list[Dim]) -> tuple[list[Dim], list[Dim]]:
    """A box of the room in the task's own axes."""
    low = [minus(low[axis], task.at[axis]) for axis in range(3)]
    size, turns = list(size), task.turns % 4
    if turns:  # own axes are turned to the left by so many quarters: turn the thing back
        wide, deep = task.size[X], task.size[Y]
        x, y = low[X], low[Y]
        if turns == 1:
            low[X], low[Y] = y, minus(minus(deep, x), size[X])
        elif turns == 2:
            low[X], low[Y] = minus(minus(wide, x), size[X]), minus(minus(deep, y), size[Y])
        else:
            low[X], low[Y] = minus(minus(wide, y), size[Y]), x
        if turns != 2:
            size[X], size[Y] = size[Y], size[X]
    return low, size


def into_room(built: Built, low: list[Dim], size: list[Dim]) -> tuple[list[Dim], list[Dim]]:
    """A box of an assembly's own axes in the room's."""
    whole, there, span = built.size, list(low), list(size)
    for own, (axis, way) in enumerate(OWN_IN_ROOM[built.turns % 4]):
        start = low[own] if way > 0 else minus(minus(whole[own], low[own]), size[own])
        there[axis], span[axis] = start, size[own]
    return [plus(at, one) for at, one in zip(built.at, there, strict=True)], span


def seen_by(task: Task, built: Built) -> list[Draft]:
    """The boards of an assembly as if they lay in the task's own axes; what is cut in them is cut in the real ones."""
    mine = {axis: (own, way) for own, (axis, way) in enumerate(OWN_IN_ROOM[task.turns % 4])}
    goes = {}
    for own, (axis, way) in enumerate(OWN_IN_ROOM[built.turns % 4]):
        to, back = mine[axis]
        goes[own] = (to, way * back)
    goes[2] = (2, 1)
    return [
        _seen(task, built, draft, goes)
        for draft in built.bench.piece.drafts.values()
        if draft.assembly == built.bench.name
    ]


def _seen(task: Task, built: Built, draft: Draft, goes: dict[int, tuple[int, int]]) -> Draft:
    low, span = into_own(task, *into_room(built, draft.low, draft.span))
    lies = tuple(goes[axis][0] for axis in draft.lies)
    ends = tuple(low_end == (goes[axis][1] > 0) for low_end, axis in zip(draft.from_low, draft.lies, strict=False))
    return replace(
        draft,
        assembly=task.name,
        lies=(lies[0], lies[1], lies[2]),
        low=low,
        span=span,
        faces=draft.faces * goes[draft.thick][1],
        from_low=(ends[0], ends[1]),
        grown={(goes[axis][0], sign * goes[axis][1]): by for (axis, sign), by in draft.grown.items()},
        sized={goes[axis][0]: dim for axis, dim in draft.sized.items()},
    )
