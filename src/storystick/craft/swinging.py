"""What swings about its hinges: the line that it turns about, in the room's axes, and how far it goes."""

from storystick.craft.draft import X, Y, Z, minus, plus
from storystick.craft.kinds import Task
from storystick.model.build import Move
from storystick.model.part import Three


def in_room(task: Task, point: Three) -> Three:
    """A point of an assembly's own axes in the room's."""
    wide, deep = task.size[X], task.size[Y]
    x, y, z = point
    across, back = ((x, y), (minus(deep, y), x), (minus(wide, x), minus(deep, y)), (y, minus(wide, x)))[task.turns % 4]
    return plus(task.at[X], across), plus(task.at[Y], back), plus(task.at[Z], z)


def swing(task: Task, name: str, what: str, about: Three, axis: int, degrees: float) -> None:
    """Let an assembly swing about a line along one of its own axes, by the right hand, from shut to open."""
    turns = task.turns % 4
    if axis != Z:
        degrees = -degrees if turns == 2 or (turns, axis) in ((3, X), (1, Y)) else degrees
        axis = axis if turns % 2 == 0 else 1 - axis
    task.bench.piece.moves.append(
        Move(name, "swing", (what,), about=in_room(task, about), axis=axis, degrees=(0.0, degrees), place=task.place)
    )
