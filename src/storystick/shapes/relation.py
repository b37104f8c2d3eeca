"""Relation: how two placed bodies stand to one another, wherever in the room they are together.

What holds between them, how near they are or what they share, is found where the first has its origin at nothing: so it
is one and the same answer, bit for bit, wherever the two stand, and is kept for the next time.
"""

from dataclasses import dataclass

from storystick.ground.kept import Kept
from storystick.shapes.pose import Pose, Turn, Vector
from storystick.shapes.solid import Solid, moved

DIGITS = 10
"""Digits after the point [mm] to which one stands off the other: far below what wood shows, far above floats' dust."""

_TURNED: "Kept[Solid]" = Kept(128)


@dataclass(frozen=True, slots=True)
class Relation:
    """Two bodies as they were made, how each is turned, and how far the second's origin is from the first's [mm]."""

    first: Solid
    other: Solid
    turns: tuple[Turn, Turn]
    off: Vector

    @property
    def key(self) -> tuple[object, ...]:
        """What to ask under: the bodies by their marks, so that what is kept of them does not keep them."""
        return (self.first.mark, self.other.mark, self.turns, self.off)

    @property
    def placed(self) -> tuple[Solid, Solid]:
        """Both, with the first's origin at nothing."""
        one, two = (turned_as(solid, turn) for solid, turn in zip((self.first, self.other), self.turns, strict=True))
        return one, moved(two, Pose(origin=self.off))


def turned_as(solid: Solid, turn: Turn) -> Solid:
    """A body turned about its origin."""
    return _TURNED.of((solid, turn), lambda: moved(solid, Pose(turn)))


def relation(a: Solid, b: Solid) -> Relation:
    """How the second stands to the first."""
    return Relation(a.own, b.own, (a.turn, b.turn), apart(a.pose, b.pose))


def apart(one: Pose, other: Pose) -> Vector:
    """How far the second's origin is from the first's [mm]."""
    (x, y, z), (u, v, w) = one.origin, other.origin
    return (round(u - x, DIGITS) + 0.0, round(v - y, DIGITS) + 0.0, round(w - z, DIGITS) + 0.0)
