"""The outline that is left of a board when its notches are sawn out: true arcs stay arcs."""

import math
from collections.abc import Iterator, Sequence

from storystick.model.cut import Notch
from storystick.model.part import Part
from storystick.shapes.outline import Arc, Outline, Point, points, rectangle, sides
from storystick.shapes.rounding import rounded

FINE = 0.001
"""How far the pieces that an arc is cut into for the sawing may stand off it [mm]; they are put together again."""


def wood(part: Part) -> tuple[Outline, ...]:
    """What is left of the face of a part when its notches are sawn, in its own u and v [mm].

    The outer outline of each piece is followed by the holes in it; nothing where nothing is left.
    """
    board = rectangle(float(part.length), float(part.width))
    notches = [notch_outline(cut) for cut in part.cuts if isinstance(cut, Notch)]
    return sawn(board, notches) if notches else (board,)


def notch_outline(cut: Notch) -> Outline:
    """The outline of a notch, in u and v [mm]."""
    corners = [(float(c.u), float(c.v)) for c in cut.corners]
    return rounded(corners, [float(c.radius) if c.radius else 0.0 for c in cut.corners])


def sawn(board: Outline, notches: Sequence[Outline]) -> tuple[Outline, ...]:
    """A board less its notches: outer outlines by their least corner, each before its holes."""
    from shapely import Polygon
    from shapely.ops import unary_union

    left = Polygon(points(board, FINE)).difference(unary_union([Polygon(points(n, FINE)) for n in notches]))
    arcs = [arc for outline in (board, *notches) for _, _, arc in sides(outline) if arc]
    found = []
    for piece in getattr(left, "geoms", [left]):
        if piece.is_empty or piece.area < FINE:
            continue
        rings = [piece.exterior, *sorted(piece.interiors, key=lambda ring: min(ring.coords))]
        made = [_with_arcs([(float(x), float(y)) for x, y in ring.coords[:-1]], arcs) for ring in rings]
        found.append((min(piece.exterior.coords), tuple(made)))
    return tuple(outline for _, made in sorted(found, key=lambda one: one[0]) for outline in made)


def _with_arcs(ring: list[Point], arcs: Sequence[Arc]) -> Outline:
    """A ring of straight pieces with those that stand for an arc put together again."""
    ring = [p for i, p in enumerate(ring) if math.dist(p, ring[i - 1]) > FINE / 10]
    of = [_arc_of(ring[i], ring[(i + 1) % len(ring)], arcs) for i in range(len(ring))]
    starts = [i for i in range(len(ring)) if of[i] is None or of[i] is not of[i - 1]]
    if not starts:  # all of one arc: a whole circle, as two halves
        starts = [0, len(ring) // 2]
    starts = _from_least(ring, starts)
    corners, bulges = [], []
    for number, start in enumerate(starts):
        end = starts[(number + 1) % len(starts)]
        arc = of[start]
        corners.append(ring[start])
        bulges.append(math.tan(_turned(ring, start, end, arc) / 4) if arc else 0.0)
    return Outline(*_straightened(corners, bulges))


def _from_least(ring: Sequence[Point], starts: list[int]) -> list[int]:
    first = min(range(len(starts)), key=lambda i: ring[starts[i]])
    return starts[first:] + starts[:first]


def _arc_of(a: Point, b: Point, arcs: Sequence[Arc]) -> Arc | None:
    for arc in arcs:
        if all(abs(math.dist(p, arc.centre) - arc.radius) <= 2 * FINE for p in (a, b)):
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            angle = math.atan2(middle[1] - arc.centre[1], middle[0] - arc.centre[0])
            if arc.radius - math.dist(middle, arc.centre) <= 2 * FINE and arc.passes(angle):
                return arc
    return None


def _turned(ring: Sequence[Point], start: int, end: int, arc: Arc) -> float:
    """The angle that a stretch of the ring turns through about the centre of its arc [rad], positive anticlockwise."""
    return math.fsum(_steps(ring, start, end, arc))


def _steps(ring: Sequence[Point], start: int, end: int, arc: Arc) -> Iterator[float]:
    at = start
    while True:
        a, b = ring[at], ring[(at + 1) % len(ring)]
        ax, ay, bx, by = a[0] - arc.centre[0], a[1] - arc.centre[1], b[0] - arc.centre[0], b[1] - arc.centre[1]
        yield math.atan2(ax * by - ay * bx, ax * bx + ay * by)
        at = (at + 1) % len(ring)
        if at == end:
            return


def _straightened(corners: list[Point], bulges: list[float]) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Without corners in the middle of a straight side."""
    kept: list[int] = []
    for i, corner in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % len(corners)]
        flat = bulges[i - 1] == 0.0 == bulges[i]
        aside = (corner[0] - before[0]) * (after[1] - corner[1]) - (corner[1] - before[1]) * (after[0] - corner[0])
        if not (flat and abs(aside) <= 1e-9 * math.dist(before, corner) * math.dist(corner, after)):
            kept.append(i)
    return tuple(corners[i] for i in kept), tuple(bulges[i] for i in kept)
