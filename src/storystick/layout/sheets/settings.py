"""How often the fence must move: the cuts of all sheets put in an order that makes those of one setting together.

Each last piece asks for settings in a certain order, its chain. A list of settings serves a job if every chain is
contained in it, in order: the shortest one is a shortest common supersequence. A setting that no chain needs behind
another one can always be done at once; only where settings wait for one another in a ring must one of them be done
twice. So the settings are as many as there are different ones, and one more for each time that a ring is broken:
rings are broken one at a time, and of the states that this leads to the most advanced are kept.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from storystick.layout.sheets.tree import Label

Chain = tuple[Label, ...]


def telling(chains: Iterable[Chain]) -> list[Chain]:
    """The chains that say something: each once, and none that another one contains from its beginning."""
    ordered = sorted(set(chains))
    return [one for one, after in pairwise([*ordered, ()]) if after[: len(one)] != one]


def fewest(chains: Iterable[Chain]) -> int:
    """No order needs fewer settings than this: the number of different ones."""
    return len({label for chain in chains for label in chain})


def in_turn(chains: Iterable[Chain], width: int = 8) -> tuple[Label, ...]:
    """A short list of settings that serves all chains; the shortest there is, if `width` leaves no state out.

    width  how many states are kept after each ring that is broken
    """
    line = _Line(telling(chains))
    states = [line.gone_on((0,) * len(line.chains), ())]
    while True:
        for state in states:
            if not state.next:
                return tuple(line.labels[number] for number in state.done)
        reached: dict[tuple[int, ...], _State] = {}
        for state in states:
            for number in line.offers(state)[: 2 * width]:
                new = line.broken(state, number)
                reached.setdefault(new.at, new)
        states = sorted(reached.values(), key=lambda state: (-sum(state.at), state.done))[:width]


@dataclass(frozen=True, slots=True)
class _State:
    """How far each chain has come, the settings done, and those that are next in some chain (as bits)."""

    at: tuple[int, ...]
    done: tuple[int, ...]
    next: int


class _Line:
    """The chains with their settings numbered, and for each place in a chain the settings behind it, as bits."""

    def __init__(self, chains: Sequence[Chain]) -> None:
        # Crosscuts before rips and small before large: what is numbered last is done first where there is a choice.
        self.labels = sorted({label for chain in chains for label in chain})
        number = {label: index for index, label in enumerate(self.labels)}
        self.chains = [tuple(number[label] for label in chain) for chain in chains]
        self.behind = [self._behind(chain) for chain in self.chains]

    @staticmethod
    def _behind(chain: tuple[int, ...]) -> tuple[int, ...]:
        masks, mask = [], 0
        for number in reversed(chain):
            masks.append(mask)
            mask |= 1 << number
        return tuple(reversed(masks))

    def gone_on(self, at: tuple[int, ...], done: tuple[int, ...]) -> _State:
        """Do every setting that no chain needs behind another one, until there is none: it is never wrong to."""
        places, settings = list(at), list(done)
        while True:
            front = behind = 0
            for index, place in enumerate(places):
                if place < len(self.chains[index]):
                    front |= 1 << self.chains[index][place]
                    behind |= self.behind[index][place]
            safe = front & ~behind
            if not safe:
                return _State(tuple(places), tuple(settings), front)
            for index, place in enumerate(places):
                if place < len(self.chains[index]) and safe >> self.chains[index][place] & 1:
                    places[index] += 1
            while safe:
                number = safe.bit_length() - 1
                settings.append(number)
                safe ^= 1 << number

    def broken(self, state: _State, number: int) -> _State:
        """Do a setting now that will be needed again."""
        moved = tuple(
            place + 1 if place < len(chain) and chain[place] == number else place
            for place, chain in zip(state.at, self.chains, strict=True)
        )
        return self.gone_on(moved, (*state.done, number))

    def offers(self, state: _State) -> list[int]:
        """The settings that could be done now, the best first: many chains go on, and few need it again."""
        worth: dict[int, int] = {}
        for index, place in enumerate(state.at):
            if place < len(self.chains[index]):
                number = self.chains[index][place]
                worth[number] = worth.get(number, 0) + 1
        for index, place in enumerate(state.at):
            if place < len(self.chains[index]):
                mask = self.behind[index][place] & state.next
                while mask:
                    number = mask.bit_length() - 1
                    worth[number] -= 1
                    mask ^= 1 << number
        return sorted(worth, key=lambda number: (-worth[number], -number))
