"""A shop: its saws, cutters, drills, clamps and measuring tools, what is on the rack, and who works there.

All sizes are exact millimetres. Every tool says where its numbers come from: the shop file, or the trade's usual ones.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from storystick.ground.finding import NOWHERE, Place
from storystick.ground.length import Unit
from storystick.ground.misread import nearest
from storystick.ground.quantities import Money
from storystick.ground.source import Source, practice
from storystick.shop.tables import find, instruments

type Form = Literal["sheet", "offcut", "board", "strip", "bar", "band"]

OWN = Source("the shop file", "read")
USUAL = practice("a usual one: put your own into the shop file")


@dataclass(frozen=True, slots=True)
class Saw:
    """What a saw can do.

    kerf      width of the cut
    deep      depth of cut at right angles; `tilted` at 45 degrees
    rip       widest piece between blade and fence (for a guided saw: longest cut)
    crosscut  widest board that it cuts across
    narrowest narrowest strip that it rips with the hands clear
    None where it can't do it, or isn't known.
    """

    name: str
    kind: str
    kerf: Fraction
    deep: Fraction | None = None
    tilted: Fraction | None = None
    rip: Fraction | None = None
    crosscut: Fraction | None = None
    narrowest: Fraction | None = None
    source: Source = USUAL
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class DadoSet:
    """A stack of blades for the table saw that cuts any width from `least` to `most` in one pass."""

    least: Fraction
    most: Fraction
    source: Source = USUAL


@dataclass(frozen=True, slots=True)
class RouterBit:
    """A router bit. `size` is the diameter; for rabbet, round-over and chamfer the width or radius of the cut it makes.

    profile  straight, spiral, pattern, flush trim, rabbet, round-over, chamfer, dovetail, slot
    cuts     length of its cutting edge; None when it isn't said
    bearing  follows a template or an edge by itself
    """

    profile: str
    size: Fraction
    cuts: Fraction | None = None
    bearing: bool = False
    source: Source = USUAL
    place: Place = NOWHERE

    @property
    def steps(self) -> bool:
        """It cuts a step along an edge, as wide as its `size`."""
        return self.profile == "rabbet"


@dataclass(frozen=True, slots=True)
class Bushing:
    """A guide bushing for the router, by its outside diameter."""

    outside: Fraction
    source: Source = USUAL


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill bit: kind (twist, brad point, forstner, spade, hole saw, ...), diameter, how deep it reaches."""

    kind: str
    diameter: Fraction
    reach: Fraction | None = None
    source: Source = USUAL
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Driver:
    """What turns a screw: how long it is with its bit and how far across, for whether it gets there."""

    name: str
    long: Fraction
    across: Fraction
    source: Source = USUAL


@dataclass(frozen=True, slots=True)
class Clamp:
    """So many clamps of one kind and opening."""

    kind: str
    opening: Fraction
    count: int
    source: Source = USUAL


SCALES = ("tape", "tape measure", "rule", "calliper", "micrometer")
"""Words that the names of tools end with by which a number is read off."""


@dataclass(frozen=True, slots=True)
class MeasuringTool:
    """How far off its readings are: one standard deviation in mm, a fixed part and a part for each metre."""

    name: str
    sd: float
    sd_per_metre: float = 0.0
    reads_to: Fraction | None = None
    source: Source = USUAL

    def sd_at(self, length: Fraction) -> float:
        """Standard deviation of a reading of that length [mm]. Both parts independent. Source: JCGM 100:2008, 5.1.2."""
        return math.hypot(self.sd, self.sd_per_metre * float(abs(length)) / 1000)


@dataclass(frozen=True, slots=True)
class Error:
    """How well one kind of cut comes out: standard deviations of a setting, for all, and of each piece [mm]."""

    setting: float
    own: float


@dataclass(frozen=True, slots=True)
class Spoilt:
    """A rectangle of a piece that is gone or spoilt: along the grain, across it; in a corner, or so far from near left.

    corner  "near left", "near right", "far left", "far right"; "" where `along` and `across` say it
    """

    long: Fraction
    wide: Fraction
    corner: str = ""
    along: Fraction = Fraction(0)
    across: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class OnHand:
    """Something on the rack: `long` is along the grain. `of` is the material or the plan's own name for the stock."""

    form: Form
    of: str
    long: Fraction
    wide: Fraction | None = None
    thickness: Fraction | None = None
    count: int = 1
    says: str = ""
    place: Place = NOWHERE
    spoilt: tuple[Spoilt, ...] = ()


@dataclass(frozen=True, slots=True)
class Price:
    """What a thing costs here, by its name as the buying list has it."""

    name: str
    money: Money
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Air:
    """The shop's air through the year: relative humidity at its driest and dampest [%], usual temperature [C]."""

    driest: Fraction
    dampest: Fraction
    celsius: Fraction
    source: Source = USUAL


@dataclass(frozen=True, slots=True)
class OwnTime:
    """Minutes that a kind of work takes in this shop; None where the table's hold."""

    set_up: Fraction | None = None
    each: Fraction | None = None
    wait: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """One shop.

    helpers  people there beside the one who builds
    hours    worked in a day;  benches  for what has to stand while it sets or dries
    door     width and height of the way out, None when nothing stands in the way
    lift     what one person there lifts without trouble [kg]
    trim     what is sawn off a factory edge first
    others   other tools, as the shop file names them: drill press, block plane, ...
    assumed  parts of the shop file that were left out and taken from the usual shop
    """

    name: str
    units: Unit
    saws: tuple[Saw, ...] = ()
    dado_set: DadoSet | None = None
    router: bool = False
    bits: tuple[RouterBit, ...] = ()
    bushings: tuple[Bushing, ...] = ()
    drills: tuple[Drill, ...] = ()
    countersinks: tuple[str, ...] = ()
    drivers: tuple[Driver, ...] = ()
    pocket_jig: bool = False
    clamps: tuple[Clamp, ...] = ()
    measuring: tuple[MeasuringTool, ...] = ()
    helpers: int = 0
    hours: int = 8
    benches: int = 3
    door: tuple[Fraction, Fraction] | None = None
    lift: Fraction = Fraction(23)
    trim: Fraction = Fraction(0)
    air: Air | None = None
    others: tuple[str, ...] = ()
    on_hand: tuple[OnHand, ...] = ()
    prices: tuple[Price, ...] = ()
    currency: str = ""
    errors: Mapping[str, Error] = field(default_factory=dict)  # by kind of cut; where tried, instead of the table's
    assumed: tuple[str, ...] = ()
    times: Mapping[str, OwnTime] = field(default_factory=dict)  # by kind of work, instead of the table's

    def saws_of(self, *kinds: str) -> tuple[Saw, ...]:
        """The saws of some kinds, in the order of the shop file."""
        return tuple(saw for saw in self.saws if saw.kind in kinds)

    def bits_of(self, *profiles: str) -> tuple[RouterBit, ...]:
        """The router bits of some profiles, the smallest first; none where there is no router to hold them."""
        found = (bit for bit in self.bits if bit.profile in profiles)
        return tuple(sorted(found, key=lambda bit: bit.size)) if self.router else ()

    def drills_of(self, *kinds: str) -> tuple[Drill, ...]:
        """The drill bits of some kinds (all when none is named), the smallest first."""
        return tuple(sorted((d for d in self.drills if not kinds or d.kind in kinds), key=lambda d: d.diameter))

    def drills_near(self, diameter: Fraction, within: Fraction, *kinds: str) -> tuple[Drill, ...]:
        """Those of some kinds that are so near to a diameter [mm], the smallest first."""
        about, off = float(diameter), float(within) + 1e-6  # most are out of the question at a glance
        near = (d for d in self.drills if abs(float(d.diameter) - about) <= off and (not kinds or d.kind in kinds))
        return tuple(sorted((d for d in near if abs(d.diameter - diameter) <= within), key=lambda d: d.diameter))

    def measuring_tool(self, name: str) -> MeasuringTool | None:
        """A measuring tool by the name that a plan uses: tape, rule. One that isn't here reads as such tools do."""
        tools = {tool.name: tool for tool in self.measuring}
        words = set(name.casefold().split())
        like = (tool.name for tool in self.measuring if words and words <= set(tool.name.casefold().split()))
        found = tools.get(name) or tools.get(next(like, "")) or tools.get(nearest(name, tools))
        row = None if found else find(instruments(), name)
        return found or (MeasuringTool(name, row.sd_mm, row.sd_per_m_mm, row.reads_to_mm) if row else None)

    def assumed_tool(self, values: Sequence[Fraction]) -> MeasuringTool:
        """What lengths were read with [mm] when nobody says: the roughest tool here that could have read them so.

        One that is long enough and has such marks; else the finest that is long enough; a tape where there is none.
        """
        table = instruments()
        scales = [tool for tool in self.measuring if not (row := find(table, tool.name)) or row.name.endswith(SCALES)]
        long = [
            tool for tool in scales
            if not (row := find(table, tool.name)) or max(map(abs, values)) <= (row.longest_mm or 0)
        ]  # fmt: skip
        fit = [tool for tool in long if not tool.reads_to or all(value % tool.reads_to == 0 for value in values)]
        length = max(map(abs, values))
        if fit:
            return max(fit, key=lambda tool: (tool.sd_at(length), tool.name))
        if long or scales:
            return min(long or scales, key=lambda tool: (tool.reads_to or 0, tool.name))
        tape = table["tape measure"]
        return MeasuringTool(tape.name, tape.sd_mm, tape.sd_per_m_mm, tape.reads_to_mm)
