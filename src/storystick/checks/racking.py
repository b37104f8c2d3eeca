"""Racking: what keeps a case square when it is pushed sideways."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import decimal, listed, mm, small
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly, Part
from storystick.physics.racking import corner_moment_nmm, panel_sway_mm

PUSH_N = 200.0
SHEAR_MODULUS_MPA = 350.0  # of plywood in its plane, low
SWAY_SHARE = 500.0  # a five-hundredth of the height is not felt: practice
LOW_MM = 400
PLATE = Source("textbook mechanics, a plate in shear and a portal frame, for a push of 200 N at the top", "practice")


def run(asked: Asked) -> Iterator[Finding]:
    """Every assembly with two sides or more that is higher than 400 mm: has it a back, or something in place of one?"""
    for one in asked.build.assemblies:
        parts = [part for part in asked.build.parts if part.assembly == one.name]
        sides = [part for part in parts if part.role == "side"]
        if len(sides) >= 2 and one.size[2].value >= LOW_MM:
            yield _finding(asked, one, sides, braces(asked, parts, sides))


def braces(asked: Asked, parts: list[Part], sides: list[Part]) -> list[Part]:
    """Upright boards that stand across, from side to side, and are joined to both."""
    ends = {side.name for side in sides}
    found = []
    for part in parts:
        joined = {
            j.host if j.guest == part.name else j.guest for j in asked.build.joints if part.name in (j.host, j.guest)
        }
        held = joined | {f.into for f in asked.build.fasteners if f.through == part.name}
        if part.lies[2] == 1 and part.name not in ends and len(held & ends) >= 2:
            found.append(part)
    return found


def _finding(asked: Asked, one: Assembly, sides: list[Part], found: list[Part]) -> Finding:
    manner, high = asked.build.manner, max(float(side.along(2)) for side in sides)
    wide = float(one.size[0])
    if not found:
        moment = corner_moment_nmm(PUSH_N, high, 4) / 1000
        said = (
            f"{one.name} has no back: a push of {decimal(PUSH_N, 0)} N at its top puts {decimal(moment, 0)} N m on "
            f"each of its corners, and only their joints keep it square."
        )
        advice = "Give it a back, or boards across at top and bottom of the rear, joined to both sides."
        return Finding(CHECK.code, Grade.CARE, one.place, said, advice, PLATE, moment, None, "N m", (one.name,))
    cover = sum((part.along(2).value for part in found), Fraction(0))
    thick = min(float(part.thickness) for part in found)
    sway = panel_sway_mm(PUSH_N, high, wide, thick, SHEAR_MODULUS_MPA) * high / min(high, float(cover))
    limit = high / SWAY_SHARE
    said = (
        f"{one.name} is kept square by {listed(part.name for part in found)}: a push of {decimal(PUSH_N, 0)} N at the "
        f"top moves it {small(sway, manner)}; {small(limit, manner)} in {mm(high, manner)} is not felt."
    )
    about = (one.name, *(part.name for part in found))
    if sway <= limit:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", PLATE, sway, limit, "mm", about)
    advice = "Use a thicker back, or let it cover more of the height."
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, PLATE, sway, limit, "mm", about)


CHECK = Check("racking", "Does something keep each case square when it is pushed sideways?", run, PLATE)
