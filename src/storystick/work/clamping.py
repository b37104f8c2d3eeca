"""How many clamps a glue-up wants, held against those of the shop."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.joining import Joined
from storystick.model.part import Assembly, Part
from storystick.work.bench import Bench
from storystick.work.peeling import Closing
from storystick.work.saying import many, spoken

GLUE = "yellow glue"
SLOW = "slow white glue"
APART = Fraction(250)
STRIP = Fraction(60)
"""What is no wider nor thicker than this is a strip [mm]."""
CLAMPING = practice("a clamp every 250 mm (10 in) along a joint, two at least; screws and nails are clamps themselves")


@dataclass(frozen=True, slots=True)
class Clamped:
    """How many clamps a go wants, how far they must open [mm], and what it needs in words."""

    count: int = 0
    opening: Fraction = Fraction(0)
    needs: tuple[str, ...] = ()
    axis: int | None = None  # along which they press, where that is one way only


def _laid_in(bench: Bench, go: Closing) -> dict[str, tuple[int, int]]:
    """Guests laid into steps all round, such as a back: they are clamped the way they are laid in, by axis and sign."""
    ways: dict[str, list[frozenset[tuple[int, int]]]] = {}
    for joint in go.joints:
        if joint.glued:
            ways.setdefault(joint.guest, []).append(bench.ways_out.get(joint.name, frozenset()))
    return {
        guest: next(iter(same[0])) for guest, same in ways.items() if len(same) > 2 and same[0] and len(set(same)) == 1
    }


def _is_end_of_strip(joint: Joined, guest: Part, go: Closing) -> bool:
    """The end of a strip against its neighbour, closed by the clamps along its length: none presses there by itself."""
    met = max(guest.along(a).value for a in range(3) if a != joint.axis)
    others = (one for one in go.joints if one.glued and one.guest == guest.name and one.axis != joint.axis)
    longest = max((max(guest.along(a).value for a in range(3) if a != one.axis) for one in others), default=met)
    return met <= STRIP and met * 4 < longest


def clamps_for(bench: Bench, one: Assembly, go: Closing, findings: list[Finding]) -> Clamped:
    """How many clamps a go wants and how far they must open, held against those of the shop. Source: CLAMPING."""
    wanted = 0
    opening = Fraction(0)
    sides: dict[tuple[int, int], int] = {}
    laid_in = _laid_in(bench, go)
    for joint in go.joints:
        if not joint.glued or {"screws", "nails"} & set(joint.holds) or bench.fasteners_of((joint,)):
            continue
        guest = bench.build.part(joint.guest)
        if _is_end_of_strip(joint, guest, go):
            continue
        axis, sign = laid_in.get(guest.name, (joint.axis, joint.sign))
        along = max(guest.along(a).value for a in range(3) if a != axis)
        count = max(2, ceil(along / APART))
        sides[axis, sign] = count if guest.name in laid_in else sides.get((axis, sign), 0) + count
        opening = max(opening, one.size[axis].value)
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
    axes = {axis for axis, _ in sides}
    return Clamped(wanted, opening, (words, GLUE), axes.pop() if len(axes) == 1 else None)
