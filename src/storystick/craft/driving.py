"""One fastener going through a board into another: where its head is, which way it points, and the holes it needs."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.craft.draft import Bench, Draft, minus
from storystick.craft.lengths import NO_SHIFT, Shift, under_head
from storystick.ground.dim import Dim, rule
from storystick.ground.finding import Place
from storystick.ground.records import quickly_made
from storystick.ground.source import practice
from storystick.model.cut import Bore, Side, Spot
from storystick.model.joining import Drives, Fastener
from storystick.model.part import Three
from storystick.model.stock import Stock
from storystick.shop.tables.rows import Nail, Screw

HARD = 550.0  # [kg/m3]; see PILOT
PILOT = practice("the hardwood pilot bit in wood and plywood of 550 kg/m3 and more, and where the weight is unknown")


@quickly_made
@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """The way of one fastener: through one board into another, up `axis` for sign +1, at a spot on the two other axes.

    Everything is in the axes of the first board's assembly; `shift` is where those of the second one's begin in them.
    """

    name: str
    through: Draft
    into: Draft
    axis: int
    sign: int
    spot: dict[int, Dim]
    joint: str
    place: Place
    shift: Shift = NO_SHIFT


def place_one(bench: Bench, course: Course, kind: Drives, row: Screw | Nail, length: Dim, assembly: str) -> Fastener:
    """The fastener; a screw's clearance hole and pilot are added to the two boards."""
    if isinstance(row, Screw):
        course.through.cuts.append(clearance(bench, course, row))
        course.into.cuts.append(pilot(bench, course, row, length))
    head = dict(course.spot) | {course.axis: course.through.end(course.axis, -course.sign)}
    at: Three = (head[0], head[1], head[2])
    way = [0.0, 0.0, 0.0]
    way[course.axis] = float(course.sign)
    diameter = rule(f"{row.name} thick", row.diameter_mm if isinstance(row, Nail) else row.thread_mm, row.comes_from)
    return Fastener(
        course.name,
        kind,
        row.name,
        diameter,
        length,
        course.through.name,
        course.into.name,
        at,
        (way[0], way[1], way[2]),
        assembly,
        course.joint,
        grain(course.into, course.axis),
        course.place,
    )


def clearance(bench: Bench, course: Course, row: Screw) -> Bore:
    """The hole that lets the screw slip through the first board, countersunk for a flat head."""
    side = course.through.side_toward(course.axis, -course.sign)
    wide = size(bench, f"clearance hole for a {row.name}", row.clearance_bit_mm, row)
    sink = size(bench, f"countersink for a {row.name}", row.head_mm, row) if row.head == "flat" else None
    called = "countersunk clearance hole" if sink else "clearance hole"
    return Bore(
        f"{course.name} clearance",
        side,
        spot_on(course.through, side, course.spot),
        wide,
        None,
        called,
        sink=sink,
        joint=course.joint,
        place=course.place,
    )


def pilot(bench: Bench, course: Course, row: Screw, length: Dim) -> Bore:
    """The hole that the thread bites in: as deep as the screw goes into the second board."""
    first = under_head(course.through, course.into, course.axis, course.sign, course.shift)
    deep = minus(length, first)
    side = course.into.side_toward(course.axis, -course.sign)
    spot = {axis: minus(at, course.shift[axis]) for axis, at in course.spot.items()}
    return Bore(
        f"{course.name} pilot",
        side,
        spot_on(course.into, side, spot),
        pilot_size(bench, row, course.into.stock),
        deep,
        "pilot hole",
        joint=course.joint,
        place=course.place,
    )


def pilot_size(bench: Bench, row: Screw, stock: Stock) -> Dim:
    """Diameter of the pilot in a stock [mm]."""
    hard = stock.density == 0 or stock.density >= HARD
    word = "hard" if hard else "soft"
    return size(bench, f"pilot in {word} wood for a {row.name}", row.pilot_hard_mm if hard else row.pilot_soft_mm, row)


def size(bench: Bench, name: str, value: Fraction, row: Screw | Nail) -> Dim:
    """A diameter from the table, named once for the assembly."""
    return bench.once(name, lambda: rule(name, value, row.comes_from), f"{row.name} in the table")


def spot_on(draft: Draft, side: Side, spot: dict[int, Dim]) -> Spot:
    """A spot given along the assembly's axes, in the board's own coordinates on one of its sides."""
    own = {draft.lies.index(axis): draft.own_point(axis, at) for axis, at in spot.items()}
    first, second = side.axes
    return (own[first], own[second])


def grain(draft: Draft, axis: int) -> Literal["face", "edge", "end"]:
    """What a fastener going along an axis meets: the board's face, its edge or its end."""
    if axis == draft.lies[0]:
        return "end"
    return "edge" if axis == draft.lies[1] else "face"
