"""Short grain: solid wood whose grain runs the short way breaks like a biscuit."""

from collections.abc import Iterator

from storystick.checks.saying import mm
from storystick.checks.stated import changes
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.part import Part

LONG_WAY = practice("the grain of a solid part runs its long way; wood is ten to twenty times weaker across it")


def run(asked: Asked) -> Iterator[Finding]:
    """Every part of solid wood but a shelf whose grain runs from support to support; of the good ones the shortest."""
    bears = {span.part for span in asked.build.spans if _along(asked.build.part(span.part), span.clear)}
    solid = [part for part in asked.build.parts if part.stock.solid and part.name not in bears]
    for part in solid:
        if part.length.value < part.width.value:
            yield _finding(asked, part)
    good = [part for part in solid if part.length.value >= part.width.value]
    if good:
        yield _finding(asked, min(good, key=lambda part: part.length.value / part.width.value))


def _along(part: Part, clear: Dim) -> bool:
    """Whether a board's length is what reaches over a span: to the ends, or a little shy of them or into its joints."""
    return abs(part.length.value - clear.value) < abs(part.width.value - clear.value)


def _finding(asked: Asked, part: Part) -> Finding:
    manner = asked.build.manner
    number = float(part.length.value / part.width.value)
    said = (
        f"{part.name} of {part.stock.name} is {mm(part.length.value, manner)} along its grain and "
        f"{mm(part.width.value, manner)} across it."
    )
    if number >= 1:
        return Finding(CHECK.code, Grade.FINE, part.place, said, "", LONG_WAY, number, 1, "times", (part.name,))
    advice = "Turn it so that its grain runs the long way, or make it of sheet stock."
    short = part.width.value - part.length.value
    tries = (*changes(part.width, -short, manner), *changes(part.length, short, manner))
    about = (part.name,)
    return Finding(CHECK.code, Grade.CARE, part.place, said, advice, LONG_WAY, number, 1, "times", about, None, tries)


CHECK = Check("short-grain", "Does the grain of every solid part run its long way?", run, LONG_WAY)
