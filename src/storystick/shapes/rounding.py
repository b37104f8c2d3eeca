"""An outline from sharp corners, each rounded by a radius of its own."""

import math
from collections.abc import Sequence

from storystick.shapes.outline import Outline, Point


def rounded(corners: Sequence[Point], radii: Sequence[float]) -> Outline:
    """The closed outline through `corners` in order; corner i is rounded by radii[i] [mm], 0 keeps it sharp.

    A radius that does not fit between its neighbours is made smaller until it does.
    """
    points: list[Point] = []
    bulges: list[float] = []
    for i, corner in enumerate(corners):
        one, two, cross, angle = _turn(corners, i)
        if radii[i] <= 0 or _is_straight(angle):
            points.append(corner)
            bulges.append(0.0)
            continue
        back = _back(corners, radii, i)
        long_one, long_two = math.hypot(*one), math.hypot(*two)
        # a left turn where the way in and the way out turn clockwise about the corner
        sign = -1.0 if cross > 0 else 1.0
        points.append((corner[0] + one[0] / long_one * back, corner[1] + one[1] / long_one * back))
        bulges.append(sign * math.tan((math.pi - angle) / 4))
        points.append((corner[0] + two[0] / long_two * back, corner[1] + two[1] / long_two * back))
        bulges.append(0.0)
    return _without_doubles(points, bulges)


def fitted_radii(corners: Sequence[Point], radii: Sequence[float]) -> tuple[float, ...]:
    """The radius that each corner really comes out with in `rounded` [mm], 0 for a sharp one."""
    found = []
    for i, radius in enumerate(radii):
        angle = _turn(corners, i)[3]
        sharp = radius <= 0 or _is_straight(angle)
        found.append(0.0 if sharp else min(radius, _back(corners, radii, i) * math.tan(angle / 2)))
    return tuple(found)


def _turn(corners: Sequence[Point], i: int) -> tuple[Point, Point, float, float]:
    """From a corner to the one before and to the one after, the cross product of the two, the angle between them."""
    corner, before, after = corners[i], corners[i - 1], corners[(i + 1) % len(corners)]
    one = (before[0] - corner[0], before[1] - corner[1])
    two = (after[0] - corner[0], after[1] - corner[1])
    cross = one[0] * two[1] - one[1] * two[0]
    return one, two, cross, math.atan2(abs(cross), one[0] * two[0] + one[1] * two[1])


def _is_straight(angle: float) -> bool:
    return abs(angle - math.pi) < 1e-9 or angle < 1e-9


def _back(corners: Sequence[Point], radii: Sequence[float], i: int) -> float:
    """How far from a corner its rounding begins on either side [mm]."""
    one, two, _, angle = _turn(corners, i)
    room = min(_room(radii, i - 1, i, math.hypot(*one)), _room(radii, i, i + 1, math.hypot(*two)))
    return min(radii[i] / math.tan(angle / 2), room)


def _room(radii: Sequence[float], i: int, j: int, long: float) -> float:
    """How much of a side one of its two roundings may take: half of it when the other end is rounded too."""
    return long / 2 if radii[i % len(radii)] > 0 and radii[j % len(radii)] > 0 else long


def _without_doubles(points: list[Point], bulges: list[float]) -> Outline:
    kept: list[tuple[Point, float]] = []
    for point, bulge in zip(points, bulges, strict=True):
        if kept and math.dist(kept[-1][0], point) < 1e-9:
            kept[-1] = (kept[-1][0], bulge)
        else:
            kept.append((point, bulge))
    if len(kept) > 1 and math.dist(kept[0][0], kept[-1][0]) < 1e-9:
        kept.pop() if kept[-1][1] == 0 else kept.pop(0)
    return Outline(tuple(p for p, _ in kept), tuple(b for _, b in kept))
