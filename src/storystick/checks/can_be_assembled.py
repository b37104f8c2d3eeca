"""Can be assembled: everything comes in along a straight way, every screw is reached, the whole gets to its place."""

from collections.abc import Iterator, Mapping, Sequence

from storystick.checks.round_corner import way_round
from storystick.checks.saying import listed, mm
from storystick.ground.finding import NOWHERE, Finding, Grade, Place
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.sequence import AssemblyOrder, BroughtIn, Coming, Hindrance, Hurried, Stuck, Unreached, Vector

SOLIDS = Source(
    "the solids taken apart in thought along straight ways, a driver's room kept behind every screw "
    "(Wilson and Latombe: Geometric reasoning about mechanical assembly, 1994)",
    "memory",
)
WORDS = (
    ((1.0, 0.0, 0.0), "the right"), ((-1.0, 0.0, 0.0), "the left"), ((0.0, 1.0, 0.0), "the back"),
    ((0.0, -1.0, 0.0), "the front"), ((0.0, 0.0, 1.0), "the top"), ((0.0, 0.0, -1.0), "the bottom"),
)  # fmt: skip
FROM = {"the top": "from above", "the bottom": "from below"}
TOLD = 12


def run(asked: Asked) -> Iterator[Finding]:
    """What can't be put together and why; what has to wait; what can't be brought to its place; else the order."""
    order = asked.sequence
    if order is None or not order.comings:
        return
    for one in order.stuck:
        yield _stuck(asked, one)
    for missed in order.unreached:
        yield _unreached(asked, missed)
    yield from _late(asked, order)
    yield from _hurried(asked, order)
    for brought in order.brought:
        if not brought.free and not any(asked.build.assembly(name).comes_in for name in brought.names):
            yield _kept_out(asked, brought)
    if order.too_big:
        said = f"The door of the shop does not let {listed(order.too_big)} through."
        advice = "Cut it outside, or make it of two pieces with a joint."
        yield Finding(CHECK.code, Grade.CARE, _place(asked, order.too_big), said, advice, SOLIDS, about=order.too_big)
    if order.can_be:
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, _in_words(order), "", SOLIDS)


def _stuck(asked: Asked, one: Stuck) -> Finding:
    locked: dict[tuple[str, ...], list[str]] = {}
    for each in one.because:
        if each.kind == "driver":
            locked.setdefault(each.by, []).append(each.fastener)
    said = f"{_all(one.names)} can't be put together, in whatever order: "
    if one.caught:
        said = f"{one.caught} is to come out of the finished piece, but can't: "
    if locked:
        said += "; ".join(
            f"no driver gets at {names[0]}{_more(names)} while {_all(by)} {_verb(by)} there"
            for by, names in locked.items()
        )
        first, (by, _) = _joints(asked, locked), next(iter(locked.items()))
        advice = f"Leave out the screws of {first}, drive them from the other side, or move {_all(by)} away from them."
    elif one.caught:
        said += _barred(one.because)
        others = [name for name in one.names if not name.startswith(f"{one.caught}.")]
        advice = f"Make {one.caught} smaller, or cut back {_all(others)} on the side where it is to come out."
    else:
        said += _barred([each for each in one.because if each.kind == "way"])
        advice = f"Leave one of the troughs of {_all(one.names)} open at an end, or make one of these of two pieces."
    return Finding(CHECK.code, Grade.STOP, _place(asked, one.names), f"{said}.", advice, SOLIDS, about=one.names)


def _more(names: Sequence[str]) -> str:
    return f" (and {len(names) - 1} more)" if len(names) > 1 else ""


def _joints(asked: Asked, locked: Mapping[tuple[str, ...], Sequence[str]]) -> str:
    """The joint or the parts of the first fasteners that are not reached."""
    names = next(iter(locked.values()))
    one = next(each for each in asked.build.fasteners if each.name == names[0])
    return one.joint or f"{one.through} into {one.into}"


def _barred(ways: Sequence[Hindrance]) -> str:
    """Which of a set bars one of it on each way; told of the one that the fewest others bar."""
    if not ways:
        return ""

    def hindered(name: str) -> int:
        return len({who for each in ways if each.name == name for who in each.by})

    name = min(dict.fromkeys(each.name for each in ways), key=hindered)
    by: dict[tuple[str, ...], list[str]] = {}
    for each in ways:
        if each.name == name:
            by.setdefault(each.by, []).append(_toward(each.way))
    return ", ".join(f"{_all(who)} {_bars(who)} {name} toward {_all(where)}" for who, where in by.items())


def _unreached(asked: Asked, one: Unreached) -> Finding:
    said = f"No driver of the shop gets at {listed(one.fasteners)}"
    said += f": {_all(one.by)} {_verb(one.by)} in the way at every moment." if one.by else "."
    advice = "Move it to where a driver has room behind its head, drive it from the other side, or get a shorter one."
    return Finding(CHECK.code, Grade.STOP, _place(asked, one.by), said, advice, SOLIDS, about=one.fasteners)


def _late(asked: Asked, order: AssemblyOrder) -> Iterator[Finding]:
    for one in order.late:
        said = f"{one.part} goes on only after {one.assembly} is fixed to {one.met}: it would hide what holds the two."
        advice = f"Leave {short(one.part)} off until then."
        yield Finding(CHECK.code, Grade.NOTE, _place(asked, (one.part,)), said, advice, SOLIDS, about=(one.part,))


def _hurried(asked: Asked, order: AssemblyOrder) -> Iterator[Finding]:
    """Those that are alike are told once."""
    told: dict[tuple[str, ...], list[Hurried]] = {}
    for one in order.hurried:
        told.setdefault((short(one.part), *map(short, one.by)), []).append(one)
    for alike in told.values():
        first = alike[0]
        many = f" (and {len(alike) - 1} more like it)" if len(alike) > 1 else ""
        said = (
            f"{first.part}{many} is screwed on while the glue-up is still open: no driver gets at {first.fasteners[0]} "
            f"once {_all(first.by)} {_verb(first.by)} there."
        )
        advice = f"Move the screws farther from {_all(first.by)}, or get a slimmer driver."
        names = tuple(one.part for one in alike)
        yield Finding(CHECK.code, Grade.NOTE, _place(asked, names), said, advice, SOLIDS, about=names)


def _kept_out(asked: Asked, one: BroughtIn) -> Finding:
    names = _all(one.names)
    movable = {body.name for body in asked.build.site if body.move is not None}
    eased = [(way, by) for way, by in one.hindered if set(by) <= movable]
    ways = "; ".join(f"{_all(by)} {_verb(by)} in the way {_coming(way)}" for way, by in one.hindered)
    rolls = "rolled" if one.rolls else "brought"
    said = f"{names} can't be {rolls} straight to {'their' if len(one.names) > 1 else 'its'} place: {ways}."
    bent = way_round(asked, one.names, one.rolls)
    if bent is not None:
        first, last, far = bent
        it = "they come" if len(one.names) > 1 else "it comes"
        stretch = mm(far, asked.build.manner)
        said += f" Round a corner {it}: {_coming(first)}, the last {stretch} {_coming(last)}."
        advice = "Say it in the plan: sits: {comes in: [...]}; then it is followed on the solids."
        eased = [(first, ())]
    elif eased:
        way, by = eased[0]
        advice = f"Bring it in {_coming(way)} while {_all(by)} {_verb(by)} moved out of the way, or lift it over."
    else:
        advice = "Tilt or lift it past what is in the way, or put it together where it will stand."
    grade = Grade.NOTE if eased else Grade.CARE
    place = asked.build.assembly(one.names[0]).place
    return Finding(CHECK.code, grade, place, said, advice, SOLIDS, about=one.names)


def _in_words(order: AssemblyOrder) -> str:
    """The order, assembly by assembly."""
    first = [each for each in order.comings if not each.meets and each.assembly]
    fixed = sum(len(driving.names) for each in order.comings for driving in (*each.first, *each.then))
    screws = f" and every one of {fixed} fasteners is reached" if fixed else ""
    main = first[0].assembly if first else ""
    own = [each for each in order.comings if each.assembly == main and len(each.moves) == 1]
    steps = [_step(each) for each in own[:TOLD]]
    more = f", and {len(own) - TOLD} more" if len(own) > TOLD else ""
    return f"Everything comes in straight{screws}. {main or 'It'}: {', '.join(steps)}{more}."


def _step(one: Coming) -> str:
    name = short(one.moves[0])
    return f"{name} {_coming(one.way)}" if one.meets else f"{name} first"


def short(name: str) -> str:
    """The last word of a full name: "left side" of "cabinet.left side"."""
    return name.rpartition(".")[2]


def _toward(way: Vector) -> str:
    found = [word for axis, word in WORDS if sum(a * b for a, b in zip(axis, way, strict=True)) > 0.999]
    return found[0] if found else "one side, askew"


def _coming(way: Vector) -> str:
    """Where something comes from that travels along a way."""
    word = _toward((0.0 - way[0], 0.0 - way[1], 0.0 - way[2]))
    return FROM.get(word, f"from {word}")


def _all(names: Sequence[str]) -> str:
    return listed(names, 6)


def _verb(names: Sequence[str]) -> str:
    return "are" if len(names) > 1 else "is"


def _bars(names: Sequence[str]) -> str:
    return "bar" if len(names) > 1 else "bars"


def _place(asked: Asked, names: Sequence[str]) -> Place:
    """Where the plan speaks of any of some parts or things."""
    places = [part.place for part in asked.build.parts if part.name in names and part.place.line]
    places += [item.place for item in asked.build.items if item.name in names and item.place.line]
    return places[0] if places else asked.build.place or NOWHERE


CHECK = Check(
    "can-be-assembled",
    "Is there an order in which every part comes in straight and every screw is reached, and does it get to its place?",
    run,
    SOLIDS,
    looks="bodies",
)
