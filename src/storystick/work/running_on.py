"""Troughs that run on from one part into what is glued to it, such as an edging: cut in one go when both are one."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.ground.source import practice
from storystick.model.cut import Channel
from storystick.model.part import Part
from storystick.work.bench import Bench
from storystick.work.choosing import Chosen

IN_ONE_GO = practice(
    "a trough that runs on into an edging is cut when that is glued on: one pass is in line with itself, and a thin "
    "edging with a trough across it breaks before it is on"
)
BACKED = "Clamp a scrap against the edge where the bit comes out, so that nothing breaks away there."
NEAR = Fraction(1, 10**6)

type Key = tuple[str, str]
"""Names of a part and of a cut in it."""
type Box = tuple[tuple[Fraction, Fraction], ...]
"""Low and high end along each axis of the assembly."""


def running_on(bench: Bench) -> Mapping[Key, str]:
    """Troughs that are cut when their assembly is glued up, by the names of part and cut: the assembly."""
    return {key: part.assembly for group in _groups(bench) for part, cut in group for key in [(part.name, cut.name)]}


def in_one_setting(bench: Bench) -> Chosen:
    """The ways chosen, a trough that runs on set from the outermost part: the others lie behind its edge by then."""
    found = dict(bench.chosen)
    for group in _groups(bench):
        outermost = min(group, key=lambda one: _edge(*one))
        made, _ = bench.chosen[outermost[0].name, outermost[1].name]
        for part, cut in group:
            own, offer = bench.chosen[part.name, cut.name]
            if made is not None and own is not None:
                found[part.name, cut.name] = replace(own, setups=made.setups), offer
    return found


def _groups(bench: Bench) -> Iterator[list[tuple[Part, Channel]]]:
    """Troughs that run on into one another, together; only such as one way makes, guided along an edge still bare.

    Source: IN_ONE_GO.
    """
    if not bench.in_one_go:
        return
    left = list(_pairs(bench))
    while left:
        group = list(left.pop(0))
        grown = True
        while grown:
            near = [pair for pair in left if any(one in group for one in pair)]
            grown = bool(near)
            group += [one for pair in near for one in pair if one not in group]
            left = [pair for pair in left if pair not in near]
        if _can_wait(bench, group):
            yield sorted(group, key=lambda one: (_edge(*one), one[0].name))


def _pairs(bench: Bench) -> Iterator[tuple[tuple[Part, Channel], tuple[Part, Channel]]]:
    of = bench.build.parts_by_name
    for joint in bench.build.joints:
        host, guest = of[joint.host], of[joint.guest]
        if not joint.glued or host.assembly != guest.assembly or host.fit_to or guest.fit_to:
            continue
        for one in _free(host):
            for other in _free(guest):
                if _meet(_box(host, one), _box(guest, other), joint.axis) and _along(host, one) == joint.axis:
                    yield (host, one), (guest, other)


def _free(part: Part) -> list[Channel]:
    return [cut for cut in part.cuts if isinstance(cut, Channel) and not cut.joint]


def _along(part: Part, cut: Channel) -> int:
    """The assembly's axis along which a trough is cut."""
    return part.lies[cut.side.axes[cut.runs]]


def _can_wait(bench: Bench, group: Sequence[tuple[Part, Channel]]) -> bool:
    """They are made in one way, and the edge that they are set from is the outermost of their assembly."""
    ways = [bench.chosen[part.name, cut.name][0] for part, cut in group]
    if any(way is None for way in ways) or len({way.method for way in ways if way is not None}) > 1:
        return False
    part, cut = min(group, key=lambda one: _edge(*one))
    axis, sign = _from(part, cut)
    outside = min(_reach(one, axis, sign) for one in bench.parts_of(part.assembly))
    return _reach(part, axis, sign) <= outside + NEAR


def _from(part: Part, cut: Channel) -> tuple[int, int]:
    """The axis across a trough, and which end of it the trough is measured from."""
    own = cut.side.axes[1 - cut.runs]
    up = part.datum[own] > 0 if own < 2 else part.datum[2] < 0
    return part.lies[own], 1 if up else -1


def _edge(part: Part, cut: Channel) -> Fraction:
    """Where the edge is that a trough is measured from: the least is the outermost."""
    return _reach(part, *_from(part, cut))


def _reach(part: Part, axis: int, sign: int) -> Fraction:
    return part.low(axis) if sign > 0 else -part.high(axis)


def _box(part: Part, cut: Channel) -> Box:
    """The room that a trough takes up in its assembly."""
    own: list[tuple[Fraction, Fraction]] = [(Fraction(0), Fraction(0))] * 3
    for axis, start, size in zip(cut.side.axes, cut.at, cut.size, strict=True):
        own[axis] = (start.value, start.value + size.value)
    down, thick = cut.side.normal, part.size[cut.side.normal].value
    own[down] = (thick - cut.depth.value, thick) if cut.side.is_far else (Fraction(0), cut.depth.value)
    found = list(own)
    for n, axis in enumerate(part.lies):
        up = part.datum[n] > 0 if n < 2 else part.datum[2] < 0
        low, high = own[n]
        found[axis] = (
            (part.low(axis) + low, part.low(axis) + high) if up else (part.high(axis) - high, part.high(axis) - low)
        )
    return tuple(found)


def _meet(one: Box, other: Box, axis: int) -> bool:
    """Two troughs of one section, one going on where the other ends."""
    same = all(abs(a - b) <= NEAR for n in range(3) if n != axis for a, b in zip(one[n], other[n], strict=True))
    return same and (abs(one[axis][1] - other[axis][0]) <= NEAR or abs(other[axis][1] - one[axis][0]) <= NEAR)
