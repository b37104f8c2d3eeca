"""Which bodies keep which driver from which fastener: the room that it takes behind the head, against every body."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from math import radians, tan

from storystick.assembly.blocking import Mask
from storystick.assembly.bodies import Body
from storystick.assembly.crowd import Bar, Crowd, Room
from storystick.ground.records import quickly_made
from storystick.ground.source import practice
from storystick.model.joining import Fastener
from storystick.model.scene import Scene
from storystick.shapes.pose import Vector, apply, direct, facing, plus, times, unit
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


@quickly_made
@dataclass(frozen=True, slots=True)
class Look:
    """A fastener and a tool that could drive it: its bit's room and its own, straight behind the head."""

    one: Fastener
    tool: Driver
    bit: Bar
    rest: Bar
    leave_out: int


def reaches(scene: Scene, bodies: Sequence[Body], shop: Shop) -> tuple[Reach, ...]:
    """Every fastener that is driven and holds a body; dowels go in with the part, nothing drives them."""
    numbers = {body.name: number for number, body in enumerate(bodies)}
    looks = [
        look
        for one in scene.build.fasteners
        if one.kind != "dowel" and (one.through in numbers or one.into in numbers)
        for look in _looks(scene, one, bodies, numbers, shop)
    ]
    blocked = _blocked(Crowd.of(scene, bodies), looks)
    found = []
    for _, some in groupby(zip(looks, blocked, strict=True), key=lambda each: id(each[0].one)):
        seen = [(look, mask) for look, masks in some for mask in masks]
        one, bit = seen[0][0].one, seen[0][0].bit
        ends = sum(1 << number for number in {numbers[name] for name in (one.through, one.into) if name in numbers})
        tools, masks = tuple(look.tool.name for look, _ in seen), tuple(mask for _, mask in seen)
        found.append(Reach(one, ends, bit.head, bit.way, tools, masks))
    return tuple(found)


def _looks(
    scene: Scene, one: Fastener, bodies: Sequence[Body], numbers: dict[str, int], shop: Shop
) -> Iterator[Look]:
    pose = scene.poses[one.assembly]
    head = apply(pose, (float(one.at[0]), float(one.at[1]), float(one.at[2])))
    way = unit(direct(pose, one.way))
    leave_out = _left_out(one, bodies, numbers)
    proud = _proud(one, bodies[numbers[one.through]] if one.through in numbers else None, way)
    axis = next((i for i in range(3) if abs(way[i]) == 1.0), None)
    for tool in _tools(one, shop):
        bit, rest = _rooms(one, tool, proud)
        yield Look(one, tool, Bar(head, way, axis, bit), Bar(head, way, axis, rest), leave_out)


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


def _blocked(crowd: Crowd, looks: Sequence[Look]) -> list[list[Mask]]:
    """For each the bodies in the way of a tool that is held straight; where any are, of one that leans each way too."""
    without = [look.leave_out for look in looks]
    at_bit = list(crowd.inside([look.bit for look in looks], without))
    behind = crowd.inside([look.rest for look in looks], without)
    found = [[bit | rest] for bit, rest in zip(at_bit, behind, strict=True)]
    leaning = [
        (row, bar)
        for row, look in enumerate(looks)
        if look.tool is not NAILER and found[row][0] != at_bit[row]
        for bar in _leaned(look.rest)
    ]
    aside = crowd.inside([bar for _, bar in leaning], [without[row] for row, _ in leaning])
    for (row, _), mask in zip(leaning, aside, strict=True):
        if found[row][0] & ~(at_bit[row] | mask):
            found[row].append(at_bit[row] | mask)
    return found


def _leaned(rest: Bar) -> Iterator[Bar]:
    """The room of a tool as it leans to four sides."""
    aside, off = facing(rest.way), rest.room.first * tan(radians(LEAN))
    for side in (aside.axes[0], aside.axes[1], times(aside.axes[0], -1.0), times(aside.axes[1], -1.0)):
        yield replace(rest, head=plus(rest.head, times(side, off)))
