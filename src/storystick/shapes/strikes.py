"""Strikes: what runs into what on its way, for bodies that rest on others and touch them all along."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from storystick.ground.kept import Kept
from storystick.shapes.hulls import Pairs, all_but, both_hulls, in_question
from storystick.shapes.motion import Motion, Shares, Still, pose_at
from storystick.shapes.near import THINNEST, Overlap, overlap
from storystick.shapes.solid import Solid, moved
from storystick.shapes.stretch import Stretch

_STRIKES: "Kept[tuple[Strike, ...]]" = Kept(256)


@dataclass(frozen=True)
class Strike:
    """Two bodies that run into one another on the way: which, the shares when first seen, and by how much then."""

    bodies: tuple[int, int]
    when: Shares
    overlap: Overlap


def strikes(
    moving: Sequence[Solid],
    others: Sequence[Solid],
    motion: Motion,
    step: float = 2.0,
    apart: Iterable[tuple[int, int]] = (),
) -> tuple[Strike, ...]:
    """Pairs that run into one another on the way (touching is not enough), each when it is first seen to.

    Looks at poses so close that nothing moves by more than `step` [mm] in between, along the first drive, the second
    at rest. Unlike least_gap this may miss a brush that is over within a step; it is for bodies that rest on others.
    Pairs of numbers in `apart` are not looked at.
    """
    skip = frozenset(apart)
    ones, twos = (tuple((solid.own.mark, solid.moves) for solid in solids) for solids in (moving, others))
    return _STRIKES.of((ones, twos, motion, step, skip), lambda: _strikes(moving, others, motion, step, skip))


def _strikes(
    moving: Sequence[Solid], others: Sequence[Solid], motion: Motion, step: float, skip: frozenset[tuple[int, int]]
) -> tuple[Strike, ...]:
    asked = all_but(skip, len(moving), len(others))
    asked[[solid.is_empty for solid in moving]] = False
    asked[:, [solid.is_empty for solid in others]] = False
    i, j = np.flatnonzero(asked.any(axis=1)).tolist(), np.flatnonzero(asked.any(axis=0)).tolist()
    if not i or not j:
        return ()
    ones, twos, motions = [moving[n] for n in i], [others[n] for n in j], (motion, Still())
    parts, meet = in_question(ones, twos, motions, -THINNEST / 2, asked[np.ix_(i, j)])
    if not parts:
        return ()
    speed = float(both_hulls(ones, twos, motions)[0].speeds[:, 0].max())
    found = _seen(ones, twos, motion, max(1, math.ceil(speed / step)), [part.stretch for part in parts], meet)
    return tuple(Strike((i[a], j[b]), when, shared) for (a, b), (when, shared) in sorted(found.items()))


def _seen(
    ones: Sequence[Solid], twos: Sequence[Solid], motion: Motion, count: int, stretches: Sequence[Stretch], meet: Pairs
) -> dict[tuple[int, int], tuple[Shares, Overlap]]:
    """Looked at in even steps where anything may meet at all."""
    found: dict[tuple[int, int], tuple[Shares, Overlap]] = {}
    corners = np.array([list(product(*zip(*one.bounds, strict=True))) for one in ones])
    there = np.array([two.bounds for two in twos])
    parts = [(one.middle[0] - one.half[0] - 1e-9, one.middle[0] + one.half[0] + 1e-9) for one in stretches]
    for share in range(count + 1):
        when = (share / count, 0.0)
        if not any(first <= when[0] <= last for first, last in parts):
            continue
        pose = pose_at(motion, when)
        placed = corners @ np.array(pose.turn).T + np.array(pose.origin)
        low, high = placed.min(axis=1)[:, None], placed.max(axis=1)[:, None]
        near = meet & (low < there[None, :, 1]).all(axis=2) & (there[None, :, 0] < high).all(axis=2)
        for a, b in np.argwhere(near).tolist():
            if (a, b) not in found and (shared := overlap(moved(ones[a], pose), twos[b])):
                found[a, b] = when, shared
    return found
