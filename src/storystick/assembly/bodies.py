"""Everything that has to come together, as bodies in the room: parts, and bought things that take up room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np

from storystick.assembly.sound import boxes_in
from storystick.ground.kept import Kept
from storystick.model.body import form_of, solid_of_shape
from storystick.model.build import SiteBody
from storystick.model.eased import eased_boxes, eased_solid
from storystick.model.joining import Item
from storystick.model.part import Part
from storystick.model.scene import Scene
from storystick.shapes.pose import HERE, Pose, apply, direct
from storystick.shapes.solid import Bounds, Floats, Solid, box_between

LOOSE = 0.5
"""A bought thing is taken so much smaller all round [mm]: it sits in a bore or on a plate, and its box is about so."""


_OWN: "Kept[Own]" = Kept(512)
NONE: Floats = np.zeros((0, 2, 3))


@dataclass(frozen=True, eq=False)
class Own:
    """A body in its own coordinates; those that are alike share it. `solid` gives what is no sum of its boxes.

    sound  boxes that are all wood, or whatever it is of
    """

    boxes: tuple[Bounds, ...]
    exact: bool
    solid: Callable[[], Solid]
    sound: tuple[Bounds, ...] = ()

    @cached_property
    def mark(self) -> object:
        """What tells it from every other body: to ask under, and light to keep when the body itself is let go."""
        return object()

    @cached_property
    def triangles(self) -> Floats:
        """Its surface as rows of three corners, each anticlockwise as seen from outside."""
        if not self.exact:
            return _faces(self.solid())
        return np.concatenate([_of_box(one) for one in self.boxes])


@dataclass(frozen=True, eq=False)
class Body:
    """One thing: its boxes in the room (n, 2, 3) [mm], and whether these are all of it.

    sound  boxes in the room that are all wood: none of a thing that stands askew
    """

    name: str
    assembly: str
    part: Part | None
    item: Item | None
    boxes: Floats
    exact: bool
    pose: Pose
    own: Own
    sound: Floats

    @property
    def of_site(self) -> bool:
        """Whether it stands there already."""
        return self.part is None and self.item is None

    @cached_property
    def triangles(self) -> Floats:
        """Its surface as rows of three corners in the room, each anticlockwise as seen from outside."""
        placed: Floats = self.turned + np.array(self.pose.origin)
        return placed

    @cached_property
    def turned(self) -> Floats:
        """The same with its origin at nothing."""
        corners: Floats = self.own.triangles @ np.array(self.pose.turn).T
        return corners[:, ::-1] if self.pose.is_mirrored else corners

    @cached_property
    def bounds(self) -> Bounds:
        """The box round all of it."""
        low, high = self.boxes[:, 0].min(axis=0), self.boxes[:, 1].max(axis=0)
        return _bounds(np.stack([low, high]))


def bodies_of(scene: Scene) -> tuple[Body, ...]:
    """The parts in the order of the build, then the things that have a box."""
    parts = [_of_part(part, scene.part_poses[part.name], _own_of(part)) for part in scene.build.parts]
    items = [_of_item(one, scene.poses[one.assembly]) for one in scene.build.items if one.box is not None]
    return (*parts, *items)


def _own_of(part: Part) -> Own:
    found = eased_boxes(part)
    return _OWN.of(form_of(part), lambda: Own(found.boxes, found.exact, lambda: eased_solid(part), found.sound))


def _of_part(part: Part, pose: Pose, own: Own) -> Body:
    boxes, square = _placed(own.boxes, pose)
    sound = boxes if own.exact else _placed(own.sound, pose)[0]
    return Body(
        part.name, part.assembly, part, None, boxes, own.exact and square, pose, own, sound if square else NONE
    )


def _of_item(item: Item, pose: Pose) -> Body:
    assert item.box is not None
    (at, size) = item.box
    thin = [min(LOOSE, float(side) / 4) for side in size]
    low = tuple(float(at[i]) + thin[i] for i in range(3))
    high = tuple(float(at[i]) + float(size[i]) - thin[i] for i in range(3))
    own: Bounds = ((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    boxes, square = _placed((own,), pose)
    return Body(item.name, item.assembly, None, item, boxes, square, pose, _box(own), boxes if square else NONE)


def _box(one: Bounds) -> Own:
    return _OWN.of(one, lambda: Own((one,), True, lambda: box_between(*one), (one,)))


def site_of(scene: Scene) -> tuple[Body, ...]:
    """What already stands there; not the room that is to be left free, which things may pass through."""
    return tuple(_of_site(one, scene.site[one.name]) for one in scene.build.site if not one.stays_free)


def _of_site(one: SiteBody, solid: Solid) -> Body:
    boxes = np.array([shape.bounds for shape in map(solid_of_shape, one.shapes)])
    exact = all(shape.form == "box" for shape in one.shapes)
    own = _OWN.of(solid, lambda: Own((), False, lambda: solid))
    sound = [box for shape in one.shapes for box in boxes_in(shape)]
    return Body(one.name, "", None, None, boxes, exact, HERE, own, _placed(sound, HERE)[0])


def _placed(boxes: Sequence[Bounds], pose: Pose) -> tuple[Floats, bool]:
    """Boxes in the room; of those that stand askew there, the boxes round them."""
    square = all(abs(value) in (0.0, 1.0) for row in pose.turn for value in row)
    if not boxes:
        return NONE, square
    if square:
        ends = np.array(boxes).reshape(-1, 3) @ np.array(pose.turn).T + np.array(pose.origin)
        pairs = ends.reshape(-1, 2, 3)
        return np.sort(pairs, axis=1), True
    found = []
    for low, high in boxes:
        corners = [apply(pose, (x, y, z)) for x, y, z in product(*zip(low, high, strict=True))]
        found.append([np.min(corners, axis=0), np.max(corners, axis=0)])
    return np.array(found), False


_QUADS = ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5))


def _of_box(one: Bounds) -> Floats:
    """The twelve triangles of a box."""
    low, high = one
    corner = [(x, y, z) for z in (low[2], high[2]) for y in (low[1], high[1]) for x in (low[0], high[0])]
    rows = [(corner[a], corner[b], corner[c]) for q in _QUADS for a, b, c in ((q[0], q[1], q[2]), (q[0], q[2], q[3]))]
    return np.array(rows)


def _faces(solid: Solid) -> Floats:
    return solid.mesh.vertices[solid.mesh.triangles]


def _bounds(rows: Floats) -> Bounds:
    (a, b, c), (d, e, f) = rows.tolist()
    return (a, b, c), (d, e, f)


def ways_of(scene: Scene) -> tuple[tuple[float, float, float], ...]:
    """The straight ways that are looked at: along each axis of each assembly, each next to its opposite."""
    found: list[tuple[float, float, float]] = []
    for pose in (HERE, *scene.poses.values()):
        for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
            x, y, z = direct(pose, axis)
            if not any(abs(abs(x * a + y * b + z * c) - 1) < 1e-9 for a, b, c in found):
                found += [(x, y, z), (0.0 - x, 0.0 - y, 0.0 - z)]
    return tuple(found)
