"""Which body is seen where in a picture: a grid of spots laid over it, each with the body nearest to the eye there."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from storystick.paper.drawing.canvas import Spot
from storystick.shapes.solid import Counts, Floats, Solid
from storystick.shapes.view import View, on_paper

GRID = 80  # spots across a picture
NOBODY = -1


@dataclass(frozen=True)
class Frame:
    """What a picture has to hold, on paper before scaling [mm]."""

    left: float
    low: float
    right: float
    high: float

    def into(self, wide: float, high: float) -> tuple[float, float, float]:
        """Share of true size and the shifts that bring the frame into the middle of a paper."""
        share = min(wide / (self.right - self.left), high / (self.high - self.low))
        return share, wide / 2 - share * (self.left + self.right) / 2, high / 2 + share * (self.low + self.high) / 2


def frame_of(solids: Iterable[Solid], view: View) -> Frame:
    """The frame round some solids."""
    spots = [
        on_paper(view, (x, y, z))
        for solid in solids
        if not solid.is_empty
        for (x0, y0, z0), (x1, y1, z1) in [solid.bounds]
        for x in (x0, x1) for y in (y0, y1) for z in (z0, z1)
    ]  # fmt: skip
    xs, ys = [x for x, _ in spots] or [0.0, 1.0], [y for _, y in spots] or [0.0, 1.0]
    return Frame(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True)
class Seen:
    """Where a part is seen best: a spot well inside what is seen of it, and the free room round it."""

    at: Spot
    room: float


@dataclass(frozen=True, eq=False)
class Sighting:
    """A grid over a picture: at each spot the number of the body that is seen there. In millimetres of the thing."""

    numbers: dict[str, int]
    owner: Counts
    frame: Frame
    step: float
    hearts: dict[str, Seen | None] = field(default_factory=dict)

    def area(self, name: str) -> float:
        """How much of a body is seen [mm2]."""
        return float((self.owner == self.numbers[name]).sum()) * self.step * self.step if name in self.numbers else 0.0

    def best(self, name: str) -> Seen | None:
        """Where a body is seen best; None where nothing of it is seen."""
        if name not in self.hearts:
            heart = _heart(self.owner == self.numbers[name]) if name in self.numbers else None
            self.hearts[name] = None if heart is None else self._seen(*heart)
        return self.hearts[name]

    def _seen(self, row: int, column: int, room: int) -> Seen:
        return Seen((self.frame.left + column * self.step, self.frame.low + row * self.step), room * self.step)


def sighted(bodies: Sequence[tuple[str, Solid]], view: View) -> Sighting:
    """What is seen of each of some bodies from one side."""
    frame = frame_of([solid for _, solid in bodies], view)
    step = max(frame.right - frame.left, frame.high - frame.low) / GRID
    wide = int((frame.right - frame.left) / step) + 1
    high = int((frame.high - frame.low) / step) + 1
    axes = np.array([view.right, view.up, view.toward])
    corners, whose = [np.zeros((0, 3, 3))], [np.zeros(0, np.int64)]
    for number, (_, solid) in enumerate(bodies):
        if not solid.is_empty:
            corners.append((solid.mesh.vertices @ axes.T)[solid.mesh.triangles])
            whose.append(np.full(len(corners[-1]), number))
    shift = np.array([frame.left, frame.low, 0.0])
    on_grid = (np.concatenate(corners) - shift) / np.array([step, step, 1.0])
    owner = _nearest(on_grid, np.concatenate(whose), wide, high)
    return Sighting({name: number for number, (name, _) in enumerate(bodies)}, owner, frame, step)


def _nearest(corners: Floats, whose: Counts, wide: int, high: int) -> Counts:
    """For each spot of a grid the owner of the triangle that is nearest there; `corners` in steps of the grid."""
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    twice = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    toward = twice > 1e-12
    corners, whose, twice = corners[toward], whose[toward], twice[toward]
    low = np.maximum(np.ceil(corners[:, :, :2].min(axis=1) - 1e-9), 0).astype(np.int64)
    top = np.minimum(np.floor(corners[:, :, :2].max(axis=1) + 1e-9), [wide - 1, high - 1]).astype(np.int64)
    span = np.maximum(top - low + 1, 0)
    counts = span[:, 0] * span[:, 1]
    triangle = np.repeat(np.arange(len(corners)), counts)
    place = np.arange(len(triangle)) - np.repeat(np.cumsum(counts) - counts, counts)
    x = low[triangle, 0] + place % np.maximum(span[triangle, 0], 1)
    y = low[triangle, 1] + place // np.maximum(span[triangle, 0], 1)
    a, b, c = (corners[:, i][triangle] for i in range(3))
    p = ((b[:, 0] - x) * (c[:, 1] - y) - (b[:, 1] - y) * (c[:, 0] - x)) / twice[triangle]
    q = ((c[:, 0] - x) * (a[:, 1] - y) - (c[:, 1] - y) * (a[:, 0] - x)) / twice[triangle]
    r = 1 - p - q
    near = p * a[:, 2] + q * b[:, 2] + r * c[:, 2]
    hit = np.flatnonzero((p >= 0) & (q >= 0) & (r >= 0))
    order = hit[np.lexsort((-whose[triangle[hit]], near[hit]))]  # the nearest comes last and stays
    owner = np.full(high * wide, NOBODY, np.int64)
    owner[y[order] * wide + x[order]] = whose[triangle[order]]
    return owner.reshape(high, wide)


def _heart(mask: NDArray[np.bool_]) -> tuple[int, int, int] | None:
    """The spot of a mask farthest from its rim (row, column), and how many steps that is; None for an empty one."""
    rows, columns = np.nonzero(mask)
    if not len(rows):
        return None
    top, left_most = int(rows.min()), int(columns.min())
    left = np.pad(mask[top : int(rows.max()) + 1, left_most : int(columns.max()) + 1], 1)
    room = 0
    while True:
        inner = np.zeros_like(left)
        inner[1:-1, 1:-1] = left[1:-1, 1:-1] & left[:-2, 1:-1] & left[2:, 1:-1] & left[1:-1, :-2] & left[1:-1, 2:]
        if not inner.any():
            break
        left = inner
        room += 1
    rows, columns = np.nonzero(left)
    middle = int(np.argmin((rows - rows.mean()) ** 2 + (columns - columns.mean()) ** 2))
    return int(rows[middle]) + top - 1, int(columns[middle]) + left_most - 1, room
