"""What a thing costs: as the plan says, else as the shop file says, else a guess from the table, marked as one."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.length import FOOT
from storystick.shop.shop import Shop
from storystick.shop.tables import find, prices

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


def cost(shop: Shop, names: Iterable[str]) -> Cost:
    """The price of one thing, by any of its names as the shop file or the table may have it."""
    wanted = [name for name in names if name]
    own = {plain(price.name): price.money.amount for price in shop.prices}
    for name in wanted:
        if plain(name) in own:
            return Cost(own[plain(name)])
    for name in wanted:
        row = find(prices(), name)
        if row is not None and row.per in PER:
            return Cost(Fraction(str(row.dollars)) * PER[row.per], True)
    return Cost(None)


def cost_by_length(shop: Shop, names: Iterable[str], length: Fraction) -> Cost:
    """The price of a length of something sold by the foot [length in mm]."""
    wanted = [name for name in names if name]
    own = {plain(price.name): price.money.amount for price in shop.prices}
    for name in wanted:
        if plain(name) in own:
            return Cost(own[plain(name)] * length / FOOT)
    for name in wanted:
        row = find(prices(), name)
        if row is not None and row.per == "foot":
            return Cost(Fraction(str(row.dollars)) * length / FOOT, True)
    return Cost(None)


def plain(said: str) -> str:
    """A name without its capitals and odd spaces."""
    return " ".join(said.casefold().split())
