"""View: which way we look at things, and where they land on the paper.

World axes: x wide (left to right), y deep (front to back), z high. All views are parallel: what is a millimetre long
across the view is a millimetre long on it. On paper x runs to the right and y up.
"""

import math
from dataclasses import dataclass

from storystick.shapes.pose import Pose, Vector, X, Y, Z, cross, dot, framed, invert, less, times, unit

Spot = tuple[float, float]


@dataclass(frozen=True)
class View:
    """Three directions at right angles: what points to the right on paper, what points up, what points at the eye."""

    right: Vector
    up: Vector
    toward: Vector

    @property
    def pose(self) -> Pose:
        """From the world to the paper: x right, y up, z towards the eye."""
        return invert(framed(self.right, self.up, self.toward))


FRONT = View(X, Z, (0.0, -1.0, 0.0))
BACK = View((-1.0, 0.0, 0.0), Z, Y)
LEFT = View((0.0, -1.0, 0.0), Z, (-1.0, 0.0, 0.0))
RIGHT = View(Y, Z, X)
TOP = View(X, Y, Z)
BOTTOM = View(X, (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))


def seen_from(eye: Vector, up: Vector = Z) -> View:
    """Looking from far away in the direction `eye`, with `up` upright on paper. ValueError when looking along `up`."""
    toward = unit(eye)
    upright = unit(less(up, times(toward, dot(up, toward))))
    return View(cross(upright, toward), upright, toward)


def isometric(from_right: bool = True, from_front: bool = True, from_above: bool = True) -> View:
    """Looking along a cube's long diagonal: all three axes are equally shortened, by the root of 2/3."""
    return seen_from((1.0 if from_right else -1.0, -1.0 if from_front else 1.0, 1.0 if from_above else -1.0))


def on_paper(view: View, point: Vector) -> Spot:
    """Where a point of the world lands on paper [mm]."""
    return (dot(view.right, point), dot(view.up, point))


def nearness(view: View, point: Vector) -> float:
    """How near a point is to the eye, against the origin [mm]; the greater, the nearer."""
    return dot(view.toward, point)


def shortened(view: View, direction: Vector) -> float:
    """How long on paper a millimetre in a direction of the world comes out: 1 across the view, 0 along it."""
    return math.hypot(*on_paper(view, unit(direction)))
