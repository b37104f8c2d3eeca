"""Round a corner: how something finished comes to its place in two straight stretches, where one does not do.

The piece and each thing about it are taken as upright boxes: a way that is found is free; one that leads under or
between what slants may be missed.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import inf

from storystick.checks.masses import carried
from storystick.checks.moving import boxed, shapes_of
from storystick.model.check import Asked
from storystick.shapes.solid import Bounds

SPARE_MM = 0.5  # boxes may overlap by so much: things that touch slide along one another

type Vector = tuple[float, float, float]

OUT: tuple[Vector, ...] = ((0.0, -1.0, 0.0), (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
UP: Vector = (0.0, 0.0, 1.0)


def way_round(asked: Asked, names: Sequence[str], rolls: bool) -> tuple[Vector, Vector, float] | None:
    """The way that it travels first, the way that it travels last and how far that is [mm]; None where there is none.

    The shortest last stretch that will do; up and over only for what does not roll.
    """
    within = frozenset(name for one in names for name in carried(asked, asked.build.assembly(one)))
    mine = [s.bounds for n, s in asked.scene.parts.items() if asked.build.part(n).assembly in within and not s.is_empty]
    if not mine:
        return None
    piece = boxed(mine)
    about = list(_about(asked, within))
    found = []
    for out in OUT if rolls else (*OUT, UP):
        reach = _free(piece, about, out)
        for then in OUT:
            if _axis(then) != _axis(out) and (far := _turns(piece, about, out, then, reach)) is not None:
                found.append((far, out, then))
    if not found:
        return None
    far, out, then = min(found, key=lambda each: each[0])
    return _back(then), _back(out), far


def _about(asked: Asked, within: frozenset[str]) -> Iterator[Bounds]:
    for body in asked.build.site:
        if not body.stays_free:
            yield from (shape.bounds for shape in shapes_of(body))
    for name, solid in asked.scene.parts.items():
        if asked.build.part(name).assembly not in within and not solid.is_empty:
            yield solid.bounds


def _turns(piece: Bounds, about: Sequence[Bounds], out: Vector, then: Vector, reach: float) -> float | None:
    """The least way out after which it goes off to the side without an end [mm]."""
    axis, sign = _axis(out), 1 if sum(out) > 0 else -1
    edges = [box[1][axis] - piece[0][axis] if sign > 0 else piece[1][axis] - box[0][axis] for box in about]
    for far in sorted({edge for edge in edges if 0 < edge <= reach}):
        if _free(_moved(piece, out, far), about, then) == inf:
            return far
    return None


def _free(piece: Bounds, about: Iterable[Bounds], way: Vector) -> float:
    """How far it goes along a way before something stops it [mm]."""
    axis, sign = _axis(way), 1 if sum(way) > 0 else -1
    across = [a for a in range(3) if a != axis]
    far = inf
    for box in about:
        beside = any(
            box[0][a] >= piece[1][a] - SPARE_MM or piece[0][a] >= box[1][a] - SPARE_MM for a in across
        )  # fmt: skip
        ahead = box[0][axis] - piece[1][axis] if sign > 0 else piece[0][axis] - box[1][axis]
        passed = box[1][axis] - piece[0][axis] if sign > 0 else piece[1][axis] - box[0][axis]
        if not beside and passed > SPARE_MM:
            far = min(far, max(0.0, ahead))
    return far


def _moved(piece: Bounds, way: Vector, far: float) -> Bounds:
    low, high = piece
    by = (way[0] * far, way[1] * far, way[2] * far)
    return (low[0] + by[0], low[1] + by[1], low[2] + by[2]), (high[0] + by[0], high[1] + by[1], high[2] + by[2])


def _axis(way: Vector) -> int:
    return max(range(3), key=lambda a: abs(way[a]))


def _back(way: Vector) -> Vector:
    return (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])
