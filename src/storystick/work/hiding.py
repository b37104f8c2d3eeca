"""What will stand in the way of a cut once its part is glued in: why holes come before the glue."""

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

from storystick.model.build import Build
from storystick.model.cut import Bore, Channel, Cut
from storystick.model.part import Part
from storystick.work.saying import and_of, called, many

DRILL = Fraction(300)
"""A drill with its bit is about so long [mm]: nearer than that something is in its way. Source: practice."""
NAMED = 2


def hidden(cuts: Iterable[tuple[Part, Cut]], build: Build) -> str:
    """Why some cuts come before their parts go together; "" where nothing stands in front of them afterwards."""
    behind: Counter[str] = Counter()
    fills: dict[str, None] = {}
    count = 0
    guests = {joint.name: joint.guest for joint in build.joints}
    for part, cut in cuts:
        if isinstance(cut, Bore) and (other := in_front(part, cut, build)) is not None:
            behind[called(other, build)] += 1
            count += 1
        if isinstance(cut, Channel) and cut.joint in guests:
            fills[called(build.part(guests[cut.joint]), build)] = None
    if behind:
        names = [name for name, _ in behind.most_common(NAMED)]
        what = "this hole is" if count == 1 else f"{many(count, 'hole')} are"
        return f"before gluing: {what} behind {and_of(names)} afterwards, where no drill gets in"
    if fills:
        names = list(fills)
        return f"before gluing: {and_of(names) if len(names) <= NAMED + 1 else 'other parts'} will be in there"
    return ""


def in_front(part: Part, bore: Bore, build: Build) -> Part | None:
    """The nearest part of the same assembly that a drill for a hole would run into, once everything is in place."""
    if part.assembly in {one.name for one in build.assemblies if one.lean is not None}:
        return None
    spot = _spot(part, bore)
    axis = part.lies[bore.side.normal]
    outward = _runs_up(part, bore.side.normal) == bore.side.is_far
    best: tuple[Fraction, Part] | None = None
    for other in build.parts:
        if other is part or other.assembly != part.assembly:
            continue
        if not all(other.low(a) < spot[a] < other.high(a) for a in range(3) if a != axis):
            continue
        away = other.low(axis) - spot[axis] if outward else spot[axis] - other.high(axis)
        if 0 <= away < DRILL and (best is None or away < best[0]):
            best = away, other
    return best[1] if best else None


def _spot(part: Part, bore: Bore) -> tuple[Fraction, Fraction, Fraction]:
    """Where a hole begins, in the assembly."""
    own = {bore.side.axes[0]: bore.at[0].value, bore.side.axes[1]: bore.at[1].value}
    normal = bore.side.normal
    own[normal] = part.size[normal].value if bore.side.is_far else Fraction(0)
    found = [Fraction(0)] * 3
    for k, at in own.items():
        axis = part.lies[k]
        found[axis] = part.low(axis) + at if _runs_up(part, k) else part.high(axis) - at
    return found[0], found[1], found[2]


def _runs_up(part: Part, own: int) -> bool:
    """Whether a coordinate of a part runs with its axis of the assembly: the face's counts from the face down."""
    return part.datum[own] > 0 if own < 2 else part.datum[2] < 0
