"""What a thing costs: as the plan says, else as the shop file says, else a guess from the table, marked as one."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from storystick.ground.length import FOOT
from storystick.model.work import From
from storystick.shop.shop import Price, Shop
from storystick.shop.tables import find, prices
from storystick.shop.tables.rows import Price as Guess

PER = {
    "hundred": Fraction(1, 100),
    "each": Fraction(1),
    "pair": Fraction(1),
    "litre": Fraction(1),
    "sheet": Fraction(1),
}


@dataclass(frozen=True, slots=True)
class Cost:
    """A price for one, None when nobody knows; whether it is a guess."""

    price: Fraction | None
    guessed: bool = False
    by: From = field(default=From(), compare=False)

    def of(self, size: Fraction) -> "Fraction | None":
        """The price of so many, or so much; None where nobody knows it."""
        return None if self.price is None else self.price * size


def cost(shop: Shop, names: Iterable[str]) -> Cost:
    """The price of one thing, by any of its names as the shop file or the table may have it."""
    wanted = [name for name in names if name]
    own = {plain(price.name): price for price in shop.prices}
    for name in wanted:
        if (said := own.get(plain(name))) is not None:
            return Cost(said.money.amount, by=_said(said))
    for name in wanted:
        row = find(prices(), name)
        if row is not None and row.per in PER:
            return Cost(Fraction(str(row.dollars)) * PER[row.per], True, _guess(row))
    return Cost(None)


def cost_by_length(shop: Shop, names: Iterable[str], length: Fraction) -> Cost:
    """The price of a length of something sold by the foot [length in mm]."""
    wanted = [name for name in names if name]
    own = {plain(price.name): price for price in shop.prices}
    for name in wanted:
        if (said := own.get(plain(name))) is not None:
            return Cost(said.money.amount * length / FOOT, by=_said(said))
    for name in wanted:
        row = find(prices(), name)
        if row is not None and row.per == "foot":
            return Cost(Fraction(str(row.dollars)) * length / FOOT, True, _guess(row))
    return Cost(None)


def _said(price: Price) -> From:
    return From(f"the shop file gives {price.name} so", price.place)


def _guess(row: Guess) -> From:
    return From(f"a guess: {float(row.dollars):g} for {_PER.get(row.per, row.per)}", source=row.comes_from)


_PER = {word: f"a {word}" for word in ("hundred", "pair", "litre", "sheet", "foot")} | {"each": "one"}


def plain(said: str) -> str:
    """A name without its capitals and odd spaces."""
    return " ".join(said.casefold().split())
