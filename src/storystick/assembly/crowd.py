"""Which bodies stand in the room that a tool takes: many such rooms at once against every body's boxes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from storystick.assembly.blocking import Mask
from storystick.assembly.bodies import Body
from storystick.assembly.sound import stands_in
from storystick.ground.records import quickly_made
from storystick.model.scene import Scene
from storystick.shapes.near import overlap
from storystick.shapes.pose import Vector, facing, plus, times
from storystick.shapes.solid import Counts, Floats, Solid, box_between, cylinder, moved

ALONG = {None: (False, False, False)} | {i: (i == 0, i == 1, i == 2) for i in range(3)}
AT_ONCE = 256  # bars that are compared with all boxes at a time


@quickly_made
@dataclass(frozen=True, slots=True)
class Room:
    """A round bar of room behind a head: from `first` to `last` mm back from it, `half` thick."""

    first: float
    last: float
    half: float


@quickly_made
@dataclass(frozen=True, slots=True)
class Bar:
    """Such a room behind a head that is driven along `way`. `axis`: that of the room that it lies along, if it does."""

    head: Vector
    way: Vector
    axis: int | None
    room: Room

    @property
    def ends(self) -> tuple[Vector, Vector]:
        """The middle of its end nearer to the head, and of the other."""
        return plus(self.head, times(self.way, -self.room.first)), plus(self.head, times(self.way, -self.room.last))


@dataclass(frozen=True, slots=True, eq=False)
class Crowd:
    """All bodies, with the corners of their boxes as rows, and whose each box is."""

    scene: Scene
    bodies: Sequence[Body]
    low: Floats
    high: Floats
    owners: Counts

    @classmethod
    def of(cls, scene: Scene, bodies: Sequence[Body]) -> "Crowd":
        """With the boxes in a row."""
        boxes = np.concatenate([body.boxes for body in bodies])
        owners = np.repeat(np.arange(len(bodies)), [len(body.boxes) for body in bodies])
        return cls(scene, bodies, boxes[:, 0], boxes[:, 1], owners)

    def inside(self, bars: Sequence[Bar], leave_out: Sequence[int]) -> Iterator[Mask]:
        """For each bar the bodies that stand in it, but for the one that is left out, by number."""
        for bar, without, near in zip(bars, leave_out, self._near(bars), strict=True):
            found = 0
            for number in near:
                if number != without and self._is_in(self.bodies[number], bar):
                    found |= 1 << number
            yield found

    def _is_in(self, body: Body, bar: Bar) -> bool:
        """Whether a body with a box in the bar is in it itself."""
        if bar.axis is not None and body.exact:
            return True
        first, last = bar.ends
        if stands_in(body.sound, body.part, first, last, bar.room.half):
            return True
        back, room = times(bar.way, -1.0), bar.room
        whole = moved(cylinder(2 * room.half, room.last - room.first), facing(back, first))
        return overlap(whole, self._solid(body)) is not None

    def _solid(self, body: Body) -> Solid:
        if body.part is not None:
            return self.scene.parts[body.name]
        return moved(box_between(*body.own.boxes[0]), body.pose)

    def _near(self, bars: Sequence[Bar]) -> Iterator[list[int]]:
        """For each bar the bodies with a box in it: for sure along an axis of the room, else perhaps."""
        for start in range(0, len(bars), AT_ONCE):
            some = bars[start : start + AT_ONCE]
            ends, half = np.array([bar.ends for bar in some]), np.array([[bar.room.half] for bar in some])
            along = np.array([ALONG[bar.axis] for bar in some])
            wide = np.where(along, 0.0, half)
            low, high = ends.min(axis=1) - wide, ends.max(axis=1) + wide
            met = np.ones((len(some), len(self.owners)), dtype=bool)
            for axis in range(3):
                met &= (self.low[:, axis] < high[:, axis, None]) & (self.high[:, axis] > low[:, axis, None])
            i, j = np.nonzero(met)
            middle = ends[i, 0]
            off = np.maximum(np.maximum(self.low[j] - middle, middle - self.high[j]), 0.0)
            off[along[i]] = 0.0
            round_about = ~along[i].any(axis=1) | ((off * off).sum(axis=1) < half[i, 0] ** 2)
            found: list[set[int]] = [set() for _ in some]
            for row, owner in zip(i[round_about].tolist(), self.owners[j[round_about]].tolist(), strict=True):
                found[row].add(owner)
            yield from map(sorted, found)
