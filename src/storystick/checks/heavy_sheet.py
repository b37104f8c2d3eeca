"""Heavy sheet: what a whole sheet weighs, against what one person lifts onto a saw."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.part_too_large import named
from storystick.checks.saying import kg
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.stock import SoldAs, Stock

LIFT = Source(
    "Revised NIOSH Lifting Equation, load constant 23 kg; a sheet over it is broken down on the floor first", "read"
)


def run(asked: Asked) -> Iterator[Finding]:
    """The heaviest sheet of every stock that parts are cut from."""
    used = {part.stock.name: part.stock for part in asked.build.parts}
    for stock in used.values():
        sheets = [sold for sold in stock.sizes if sold.wide is not None]
        if stock.form == "sheet" and sheets and stock.density:
            yield _finding(asked, stock, max(sheets, key=lambda sold: sold.long * (sold.wide or 0)))


def _finding(asked: Asked, stock: Stock, sold: SoldAs) -> Finding:
    manner, limit = asked.build.manner, float(asked.shop.lift)
    volume = sold.long * (sold.wide or Fraction(0)) * stock.thickness.value
    weight = float(volume) * 1e-9 * stock.density
    said = f"A sheet of {stock.name}, {named(sold, manner)}, weighs {kg(weight, manner)}; "
    said += f"one person lifts {kg(limit, manner)}."
    if weight <= limit:
        return Finding(CHECK.code, Grade.FINE, stock.place, said, "", LIFT, weight, limit, "kg", (stock.name,))
    advice = (
        "Break it down on the floor with a hand-held saw, have it cut where it is sold, or lift it with two people."
    )
    return Finding(CHECK.code, Grade.NOTE, stock.place, said, advice, LIFT, weight, limit, "kg", (stock.name,))


CHECK = Check("heavy-sheet", "Can one person handle a whole sheet of each stock?", run, LIFT)
