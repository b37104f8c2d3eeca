"""Clash: every pair of bodies that runs into one another.

Boxes are compared first, so only near pairs cost anything. Pairs come out in the order in which the bodies were given.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from storystick.shapes.near import overlap
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Solid

Named = tuple[str, Solid]


@dataclass(frozen=True)
class Clash:
    """Two bodies that share a place: their names in the order given, the shared volume [mm3], how deep [mm], where."""

    first: str
    other: str
    volume: float
    thickness: float
    at: Vector


def clashes(bodies: Sequence[Named], apart: Iterable[tuple[str, str]] = ()) -> tuple[Clash, ...]:
    """All clashes within a set of bodies; pairs named in `apart` (either way round) are not looked at."""
    skip = {frozenset(pair) for pair in apart}
    pairs = ((bodies[i], bodies[j]) for i, j in _near(bodies, bodies) if i < j)
    return tuple(_clashes(pairs, skip))


def clashes_between(
    bodies: Sequence[Named], others: Sequence[Named], apart: Iterable[tuple[str, str]] = ()
) -> tuple[Clash, ...]:
    """All clashes of one set of bodies with another; none within either."""
    skip = {frozenset(pair) for pair in apart}
    return tuple(_clashes(((bodies[i], others[j]) for i, j in _near(bodies, others)), skip))


def _clashes(pairs: Iterable[tuple[Named, Named]], skip: set[frozenset[str]]) -> Iterator[Clash]:
    for (one, a), (two, b) in pairs:
        if frozenset((one, two)) not in skip and (shared := overlap(a, b)):
            yield Clash(one, two, shared.volume, shared.thickness, shared.at)


def near(bodies: Sequence[Named], others: Sequence[Named], within: float = 0.0) -> tuple[tuple[str, str], ...]:
    """Names of every pair, one from each set, whose boxes come within a distance [mm] or touch."""
    return tuple((bodies[i][0], others[j][0]) for i, j in _near(bodies, others, within))


def _near(bodies: Sequence[Named], others: Sequence[Named], within: float = 0.0) -> list[tuple[int, int]]:
    mine = [(i, solid.bounds) for i, (_, solid) in enumerate(bodies) if not solid.is_empty]
    theirs = [(j, solid.bounds) for j, (_, solid) in enumerate(others) if not solid.is_empty]
    if not mine or not theirs:
        return []
    a, b = np.array([bounds for _, bounds in mine]), np.array([bounds for _, bounds in theirs])
    meets = ((a[:, None, 0] - within <= b[None, :, 1]) & (a[:, None, 1] + within >= b[None, :, 0])).all(axis=2)
    return [(mine[i][0], theirs[j][0]) for i, j in np.argwhere(meets).tolist()]
