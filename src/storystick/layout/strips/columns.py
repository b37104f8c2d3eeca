"""Sticks out of many patterns: which way of filling one stick is worth most, and the cheapest mix of such ways.

The cheapest mix says what each length is worth; the fullest stick by these worths is a new pattern if it is worth more
than the stick costs, and the mix is made again (Gilmore and Gomory, A linear programming approach to the cutting stock
problem, 1961). The same worths give a lower bound that is reckoned in whole numbers: no stick holds more worth than
the fullest one, so the sticks cost at least what all blanks are worth (Farley 1990; from memory).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from storystick.layout.sheets.mixing import Mix, Pattern, cheapest_mix
from storystick.layout.sheets.problem import Job

WORTHS = 2**24
"""Worths are reckoned in so many parts of the dearest stick."""

MOST_ROOM = 20_000
"""Steps are the greatest common one of all lengths; with more of them in a stick than these, coarser ones are taken."""

MIXING = 40
"""So many steps does a mix take for each length and pattern."""

FEW = 3.0
"""So much of the dearest stick do the last ones cost."""

PAYS = 1e-6
"""A pattern is new if it is worth more than the stick by this share."""


@dataclass(frozen=True, slots=True)
class Stick:
    """A stock to cut from.

    room    in steps, with one kerf added
    cost    beside the dearest
    price   the same, but what is on hand is said to cost nearly nothing
    """

    stock: int
    room: int
    cost: Fraction
    price: float
    copies: int | None


@dataclass(frozen=True, slots=True)
class Lengths:
    """The question in steps: each length once.

    kinds   which kinds of blank have this length
    sizes   the length and a kerf [steps]; the longest first
    need    how many of each
    saves   of two answers that cost differently the cheaper one saves at least this [of the dearest stick]
    exact   the steps are no coarser than the lengths
    """

    kinds: tuple[tuple[int, ...], ...]
    sizes: tuple[int, ...]
    need: tuple[int, ...]
    sticks: tuple[Stick, ...]
    dearest: Fraction
    saves: float
    exact: bool


def lengths_of(job: Job) -> Lengths | None:
    """The question in as large steps as it allows; None for sticks with a defect in them, which are two shorter ones.

    Where the steps have to be coarser than the lengths, blanks are rounded up and sticks down.
    """
    prices = [stock.cost for stock in job.stocks if stock.cost > 0]
    if not prices or any(len(stock.kits[0].regions) != 1 for stock in job.stocks):
        return None
    alike: dict[int, list[int]] = {}
    for number, kind in enumerate(job.kinds):
        alike.setdefault(kind.fits[0].long + job.kerf, []).append(number)
    rooms = [stock.kits[0].regions[0].area.long + job.kerf for stock in job.stocks]
    sizes = sorted(alike, reverse=True)
    least = gcd(*sizes)
    step = max(least, -(-max(rooms) // MOST_ROOM))
    dearest = max(prices)
    shown = [float(max(stock.cost, min(prices) / 1000) / dearest) for stock in job.stocks]
    sticks = tuple(
        Stick(number, rooms[number] // step, stock.cost / dearest, shown[number], stock.copies)
        for number, stock in enumerate(job.stocks)
    )
    return Lengths(
        kinds=tuple(tuple(alike[size]) for size in sizes),
        sizes=tuple(-(-size // step) for size in sizes),
        need=tuple(sum(len(job.kinds[kind].keys) for kind in alike[size]) for size in sizes),
        sticks=sticks,
        dearest=dearest,
        saves=float(_common(prices) / dearest) if len(prices) == len(job.stocks) else 0.0,
        exact=step == least,
    )


def _common(costs: Sequence[Fraction]) -> Fraction:
    """The greatest amount of money that all of these are whole times of."""
    whole = lcm(*(cost.denominator for cost in costs))
    return Fraction(gcd(*(int(cost * whole) for cost in costs)), whole)


def fullest(sizes: Sequence[int], counts: Sequence[int], worths: Sequence[int], room: int) -> tuple[int, list[int]]:
    """The most worth that goes into a room, and how many of each length make it up.

    Every room up to this one is reckoned, length after length (Bellman 1957), so the answer is exact.
    """
    import numpy as np

    best = np.zeros(room + 1, dtype=np.int64)
    taken = []
    for index, (size, count, worth) in enumerate(zip(sizes, counts, worths, strict=True)):
        for times in _parts(min(count, room // size)) if worth > 0 else ():
            wide = times * size
            with_it = best[: room + 1 - wide] + times * worth
            better = with_it > best[wide:]
            if better.any():
                best[wide:][better] = with_it[better]
                taken.append((index, times, wide, better))
    number = [0] * len(sizes)
    at = room
    for index, times, wide, better in reversed(taken):
        if at >= wide and better[at - wide]:
            number[index] += times
            at -= wide
    return int(best[room]), number


def _parts(count: int) -> Iterator[int]:
    """Bundles of which any number up to a count can be put together."""
    times = 1
    while count > 0:
        yield min(times, count)
        count -= times
        times *= 2


class Columns:
    """All patterns of one question. `steps` counts the work done; no mix costs less than `bound`."""

    def __init__(self, lengths: Lengths) -> None:
        self.lengths = lengths
        self.known: dict[tuple[int, tuple[int, ...]], Pattern] = {}
        self.limited = [(place, s.copies) for place, s in enumerate(lengths.sticks) if s.copies is not None]
        self.bound = Fraction(0)
        self.steps = 0

    def add(self, place: int, gives: Sequence[int]) -> bool:
        """Keep a way of filling a stick; False if it is known."""
        key = (place, tuple(gives))
        if key in self.known:
            return False
        self.known[key] = Pattern(key[1], place, self.lengths.sticks[place].price)
        return True

    def mix(self, left: Sequence[int], used: Sequence[int], before: Mix | None = None) -> tuple[Mix, list[Pattern]]:
        """The cheapest mix for what is left, and the patterns it is made of.

        before  the last mix, if only patterns were added since
        """
        rows = [row for row, number in enumerate(left) if number]
        there: dict[tuple[int, tuple[int, ...]], Pattern] = {}
        for pattern in self.known.values():
            gives = tuple(min(pattern.gives[row], left[row]) for row in rows)
            if any(gives):
                there.setdefault((pattern.stock, gives), Pattern(gives, pattern.stock, pattern.cost))
        limited = [(place, copies - used[place]) for place, copies in self.limited]
        base = before.base if before is not None else ()
        mix = cheapest_mix(list(there.values()), [left[row] for row in rows], limited, base)
        self.steps += MIXING * len(rows) * len(there)
        worth, whole = [0.0] * len(left), []
        for row, value in zip(rows, mix.worth, strict=True):
            worth[row] = value
        for pattern in there.values():
            gives_all = [0] * len(left)
            for row, number in zip(rows, pattern.gives, strict=True):
                gives_all[row] = number
            whole.append(Pattern(tuple(gives_all), pattern.stock, pattern.cost))
        return Mix(mix.amounts, tuple(worth), mix.rent, mix.cost, mix.base), whole

    def improve(self, left: Sequence[int], used: Sequence[int], mix: Mix, whole: bool = False) -> bool:
        """Add the patterns that make the mix cheaper; False if there are none.

        For the last sticks the fullest one of each sort is added too, though it does not: it may end the job.
        whole  what is left is all there is: then the worths also give a bound
        """
        worths = [int(value * WORTHS) for value in mix.worth]
        rents = dict(zip((place for place, _ in self.limited), mix.rent, strict=True))
        better, most = False, []
        for place, stick in enumerate(self.lengths.sticks):
            if stick.copies is not None and used[place] >= stick.copies:
                most.append(0)
                continue
            value, gives = self._fullest(left, worths, stick.room)
            most.append(value)
            price = (stick.price + rents.get(place, 0.0)) * WORTHS * (1 + PAYS) + 2 * sum(gives)
            there = list(left)
            if mix.cost < FEW and not whole:
                self.add(place, gives)
            while value > price and any(gives):
                better |= self.add(place, gives)
                there = [have - takes for have, takes in zip(there, gives, strict=True)]
                value, gives = self._fullest(there, worths, stick.room)
        if whole and self.lengths.exact:
            self.bound = max(self.bound, self._least(worths, most))
        return better

    def _fullest(self, left: Sequence[int], worths: Sequence[int], room: int) -> tuple[int, list[int]]:
        self.steps += room * sum(min(have, 4) for have, worth in zip(left, worths, strict=True) if have and worth > 0)
        return fullest(self.lengths.sizes, left, worths, room)

    def _least(self, worths: Sequence[int], most: Sequence[int]) -> Fraction:
        """What no way of cutting can cost less than, by these worths of the lengths and the fullest stick of each."""
        total = sum(worth * number for worth, number in zip(worths, self.lengths.need, strict=True))
        paid = [stick.cost for stick in self.lengths.sticks]
        shares = [cost / value for cost, value in zip(paid, most, strict=True) if value]
        best = Fraction(0)
        for share in shares:
            gain = [share * value - cost for value, cost in zip(most, paid, strict=True)]
            if all(more <= 0 or s.copies is not None for more, s in zip(gain, self.lengths.sticks, strict=True)):
                few = zip(gain, self.lengths.sticks, strict=True)
                best = max(best, share * total - sum(max(Fraction(0), more) * (s.copies or 0) for more, s in few))
        return best


def told(job: Job, lengths: Lengths, made: Sequence[Pattern]) -> list[tuple[int, list[int]]]:
    """The patterns as sticks: which stock, and the kinds of the blanks, none more often than there are."""
    left = job.counts
    sticks = []
    for pattern in made:
        kinds = []
        for row, number in enumerate(pattern.gives):
            for kind in lengths.kinds[row]:
                times = min(number, left[kind])
                kinds.extend([kind] * times)
                left[kind] -= times
                number -= times
        if kinds:
            sticks.append((lengths.sticks[pattern.stock].stock, kinds))
    return sticks


def as_pattern(lengths: Lengths, stock: int, kinds: Sequence[int]) -> tuple[int, tuple[int, ...]]:
    """A stick as it was filled, as a pattern: place of its stick, and how many of each length."""
    told_kinds = Counter(kinds)
    place = next(index for index, stick in enumerate(lengths.sticks) if stick.stock == stock)
    return place, tuple(sum(told_kinds[kind] for kind in row) for row in lengths.kinds)
