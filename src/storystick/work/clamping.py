"""How many clamps a glue-up wants, held against those of the shop."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.part import Assembly
from storystick.work.bench import Bench
from storystick.work.peeling import Closing
from storystick.work.saying import many, spoken

GLUE = "yellow glue"
APART = Fraction(250)
CLAMPING = practice("a clamp every 250 mm (10 in) along a joint, two at least; screws and nails are clamps themselves")


@dataclass(frozen=True, slots=True)
class Clamped:
    """How many clamps a go wants, how far they must open [mm], and what it needs in words."""

    count: int = 0
    opening: Fraction = Fraction(0)
    needs: tuple[str, ...] = ()


def clamps_for(bench: Bench, one: Assembly, go: Closing, findings: list[Finding]) -> Clamped:
    """How many clamps a go wants and how far they must open, held against those of the shop. Source: CLAMPING."""
    wanted = 0
    opening = Fraction(0)
    sides: dict[tuple[int, int], int] = {}
    for joint in go.joints:
        if not joint.glued or {"screws", "nails"} & set(joint.holds) or bench.fasteners_of((joint,)):
            continue
        guest = bench.build.part(joint.guest)
        along = max(guest.along(a).value for a in range(3) if a != joint.axis)
        sides[joint.axis, joint.sign] = sides.get((joint.axis, joint.sign), 0) + max(2, ceil(along / APART))
        opening = max(opening, one.size[joint.axis].value)
    for axis in range(3):
        wanted += max(sides.get((axis, 1), 0), sides.get((axis, -1), 0))
    if not wanted:
        return Clamped()
    owned = sum(c.count for c in bench.shop.clamps if c.opening >= opening)
    wide = show(opening, bench.build.manner)
    words = f"{many(wanted, 'clamp')} that open {wide} (you have {owned})"
    if owned < wanted:
        findings.append(
            Finding(
                "few-clamps",
                Grade.NOTE,
                one.place,
                f"Gluing up {spoken(one.name)} wants {many(wanted, 'clamp')} that open {wide}; the shop has {owned}.",
                f"Get {wanted - owned} more, glue it in more goes, or put a screw where it does not show.",
                CLAMPING,
                wanted,
                owned,
                "clamps",
                go.parts,
            )
        )
    return Clamped(wanted, opening, (words, GLUE))
