"""Solid wood in a plan: boards each of its own size, wood by the board foot or the cubic metre, strips off a board."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import cast

from storystick.ground.fields import Field, Filled, ListOf, Money, Percent, Text
from storystick.ground.finding import Finding, wrong
from storystick.ground.marked import Scalar
from storystick.ground.misread import Misread
from storystick.ground.quantities import read_count
from storystick.ground.reads import Plain
from storystick.ground.size_words import read_sizes
from storystick.model.stock import ByVolume, Form, SoldAs
from storystick.resolve.names import Names
from storystick.shop.lists import read_range

BOARDS = (
    Field("boards", ListOf(Text), help="boards that can be had, each of its own size: [7 1/2 x 94, 2 of 6 x 80]"),
    Field("per board foot", Money, help="price of a board foot, for wood in random widths and lengths"),
    Field("per cubic metre", Money, help="price of a cubic metre, for the same", also=("per m3", "per cubic meter")),
    Field("widths", Plain("text", "a range", "5 to 9", read_range), help="what widths such wood comes in: 5 to 9"),
    Field("waste", Percent, help="what of it is bought beyond the parts, where nobody has seen the boards: 30 %"),
    Field("ripped from", Text, help="the stock of boards that strips are ripped from"),
)
BY_LENGTH = ("strip", "bar", "band")
MOST_WASTE = Fraction(90)


@dataclass(frozen=True, slots=True)
class Sized:
    """A size as a plan writes it: how many, length and width, and a board's own thickness [mm]."""

    count: int
    long: Fraction
    wide: Fraction | None
    thick: Fraction | None
    called: str


def sized(
    key: Scalar, form: Form, names: Names, mistakes: list[Finding], *, counted: bool = True
) -> Sized | None:
    """`4 ft x 8 ft`, of a board also `1 x 7 x 94` with its thickness; `2 of 6 x 80` where they may be counted."""
    match = re.fullmatch(r"\s*(\w+)\s+of\s+(.+)", key.text) if counted else None
    try:
        count = read_count(match[1]) if match else 1
        text = match[2] if match else key.text
        lengths = read_sizes(text, names.bare, 1 if form in BY_LENGTH else 2, 3 if form == "board" else 2)
        if count < 1:
            raise Misread(key.text, "at least one of them", f"1 of {text}")
    except Misread as trouble:
        mistakes.append(trouble.finding(key.place))
        return None
    thick = min(lengths) if len(lengths) == 3 else None
    if thick is not None:
        lengths = tuple(sorted(lengths)[1:])
    if len(lengths) == 1:
        return Sized(count, lengths[0], None, thick, text)
    return Sized(count, max(lengths), min(lengths), thick, text)


def own_boards(filled: Filled, form: Form, names: Names, mistakes: list[Finding]) -> tuple[SoldAs, ...]:
    """The boards of a plan's own list, each as often as it is there."""
    if not filled.has("boards"):
        return ()
    if form != "board":
        mistakes.append(wrong(filled.place("boards"), f"boards are listed for a {form}.", "Write board: and the wood."))
        return ()
    read = [sized(Scalar(text, filled.place("boards")), form, names, mistakes) for text in filled.texts("boards")]
    return tuple(
        SoldAs(one.long, one.wide, None, one.count, called=one.called, thick=one.thick)
        for one in read if one is not None
    )  # fmt: skip


def by_volume(filled: Filled, names: Names, mistakes: list[Finding]) -> ByVolume | None:
    """How the wood is sold by volume; None where the plan doesn't say that it is."""
    feet, metres = filled.maybe_money("per board foot"), filled.maybe_money("per cubic metre")
    said = [name for name in ("per board foot", "per cubic metre", "widths", "waste") if filled.has(name)]
    if not said:
        return None
    if not filled.has("board"):
        mistakes.append(
            wrong(filled.place(said[0]), f"{said[0]} is for boards of solid wood.", "Write board: and the wood.")
        )
        return None
    if feet is not None and metres is not None:
        mistakes.append(
            wrong(filled.place("per cubic metre"), "The wood has a price by the board foot and by the cubic metre.",
                  "Write one of them.")
        )  # fmt: skip
    share = filled.maybe_number("waste")
    if share is not None and not 0 <= share <= MOST_WASTE:
        says = "waste is a share of the wood, at most 90 %."
        mistakes.append(wrong(filled.place("waste"), says, "Write waste: 30 %."))
        share = None
    widths = cast(tuple[Fraction, Fraction] | None, filled.made("widths", tuple))
    price = feet or metres
    return ByVolume(
        "m3" if metres is not None or (feet is None and names.bare == "mm") else "board foot",
        price.amount if price else None,
        share / 100 if share is not None else None,
        widths[0] if widths else None,
    )
