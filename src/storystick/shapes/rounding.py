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
    n = len(corners)
    for i, (corner, radius) in enumerate(zip(corners, radii, strict=True)):
        before, after = corners[i - 1], corners[(i + 1) % n]
        one = (before[0] - corner[0], before[1] - corner[1])
        two = (after[0] - corner[0], after[1] - corner[1])
        long_one, long_two = math.hypot(*one), math.hypot(*two)
        cross = one[0] * two[1] - one[1] * two[0]
        angle = math.atan2(abs(cross), one[0] * two[0] + one[1] * two[1])
        if radius <= 0 or abs(angle - math.pi) < 1e-9 or angle < 1e-9:
            points.append(corner)
            bulges.append(0.0)
            continue
        back = min(radius / math.tan(angle / 2), _room(radii, i - 1, i, long_one), _room(radii, i, i + 1, long_two))
        turn = math.pi - angle
        sign = (
            -1.0 if cross > 0 else 1.0
        )  # a left turn where the way in and the way out turn clockwise about the corner
        points.append((corner[0] + one[0] / long_one * back, corner[1] + one[1] / long_one * back))
        bulges.append(sign * math.tan(turn / 4))
        points.append((corner[0] + two[0] / long_two * back, corner[1] + two[1] / long_two * back))
        bulges.append(0.0)
    return _without_doubles(points, bulges)


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
