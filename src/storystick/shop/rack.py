"""The rest of a shop file: what is on the rack, what things cost, the air."""

from fractions import Fraction
from typing import cast

from storystick.ground.fields import Filled
from storystick.ground.finding import Finding, mistake
from storystick.ground.misread import one_of
from storystick.ground.quantities import Money
from storystick.ground.source import Source
from storystick.shop.file import FORMS
from storystick.shop.shop import Air, Form, OnHand, Price, Spoilt
from storystick.shop.tools import value_of


def read_air(filled: Filled, source: Source) -> Air:
    """The air of the shop through the year."""
    driest, dampest = filled.number("driest"), filled.number("dampest")
    return Air(min(driest, dampest), max(driest, dampest), filled.number("temperature"), source)


def read_rack(filled: Filled, mistakes: list[Finding]) -> tuple[OnHand, ...]:
    """What is on the rack."""
    found = [_row(row, mistakes) for row in filled.records("on hand")]
    return tuple(one for one in found if one is not None)


def _row(row: Filled, mistakes: list[Finding]) -> OnHand | None:
    said = [form for form in FORMS if row.has(form)]
    if len(said) != 1:
        wanted = f"one thing and what it is of: {one_of(FORMS)}" + (
            f", not {' and '.join(said)} at once" if said else ""
        )
        mistakes.append(mistake(row.place(), "", wanted, "offcut: birch plywood"))
        return None
    form = cast(Form, said[0])
    sizes = cast(tuple[Fraction, ...], row.made("size", tuple) or ())
    thickness = value_of(row.maybe_length("thickness"))
    if len(sizes) == 3:
        thickness, sizes = min(sizes), tuple(sorted(sizes))[1:]
    if form in ("sheet", "offcut") and len(sizes) < 2:
        mistakes.append(mistake(row.place("size"), "", f"length and width of the {form}", "12 x 30"))
        return None
    long, wide = max(sizes), min(sizes) if len(sizes) > 1 else None
    if row.choice("grain") == "short" and wide is not None:
        long, wide = wide, long
    return OnHand(
        form, row.text(form), long, wide, thickness, row.count("count"), row.maybe_text("says") or "", row.place(),
        row.listed("spoilt", Spoilt),
    )  # fmt: skip


def read_prices(filled: Filled) -> tuple[Price, ...]:
    """What things cost here."""
    return tuple(Price(key.text, money, key.place) for key, money in filled.table("prices", Money))
