"""Ways chosen together: a bit that is in the router anyway is worth more than the best bit for one cut alone."""

from collections import Counter
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass

from storystick.model.work import Setup
from storystick.work.standing import stands
from storystick.work.ways import Offer

SWEEPS = 3
type Event = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One way in which all cuts of a kind can be made: minutes at the cuts, and all that has to be set for it."""

    method: str
    minutes: float
    sets: Mapping[Event, float]


def sets_of(setups: Sequence[Setup]) -> dict[Event, float]:
    """Every tool put in and every setting made, once, with its minutes."""
    found: dict[Event, float] = {}
    for one in stands(setups):
        found[one.machine, one.tool] = one.tool_minutes
        for name, value, minutes in one.marks:
            found[one.machine, one.tool, name, value] = minutes
    return found


def choices_of(offers: Sequence[Mapping[str, Offer]], settle: Callable[[int, Offer], Sequence[Setup]]) -> list[Choice]:
    """The ways that every cut of a kind has a sound offer of; `offers` by method, one mapping a cut.

    settle  gives the set-ups of an offer for the cut of that number, without naming anything for good
    """
    found = []
    for method in offers[0]:
        if not all(method in one and one[method].sound for one in offers):
            continue
        sets: dict[Event, float] = {}
        for number, one in enumerate(offers):
            sets.update(sets_of(settle(number, one[method])))
        found.append(Choice(method, sum(one[method].minutes[1] for one in offers), sets))
    return found


def shared(kinds: Mapping[Hashable, Sequence[Choice]], first: Mapping[Hashable, str]) -> dict[Hashable, str]:
    """The method for each kind of cut, so that setting up and cutting together take the least time found.

    first  the methods to begin from; a kind with no choice of its own keeps it
    """
    taken = {kind: next((one for one in choices if one.method == first[kind]), None) for kind, choices in kinds.items()}
    uses: Counter[Event] = Counter(event for one in taken.values() if one for event in one.sets)
    for _ in range(SWEEPS):
        changed = False
        for kind, choices in kinds.items():
            now = taken[kind]
            if now is None or len(choices) < 2:
                continue
            uses.subtract(now.sets.keys())

            def cost(one: Choice) -> float:
                return one.minutes + sum(minutes for event, minutes in one.sets.items() if uses[event] <= 0)

            best = min(choices, key=cost)
            if cost(best) < cost(now) - 1e-9:
                taken[kind], changed = best, True
            uses.update((taken[kind] or now).sets.keys())
        if not changed:
            break
    return {kind: one.method if one else first[kind] for kind, one in taken.items()}
