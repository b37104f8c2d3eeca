"""Thin web: two channels back to back in one board must leave enough of it between them."""

from collections.abc import Iterator
from itertools import product

from storystick.checks.saying import at_least, at_most, mm
from storystick.checks.stated import changes, no_more
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Channel, Side
from storystick.model.part import Part

THIRD = practice("leave at least a third of a board between two cuts that meet back to back, a quarter in a tongue")


def run(asked: Asked) -> Iterator[Finding]:
    """Every two channels that meet back to back."""
    for part in asked.build.parts:
        faces = [c for c in part.cuts if isinstance(c, Channel) and c.side is Side.FACE]
        backs = [c for c in part.cuts if isinstance(c, Channel) and c.side is Side.BACK]
        for one, other in product(faces, backs):
            if all(_meet(one, other, axis) for axis in (0, 1)):
                yield _finding(asked, part, one, other)


def _meet(one: Channel, other: Channel, axis: int) -> bool:
    """Whether two channels lie over one another along one of the face's axes."""
    low, high = (c.at[axis].value for c in (one, other)), (c.at[axis].value + c.size[axis].value for c in (one, other))
    return max(low) < min(high)


def _finding(asked: Asked, part: Part, one: Channel, other: Channel) -> Finding:
    manner, thick = asked.build.manner, part.thickness.value
    tongue = one.joint == other.joint != ""  # both cut for one joint: what is left is meant to be thin
    web, least = thick - one.depth.value - other.depth.value, thick / (4 if tongue else 3)
    said = (
        f"{one.name} and {other.name} meet back to back and leave {mm(max(web, 0 * web), manner)} "
        f"of the {mm(thick, manner)} of {part.name}."
    )
    if web >= least:
        return Finding(CHECK.code, Grade.FINE, other.place, said, "", THIRD, web, least, "mm", (part.name,))
    apart = one.width.value + other.width.value
    advice = f"Cut each {at_most(least, manner)} deep or less, or move one along by {at_least(apart, manner)} or more."
    grade = Grade.STOP if web <= 0 else Grade.CARE
    mends = [no_more(cut.depth, least, manner) for cut in (one, other)]
    mend = mends[0] if mends[0] == mends[1] else None  # one number for both
    short = least - web
    tries = tuple(m for cut in (one, other) for m in changes(cut.depth, -short, manner))
    axis = min((0, 1), key=lambda a: max(one.size[a].value, other.size[a].value))
    tries += tuple(m for cut in (one, other) for by in (apart, -apart) for m in changes(cut.at[axis], by, manner))
    return Finding(CHECK.code, grade, other.place, said, advice, THIRD, web, least, "mm", (part.name,), mend, tries)


CHECK = Check("thin-web", "Do channels back to back leave enough wood between them?", run, THIRD)
