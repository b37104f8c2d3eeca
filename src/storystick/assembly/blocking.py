"""What stands in the way of what: for each straight way, the bodies that each body would run into, however far off.

Boxes along the room's axes are compared all at once. Where a body is no sum of such boxes, its faces are: one that
moves runs into another where a face of it that looks ahead covers, seen along the way, one of the other's that looks
back at it.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from storystick.assembly.bodies import Body
from storystick.ground.kept import Kept
from storystick.shapes.pose import Vector, facing
from storystick.shapes.relation import apart
from storystick.shapes.solid import Floats

type Mask = int
ASIDE = 1e-6
SHARED = 0.01
"""Sound wood counts where more than this of it is ahead, both ways [mm]: far more than floats' dust."""
AT_ONCE = 512  # boxes that are compared with all others at a time


def hits(bodies: Sequence[Body], ways: Sequence[Vector]) -> list[list[Mask]]:
    """For each way and each body, the set of bodies it would run into, as bits; the ways come in opposite pairs.

    Two parts that are in one place already do not count: another check tells of those. With the site they do.
    """
    found: list[list[Mask]] = []
    for way in ways[::2]:
        ahead = _ahead(bodies, way)
        found.append([_mask(row) for row in ahead])
        found.append([_mask(row) for row in ahead.T])
    return found


def _mask(row: NDArray[np.bool_]) -> Mask:
    return int.from_bytes(np.packbits(row, bitorder="little").tobytes(), "little")


def _ahead(bodies: Sequence[Body], way: Vector) -> NDArray[np.bool_]:
    """Whether each (row) would run into each other (column) on a way."""
    axis = next((i for i in range(3) if way[i] == 1.0), None)
    if axis is not None:
        sure, maybe = _by_boxes(bodies, axis)
    else:
        sure, maybe = _by_outline(bodies, way)
    faces = _Faces(bodies, way)
    for i, j in np.argwhere(maybe).tolist():
        sure[i, j] = faces.meet(i, j)
    return sure


def _by_boxes(bodies: Sequence[Body], axis: int) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Along an axis of the room: which pairs meet for sure, and which have to be looked at by their faces.

    Where the boxes round two things lie before or behind one another, sound wood that has sound wood ahead meets it.
    """
    exact = np.array([body.exact for body in bodies])
    there = np.array([body.of_site for body in bodies])
    both = exact[:, None] & exact[None, :]
    meet, inside = _rows_of_boxes([body.boxes for body in bodies], axis, 0.0)
    before = meet & ~inside
    meet |= inside & (~both | there[:, None] | there[None, :])
    np.fill_diagonal(meet, False)
    sound, _ = _rows_of_boxes([body.sound for body in bodies], axis, SHARED)
    sure = meet & (both | (before & sound))
    return sure, meet & ~sure


def _rows_of_boxes(boxes: Sequence[Floats], axis: int, shared: float) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Whether any box of each (row) has one of each other (column) ahead along an axis; or in the same place along it.

    shared  boxes count that share more than this across the axis, both ways [mm]
    """
    every = np.concatenate(boxes)
    owners = np.repeat(np.arange(len(boxes)), [len(some) for some in boxes])
    low, high = every[:, 0], every[:, 1]
    a, b = (i for i in range(3) if i != axis)
    found = np.zeros((2, len(boxes), len(boxes)), dtype=bool)
    for start in range(0, len(every), AT_ONCE):
        rows = slice(start, start + AT_ONCE)
        over = (
            (low[rows, None, a] + shared < high[None, :, a])
            & (low[None, :, a] + shared < high[rows, None, a])
            & (low[rows, None, b] + shared < high[None, :, b])
            & (low[None, :, b] + shared < high[rows, None, b])
        )
        ahead = over & (low[None, :, axis] >= high[rows, None, axis] - ASIDE)
        within = over & ~ahead & (low[rows, None, axis] < high[None, :, axis])
        for into, some in zip(found, (ahead, within), strict=True):
            i, j = np.nonzero(some)
            into[owners[rows][i], owners[j]] = True
    return found[0], found[1]


def _by_outline(bodies: Sequence[Body], way: Vector) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Along any way: none for sure; those that may meet by the rectangles round them."""
    turn = np.array(facing(way).axes)
    low, high = np.empty((len(bodies), 3)), np.empty((len(bodies), 3))
    for i, body in enumerate(bodies):
        seen = body.triangles.reshape(-1, 3) @ turn.T
        low[i], high[i] = seen.min(axis=0), seen.max(axis=0)
    over = ((low[:, None, :2] < high[None, :, :2]) & (low[None, :, :2] < high[:, None, :2])).all(axis=2)
    maybe = over & (low[:, None, 2] < high[None, :, 2])
    np.fill_diagonal(maybe, False)
    return np.zeros_like(maybe), maybe


_MEET: Kept[bool] = Kept(16384)
_FACES: Kept[tuple[Floats, Floats]] = Kept(512)


class _Faces:
    """The faces of bodies as seen along a way: those that look ahead, and those that look back."""

    def __init__(self, bodies: Sequence[Body], way: Vector) -> None:
        self.bodies, self.way = bodies, way
        self.turn = np.array(facing(way).axes)

    def of(self, body: Body) -> tuple[Floats, Floats]:
        """With its origin at nothing."""
        return _FACES.of((body.own.mark, body.pose.turn, self.way), lambda: self._seen(body))

    def _seen(self, body: Body) -> tuple[Floats, Floats]:
        corners = body.turned @ self.turn.T
        one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        doubled = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
        return corners[doubled > 1e-6], corners[doubled < -1e-6]

    def meet(self, mover: int, other: int) -> bool:
        """Whether the one runs into the other on the way."""
        one, two = self.bodies[mover], self.bodies[other]
        off = apart(one.pose, two.pose)
        pair = (one.own.mark, one.pose.turn, two.own.mark, two.pose.turn, off, self.way)
        return _MEET.of(pair, lambda: faces_meet(self.of(one)[0], self.of(two)[1] + self.turn @ np.array(off)))


def faces_meet(ahead: Floats, back: Floats) -> bool:
    """Whether any face of the first set, moved along z, comes upon one of the second. Rows of three corners."""
    if not len(ahead) or not len(back):
        return False
    low_a, high_a, low_b, high_b = ahead.min(axis=1), ahead.max(axis=1), back.min(axis=1), back.max(axis=1)
    near = ((low_a[:, None, :2] < high_b[None, :, :2]) & (low_b[None, :, :2] < high_a[:, None, :2])).all(axis=2)
    near &= low_a[:, None, 2] <= high_b[None, :, 2]
    i, j = np.nonzero(near)
    if not len(i):
        return False
    over = _cover(ahead[i, :, :2], back[j, :, :2])
    i, j = i[over], j[over]
    level = high_a[i, 2] <= low_b[j, 2]
    if level.any():
        return True
    aslant = ~level & (low_a[i, 2] < high_b[j, 2])
    return any(_rises(ahead[p], back[q]) for p, q in zip(i[aslant], j[aslant], strict=True))


def _cover(a: Floats, b: Floats) -> NDArray[np.bool_]:
    """Which rows of flat triangles share ground with their partners: no side of either keeps them apart."""
    apart = np.zeros(len(a), dtype=bool)
    for one in (a, b):
        sides = one[:, (1, 2, 0)] - one
        normals = np.stack([sides[..., 1], -sides[..., 0]], axis=2)
        normals /= np.maximum(np.linalg.norm(normals, axis=2, keepdims=True), 1e-12)
        on_a = np.einsum("nik,njk->nij", normals, a)
        on_b = np.einsum("nik,njk->nij", normals, b)
        gap = np.maximum(on_a.min(axis=2) - on_b.max(axis=2), on_b.min(axis=2) - on_a.max(axis=2))
        apart |= (gap > -ASIDE).any(axis=1)
    return ~apart


def _rises(a: Floats, b: Floats) -> bool:
    """Whether the face below comes upon the one above: which is higher, in the middle of the ground that they share."""
    ground = [tuple(p) for p in a[:, :2]]
    other = b[:, :2] if _turns_left(b[:, :2]) else b[::-1, :2]
    for k in range(3):
        ground = _cut_off(ground, other[k], other[(k + 1) % 3])
    if len(ground) < 3:
        return False
    middle = np.mean(np.array(ground), axis=0)
    return bool(_height(a, middle) <= _height(b, middle) + ASIDE)


def _turns_left(flat: Floats) -> bool:
    (ax, ay), (bx, by), (cx, cy) = flat
    return bool((bx - ax) * (cy - ay) - (by - ay) * (cx - ax) > 0)


def _cut_off(ground: list[tuple[float, ...]], start: Floats, end: Floats) -> list[tuple[float, ...]]:
    """What of an outline lies to the left of a line."""
    kept: list[tuple[float, ...]] = []
    side = [float((end[0] - start[0]) * (y - start[1]) - (end[1] - start[1]) * (x - start[0])) for x, y in ground]
    for k, point in enumerate(ground):
        before, s, t = ground[k - 1], side[k - 1], side[k]
        if (s > 0) != (t > 0):
            share = s / (s - t)
            kept.append((before[0] + share * (point[0] - before[0]), before[1] + share * (point[1] - before[1])))
        if t > 0:
            kept.append(point)
    return kept


def _height(face: Floats, at: Floats) -> float:
    one, two = face[1] - face[0], face[2] - face[0]
    x, y = at - face[0, :2]
    det = one[0] * two[1] - one[1] * two[0]
    s, t = (x * two[1] - y * two[0]) / det, (one[0] * y - one[1] * x) / det
    return float(face[0, 2] + s * one[2] + t * two[2])
