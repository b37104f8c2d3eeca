"""What the plan says that something has to carry."""

from collections.abc import Iterable

from storystick.ground.fields import Choice, Field, Fields, Flag, Text, Weight, fill
from storystick.ground.finding import Finding, mistake
from storystick.ground.marked import plain
from storystick.ground.misread import nearest
from storystick.model.build import How, Load
from storystick.plan.plan import Plan
from storystick.resolve.names import Names

LOAD = Fields(
    "load",
    (
        Field("weight", Weight, required=True, help="how much it carries"),
        Field("how", Choice(("evenly", "in the middle")), default="evenly", help="spread over it, or in the middle"),
        Field("lasting", Flag, default="yes", help="stays there for months"),
        Field("note", Text),
    ),
    short="weight",
)


def read_loads(
    plan: Plan, names: Names, on: Iterable[str], failed: set[str], mistakes: list[Finding]
) -> tuple[Load, ...]:
    """The loads of a plan. `on`: parts, bays and assemblies; `failed`: entries that could not be read."""
    known = {plain(name): name for name in on}
    found: list[Load] = []
    for entry in plan.entries("loads"):
        filled = fill(LOAD, entry.node, names, mistakes)
        carrier = known.get(plain(entry.name))
        if carrier is None:
            if plain(entry.name).split(".")[0] not in failed:
                near = nearest(entry.name, {**known, **{e.name: e.name for e in plan.entries("build")}})
                expected = "a part, a bay or an assembly of this plan"
                mistakes.append(mistake(entry.place, entry.name, expected, known.get(near, near)))
            continue
        if filled is not None:
            weight = filled.maybe_weight("weight")
            middle = filled.choice("how") == "in the middle"
            if weight is not None:
                how: How = "in the middle" if middle else "evenly"
                weighs = filled.place("weight")
                found.append(Load(carrier, float(weight.kg), how, filled.flag("lasting"), entry.place, weighs))
    return tuple(found)
