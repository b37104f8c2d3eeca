"""Shop door: whether what was put together goes out where it was built."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import at_most, mm
from storystick.checks.stated import changes
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly

SPARE = Fraction(20)
DOOR = practice("a piece goes through a door with 20 mm (3/4 in) to spare each way, tilted or turned as it may be")


def run(asked: Asked) -> Iterator[Finding]:
    """Every assembly that is put in place as one, against the door of the shop."""
    if asked.shop.door is None:
        return
    for one in asked.build.assemblies:
        if not one.inside_of and any(part.assembly == one.name for part in asked.build.parts):
            yield _finding(asked, one, asked.shop.door)


def _finding(asked: Asked, one: Assembly, door: tuple[Fraction, Fraction]) -> Finding:
    manner = asked.build.manner
    least, middle, _ = sorted(dim.value for dim in one.size)
    narrow, tall = sorted(door)
    said = (
        f"{one.name} is {mm(least, manner)} by {mm(middle, manner)} across, turned the best way; the door of the shop "
        f"is {mm(narrow, manner)} by {mm(tall, manner)}."
    )
    tight = min(narrow - least, tall - middle)
    if tight >= SPARE:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", DOOR, tight, SPARE, "mm", (one.name,))
    advice = (
        f"Put it together where it will stand, or make it {at_most(narrow - SPARE, manner)} or less one way and "
        f"{at_most(tall - SPARE, manner)} or less another."
    )
    tries = tuple(
        mend
        for dim in sorted(one.size, key=lambda dim: dim.value)
        for room in (narrow - SPARE, tall - SPARE)
        if dim.value > room
        for mend in changes(dim, room - dim.value, manner)
    )
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, DOOR, tight, SPARE, "mm", (one.name,), None, tries)


CHECK = Check("shop-door", "Does each assembly go out through the door of the shop?", run, DOOR)
