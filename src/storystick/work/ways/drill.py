"""A hole straight in: brad point where it must be clean, twist bit for screws, flat bottom for large ones."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Book
from storystick.ground.kept import Kept, This
from storystick.ground.length import INCH
from storystick.model.work import Setup
from storystick.shop.shop import Drill
from storystick.work.saying import said, tool_size
from storystick.work.ways import Ask, Offer, Way
from storystick.work.ways.hole import (
    EXACT,
    LARGE,
    Hole,
    drill_setup,
    has_countersink,
    hole_minutes,
    hole_of,
    more_setups,
)

WORDS = {"forstner": "Forstner bit", "brad point": "brad point bit", "twist": "twist bit", "spade": "spade bit"}
FRAIL = {"spade": 0.4, "hole saw": 1.0}  # minutes more for each hole: they leave a rough one
FLAT = frozenset({"forstner", "spade"})
NEAR = Fraction(1)  # bits farther off than this from the size drawn are not offered [mm]
SEEN = Fraction(1, 4)  # a hole that is off by no more is the size drawn to the eye [mm]
THIN = 7  # below this a twist bit does as well as any [mm]


def offers(ask: Ask) -> Iterator[Offer]:
    """Each bit near the hole's size; sound when it comes out as wanted."""
    hole = hole_of(ask)
    if hole is None or not hole.is_square or not has_countersink(hole):
        return
    for bit in _bits(hole):
        yield _offer(hole, bit)


@dataclass(frozen=True, slots=True)
class Bit:
    """A bit for holes of one sort: what it is called, minutes, why it, how far it is off, whether it does."""

    tool: str
    minutes: tuple[float, float]
    why: str
    off: Fraction
    sound: bool


_BITS: Kept[tuple[Bit, ...]] = Kept(1024)


def _bits(hole: Hole) -> tuple[Bit, ...]:
    """Every bit near the hole's size: the same ones for all holes of its sort."""
    cut, unit = hole.cut, hole.ask.build.manner.unit
    sort = (cut.diameter.value, hole.deep, hole.is_through, cut.sink is None, cut.step is None, unit)
    return _BITS.of((This(hole.ask.shop.drills), *sort), lambda: tuple(_near(hole)))


def _near(hole: Hole) -> Iterator[Bit]:
    for drill in hole.ask.shop.drills_near(hole.cut.diameter.value, NEAR, *WORDS, "hole saw"):
        if hole.reaches(drill) and (drill.kind != "hole saw" or hole.is_through):
            yield _bit(hole, drill)


def _bit(hole: Hole, drill: Drill) -> Bit:
    tool = f"{tool_size(drill.diameter)} {WORDS.get(drill.kind, drill.kind)}"
    off = drill.diameter - hole.cut.diameter.value
    first, each = hole_minutes(hole)
    each = each + FRAIL.get(drill.kind, 0) + _unfit(hole, drill) + float(abs(off)) / 10
    return Bit(tool, (first, each), _off(off, hole.ask.build.manner.unit), off, hole.takes(drill.diameter))


def _offer(hole: Hole, bit: Bit) -> Offer:
    def settle(book: Book) -> tuple[Setup, ...]:
        wider = tuple(one for one in more_setups(hole, book))
        before = tuple(one for one in wider if one.name == "first")
        after = tuple(one for one in wider if one.name != "first")
        return (*before, drill_setup(hole, bit.tool), *after)

    return Offer(f"drill, {bit.tool}", bit.minutes, bit.why, settle, off=bit.off, sound=bit.sound, source=EXACT)


def _off(off: Fraction, unit: str) -> str:
    """How far the bit is off the size drawn, where that can be seen."""
    if abs(off) <= SEEN:
        return "the size drawn"
    by = f'{float(abs(off) / INCH):.3f}"' if unit == "inch" else f"{float(abs(off)):.1f} mm"
    return f"{by} {'larger' if off > 0 else 'smaller'} than drawn, as near as these bits come"


def _unfit(hole: Hole, drill: Drill) -> float:
    """A little more for a bit that is not the one a woodworker would take, so that the right one comes first."""
    screw = hole.is_through or hole.cut.diameter.value < THIN / 2
    right = "forstner" if hole.cut.diameter.value >= LARGE else ("twist" if screw else "brad point")
    return 0.0 if drill.kind == right else 0.2


def lacks(ask: Ask) -> str:
    """A bit of that size, or one that reaches so deep."""
    hole = hole_of(ask)
    if hole is None or not hole.is_square:
        return ""
    if not has_countersink(hole):
        return "a countersink"
    large = hole.cut.diameter.value >= LARGE
    kind = "Forstner bit" if large else "drill bit"
    deep = "" if hole.is_through else f" that reaches {said(hole.cut.depth, ask.build)}" if hole.cut.depth else ""
    return f"a {tool_size(hole.cut.diameter.value)} {kind}{deep}"


WAY = Way("drill", "a bit of the hole's size", offers, lacks)
