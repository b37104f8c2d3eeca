"""How a machine has to stand for a set-up, and how many minutes each change of it takes."""

from collections.abc import Iterable

from storystick.model.work import Setup
from storystick.work.order import Stand
from storystick.work.order.task import PLACE
from storystick.work.ways import minutes

SAME = {"second fence": "fence", "far fence": "fence", "second guide": "guide"}
"""Settings of a second pass are settings of the same fence or guide."""
ONE_OF = frozenset({"fence", "stop", "line", "stop block"})
"""What a piece is pushed along: the fence, or the sled with its stop, never both; a stop block moves the fence."""
TOOLS = {"table saw": "change blade", "router": "change router bit", "drill": "change drill bit"}
STACK = "set stack"
NAMES = {
    "fence": "set rip fence",
    "stop": "set stop",
    "blade height": "set blade height",
    "tilt": "tilt blade",
    "bit depth": "set bit depth",
    "guide": "set router guide",
    "guide offset": "set router guide",
    "between guides": "set router guide",
    "second offset": "set router guide",
    "template": "set router guide",
    "depth stop": "set depth stop",
    "mouth": "set depth stop",
    "first": "set depth stop",
}
FREE = frozenset({"line", "through", "guides higher than"})
"""Nothing is set: it is marked out for each cut, or only has to be looked at."""


def stands(setups: Iterable[Setup]) -> tuple[Stand, ...]:
    """The ways that machines have to stand for some set-ups, one after the other."""
    found: list[Stand] = []
    for one in setups:
        name = SAME.get(one.name, one.name)
        last = found[-1] if found and (found[-1].machine, found[-1].tool) == (one.machine, one.tool) else None
        proved = _proved(one) if last is None or not last.marks else 0.0
        mark = () if one.name in FREE else ((name, _value(one), minutes(NAMES.get(name, "set stop"))[0] + proved),)
        if last is None:
            found.append(Stand(one.machine, one.tool, _tool(one), mark))
            continue
        held = {n: value for n, value, _ in last.marks}
        clash = name in held or (name in ONE_OF and bool(ONE_OF & held.keys()))
        kept = tuple(m for m in last.marks if m[0] != name and not (name in ONE_OF and m[0] in ONE_OF))
        joined = Stand(one.machine, one.tool, last.tool_minutes, (*kept, *mark))
        if clash and held.get(name) != _value(one):
            found.append(joined)
        else:
            found[-1] = joined
    return tuple(found)


def place(where: str, row: str = "change place") -> Stand:
    """Where in the shop a job is done: going over there, and clearing up first, takes its time as well."""
    return Stand(PLACE, where, minutes(row)[0])


def lying_ready(laid_out: Iterable[tuple[str, str, float]]) -> tuple[Stand, ...]:
    """What has to lie ready at the bench; it stays so until another of its sort is wanted."""
    return tuple(Stand(what, which, spent) for what, which, spent in laid_out)


def _value(one: Setup) -> str:
    return str(one.to.value) if one.to is not None else one.says


def _tool(one: Setup) -> float:
    if "stack" in one.tool:
        return minutes(STACK)[0]
    return minutes(TOOLS.get(one.machine, "change drill bit"))[0]


def _proved(one: Setup) -> float:
    """Minutes for a trial on scrap: one for each tool that is set up, whatever else is set with it."""
    return minutes("test cut")[1] if one.test and one.machine != "drill" else 0.0
