"""Sound wood: boxes that are certainly all of a thing, for answers that can be had without cutting any body out."""

from collections.abc import Iterator
from itertools import pairwise
from math import dist

import numpy as np

from storystick.model.build import Shape
from storystick.model.cut import Bore
from storystick.model.part import Part
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Bounds, Floats

LEAST = 1.0
ENOUGH = 200.0
"""So much in one piece [mm3], nowhere thinner than `LEAST` [mm], is in the way of a tool whatever else hangs on it."""
FLAT = 0.05  # a many-sided bar is so much thinner than a round one, and more [mm]
SLICES = 8
LEVELS = 12  # boxes that a thing with slanting sides is taken as, about


def stands_in(sound: Floats, part: Part | None, first: Vector, last: Vector, half: float) -> bool:
    """Whether a thing surely stands in a round bar of room between two points; where it is not sure, False.

    sound  boxes of it (n, 2, 3) [mm], round holes filled;  part  the board that has those holes, if it is one
    half   of the bar's thickness [mm]
    """
    if not len(sound):
        return False
    need = ENOUGH + (_bored(part) if part is not None else 0.0)
    start, end, far = np.array(first), np.array(last), dist(first, last)
    square = np.abs(end - start) >= far * (1 - 1e-12)
    if square.any():
        return _stands_along(sound, int(square.argmax()), start, end, half - FLAT, need)
    side = np.minimum((sound[:, 1] - sound[:, 0]).min(axis=1), half) * 0.99  # of a cube on the bar's middle line
    ends = np.stack([sound[:, 0] + side[:, None] / 2, sound[:, 1] - side[:, None] / 2]) - start
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        one, two = ends / (end - start)
    enter, leave = np.fmin(one, two).max(axis=1), np.fmax(one, two).min(axis=1)
    inside = np.maximum(enter, side / far) <= np.minimum(leave, 1 - side / far)
    return bool((inside & (side >= LEAST) & (side**3 >= need)).any())


def _stands_along(sound: Floats, axis: int, start: Floats, end: Floats, half: float, need: float) -> bool:
    """The same for a bar along an axis of the room: sliced across, each slice as narrow as the bar is at its ends."""
    a, b = (i for i in range(3) if i != axis)
    low, high = sound[:, 0], sound[:, 1]
    first, last = sorted((start[axis], end[axis]))
    long = np.minimum(high[:, axis], last) - np.maximum(low[:, axis], first)
    left, right = np.maximum(low[:, a] - start[a], -half), np.minimum(high[:, a] - start[a], half)
    wide = right - left
    cuts = left + wide * np.linspace(0.0, 1.0, SLICES + 1)[:, None]
    reach = np.sqrt(np.maximum(half**2 - cuts**2, 0.0))
    reach = np.minimum(reach[1:], reach[:-1])
    deep = np.minimum(high[:, b] - start[b], reach) - np.maximum(low[:, b] - start[b], -reach)
    mean = np.maximum(deep, 0.0).mean(axis=0)
    thick = np.minimum(np.minimum(long, wide), mean) >= LEAST
    return bool((thick & (long * wide * mean >= need)).any())


def _bored(part: Part) -> float:
    """No less than all its round holes take out of it [mm3]."""
    taken, long = 0.0, max(float(side) for side in part.size)
    for cut in part.cuts:
        if isinstance(cut, Bore):
            wide = max(float(dim) for dim in (cut.diameter, cut.sink, *(cut.step or ())[:1]) if dim is not None)
            through = float(part.size[cut.side.normal]) if not cut.lean else long
            taken += wide * wide * (through if cut.depth is None else float(cut.depth))
    return taken


def boxes_in(shape: Shape) -> tuple[Bounds, ...]:
    """Boxes that lie in a plain body, in the axes of what it belongs to; none for a round one."""
    at, size = [float(value) for value in shape.at], [float(value) for value in shape.size]
    if shape.form == "box":
        return ((_three(at), _three([a + s for a, s in zip(at, size, strict=True)])),)
    if shape.form == "cylinder":
        return ()
    a, b = (axis for axis in range(3) if axis != shape.axis)
    corners = [(float(p), float(q)) for p, q in shape.outline]
    found = []
    for (left, right), (low, high) in _strips(corners):
        first, last = list(at), [at[axis] + size[axis] for axis in range(3)]
        first[a], last[a], first[b], last[b] = left, right, low, high
        found.append((_three(first), _three(last)))
    return tuple(found)


def _strips(corners: list[tuple[float, float]]) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Rectangles in an outline, level by level: from left to right, from low to high."""
    levels = sorted({q for _, q in corners})
    sides = list(zip(corners, (*corners[1:], corners[0]), strict=True))
    for start, end in pairwise(levels):
        count = max(1, round(LEVELS * (end - start) / (levels[-1] - levels[0])))
        cuts = [start + (end - start) * k / count for k in range(count)] + [end]
        for low, high in pairwise(cuts):
            across = sorted(
                sorted((_at(one, other, low), _at(one, other, high)))
                for one, other in sides
                if min(one[1], other[1]) <= low and high <= max(one[1], other[1]) and one[1] != other[1]
            )
            for (_, left), (right, _) in zip(across[::2], across[1::2], strict=False):
                if left < right:
                    yield (left, right), (low, high)


def _at(one: tuple[float, float], other: tuple[float, float], level: float) -> float:
    return one[0] + (other[0] - one[0]) * (level - one[1]) / (other[1] - one[1])


def _three(some: list[float]) -> Vector:
    return (some[0], some[1], some[2])
