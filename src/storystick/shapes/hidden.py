"""Line drawings of bodies, with the lines that are hidden told apart from those that are seen.

Every edge is clipped in closed form against every triangle that may stand before it: no picture elements, no samples.
An edge counts as behind a face only where it dips more than 0.05 mm behind it, so parts that touch show the joint
between them.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from storystick.ground.kept import Kept, This
from storystick.shapes.edges import drawn_edges, face_normals
from storystick.shapes.lines import Strokes, join, joined_up
from storystick.shapes.solid import Counts, Floats, Solid
from storystick.shapes.view import Spot, View

BEHIND = 0.05
"""How far behind a face an edge must get to be hidden by it [mm]."""
NOTICED = 0.05
"""Shorter bits of a line, seen or hidden, are taken as what is beside them [mm]."""
GRAZING = 1e-4
"""Faces so nearly edge-on hide nothing worth the name."""
BUNDLE = 12.0
"""Edges shorter than this are looked up together with their neighbours [mm]."""
RIM = 1e-6
"""What is behind the very rim of a face is hidden too [mm]."""


@dataclass(frozen=True)
class Line:
    """A line on paper: whose it is, its points [mm], and whether it is seen or hidden."""

    owner: str
    points: tuple[Spot, ...]
    is_seen: bool


def draw(
    bodies: Sequence[tuple[str, Solid]],
    view: View,
    hidden: bool = True,
    once: bool = True,
    only: Collection[str] | None = None,
) -> tuple[Line, ...]:
    """The drawing of bodies seen from one side: lines by body in the order given, seen ones first.

    Straight lines come whole, round ones as one run of points. With `once`, a line shared by two bodies is drawn
    for the first of them only, and a hidden line is left out where it falls on a seen one. Without `hidden`, hidden
    lines are left out. With `only`, all bodies hide, but the lines of those named are drawn alone.
    """
    starts, ends, owners, lost = _edges(bodies, view, hidden, only)
    turned = [_FACES.of((This(body), view), partial(_faces, body, view)) for _, body in bodies]
    faces = np.concatenate([np.zeros((0, 3, 3)), *turned])
    intervals = _hidden_intervals(starts, ends, lost, faces)
    strokes = _split(starts, ends, owners, intervals, hidden)
    return tuple(Line(bodies[path.owner][0], path.points, path.is_seen) for path in joined_up(join(strokes, once)))


def on_paper_rows(vertices: Floats, axes: Floats) -> Floats:
    """Rows of (right, up, nearness), summed the same way on every machine."""
    return np.stack([(vertices[:, 0] * a[0] + vertices[:, 1] * a[1]) + vertices[:, 2] * a[2] for a in axes], axis=1)


def _edges(
    bodies: Sequence[tuple[str, Solid]], view: View, hidden: bool, only: Collection[str] | None
) -> tuple[Floats, Floats, Counts, NDArray[np.bool_]]:
    starts, ends, owners, lost = [np.zeros((0, 3))], [np.zeros((0, 3))], [np.zeros(0, np.int64)], [np.zeros(0, bool)]
    for number, (name, solid) in enumerate(bodies):
        if only is not None and name not in only:
            continue
        a, b, behind = _EDGES.of((This(solid), view), partial(_edges_of, solid, view))
        if not hidden:
            a, b, behind = a[~behind], b[~behind], behind[~behind]
        starts.append(a)
        ends.append(b)
        owners.append(np.full(len(a), number))
        lost.append(behind)
    return np.concatenate(starts), np.concatenate(ends), np.concatenate(owners), np.concatenate(lost)


type Edges = tuple[Floats, Floats, NDArray[np.bool_]]

_EDGES, _FACES = Kept[Edges](200), Kept[Floats](200)
"""Bodies as seen from one side: many steps of a packet show the same ones."""


def _edges_of(solid: Solid, view: View) -> Edges:
    """Edges of one body on paper: from, to, and whether the body itself hides it."""
    axes = np.array([view.right, view.up, view.toward])
    edges, behind = drawn_edges(solid.mesh, axes[2])
    seen = on_paper_rows(solid.mesh.vertices, axes)
    a, b = seen[edges[:, 0]], seen[edges[:, 1]]
    long = np.hypot(*(b - a)[:, :2].T) > 1e-6
    return a[long], b[long], behind[long]


def _faces(solid: Solid, view: View) -> Floats:
    """Triangles turned to the eye, as (n, 3 corners, 3) on paper. A body's far side hides nothing that these do not."""
    corners = on_paper_rows(solid.mesh.vertices, np.array([view.right, view.up, view.toward]))[solid.mesh.triangles]
    turned: Floats = corners[face_normals(corners)[:, 2] > GRAZING]
    return turned


def _hidden_intervals(
    starts: Floats, ends: Floats, lost: NDArray[np.bool_], faces: Floats
) -> tuple[Counts, Floats, Floats]:
    """Edge numbers and the shares (from, to) of each edge that are hidden; in order, not overlapping."""
    candidates = np.flatnonzero(~lost)
    edge, face = _candidates(starts[candidates], ends[candidates], faces)
    edge = candidates[edge]
    normals = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    slopes = -normals[:, :2] / normals[:, 2:]
    low, high = _clip(starts[edge], ends[edge], faces[face], slopes[face])
    real = high - low > 1e-12
    whole = np.flatnonzero(lost)
    return _united(
        np.concatenate([edge[real], whole]),
        np.concatenate([low[real], np.zeros(len(whole))]),
        np.concatenate([high[real], np.ones(len(whole))]),
    )


def _candidates(starts: Floats, ends: Floats, faces: Floats) -> tuple[Counts, Counts]:
    """Pairs of an edge and a face in front of it, by their boxes on paper.

    Short edges are looked up by the square that they lie in, all of it at once: the rim of a hole has dozens of them.
    """
    import shapely

    if not len(starts) or not len(faces):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    members, first, low, high = _bundles(starts, ends)
    face_low, face_high = faces.min(axis=1), faces.max(axis=1)
    tree = shapely.STRtree(shapely.box(face_low[:, 0], face_low[:, 1], face_high[:, 0], face_high[:, 1]))
    bundle, face = (found.astype(np.int64) for found in tree.query(shapely.box(*low[:, :2].T, *high[:, :2].T)))
    bundle, face = _only(face_high[face, 2] > low[bundle, 2] + BEHIND, bundle, face)
    for i in range(3):
        corner, following = faces[face, i], faces[face, (i + 1) % 3]
        bundle, face = _only(_reaches(low[bundle], high[bundle], corner, following), bundle, face)
    counts = np.diff(first)[bundle]
    place = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    edge, face = members[np.repeat(first[bundle], counts) + place], np.repeat(face, counts)
    edge, face = _only(face_high[face, 2] > np.minimum(starts[edge, 2], ends[edge, 2]) + BEHIND, edge, face)
    for axis in (0, 1):
        left, right = np.minimum(starts[:, axis], ends[:, axis]), np.maximum(starts[:, axis], ends[:, axis])
        edge, face = _only((left[edge] <= face_high[face, axis]) & (right[edge] >= face_low[face, axis]), edge, face)
    return edge, face


def _only(kept: NDArray[np.bool_], one: Counts, other: Counts) -> tuple[Counts, Counts]:
    return one[kept], other[kept]


def _bundles(starts: Floats, ends: Floats) -> tuple[Counts, Counts, Floats, Floats]:
    """Edges in bundles: edge numbers in order of bundle, where each bundle begins, and the boxes round them."""
    middle = (starts[:, :2] + ends[:, :2]) / 2
    cell = np.floor(middle / BUNDLE).astype(np.int64)
    alone = np.where(np.hypot(*(ends - starts)[:, :2].T) < BUNDLE, -1, np.arange(len(starts)))
    order = np.lexsort((np.floor(starts[:, 2] / BUNDLE), cell[:, 1], cell[:, 0], alone))
    keys = np.stack([alone, *cell.T, np.floor(starts[:, 2] / BUNDLE).astype(np.int64)], axis=1)[order]
    first = np.append(np.flatnonzero(np.append(True, (np.diff(keys, axis=0) != 0).any(axis=1))), len(order))
    low = np.minimum.reduceat(np.minimum(starts, ends)[order], first[:-1], axis=0)
    high = np.maximum.reduceat(np.maximum(starts, ends)[order], first[:-1], axis=0)
    return order, first, low, high


def _reaches(low: Floats, high: Floats, corner: Floats, following: Floats) -> NDArray[np.bool_]:
    """Does a box on paper reach over the side of a face to its inner side?"""
    side = following - corner
    x = np.where(side[:, 1] > 0, low[:, 0], high[:, 0])
    y = np.where(side[:, 0] > 0, high[:, 1], low[:, 1])
    return np.asarray(side[:, 0] * (y - corner[:, 1]) - side[:, 1] * (x - corner[:, 0]) >= -RIM * 1e4)


def _clip(starts: Floats, ends: Floats, faces: Floats, slope: Floats) -> tuple[Floats, Floats]:
    """The share of each edge that its face hides, from and to; empty (to not above from) where there is none.

    Rows of edges, faces, and how much nearer each face comes per millimetre to the right and up.
    """
    way = ends - starts
    low, high = np.zeros(len(starts)), np.ones(len(starts))
    for i in range(3):
        corner, side = faces[:, i], faces[:, (i + 1) % 3] - faces[:, i]
        at = starts - corner
        inside = side[:, 0] * at[:, 1] - side[:, 1] * at[:, 0] + RIM * np.hypot(side[:, 0], side[:, 1])
        _keep_above(inside, side[:, 0] * way[:, 1] - side[:, 1] * way[:, 0], low, high)
    at = starts - faces[:, 0]
    dips = slope[:, 0] * at[:, 0] + slope[:, 1] * at[:, 1] - at[:, 2]
    grows = slope[:, 0] * way[:, 0] + slope[:, 1] * way[:, 1] - way[:, 2]
    deepest = np.maximum(dips + grows * low, dips + grows * high)
    high[deepest <= BEHIND] = 0.0
    _keep_above(dips, grows, low, high)
    return low, high


def _keep_above(value: Floats, change: Floats, low: Floats, high: Floats) -> None:
    """Narrow each (low, high) to where value + share * change is above 0."""
    steady = np.abs(change) < 1e-12
    root = -value / np.where(steady, 1.0, change)
    np.maximum(low, np.where(~steady & (change > 0), root, 0.0), out=low)
    np.minimum(high, np.where(~steady & (change < 0), root, 1.0), out=high)
    high[steady & (value < 0)] = 0.0


def _united(edge: Counts, low: Floats, high: Floats) -> tuple[Counts, Floats, Floats]:
    """Overlapping and touching intervals of an edge made one."""
    order = np.lexsort((high, low, edge))
    edge, low, high = edge[order], low[order], high[order]
    if not len(edge):
        return edge, low, high
    reached = np.maximum.accumulate(high + 2.0 * edge) - 2.0 * edge  # two apart, so that edges do not mix
    first = np.ones(len(edge), dtype=bool)
    first[1:] = (edge[1:] != edge[:-1]) | (low[1:] > reached[:-1] + 1e-9)
    last = np.append(first[1:], True)
    return edge[first], low[first], reached[last]


def _split(
    starts: Floats, ends: Floats, owners: Counts, intervals: tuple[Counts, Floats, Floats], hidden: bool
) -> Strokes:
    """Each edge cut up into seen and hidden strokes on paper."""
    edge, low, high = intervals
    lengths = np.hypot(*(ends - starts)[:, :2].T)
    bounds = np.searchsorted(edge, np.arange(len(starts) + 1))
    clear = np.diff(bounds) == 0
    whole = np.zeros(len(starts), dtype=bool)
    whole[edge[(low <= 0) & (high >= 1)]] = True
    parts = [
        (one, *part)
        for one in np.flatnonzero(~clear & ~whole).tolist()
        for part in _parts(_pairs(low, high, bounds[one], bounds[one + 1]), NOTICED / float(lengths[one]))
    ]
    mixed = np.array(parts, dtype=np.float64).reshape(-1, 4)
    number = np.concatenate([np.flatnonzero(clear), np.flatnonzero(whole), mixed[:, 0].astype(np.int64)])
    sure = np.zeros(int(clear.sum() + whole.sum()))
    begin, end = np.append(sure, mixed[:, 1])[:, None], np.append(sure + 1, mixed[:, 2])[:, None]
    seen = np.concatenate([np.ones(int(clear.sum())), np.zeros(int(whole.sum())), mixed[:, 3]]) > 0
    a, way = starts[number, :2], (ends - starts)[number, :2]
    first, last = np.where(begin > 0, a + way * begin, a), np.where(end < 1, a + way * end, ends[number, :2])
    keep = seen | hidden
    return Strokes(owners[number][keep], seen[keep], first[keep], last[keep])


def _pairs(low: Floats, high: Floats, start: int, end: int) -> list[tuple[float, float]]:
    return list(zip(low[start:end].tolist(), high[start:end].tolist(), strict=True))


def _parts(hidden: list[tuple[float, float]], least: float) -> list[tuple[float, float, bool]]:
    """From 0 to 1: from, to, seen. Bits shorter than `least` go with what is beside them."""
    if not hidden:
        return [(0.0, 1.0, True)]
    closed: list[tuple[float, float]] = []
    for low, high in hidden:
        if closed and low - closed[-1][1] < least:
            closed[-1] = (closed[-1][0], high)
        else:
            closed.append((0.0 if low < least else low, high))
    if 1.0 - closed[-1][1] < least:
        closed[-1] = (closed[-1][0], 1.0)
    parts, at = [], 0.0
    for low, high in closed:
        if high - low < least and (low, high) != (0.0, 1.0):
            continue
        if low > at:
            parts.append((at, low, True))
        parts.append((low, high, False))
        at = high
    return [*parts, (at, 1.0, True)] if at < 1.0 else parts
