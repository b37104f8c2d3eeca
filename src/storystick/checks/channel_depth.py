"""Channel depth: a trough cut into a board must leave enough of it to hold."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import at_least, at_most, like_it, mm
from storystick.checks.stated import changes, no_more, thicker
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Channel, Side
from storystick.model.part import Part

HALF = practice("a channel takes no more than half of a board's thickness, two thirds where it is open at the edge")
OPEN = Fraction(2, 3)


def run(asked: Asked) -> Iterator[Finding]:
    """The depth of every channel in a face or a back; those of one kind and depth in one stock are told together."""
    alike: dict[tuple[str, Fraction, Fraction, bool], list[tuple[Part, Channel]]] = {}
    for part in asked.build.parts:
        for cut in part.cuts:
            if isinstance(cut, Channel) and cut.side.normal == 2:
                thick = part.thickness.value + backing(asked, part, cut)
                alike.setdefault((cut.called, cut.depth.value, thick, is_open(part, cut)), []).append((part, cut))
    for (_, _, thick, is_free), found in alike.items():
        yield _finding(asked, found, thick, OPEN if is_free else Fraction(1, 2))


def is_open(part: Part, cut: Channel) -> bool:
    """Whether a channel lies open at the edge or the end that it runs along: a rabbet."""
    across = 1 - cut.runs
    near = cut.at[across].value
    return near <= 0 or near + cut.size[across].value >= part.size[cut.side.axes[across]].value


def backing(asked: Asked, part: Part, cut: Channel) -> Fraction:
    """Thickness of what is glued flat on the other side of a board [mm]: it carries too."""
    axis = part.lies[2]
    beyond = (part.datum[2] > 0) == (cut.side is Side.BACK)  # the other side looks up the axis
    there = part.high(axis) if beyond else part.low(axis)
    found = Fraction(0)
    for joint in asked.build.joints:
        if joint.axis != axis or "glue" not in joint.holds or part.name not in (joint.host, joint.guest):
            continue
        other = asked.build.parts_by_name.get(joint.host if joint.guest == part.name else joint.guest)
        if other is None or other.assembly != part.assembly or other.lies[2] != axis:
            continue
        if (other.low(axis) if beyond else other.high(axis)) == there:
            found += other.thickness.value
    return found


def _finding(asked: Asked, found: list[tuple[Part, Channel]], thick: Fraction, share: Fraction) -> Finding:
    manner, (part, cut) = asked.build.manner, found[0]
    deep = cut.depth.value
    most = thick * share
    about = tuple(dict.fromkeys(one.name for one, _ in found))
    said = (
        f"The {cut.called} {cut.name}{like_it(len(found))} is {mm(deep, manner)} deep "
        f"in {mm(thick, manner)} of {part.stock.name}"
    )
    if deep <= most:
        said += f" and leaves {mm(thick - deep, manner)}."
        return Finding(CHECK.code, Grade.FINE, cut.place, said, "", HALF, deep, most, "mm", about)
    grade, left = (Grade.STOP, "nothing") if deep >= thick else (Grade.CARE, f"only {mm(thick - deep, manner)}")
    advice = f"Cut it {at_most(most, manner)} deep or less, or use stock of {at_least(deep / share, manner)} or more."
    said, mend = f"{said} and leaves {left}.", no_more(cut.depth, most, manner)
    tries = (*changes(cut.depth, most - deep, manner), *thicker(asked, part, float(deep / share), ("stock",)))
    return Finding(CHECK.code, grade, cut.place, said, advice, HALF, deep, most, "mm", about, mend, tries)


CHECK = Check(
    "channel-depth", "Does every channel leave enough of its board? With more than half cut away, it breaks there.",
    run, HALF,
)  # fmt: skip
