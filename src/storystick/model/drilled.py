"""What the round holes of a part take out of it, without cutting them.

A hole that is bored square, with whole wood about it, through troughs at most that are wider than itself, takes away
what its outline turned about its middle says, and the part stays in as many pieces and as large as it is without.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import pi, sin

from storystick.model.cut import Side
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Bounds, Drilled, Shaft, round_sides

RING = 0.01
"""So much wood is to stand all about a hole [mm]; less is left to the mesh."""

type Outline = tuple[tuple[float, float], ...]
type Stretches = list[tuple[float, float]]


@dataclass(frozen=True)
class Hole:
    """A hole bored square from a spot on a side of a part; its outline as (radius, depth under the side) [mm]."""

    side: Side
    spot: tuple[float, float]
    outline: Outline
    size: Vector  # of the part

    @cached_property
    def box(self) -> Bounds:
        """A box round it, with the wood that is to stand about it."""
        reach, down = max(radius for radius, _ in self.outline) + RING, self.side.normal
        low, high = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
        for axis, middle in zip(self.side.axes, self.spot, strict=True):
            low[axis], high[axis] = middle - reach, middle + reach
        out, deep, long = self.outline[0][1], self.outline[-1][1] + RING, self.size[down]
        low[down], high[down] = (long - deep, long - out) if self.side.is_far else (out, deep)
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def drilled(
    holes: Sequence[Hole], slanting: Sequence[Bounds], troughs: Sequence[Bounds], others: Sequence[Bounds]
) -> Drilled:
    """What the holes of a part take; boxes of those that are not square, of its troughs and of all other cuts [mm]."""
    boxes = (*(hole.box for hole in holes), *slanting)
    found = [_taken(hole, boxes, troughs, others) for hole in holes]
    sure = [one for one in found if one is not None]
    if len(sure) < len(boxes):
        return Drilled(boxes, None, (0.0, 0.0, 0.0))
    x, y, z = (sum(moment[axis] for _, moment, _ in sure) for axis in range(3))
    shafts = tuple(shaft for _, _, shafts in sure for shaft in shafts)
    return Drilled(boxes, sum(volume for volume, _, _ in sure), (x, y, z), shafts)


def _taken(
    hole: Hole, boxes: Sequence[Bounds], troughs: Sequence[Bounds], others: Sequence[Bounds]
) -> tuple[float, Vector, tuple[Shaft, ...]] | None:
    """Volume [mm3] and volume times place [mm4] of what a hole takes, and its stretches in wood.

    None where there is not whole wood about it.
    """
    (low, high), (one, two), down = hole.box, hole.side.axes, hole.side.normal
    long = hole.size[down]
    if any(low[axis] < 0 or high[axis] > hole.size[axis] for axis in (one, two)):
        return None
    if sum(_meet(hole.box, box) for box in (*boxes, *others)) > 1:  # one is itself
        return None
    wood: Stretches = [(0.0, long)]
    for box in troughs:
        if _meet(hole.box, box):
            if any(box[0][axis] > low[axis] or box[1][axis] < high[axis] for axis in (one, two)):
                return None
            wood = list(_without(wood, box[0][down], box[1][down]))
    if hole.side.is_far:
        wood = [(long - last, long - first) for first, last in wood]
    sides = round_sides(2 * max(radius for radius, _ in hole.outline))
    volume, below = (
        sides / 2 * sin(2 * pi / sides) * sum(part) for part in zip(*_parts(hole, wood), (0.0, 0.0), strict=True)
    )
    moment = [0.0, 0.0, 0.0]
    moment[one], moment[two] = hole.spot[0] * volume, hole.spot[1] * volume
    moment[down] = long * volume - below if hole.side.is_far else below
    return volume, (moment[0], moment[1], moment[2]), tuple(_shafts(hole, wood))


def _shafts(hole: Hole, wood: Stretches) -> Iterator[Shaft]:
    """A hole's stretches in wood."""
    down, far = hole.side.normal, hole.side.is_far
    widest = max(radius for radius, _ in hole.outline)
    for first, last in wood:
        rings = list(dict.fromkeys(ring for piece in _between(hole.outline, first, last) for ring in piece))
        if rings:
            placed = ((radius, hole.size[down] - at if far else at) for radius, at in rings)
            yield Shaft(down, hole.spot, tuple(placed), widest, not far, rings[-1][1] >= last)


def _parts(hole: Hole, wood: Stretches) -> Iterator[tuple[float, float]]:
    """Of each stretch of the outline in wood: radius squared, and that times the depth, along it (Simpson: exact)."""
    for first, last in wood:
        for (ra, a), (rb, b) in _between(hole.outline, first, last):
            middle, long = ((ra + rb) / 2) ** 2, (b - a) / 6
            squares = (ra * ra, 4 * middle, rb * rb)
            yield long * sum(squares), long * (squares[0] * a + squares[1] * (a + b) / 2 + squares[2] * b)


def _between(outline: Outline, first: float, last: float) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The pieces of an outline between two depths, each from (radius, depth) to (radius, depth)."""
    for (r, top), (s, bottom) in pairwise(outline):
        a, b = max(top, first), min(bottom, last)
        if a < b:
            ra, rb = (r + (s - r) * (at - top) / (bottom - top) for at in (a, b))
            yield (ra, a), (rb, b)


def _without(wood: Stretches, first: float, last: float) -> Iterator[tuple[float, float]]:
    for low, high in wood:
        if low < min(high, first):
            yield low, min(high, first)
        if max(low, last) < high:
            yield max(low, last), high


def _meet(a: Bounds, b: Bounds) -> bool:
    return all(a[0][axis] < b[1][axis] and b[0][axis] < a[1][axis] for axis in range(3))
