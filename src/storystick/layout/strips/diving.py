"""From a mix in fractions to whole sticks: pattern after pattern is cut, and where that ends too dear others are tried.

The mix is made anew for what is left after each choice. As soon as the mix alone would cost as much as the best
answer, the last choices are turned: first those that differ in one place from the way the mix points to, then in two
(limited discrepancy search, Harvey and Ginsberg 1995; from memory). Bounded by steps.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor

from storystick.layout.sheets.mixing import Mix, Pattern
from storystick.layout.strips.columns import Columns

ROUGHLY = 1e-4

ROUNDS = 400
"""How often the mix of the whole job is made better, at most."""

FEWER_ROUNDS = 12
"""How often the mix for what is left is, before the next pattern is cut."""

TURNS = ((0, 0), (1, 2), (2, 2), (3, 2), (1, 8), (2, 8), (3, 8), (4, 8))
"""Pass after pass: in how many places another way is taken than the mix points to, and how many are tried there."""


@dataclass(frozen=True, slots=True)
class State:
    """What has been cut: the patterns, their cost, what is left to cut, and what was used of each stick."""

    made: tuple[Pattern, ...]
    cost: float
    left: tuple[int, ...]
    used: tuple[int, ...]


class Dive:
    """The search for whole answers that cost less than `ceiling`, in at most `most` steps; `least` is a known bound."""

    def __init__(self, columns: Columns, ceiling: float, most: int, least: float = 0.0) -> None:
        self.columns, self.ceiling, self.most, self.least = columns, ceiling, most, least

    def answers(self) -> Iterator[tuple[Pattern, ...]]:
        """Whole answers, each cheaper than the ones before; and nothing, as often as the search may be stopped."""
        lengths = self.columns.lengths
        begin = State((), 0.0, lengths.need, (0,) * len(lengths.sticks))
        if self._mixed(begin, ROUNDS, whole=True) is None:
            return
        for turned, wide in TURNS:
            for state in self._down(begin, turned, wide):
                if state is None:
                    yield ()
                    continue
                self.ceiling = state.cost
                yield state.made
            if self.over:
                return

    @property
    def over(self) -> bool:
        """True if there is nothing more to find, or the steps are used up."""
        return self.columns.steps >= self.most or max(self.least, float(self.columns.bound)) > self._enough

    @property
    def _enough(self) -> float:
        """What is to be cheaper than the ceiling may cost so much."""
        return self.ceiling - max(ROUGHLY, self.columns.lengths.saves - ROUGHLY)

    def _down(self, state: State, turned: int, wide: int) -> Iterator[State | None]:
        """Whole answers below a state, with just so many turns from the way the mix points to; None in between."""
        while True:
            if not any(state.left):
                if turned == 0 and state.cost < self.ceiling - ROUGHLY:
                    yield state
                return
            if self.over:
                return
            found = self._mixed(state, FEWER_ROUNDS)
            if found is None:
                return
            yield None
            mix, there = found
            whole = [(i, floor(a + ROUGHLY)) for i, a in enumerate(mix.amounts) if a >= 1 - ROUGHLY]
            ways = [[(i, 1)] for i in self._ways(state, mix, there)]
            if not whole and not ways:
                return
            fewer = [[one for one in whole if one != less] for less in whole] if len(whole) > 1 else []
            first, others = (whole, [*ways[:2], *fewer[::-1], *ways[2:]]) if whole else (ways[0], ways[1:])
            if turned:
                for other in others[:wide]:
                    yield from self._down(self._cut(state, other, there), turned - 1, wide)
            state = self._cut(state, first, there)

    def _ways(self, state: State, mix: Mix, there: Sequence[Pattern]) -> list[int]:
        """The patterns that the mix takes in fractions, the largest fraction first; then what costs it least more."""
        rents = dict(zip((place for place, _ in self.columns.limited), mix.rent, strict=True))

        def rank(index: int) -> tuple[float, float, float, int]:
            pattern = there[index]
            worth = sum(g * w for g, w in zip(pattern.gives, mix.worth, strict=True))
            more = pattern.cost + rents.get(pattern.stock, 0.0) - worth
            share = mix.amounts[index] % 1
            return -round(share, 6) if share < 1 - ROUGHLY else 0.0, round(more, 6), -round(worth, 6), index

        few = {place for place, copies in self.columns.limited if state.used[place] >= copies}
        return sorted((i for i, pattern in enumerate(there) if pattern.stock not in few), key=rank)

    def _mixed(self, state: State, rounds: int, whole: bool = False) -> tuple[Mix, list[Pattern]] | None:
        """The mix for what is left, made better; None if it costs too much."""
        columns = self.columns
        mix, there = columns.mix(state.left, state.used)
        for _ in range(rounds):
            better = columns.improve(state.left, state.used, mix, whole)
            mix, there = columns.mix(state.left, state.used, mix)
            if not better:
                break
            if columns.steps >= self.most:
                break
        if state.cost + mix.cost > self._enough:
            return None
        return mix, there

    def _cut(self, state: State, chosen: Sequence[tuple[int, int]], there: Sequence[Pattern]) -> State:
        made, used, left, cost = list(state.made), list(state.used), list(state.left), state.cost
        for index, times in chosen:
            pattern = there[index]
            for _ in range(times):
                gives = tuple(map(min, pattern.gives, left))
                if not any(gives):
                    break
                made.append(Pattern(gives, pattern.stock, pattern.cost))
                used[pattern.stock] += 1
                cost += pattern.cost
                left = [have - takes for have, takes in zip(left, gives, strict=True)]
        return State(tuple(made), cost, tuple(left), tuple(used))

