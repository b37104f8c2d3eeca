"""How often the fence must move: the cuts of all sheets put in an order that makes those of one setting together.

Each last piece asks for settings in a certain order, its chain. A list of settings serves a job if every chain is
contained in it, in order: the shortest one is a shortest common supersequence. A setting that no chain still needs
later can always be done at once; only where settings wait for one another in a ring is there something to try.
"""

from collections.abc import Iterable
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


def in_turn(chains: Iterable[Chain], tries: int = 200) -> tuple[Label, ...]:
    """A short list of settings that serves all chains; the shortest there is, if `tries` suffice to show it.

    tries  how many places with a choice are looked into
    """
    told = telling(chains)
    start = (tuple((chain, 0) for chain in told), ())
    best: tuple[Label, ...] | None = None
    stack: list[tuple[tuple[tuple[Chain, int], ...], tuple[Label, ...]]] = [start]
    while stack:
        waiting, done = _without_choice(*stack.pop())
        if not waiting:
            if best is None or len(done) < len(best):
                best = done
            continue
        if best is not None and (tries <= 0 or len(done) + _left(waiting) >= len(best)):
            continue
        tries -= 1
        offers = _offers(waiting)
        # The most promising one last, since the stack gives it back first.
        for label in sorted(offers, key=lambda lab: (-offers[lab], lab[0], lab[1])):
            stack.append((_advanced(waiting, label), (*done, label)))
        if tries <= 0 and best is None:
            stack = stack[-1:]
    assert best is not None
    return best


def _left(waiting: tuple[tuple[Chain, int], ...]) -> int:
    return len({label for chain, at in waiting for label in chain[at:]})


def _advanced(waiting: tuple[tuple[Chain, int], ...], label: Label) -> tuple[tuple[Chain, int], ...]:
    moved = ((chain, at + 1 if chain[at] == label else at) for chain, at in waiting)
    return tuple((chain, at) for chain, at in moved if at < len(chain))


def _without_choice(
    waiting: tuple[tuple[Chain, int], ...], done: tuple[Label, ...]
) -> tuple[tuple[tuple[Chain, int], ...], tuple[Label, ...]]:
    """Do every setting that no chain needs behind another one: it is never wrong to do it now."""
    while waiting:
        later = {label for chain, at in waiting for label in chain[at + 1 :]}
        now = {chain[at] for chain, at in waiting} - later
        if not now:
            break
        last = done[-1][0] if done else 1
        label = max(now, key=lambda lab: (lab[0] == last, lab[0], lab[1]))
        waiting, done = _advanced(waiting, label), (*done, label)
    return waiting, done


def _offers(waiting: tuple[tuple[Chain, int], ...]) -> dict[Label, int]:
    """The settings that could be next, and how good each is: cuts it does now, less those it leaves for later."""
    offers: dict[Label, int] = {}
    for chain, at in waiting:
        offers[chain[at]] = offers.get(chain[at], 0) + 1
    for chain, at in waiting:
        for label in set(chain[at + 1 :]):
            if label in offers:
                offers[label] -= 1
    return offers
