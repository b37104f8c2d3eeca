"""Which mix of patterns is cheapest, if sheets could be cut in fractions; and what each blank is worth in that mix.

A pattern says how many of each kind one sheet gives. The cheapest mix is a linear programme: give at least what is
asked for, use no more sheets than there are. It is solved by the revised simplex method (Dantzig 1955; Chvatal,
Linear Programming, 1983, chapters 7 and 26, from memory) from a start that buys every blank at a price nobody pays.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

TOO_DEAR = 1e4
"""What a blank costs that no pattern gives, in sheets."""

NEARLY = 1e-9
JOSTLE = 1e-8
"""How much the amounts asked for are set apart, so that the method does not run in circles."""

AFRESH = 60
"""Pivots after which the inverse is worked out afresh."""


@dataclass(frozen=True, slots=True)
class Mix:
    """A cheapest mix.

    amounts   of each pattern
    worth     of one blank of each kind
    rent      of one sheet of each limited stock: what one more would save
    cost      of the mix
    base      the columns it rests on, to begin with the next time
    """

    amounts: tuple[float, ...]
    worth: tuple[float, ...]
    rent: tuple[float, ...]
    cost: float
    base: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Pattern:
    """What one sheet gives of each kind, which stock it is, and its cost."""

    gives: tuple[int, ...]
    stock: int
    cost: float


def cheapest_mix(
    patterns: Sequence[Pattern], need: Sequence[int], limited: Sequence[tuple[int, int]], base: Sequence[int] = ()
) -> Mix:
    """The cheapest mix of patterns for what is needed.

    need      how many of each kind
    limited   (stock, copies) of the stocks there are few of
    base      of the mix before, if patterns were only added at the end since
    """
    import numpy as np

    kinds, rows = len(need), len(need) + len(limited)
    before = kinds + rows
    table = np.zeros((rows, before + len(patterns)))
    table[:kinds, :kinds] = -np.eye(kinds)
    table[:, kinds:before] = np.eye(rows)
    if patterns:
        table[:kinds, before:] = np.array([pattern.gives for pattern in patterns], dtype=float).T
    for row, (stock, _) in enumerate(limited):
        table[kinds + row, before:] = [pattern.stock == stock for pattern in patterns]
    cost = np.zeros(table.shape[1])
    cost[before:] = [pattern.cost for pattern in patterns]
    cost[kinds : 2 * kinds] = TOO_DEAR * max((pattern.cost for pattern in patterns), default=1.0)
    amounts = np.array([*need, *(copies for _, copies in limited)], dtype=float)
    amounts += JOSTLE * (1 + np.arange(rows) * 37 % 101)
    start = list(base) if len(base) == rows else list(range(kinds, before))
    rests, held, prices = _simplex(np, table, cost, amounts, start)
    found = [0.0] * len(patterns)
    for column, amount in zip(rests, held, strict=True):
        if column >= before:
            found[column - before] = max(0.0, float(amount))
    worth = tuple(max(0.0, float(price)) for price in prices[:kinds])
    rent = tuple(max(0.0, -float(price)) for price in prices[kinds:])
    return Mix(tuple(found), worth, rent, float(cost[rests] @ held), tuple(rests))


def _simplex(np: Any, table: Any, cost: Any, amounts: Any, base: list[int]) -> tuple[list[int], Any, Any]:
    """Pivots until no column makes it cheaper: the columns in use, how much of each, and the rows' prices."""
    rows = len(base)
    inverse = np.linalg.inv(table[:, base])
    held = np.maximum(inverse @ amounts, 0.0)
    least = -NEARLY * max(1.0, float(cost.max(initial=0.0)) / TOO_DEAR)
    for turn in range(1, 50 * rows + 500):
        saves = cost - (cost[base] @ inverse) @ table
        enters = int(saves.argmin())
        if saves[enters] > least:
            break
        column = inverse @ table[:, enters]
        ways = np.where(column > NEARLY, held / np.where(column > NEARLY, column, 1.0), np.inf)
        leaves = int(ways.argmin())
        if not np.isfinite(ways[leaves]):
            break
        step = ways[leaves]
        held = np.maximum(held - step * column, 0.0)
        held[leaves] = step
        pivot = inverse[leaves] / column[leaves]
        inverse -= np.outer(column, pivot)
        inverse[leaves] = pivot
        base[leaves] = enters
        if turn % AFRESH == 0:
            inverse = np.linalg.inv(table[:, base])
            held = np.maximum(inverse @ amounts, 0.0)
    return base, held, cost[base] @ inverse
