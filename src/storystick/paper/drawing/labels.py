"""Part letters beside a picture, on lines that do not cross."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.drawing.rows import spread_out
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import set_width
from storystick.shapes.solid import Floats

PITCH = 1.22
"""From letter to letter in a column, as a share of the size."""
MARGIN = 7.0
"""From the picture to the middle of the letters beside it [mm]."""

FAR = 8.0
"""A letter on its part stands no farther from the best spot there [mm]."""


@dataclass(frozen=True, slots=True)
class Pointer:
    """A letter, the spot that it points at, and the room that is free round that spot [mm]."""

    says: str
    at: Spot
    room: float = 0.0


@dataclass(frozen=True, eq=False)
class Strokes:
    """The lines of a picture as stretches from corner to corner, to keep lettering off them [mm]."""

    ends: Floats  # x, y of the start, x, y of the end of each

    @staticmethod
    def of(runs: Iterable[Sequence[Spot]]) -> "Strokes":
        """The stretches of some lines."""
        found = [(*a, *b) for run in runs for a, b in pairwise(run)]
        return Strokes(np.array(found, dtype=np.float64).reshape(-1, 4))

    def cross(self, box: Box) -> bool:
        """True where one of them runs through a box."""
        x0, y0, x1, y1 = self.ends.T
        near = (np.maximum(x0, x1) > box.left) & (np.minimum(x0, x1) < box.right)
        near &= (np.maximum(y0, y1) > box.top) & (np.minimum(y0, y1) < box.bottom)
        if not near.any():
            return False
        x0, y0, x1, y1 = self.ends[near].T
        sides = [
            (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for x in (box.left, box.right) for y in (box.top, box.bottom)
        ]
        return bool(((np.min(sides, axis=0) < 0) & (np.max(sides, axis=0) > 0)).any())


NO_STROKES = Strokes(np.zeros((0, 4)))


def place_labels(
    canvas: Canvas,
    pointers: Sequence[Pointer],
    points: float,
    sides: tuple[float, float],
    strokes: Strokes = NO_STROKES,
) -> None:
    """Letters on their parts where there is room; else in columns beside the picture, between whose `sides` it lies.

    A line from each letter ends in a dot on its part. Two lines of one side that would cross change places. A letter on
    its part keeps off the `strokes` of the picture, so it lies wholly on what is seen there; where these are not known,
    it has to go into the room that is free all round.
    """
    on_parts: list[tuple[Pointer, Spot]] = []
    beside: list[Pointer] = []
    taken: list[Box] = []
    for pointer in sorted(pointers, key=lambda p: (-p.room, p.says, p.at)):
        at = _own_spot(canvas, pointer, points, strokes, taken)
        if at is None:
            beside.append(pointer)
        else:
            on_parts.append((pointer, at))
            taken.append(_letter_box(pointer.says, at, points))
    leaders = _beside(canvas, beside, points, sides)
    strokes = Strokes(np.concatenate([strokes.ends, Strokes.of(leaders).ends]))
    for pointer, first in on_parts:
        at = _own_spot(canvas, pointer, points, strokes, ())
        _letter(canvas, at or first, pointer.says, points, ground=at is None)


def _own_spot(canvas: Canvas, pointer: Pointer, points: float, strokes: Strokes, taken: Sequence[Box]) -> Spot | None:
    """Where a letter stands on its part, off all strokes and other letters; None where it finds no room there."""
    own = _letter_box(pointer.says, (0.0, 0.0), points)
    needs = 0.0 if len(strokes.ends) else math.hypot(own.right - own.left, own.bottom - own.top) / 2 + 0.6
    for at in _spots(pointer, needs):
        box = _letter_box(pointer.says, at, points)
        if canvas.is_free(box, 1.0) and not strokes.cross(box) and not any(box.meets(other, 1.0) for other in taken):
            return at
    return None


def _letter_box(says: str, at: Spot, points: float) -> Box:
    """The room that a letter with its middle at a spot takes up."""
    return around(at, set_width(says, points, "semibold") + 1.5, points * POINT * 1.15)


def _beside(
    canvas: Canvas, beside: Sequence[Pointer], points: float, sides: tuple[float, float]
) -> list[tuple[Spot, Spot]]:
    """Letters in columns beside the picture; the lines that lead to their parts."""
    middle = (sides[0] + sides[1]) / 2
    leaders: list[tuple[Spot, Spot]] = []
    left, right = _two_columns(_once_each(beside), middle, int((canvas.high - 3.0) / (points * POINT * PITCH)))
    for group, x in ((left, max(4.0, sides[0] - MARGIN)), (right, min(canvas.wide - 4.0, sides[1] + MARGIN))):
        if group:
            leaders += _column(canvas, group, x, points)
    return leaders


def _spots(pointer: Pointer, needs: float) -> Iterator[Spot]:
    """Where on its part a letter may stand that needs so much room about its middle: the best spot, then round it."""
    spare = min(pointer.room - needs, FAR)
    if spare < 0 or pointer.room <= 0:
        return
    yield pointer.at
    for reach in (0.3, 0.6, 0.9):
        for turn in range(8):
            angle = math.tau * turn / 8
            yield pointer.at[0] + reach * spare * math.cos(angle), pointer.at[1] + reach * spare * math.sin(angle)


def _once_each(pointers: Sequence[Pointer]) -> list[Pointer]:
    """Each letter once, where it has most room; those with most room first."""
    found: dict[str, Pointer] = {}
    for pointer in pointers:
        found.setdefault(pointer.says, pointer)
    return list(found.values())


def _two_columns(pointers: Sequence[Pointer], middle: float, most: int) -> tuple[list[Pointer], list[Pointer]]:
    """Each to its nearer side while that has room; what finds room on neither, with least to show, is left out."""
    ranked = sorted(pointers[: 2 * most], key=lambda p: (p.at[0], p.at[1], p.says))
    left = sum(pointer.at[0] < middle for pointer in ranked)
    left = max(len(ranked) - most, min(most, left))
    return ranked[:left], ranked[left:]


def _letter(canvas: Canvas, middle: Spot, says: str, points: float, ground: bool) -> None:
    canvas.text((middle[0], middle[1] + points * POINT * 0.33), says, points, "middle", "semibold", ground=ground)


def _column(canvas: Canvas, group: Sequence[Pointer], x: float, points: float) -> list[tuple[Spot, Spot]]:
    group = sorted(group, key=lambda p: (p.at[1], p.at[0], p.says))
    size = points * POINT * PITCH
    placed = spread_out([p.at[1] for p in group], [size] * len(group), 1.2, canvas.high - 1.2) or []
    order = _uncrossed([p.at for p in group], [(x, y) for y in placed])
    leaders: list[tuple[Spot, Spot]] = []
    for i, y in zip(order, placed, strict=True):
        pointer = group[i]
        wide = set_width(pointer.says, points, "semibold")
        leaders.append(((x + (wide / 2 + 1.2) * (1 if pointer.at[0] > x else -1), y), pointer.at))
        canvas.line(*leaders[-1], "fine")
        canvas.ring(pointer.at, 0.7, "none", "ink")
        _letter(canvas, (x, y), pointer.says, points, ground=True)
    return leaders


def _uncrossed(spots: Sequence[Spot], ends: Sequence[Spot]) -> list[int]:
    """Which spot goes to which end so that no two lines cross: exchanging two that cross shortens the whole."""
    order = list(range(len(spots)))
    for _ in range(len(spots) ** 2):
        swapped = False
        for i in range(len(order)):
            for j in range(i + 1, len(order)):
                if _cross(ends[i], spots[order[i]], ends[j], spots[order[j]]):
                    order[i], order[j] = order[j], order[i]
                    swapped = True
        if not swapped:
            break
    return order


def _cross(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    def side(p: Spot, q: Spot, r: Spot) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
