"""A free board that is joined to the boards of a case: it is laid in that case's own axes and belongs to it."""

from collections.abc import Iterable

from storystick.craft.carcass import joined
from storystick.craft.draft import Draft, X, Y, Z, minus
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Built, Task
from storystick.craft.neighbours import beside, over_of
from storystick.ground.finding import wrong
from storystick.model.build import Span
from storystick.model.part import Assembly
from storystick.model.stock import Stock

NEAR = 0.05  # ends that are farther than this [mm] from a board do not meet it
BROAD = 12  # boards that share less than this [mm] do not meet


def host_of(task: Task) -> Built | None:
    """What the board is joined to; None, with a mistake noted, where there is no such thing with boards."""
    name, place = task.ask.text("joined to"), task.ask.place("joined to")
    if beside(task, name, place) is None:
        return None
    built = over_of(task, name)
    if built is None:
        says = f"{task.name} can be joined only to a thing with boards that stands square with it, not to {name}."
        task.bench.mistakes.append(wrong(place, says, "Write screwed to, or leave both unturned."))
    return built


def lay_in(
    task: Task, host: Built, stock: Stock, lies: tuple[int, int, int], because: dict[int, str], faces: int
) -> Draft:
    """Lay the board on the host's bench, by its size between the boards that it is joined to."""
    low = [minus(mine, theirs) for mine, theirs in zip(task.at, host.at, strict=True)]
    draft = Draft(
        f"{task.name}.board", "shelf" if lies[2] == Z else "board", host.bench.name, stock, lies, low, list(task.size),
        faces, (True, True), because, place=task.place,
    )  # fmt: skip
    return host.bench.lay(draft)


def join_to(task: Task, draft: Draft, host: Built) -> Assembly:
    """Join it to every board of the host whose face its ends or edges meet."""
    ask, bench = task.ask, host.bench
    way = read_way(ask.node("joint"), "dado", task.scope, bench, "inside", ask.place("joint"))
    met: list[tuple[int, int]] = []
    for axis in draft.lies[:2]:
        for sign in (-1, 1):
            for other in _met(bench.piece.drafts.values(), draft, axis, sign):
                joined(bench, draft, other, axis, sign, way)
                met.append((axis, sign))
                break
    if not met:
        says = f"The ends and edges of {task.name} meet no board of {host.bench.name}."
        advice = "Give it its place and length by that thing's sizes: long: cabinet.inside wide."
        bench.mistakes.append(wrong(ask.place("joined to"), says, advice))
    along = draft.lies[0]
    if draft.thick == Z and {(along, -1), (along, 1)} <= set(met):
        bench.piece.spans.append(Span(draft.name, draft.span[along], "rests", place=task.place))
    at = [minus(mine, theirs) for mine, theirs in zip(task.at, host.at, strict=True)]
    return Assembly(
        task.name, "board", (at[X], at[Y], at[Z]), task.size, inside_of=host.bench.name, place=task.place
    )  # fmt: skip


def _met(others: Iterable[Draft], draft: Draft, axis: int, sign: int) -> list[Draft]:
    """Boards of the same assembly whose face lies where an end of this one is, and which it meets broadly."""
    found = []
    for other in others:
        if other is draft or other.assembly != draft.assembly or other.thick != axis:
            continue
        if abs(float(other.end(axis, -sign).value - draft.end(axis, sign).value)) > NEAR:
            continue
        if all(_share(draft, other, a) > min(BROAD, float(draft.span[a]) / 2) for a in range(3) if a != axis):
            found.append(other)
    return found


def _share(one: Draft, other: Draft, axis: int) -> float:
    low = max(one.lower(axis).value, other.lower(axis).value)
    return float(min(one.upper(axis).value, other.upper(axis).value) - low)
