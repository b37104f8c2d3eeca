"""Pose: where a body is, and how it is turned.

A pose takes a point from a body's own coordinates to the coordinates of whatever holds it:

    outside = turn * own + origin

`turn` is a rotation, or a rotation with a mirror for a body whose own axes are left-handed. Turns by whole
quarters are exact: no rounding creeps into a cabinet that stands square.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

Vector = tuple[float, float, float]
Turn = tuple[Vector, Vector, Vector]

X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
Z: Vector = (0.0, 0.0, 1.0)
UNTURNED: Turn = (X, Y, Z)
SQUARENESS = 1e-9


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def plus(a: Vector, b: Vector) -> Vector:
    """Sum of two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def less(a: Vector, b: Vector) -> Vector:
    """Difference of two vectors."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def times(a: Vector, by: float) -> Vector:
    """A vector made longer or shorter."""
    return (a[0] * by, a[1] * by, a[2] * by)


def length(a: Vector) -> float:
    """Length of a vector."""
    return math.hypot(*a)


def unit(a: Vector) -> Vector:
    """The same direction with length 1; directions along an axis stay exact. ValueError for a vector of no length."""
    size = length(a)
    if size == 0 or not math.isfinite(size):
        raise ValueError(f"{a} has no direction")
    return (a[0] / size, a[1] / size, a[2] / size)


@dataclass(frozen=True)
class Pose:
    """A rigid placing. `turn` holds rows, so its columns are the body's own axes as seen from outside.

    Raises ValueError where the turn is not square (a shear or a change of size).
    """

    turn: Turn = UNTURNED
    origin: Vector = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        rows = self.turn
        if rows is UNTURNED:
            object.__setattr__(self, "origin", _plain(self.origin))
            if not all(map(math.isfinite, self.origin)):
                raise ValueError(f"{self.origin} is not a place")
            return
        for i in range(3):
            for j in range(i, 3):
                if abs(dot(rows[i], rows[j]) - (1.0 if i == j else 0.0)) > SQUARENESS:
                    raise ValueError(f"{rows} is not a turn: its axes are not square to each other or not of length 1")
        if not all(math.isfinite(v) for v in self.origin):
            raise ValueError(f"{self.origin} is not a place")
        # no negative zeros, so that equal poses also print alike
        object.__setattr__(self, "turn", tuple(_plain(row) for row in rows))
        object.__setattr__(self, "origin", _plain(self.origin))

    @property
    def is_mirrored(self) -> bool:
        """True where the body's own axes are left-handed as seen from outside."""
        return dot(cross(self.turn[0], self.turn[1]), self.turn[2]) < 0

    @property
    def axes(self) -> Turn:
        """The body's own x, y and z directions as seen from outside."""
        return _across(self.turn)


def apply(pose: Pose, point: Vector) -> Vector:
    """A point of the body, as seen from outside."""
    return plus(direct(pose, point), pose.origin)


def direct(pose: Pose, direction: Vector) -> Vector:
    """A direction of the body, as seen from outside: turned, not shifted."""
    return (dot(pose.turn[0], direction), dot(pose.turn[1], direction), dot(pose.turn[2], direction))


def compose(outer: Pose, inner: Pose) -> Pose:
    """The pose of a body placed by `inner` in something that is itself placed by `outer`."""
    columns = _across(inner.turn)
    turn = tuple((dot(row, columns[0]), dot(row, columns[1]), dot(row, columns[2])) for row in outer.turn)
    return Pose(_squared((turn[0], turn[1], turn[2])), apply(outer, inner.origin))


def invert(pose: Pose) -> Pose:
    """The pose that puts everything back: from outside coordinates to the body's own."""
    back = _across(pose.turn)
    return Pose(back, times((dot(back[0], pose.origin), dot(back[1], pose.origin), dot(back[2], pose.origin)), -1.0))


def shifted(by: Vector) -> Pose:
    """Moved without turning."""
    return Pose(UNTURNED, by)


def turned(axis: Vector, degrees: float, about: Vector = (0.0, 0.0, 0.0)) -> Pose:
    """Turned about a line through `about` along `axis`; right-hand rule; whole quarters are exact."""
    u = unit(axis)
    c, s = cos_sin(degrees)
    turn = tuple(
        tuple((c if i == j else 0.0) + u[i] * u[j] * (1 - c) + s * _skew(u, i, j) for j in range(3)) for i in range(3)
    )
    square = Pose(_squared(turn))  # type: ignore[arg-type]
    return Pose(square.turn, less(about, direct(square, about)))


def framed(x: Vector, y: Vector, z: Vector, origin: Vector = (0.0, 0.0, 0.0)) -> Pose:
    """The pose whose own axes lie along `x`, `y`, `z` (left-handed allowed); each is brought to length 1."""
    return Pose(_across((unit(x), unit(y), unit(z))), origin)


def facing(z: Vector, origin: Vector = (0.0, 0.0, 0.0)) -> Pose:
    """A right-handed pose whose own z lies along `z`; its x and y are chosen by rule, the same every time.

    For round things, where only the axis matters.
    """
    w = unit(z)
    least = min(range(3), key=lambda i: (abs(w[i]), i))
    aside = UNTURNED[least]
    x = unit(less(aside, times(w, dot(aside, w))))
    return framed(x, cross(w, x), w, origin)


def mirrored(normal: Vector, through: Vector = (0.0, 0.0, 0.0)) -> Pose:
    """Mirrored in the plane through a point, square to `normal`."""
    n = unit(normal)
    turn = tuple(tuple((1.0 if i == j else 0.0) - 2 * n[i] * n[j] for j in range(3)) for i in range(3))
    return Pose(turn, times(n, 2 * dot(n, through)))  # type: ignore[arg-type]


def cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine of an angle in degrees, exact at whole quarters of a turn."""
    rest = math.fmod(degrees, 360.0)
    quarter, odd = divmod(rest, 90.0)
    if odd == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return math.cos(math.radians(rest)), math.sin(math.radians(rest))


def _skew(u: Vector, i: int, j: int) -> float:
    if i == j:
        return 0.0
    k = 3 - i - j
    return -u[k] if (j - i) % 3 == 1 else u[k]


def _across(rows: Turn) -> Turn:
    a, b, c = rows
    return ((a[0], b[0], c[0]), (a[1], b[1], c[1]), (a[2], b[2], c[2]))


def _plain(v: Sequence[float]) -> Vector:
    return (v[0] + 0.0, v[1] + 0.0, v[2] + 0.0)


def _squared(rows: Turn) -> Turn:
    """Undo the rounding of many turns after each other; leaves whole quarters untouched."""
    if all(v in (-1.0, 0.0, 1.0) for row in rows for v in row):
        return rows
    hand = 1.0 if dot(cross(rows[0], rows[1]), rows[2]) > 0 else -1.0
    x = unit(rows[0])
    y = unit(less(rows[1], times(x, dot(x, rows[1]))))
    return (x, y, times(cross(x, y), hand))


HERE = Pose()
