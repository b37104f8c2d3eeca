"""Section: what a plane cuts through, as outlines for a section drawing."""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.shapes.lines import DIGITS
from storystick.shapes.pose import Pose, Vector, dot, framed, invert, times, unit
from storystick.shapes.solid import Solid, moved
from storystick.shapes.view import Spot, View


@dataclass(frozen=True)
class Slice:
    """The cut face of one body: rings of points [mm], anticlockwise round wood and clockwise round a hole in it."""

    owner: str
    rings: tuple[tuple[Spot, ...], ...]

    @property
    def area(self) -> float:
        """Area of the cut face [mm2]."""
        return sum(ring_area(ring) for ring in self.rings)


def section(bodies: Sequence[tuple[str, Solid]], view: View, through: Vector) -> tuple[Slice, ...]:
    """The cut faces of bodies in the plane through a point, square to the line of sight, where the view would put them.

    Bodies that the plane misses are left out. A plane that lies exactly in a face of a body counts as just inside the
    face that looks away from the eye, and as just outside the one that looks towards it.
    """
    pose = _pose(view, through)
    found = []
    for owner, solid in bodies:
        polygons = [] if solid.is_empty else moved(solid, pose).body.slice(0.0).to_polygons()
        rings = [tuple((round(float(x), DIGITS) + 0.0, round(float(y), DIGITS) + 0.0) for x, y in p) for p in polygons]
        kept = sorted(_from_least(_without_doubles(ring)) for ring in rings)
        if kept := [ring for ring in kept if abs(ring_area(ring)) > 1e-6]:
            found.append(Slice(owner, tuple(kept)))
    return tuple(found)


def behind(bodies: Sequence[tuple[str, Solid]], view: View, through: Vector) -> tuple[tuple[str, Solid], ...]:
    """What is left of bodies once everything on the eye's side of the plane is taken away: draw it under a section."""
    away = times(unit(view.toward), -1.0)
    trimmed = [(owner, Solid(solid.body.trim_by_plane(away, dot(away, through)))) for owner, solid in bodies]
    return tuple((owner, solid) for owner, solid in trimmed if not solid.is_empty)


def ring_area(ring: Sequence[Spot]) -> float:
    """Area inside a ring of points [mm2]; below 0 for a clockwise one."""
    pairs = zip(ring, [*ring[1:], ring[0]], strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


def _pose(view: View, through: Vector) -> Pose:
    """From the world to the view's paper, the cutting plane at height 0 and the eye above."""
    at_eye = times(view.toward, dot(view.toward, through))
    return invert(framed(view.right, view.up, view.toward, at_eye))


def _without_doubles(ring: tuple[Spot, ...]) -> tuple[Spot, ...]:
    """No point twice in a row, and none on the straight line between its neighbours."""
    distinct = [p for i, p in enumerate(ring) if p != ring[i - 1]]
    kept = []
    for i, (x, y) in enumerate(distinct):
        (ax, ay), (bx, by) = distinct[i - 1], distinct[(i + 1) % len(distinct)]
        if abs((x - ax) * (by - ay) - (bx - ax) * (y - ay)) > 1e-3 * max(abs(bx - ax), abs(by - ay)) * 0.2:
            kept.append((x, y))
    return tuple(kept)


def _from_least(ring: tuple[Spot, ...]) -> tuple[Spot, ...]:
    first = ring.index(min(ring)) if ring else 0
    return ring[first:] + ring[:first]
