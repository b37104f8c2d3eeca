"""Edge band by the roll: which rolls the strips come off, none of them pieced together, at the least cost."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import prod

MOST_WAYS = 4000
MOST_ROLLS = 200


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll of band that is on hand or can be bought: its length [mm], the price of one, how many there are."""

    called: str
    long: Fraction
    price: Fraction | None = None
    copies: int | None = None
    on_hand: bool = False


@dataclass(frozen=True, slots=True)
class Taken:
    """A roll and the lengths that come off it, the longest first [mm]."""

    roll: Roll
    strips: tuple[Fraction, ...]

    @property
    def rest(self) -> Fraction:
        """What is left on the roll [mm]."""
        return self.roll.long - sum(self.strips, Fraction(0))


def rolls_for(strips: Sequence[Fraction], rolls: Sequence[Roll]) -> tuple[Taken, ...]:
    """The rolls that all strips come off, cheapest first, then the least band; on hand costs nothing.

    A strip longer than any roll is pieced together of as few lengths as can be. Nothing, where the rolls don't do.
    """
    if not strips or not rolls:
        return ()
    found = _cheapest(sorted(_pieces(strips, max(roll.long for roll in rolls)), reverse=True), rolls)
    endless = [roll.long for roll in rolls if roll.copies is None]
    if not found and endless:
        found = _cheapest(sorted(_pieces(strips, max(endless)), reverse=True), rolls)
    return found


def _cheapest(pieces: Sequence[Fraction], rolls: Sequence[Roll]) -> tuple[Taken, ...]:
    each = _prices(rolls)
    most = [min(_most(pieces, roll), MOST_ROLLS if roll.copies is None else roll.copies) for roll in rolls]
    ways: Iterator[tuple[int, ...]] = product(*(range(count + 1) for count in most))
    if prod(count + 1 for count in most) > MOST_WAYS:
        ways = _few_ways(rolls, most)
    whole = sum(pieces, Fraction(0))

    def rank(way: tuple[int, ...]) -> tuple[Fraction, Fraction, int]:
        long = sum((count * roll.long for count, roll in zip(way, rolls, strict=True)), Fraction(0))
        return sum((count * price for count, price in zip(way, each, strict=True)), Fraction(0)), long, sum(way)

    for way in sorted((way for way in ways if rank(way)[1] >= whole), key=lambda way: (rank(way), way)):
        wound = [roll for count, roll in zip(way, rolls, strict=True) for _ in range(count)]
        found = _off(pieces, wound)
        if found is not None:
            return tuple(one for one in found if one.strips)
    return ()


def _pieces(strips: Sequence[Fraction], longest: Fraction) -> Iterator[Fraction]:
    for strip in strips:
        count = -(-strip // longest)
        yield from [strip / count] * int(count)


def _prices(rolls: Sequence[Roll]) -> list[Fraction]:
    """What each costs; one without a price by the length of the others, or by its own."""
    known = [roll.price / roll.long for roll in rolls if roll.price is not None and not roll.on_hand]
    usual = sum(known, Fraction(0)) / len(known) if known else Fraction(1, 10**6)
    return [
        Fraction(0) if roll.on_hand else roll.price if roll.price is not None else usual * roll.long for roll in rolls
    ]


def _most(pieces: Sequence[Fraction], roll: Roll) -> int:
    """So many rolls of one length would do alone for what goes on it."""
    fitting = [piece for piece in pieces if piece <= roll.long]
    found = _off(fitting, [roll] * len(fitting))
    return sum(bool(one.strips) for one in found or ())


def _few_ways(rolls: Sequence[Roll], most: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """All that is on hand and one or two lengths to buy, where there are too many ways to try all."""
    had = tuple(count if roll.on_hand else 0 for count, roll in zip(most, rolls, strict=True))
    bought = [number for number, roll in enumerate(rolls) if not roll.on_hand]
    yield had
    for one in bought:
        for other in bought:
            for count, last in product(range(most[one] + 1), range(min(most[other], 3) + 1)):
                way = list(had)
                way[one] = count
                way[other] = count + last if one == other else last
                yield tuple(min(a, b) for a, b in zip(way, most, strict=True))


def _off(pieces: Sequence[Fraction], rolls: Sequence[Roll]) -> tuple[Taken, ...] | None:
    """Each piece off the roll that it leaves least of, the longest first; None where one finds no roll."""
    left = [roll.long for roll in rolls]
    taken: list[list[Fraction]] = [[] for _ in rolls]
    for piece in pieces:
        there = [number for number, long in enumerate(left) if long >= piece]
        if not there:
            return None
        number = min(there, key=lambda n: (left[n], n))
        left[number] -= piece
        taken[number].append(piece)
    return tuple(Taken(roll, tuple(some)) for roll, some in zip(rolls, taken, strict=True))
