"""How long a screw or nail is to be: long enough to hold, short enough to stay in the wood, and sold."""

from fractions import Fraction

from storystick.craft.draft import NO_LENGTH, Bench, Draft, minus, plus
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.finding import Finding, Grade, Place
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.shop.tables.rows import Nail, Screw

THREE_TIMES = practice(
    "a screw or nail about three times as long as the board under its head is thick, with 15 mm (5/8 in) in the other"
)
THREAD = Fraction(15)  # [mm]; see THREE_TIMES
SPARE = practice("the point of a screw stays 3 mm (1/8 in) short of any far side")


def spare(bench: Bench) -> Dim:
    """Wood left before the point of a screw."""
    return rule("wood before the point", bench.step("1/8", "3"), SPARE)


type Shift = tuple[Dim, Dim, Dim]
NO_SHIFT: Shift = (NO_LENGTH, NO_LENGTH, NO_LENGTH)


def under_head(through: Draft, into: Draft, axis: int, sign: int, shift: Shift = NO_SHIFT) -> Dim:
    """How far it is from the head to where the other board begins [mm]; a board let into the first begins sooner.

    shift  where the axes of the second board's assembly begin in those of the first one's
    """
    head, begins = through.end(axis, -sign), plus(into.end(axis, -sign), shift[axis])
    return minus(begins, head) if sign > 0 else minus(head, begins)


def long_enough(
    bench: Bench,
    row: Screw | Nail,
    through: Draft,
    into: Draft,
    axis: int,
    sign: int,
    place: Place,
    shift: Shift = NO_SHIFT,
) -> Dim:
    """The length sold nearest to three times the board under the head, longer under thin boards, short of the far side.

    Where nothing sold is short enough the shortest is taken and a finding says so.
    """
    first, second = under_head(through, into, axis, sign, shift), into.whole(axis)
    most = first + second - spare(bench)
    wanted = max(3 * through.whole(axis).value, first.value + THREAD)
    fitting = [long for long in row.lengths_mm if long <= most.value]
    holding = [long for long in fitting if long > first.value]
    if not holding:
        bench.mistakes.append(_too_short(bench, row, through, into, most, place))
        return chosen(min(row.lengths_mm), THREE_TIMES, first)
    best = min(holding, key=lambda long: (abs(long - wanted), -long))
    return chosen(best, THREE_TIMES, first, second)


def longest_within(bench: Bench, row: Screw | Nail, room: Dim, place: Place, what: str) -> Dim:
    """The longest length sold that is no longer than `room` [mm]; the shortest, with a finding, when none is."""
    fitting = [long for long in row.lengths_mm if long <= room.value]
    if not fitting:
        least = show(min(row.lengths_mm), bench.manner)
        says = f"The shortest {row.name} is {least} long, and {what} has room for {show(room.value, bench.manner)}."
        bench.mistakes.append(Finding("screw-length", Grade.CARE, place, says, f"Take thicker stock for {what}."))
    value: Fraction = max(fitting) if fitting else min(row.lengths_mm)
    return chosen(value, SPARE, room)


def _too_short(bench: Bench, row: Screw | Nail, through: Draft, into: Draft, most: Dim, place: Place) -> Finding:
    least = min(row.lengths_mm)
    says = (
        f"No {row.name} is sold that goes through {through.name} into {into.name} and stays inside: "
        f"there is room for {show(most.value, bench.manner)}, and they begin at {show(least, bench.manner)}."
    )
    return Finding(
        "screw-length", Grade.CARE, place, says, "Ask for another screw there, or join it another way.", SPARE
    )
