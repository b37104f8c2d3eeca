"""Hinges: which, how many, where; the bores or recesses that they need, and their screws.

Cup hinges sit in round bores in the back of a door, their plates on the board beside it. Butt hinges are let into the
two boards that meet, half a leaf in each.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.craft.draft import Bench, Draft, X, Z, plus
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.fields import Filled
from storystick.ground.finding import Finding, Grade, Place, mistake
from storystick.ground.length import show
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.shop.tables import find, hinges, nearest
from storystick.shop.tables.rows import Hinge

HEIGHTS = ((900, 2), (1600, 3), (2000, 4), (2400, 5))
WEIGHTS = ((6.0, 2), (12.0, 3), (17.0, 4), (22.0, 5))
COUNT = practice(
    "two hinges up to 900 mm high and 6 kg, three to 1600 mm and 12 kg, four to 2000 mm and 17 kg, five to 2400 mm "
    "and 22 kg"
)
ENDS = practice("hinges sit 90 mm (3 1/2 in) from the ends of a door, a fifth of its height on low ones")
PASS = practice("a hinge stays 35 mm (1 3/8 in) away from the boards that end at its side")
SCANT = Fraction(1, 2)  # sheets come out a little under what they are sold as [mm]
STAGGER = practice("hinges on the two sides of one board stand 12 mm (1/2 in) apart in height, so that screws miss")


@dataclass(frozen=True, slots=True, eq=False)
class Hanging:
    """A leaf being hung: the board that carries its hinges, the fixed board, and where it ends along its hinged edge.

    leaf     board with the hinges, of the assembly that swings;  fixed  the board beside it
    shift    where the axes of the leaf's assembly begin in those of the fixed one's
    low, long  of the whole leaf along its hinged edge, in its own axes;  kilograms  what all of it weighs, about
    """

    leaf: Draft
    fixed: Draft
    shift: tuple[Dim, Dim, Dim]
    low: Dim
    long: Dim
    kilograms: float
    place: Place


def hinge_of(bench: Bench, ask: Filled, said: str, *, covers: bool, thick: Dim, kinds: Sequence[str]) -> Hinge | None:
    """The hinge that a plan's words mean; None, with a mistake noted, when there is none or it is of another kind."""
    word = " ".join(said.lower().split()).removesuffix("s") if said.lower().endswith("hinges") else said.lower().strip()
    place = ask.place("hinges")
    if word in ("cup hinge", "concealed hinge", "yes"):
        word = "overlay cup hinge" if covers else "inset cup hinge"
    elif word == "butt hinge":
        word = "3 inch butt hinge" if thick.value > 20 else "2 inch butt hinge"
    row = find(hinges(), word)
    fitting = [r.name for r in hinges().values() if r.kind in kinds]
    if row is None or row.kind not in kinds:
        near = nearest(hinges(), word)
        trouble = mistake(
            place, said, f"a hinge for this: {one_of(fitting)}", near[0] if row is None and near else fitting[0]
        )
        if trouble not in bench.mistakes:
            bench.mistakes.append(trouble)
        return None
    if not row.door_least_mm - SCANT <= thick.value <= row.door_most_mm + SCANT:
        manner = bench.manner
        says = (
            f"{row.name.capitalize()}s are made for {show(row.door_least_mm, manner)} to "
            f"{show(row.door_most_mm, manner)}, "
            f"and this door is {show(thick.value, manner)} thick."
        )
        bench.mistakes.append(Finding("hinge", Grade.CARE, place, says, "Take other stock, or another hinge."))
    return row


def how_many(high: float, kilograms: float) -> int:
    """How many hinges a leaf of some height [mm] and weight [kg] wants."""
    by_height = next((count for most, count in HEIGHTS if high <= most), 5 + ceil((high - 2400) / 500))
    by_weight = next((count for most, count in WEIGHTS if kilograms <= most), 5 + ceil((kilograms - 22) / 5))
    return max(by_height, by_weight)


def along_edge(bench: Bench, hang: Hanging, count: int | None, along: int) -> list[Dim]:
    """Where hinges sit along the hinged edge, in the leaf's own axes: near its ends, the others evenly between."""
    number_ = count or how_many(float(hang.long), hang.kilograms)
    usual = rule("hinges from the ends", bench.step("7/2", "90"), ENDS)
    ends = usual if 5 * usual.value <= hang.long.value else hang.long / 5
    stagger = _stagger(bench, hang)
    if number_ < 2:
        return [plus(hang.low, hang.long / 2)]
    step = (hang.long - 2 * ends) / (number_ - 1)
    spots = [plus(hang.low, ends) if i == 0 else plus(hang.low, ends) + step * i for i in range(number_)]
    if stagger is not None:
        spots = [at + stagger for at in spots]
    return [_past_boards(bench, hang, at, along) for at in spots]


def _stagger(bench: Bench, hang: Hanging) -> Dim | None:
    if hang.fixed.role != "divider" or hang.shift[X].value < hang.fixed.low[X].value:
        return None  # the leaf on the left of a divider keeps the usual heights
    return rule("stagger of hinges", bench.step("1/2", "12"), STAGGER)


def _past_boards(bench: Bench, hang: Hanging, at: Dim, along: int) -> Dim:
    """A hinge that would sit where a shelf meets the fixed board goes past it, the shorter way."""
    if along != Z:
        return at
    clear = bench.step("11/8", "35")
    here = at.value + hang.shift[Z].value
    middle = hang.long.value / 2 + hang.low.value + hang.shift[Z].value
    blocks = sorted(
        (w.guest.lower(Z).value - clear, w.guest.upper(Z).value + clear)
        for w in bench.piece.joints
        if w.host is hang.fixed and w.axis == X and w.guest.thick == Z and w.guest.role == "shelf"
    )
    moved = here
    for low, high in blocks if here <= middle else reversed(blocks):
        if low < moved < high:
            moved = high if here <= middle else low
    if moved == here:
        return at
    inside = moved - hang.shift[Z].value
    if not hang.low.value + clear / 2 < inside < hang.low.value + hang.long.value - clear / 2:
        return at
    return chosen(inside, PASS, at)


def recess_width(bench: Bench, row: Hinge, *boards: Dim) -> Dim:
    """How far the leaf of a butt hinge reaches in from the pin: its own width, or what leaves wood behind it."""
    assert row.leaf_wide_mm is not None
    leaf = rule(f"{row.name}, a leaf wide", row.leaf_wide_mm, row.comes_from)
    behind = bench.step("1/8", "3")
    least = min(boards, key=lambda d: d.value)
    if leaf.value <= least.value - behind:
        return leaf
    return chosen(least.value - behind, practice("3 mm (1/8 in) of wood stays behind a hinge"), leaf, least)


def ends_of(at: Dim, long: Dim) -> tuple[Dim, Dim]:
    """A stretch of some length about its middle."""
    return at - long / 2, at + long / 2


def sized(bench: Bench, name: str, value: Fraction | None, row: Hinge) -> Dim:
    """A size of a hinge from the table, named once."""
    assert value is not None
    return bench.once(name, lambda: rule(name, value, row.comes_from), f"{row.name} in the table")
