"""Which bodies keep which driver from which fastener: the room that it takes behind the head, against every body."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import radians, tan

from storystick.assembly.blocking import Mask
from storystick.assembly.bodies import Body
from storystick.assembly.sound import stands_in
from storystick.ground.source import practice
from storystick.model.joining import Fastener
from storystick.model.scene import Scene
from storystick.shapes.near import overlap
from storystick.shapes.pose import Vector, apply, direct, facing, plus, times, unit
from storystick.shapes.solid import Bounds, Solid, box_between, cylinder, moved
from storystick.shop.shop import Driver, Shop

BIT_LONG, BIT_ACROSS = 50.0, 10.0
BIT = practice("a driver ends in a bit that stands out 50 mm (2 in) and is 10 mm (3/8 in) thick with its holder")
HANDLE_LONG = 110.0
HANDLE = practice("a screwdriver held in the hand ends in a handle of 110 mm (4 1/4 in); all before that is blade")
POCKET_BIT = 150.0
LONG_BIT = practice("pocket screws are driven with a bit of 150 mm (6 in)")
USUAL = (Driver("drill", Fraction(230), Fraction(75)), Driver("screwdriver", Fraction(255), Fraction(38)))
NAILER = Driver("nailer", Fraction(250), Fraction(60), practice("a nailer stands 250 mm (10 in) off, 60 mm across"))
SPANNER = Driver("spanner", Fraction(60), Fraction(60), practice("a socket on its handle needs 60 mm (2 3/8 in)"))
NAILER_NOSE = 30.0
LEAN = 3.0
LEANING = practice("a driver still turns its screw while it leans by 3 degrees")
OFF = 0.5  # the driver's room begins so far behind the head, and is so much thinner than the driver [mm]


@dataclass(frozen=True, slots=True)
class Reach:
    """One fastener between bodies: `ends` are the bodies it goes through and into, `tools` who could drive it.

    blocked  for each tool, the bodies that keep it off
    """

    of: Fastener
    ends: Mask
    head: Vector
    way: Vector
    tools: tuple[str, ...]
    blocked: tuple[Mask, ...]

    def free(self, present: Mask) -> str | None:
        """The first tool that gets at it while those bodies are there; None where none does."""
        for tool, blocked in zip(self.tools, self.blocked, strict=True):
            if not blocked & present:
                return tool
        return None

    def in_the_way(self, present: Mask) -> Mask:
        """The bodies of those there that would have to give way, for the tool that the fewest hinder."""
        found = [blocked & present for blocked in self.blocked]
        return min(found, key=lambda mask: (mask.bit_count(), mask), default=0)


@dataclass(frozen=True, slots=True)
class Room:
    """A round bar of room behind a head: from `first` to `last` mm back from it, `half` thick."""

    first: float
    last: float
    half: float


def reaches(scene: Scene, bodies: Sequence[Body], shop: Shop) -> tuple[Reach, ...]:
    """Every fastener that is driven and holds a body; dowels go in with the part, nothing drives them."""
    numbers = {body.name: number for number, body in enumerate(bodies)}
    crowd = Crowd.of(scene, bodies)
    found = []
    for one in scene.build.fasteners:
        held = [numbers[name] for name in (one.through, one.into) if name in numbers]
        if one.kind == "dowel" or not held:
            continue
        pose = scene.poses[one.assembly]
        head = apply(pose, (float(one.at[0]), float(one.at[1]), float(one.at[2])))
        way = unit(direct(pose, one.way))
        leave_out = _left_out(one, bodies, numbers)
        tools = _tools(one, shop)
        proud = _proud(one, bodies[numbers[one.through]] if one.through in numbers else None, way)
        ends = sum(1 << number for number in set(held))
        looks = [
            (tool.name, blocked)
            for tool in tools
            for blocked in _looks(crowd, head, way, _rooms(one, tool, proud), leave_out, tool.name == NAILER.name)
        ]
        found.append(Reach(one, ends, head, way, tuple(name for name, _ in looks), tuple(mask for _, mask in looks)))
    return tuple(found)


def _left_out(one: Fastener, bodies: Sequence[Body], numbers: dict[str, int]) -> int:
    """The body that the head sits in, where that can't be in its own driver's way: it has a pocket or holes for it."""
    number = numbers.get(one.through, -1)
    if number >= 0 and (one.kind == "pocket screw" or bodies[number].item is not None):
        return number
    return -1


def _tools(one: Fastener, shop: Shop) -> tuple[Driver, ...]:
    if one.kind in ("nail", "brad"):
        return (NAILER,)
    if one.kind in ("bolt", "lag screw"):
        return (SPANNER,)
    return shop.drivers or USUAL


def _rooms(one: Fastener, tool: Driver, proud: float) -> tuple[Room, Room]:
    """The bit and the tool behind it, from where the head ends up to where it stands while the point just goes in."""
    far, half = float(tool.long), float(tool.across) / 2
    if tool is NAILER:
        nose = NAILER_NOSE
    elif tool is SPANNER:
        nose, far = OFF, far + proud
    elif one.kind == "pocket screw":
        nose, far = POCKET_BIT, far + POCKET_BIT - BIT_LONG + proud
    else:
        nose = max(BIT_LONG, far - HANDLE_LONG) if "screwdriver" in tool.name else BIT_LONG
        far += proud
    return Room(OFF, far, min(half, BIT_ACROSS / 2) - OFF), Room(nose, far, half - OFF)


def _proud(one: Fastener, body: Body | None, way: Vector) -> float:
    """How far the head stands out before the thread bites: the length less the board that it slips through [mm]."""
    if body is None or body.part is None or one.kind == "pocket screw":
        return float(one.length)
    low, high = body.bounds
    deep = sum(abs(way[i]) * (high[i] - low[i]) for i in range(3))
    return max(0.0, float(one.length) - deep)


def _looks(
    crowd: "Crowd", head: Vector, way: Vector, rooms: tuple[Room, Room], leave_out: int, straight_only: bool
) -> list[Mask]:
    """The bodies in the way of a tool that is held straight; and, where any are, of one that leans each way."""
    bit, rest = rooms
    at_bit = _in_room(crowd, head, way, bit, leave_out)
    straight = at_bit | _in_room(crowd, head, way, rest, leave_out)
    if straight_only or straight == at_bit:
        return [straight]
    found = [straight]
    aside = facing(way)
    for side in (aside.axes[0], aside.axes[1], times(aside.axes[0], -1.0), times(aside.axes[1], -1.0)):
        moved_head = plus(head, times(side, rest.first * tan(radians(LEAN))))
        leaned = at_bit | _in_room(crowd, moved_head, way, rest, leave_out)
        if straight & ~leaned:
            found.append(leaned)
    return found


@dataclass(frozen=True, slots=True, eq=False)
class Crowd:
    """All bodies, with their boxes in one row, by their left sides, and whose each box is; the widest box's width."""

    scene: Scene
    bodies: Sequence[Body]
    boxes: Sequence[Bounds]
    owners: Sequence[int]
    lefts: Sequence[float]
    widest: float

    @classmethod
    def of(cls, scene: Scene, bodies: Sequence[Body]) -> "Crowd":
        """With the boxes in order."""
        row = [(box, number) for number, body in enumerate(bodies) for box in body.boxes.tolist()]
        row.sort(key=lambda each: each[0][0][0])
        boxes, lefts = [box for box, _ in row], [box[0][0] for box, _ in row]
        widest = max((high[0] - low[0] for low, high in boxes), default=0.0)
        return cls(scene, bodies, boxes, [number for _, number in row], lefts, widest)

    def between(self, low: float, high: float) -> range:
        """The boxes that can reach between two places from left to right, and some more."""
        return range(bisect_left(self.lefts, low - self.widest - 1.0), bisect_right(self.lefts, high))


def _in_room(crowd: Crowd, head: Vector, way: Vector, room: Room, leave_out: int) -> Mask:
    """The bodies that stand in a room."""
    axis = next((i for i in range(3) if abs(way[i]) == 1.0), None)
    found = 0
    for number in _near(crowd, head, way, room, axis):
        body = crowd.bodies[number]
        if number != leave_out and ((axis is not None and body.exact) or _touches(crowd.scene, body, head, way, room)):
            found |= 1 << number
    return found


def _near(crowd: Crowd, head: Vector, way: Vector, room: Room, axis: int | None) -> list[int]:
    """Bodies with a box in the room: for sure along an axis of the room, else perhaps."""
    start, end = (plus(head, times(way, -far)) for far in (room.first, room.last))
    wide = [0.0 if i == axis else room.half for i in range(3)]
    x0, y0, z0 = (min(s, e) - half for s, e, half in zip(start, end, wide, strict=True))
    x1, y1, z1 = (max(s, e) + half for s, e, half in zip(start, end, wide, strict=True))
    met = []
    for row in crowd.between(x0, x1):
        (ax, ay, az), (bx, by, bz) = crowd.boxes[row]
        if ax < x1 and bx > x0 and ay < y1 and by > y0 and az < z1 and bz > z0:
            met.append(row)
    if axis is not None:  # round about the room's middle line
        a, b = (i for i in range(3) if i != axis)
        met = [row for row in met if _off(crowd.boxes[row], start, a, b) < room.half**2]
    return sorted({crowd.owners[row] for row in met})


def _off(box: Bounds, point: Vector, a: int, b: int) -> float:
    """How far a box is from a point along two axes, squared [mm2]."""
    (low, high) = box
    one, two = (max(low[i] - point[i], point[i] - high[i], 0.0) for i in (a, b))
    return one * one + two * two


def _touches(scene: Scene, body: Body, head: Vector, way: Vector, room: Room) -> bool:
    """The same by the body itself, where its sound wood does not tell."""
    back = times(way, -1.0)
    first, last = (plus(head, times(back, far)) for far in (room.first, room.last))
    if stands_in(body.sound, body.part, first, last, room.half):
        return True
    bar = cylinder(2 * room.half, room.last - room.first)
    return overlap(moved(bar, facing(back, plus(head, times(back, room.first)))), _solid(scene, body)) is not None


def _solid(scene: Scene, body: Body) -> Solid:
    if body.part is not None:
        return scene.parts[body.name]
    return moved(box_between(*body.own.boxes[0]), body.pose)
