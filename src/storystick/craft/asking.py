"""What a plan says of one drawer or door, and behind it what its case says of all of them."""

from storystick.craft.kinds import Task
from storystick.ground.fields import Fields, Filled, fill
from storystick.ground.finding import Finding
from storystick.ground.marked import Mapping, Marked


def own_before_usual(task: Task, fields: Fields, own: Marked | None, usual: Marked | None) -> Filled | None:
    """The own lines, and behind them those usual ones that the own ones do not say. Each mistake is told once."""
    mine = own.entries if isinstance(own, Mapping) else ()
    said = {field.name for key, _ in mine if (field := fields.find(key.text))}
    behind = tuple(
        (key, value)
        for key, value in (usual.entries if isinstance(usual, Mapping) else ())
        if (field := fields.find(key.text)) is None or field.name not in said
    )
    place = own.place if isinstance(own, Mapping) else task.place
    trouble: list[Finding] = []
    found = fill(fields, Mapping(mine + behind, place), task.scope, trouble)
    task.bench.mistakes.extend(one for one in trouble if one not in task.bench.mistakes)
    return found
