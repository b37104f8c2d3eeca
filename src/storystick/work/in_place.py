"""Holes drilled in place, through the other part's hole: how deep the stop is set, and where the two are clamped."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from storystick.ground.dim import Dim
from storystick.ground.length import show
from storystick.model.cut import Channel, Cut
from storystick.model.part import Part
from storystick.model.work import MadeBy, Setup
from storystick.work.bench import Bench
from storystick.work.choosing import Chosen
from storystick.work.saying import and_of, called, said
from storystick.work.ways import Offer, once, setup

ENDS = (("left", "right"), ("front", "back"), ("bottom", "top"))
type Made = tuple[MadeBy | None, Offer | None]


def with_stops(bench: Bench) -> Chosen:
    """The ways chosen, the stops of holes drilled in place set as the drill meets them: from the other part's face."""
    return {key: _through(bench, key, found) for key, found in bench.chosen.items()}


def _through(bench: Bench, key: tuple[str, str], found: Made) -> Made:
    made, offer = found
    host = through_of(bench, key)
    if made is None or host is None or key not in bench.drilled_in_place:
        return found
    setups = tuple(_deeper(bench, one, host[1]) if one.name == "depth stop" else one for one in made.setups)
    return replace(made, setups=setups), offer


def _deeper(bench: Bench, one: Setup, thick: Dim) -> Setup:
    if one.to is None:
        return one
    depth = one.to
    to = once(
        bench.book,
        f"stop through {said(thick, bench.build)} for {said(depth, bench.build)}",
        lambda: thick + depth,
        "the bit goes through the other part first",
    )
    says = f"stop at {said(to, bench.build)}, which is {said(depth, bench.build)} beyond the part drilled through"
    return setup(one.machine, one.tool, one.name, to, f"{one.tool}, {says}", one.test)


def through_of(bench: Bench, key: tuple[str, str]) -> tuple[Part, Dim] | None:
    """The part that a hole in another is drilled through, and how thick it is there; None for any other hole."""
    purpose = bench.purposes.get(key)
    host = bench.build.parts_by_name.get(purpose.fastener.through) if purpose else None
    if purpose is None or host is None:
        return None
    axis = max(range(3), key=lambda a: abs(purpose.fastener.way[a]))
    return host, host.along(axis)


def clamped(bench: Bench, made: Sequence[tuple[Part, Cut]]) -> Iterator[tuple[str, str]]:
    """Where each part stands on what it is drilled through: its letter, "flush with the rest at the left ...".

    Nothing is said of a part that lies in a trough: that holds it where it belongs.
    """
    hosts: dict[str, dict[str, Part]] = {}
    for part, cut in made:
        found = through_of(bench, (part.name, cut.name))
        if found is not None and not _housed(bench, part):
            hosts.setdefault(part.name, {})[found[0].name] = found[0]
    drilled = {name for name, _ in bench.drilled_in_place}
    told: dict[str, list[str]] = {}
    for name, those in hosts.items():
        part = bench.build.part(name)
        firm = [p for p in bench.parts_of(part.assembly) if p.name not in drilled]
        is_firm = all(one in firm for one in those.values())
        rest = firm if is_firm else list(those.values())
        letters = dict.fromkeys(p.letter or called(p, bench.build) for p in rest)
        where = _against(bench, part, rest, _across(bench, part, those))
        if where:
            where = where.replace("{}", "the rest" if is_firm and len(rest) > 1 else and_of(letters))
            told.setdefault(where, []).append(part.letter or called(part, bench.build))
    for where, names in told.items():
        yield from ((name, where) for name in dict.fromkeys(names))


def _housed(bench: Bench, part: Part) -> bool:
    """It lies in a trough of another part."""
    joints = {joint.name for joint in bench.build.joints if joint.guest == part.name}
    hosts = (bench.build.part(joint.host) for joint in bench.build.joints if joint.guest == part.name)
    return any(isinstance(cut, Channel) and cut.joint in joints for host in hosts for cut in host.cuts)


def _across(bench: Bench, part: Part, hosts: Mapping[str, Part]) -> int:
    """The axis along which the two meet."""
    of = next(one for one in bench.between_parts if one.into == part.name and one.through in hosts)
    return max(range(3), key=lambda axis: abs(of.way[axis]))


def _known(bench: Bench, name: str, far: Dim) -> None:
    once(bench.book, name, lambda: far, "how it stands while it is drilled")


def _far(part: Part, axis: int) -> Dim:
    """Its high end along an axis of the assembly."""
    return part.at[axis] + part.along(axis)


def _against(bench: Bench, part: Part, rest: Sequence[Part], across: int) -> str:
    """How a part stands beside others at its ends along the two axes in which it could be moved."""
    manner = bench.build.manner
    flush: list[str] = []
    over: dict[str, list[str]] = {}
    back: dict[str, list[str]] = {}
    for axis in (axis for axis in range(3) if axis != across):
        low = min((p.at[axis] for p in rest), key=lambda dim: dim.value)
        high = max((_far(p, axis) for p in rest), key=lambda dim: dim.value)
        out = (low - part.at[axis], _far(part, axis) - high)
        for end, far in enumerate(out):
            if far.value < -manner.mark / 2 and far.value < out[1 - end].value:
                continue  # measured from the end that is nearer
            word = ENDS[axis][end]
            if abs(far.value) < manner.mark / 2:
                flush.append(word)
                continue
            _known(bench, f"{part.name} at the {word}", far)
            (over if far.value > 0 else back).setdefault(show(abs(far.value), manner), []).append(word)
    words = []
    if flush:
        words.append(f"flush with {{}} at the {and_of(flush)}")
    if over:
        words.append("standing over {} by " + and_of(f"{far} at the {and_of(ends)}" for far, ends in over.items()))
    if back:
        words.append("set back from {} by " + and_of(f"{far} at the {and_of(ends)}" for far, ends in back.items()))
    return ", ".join(words)
