"""Channel depth: a trough cut into a board must leave enough of it to hold."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import at_least, at_most, like_it, mm
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Channel
from storystick.model.part import Part

HALF = practice("a channel takes no more than half of a board's thickness")


def run(asked: Asked) -> Iterator[Finding]:
    """The depth of every channel in a face or a back; those of one kind and depth in one stock are told together."""
    alike: dict[tuple[str, Fraction, Fraction], list[tuple[Part, Channel]]] = {}
    for part in asked.build.parts:
        for cut in part.cuts:
            if isinstance(cut, Channel) and cut.side.normal == 2:
                alike.setdefault((cut.called, cut.depth.value, part.thickness.value), []).append((part, cut))
    for found in alike.values():
        yield _finding(asked, found)


def _finding(asked: Asked, found: list[tuple[Part, Channel]]) -> Finding:
    manner, (part, cut) = asked.build.manner, found[0]
    thick, deep = part.thickness.value, cut.depth.value
    most = thick / 2
    about = tuple(dict.fromkeys(one.name for one, _ in found))
    said = (
        f"The {cut.called} {cut.name}{like_it(len(found))} is {mm(deep, manner)} deep "
        f"in {mm(thick, manner)} of {part.stock.name}"
    )
    if deep <= most:
        said += f" and leaves {mm(thick - deep, manner)}."
        return Finding(CHECK.code, Grade.FINE, cut.place, said, "", HALF, deep, most, "mm", about)
    grade, left = (Grade.STOP, "nothing") if deep >= thick else (Grade.CARE, f"only {mm(thick - deep, manner)}")
    advice = f"Cut it {at_most(most, manner)} deep or less, or use stock of {at_least(2 * deep, manner)} or more."
    return Finding(CHECK.code, grade, cut.place, f"{said} and leaves {left}.", advice, HALF, deep, most, "mm", about)


CHECK = Check(
    "channel-depth", "Does every channel leave enough of its board? With more than half cut away, it breaks there.",
    run, HALF,
)  # fmt: skip
