"""The whole piece as it was resolved: what the upper floors look at."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Place
from storystick.ground.kept import This
from storystick.ground.length import Manner
from storystick.model.joining import Fastener, Fit, Item, Joined
from storystick.model.part import Assembly, Part, Three
from storystick.model.stock import Stock


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A plain body: a box, a lying or standing cylinder, a prism over an outline. In the axes of what it belongs to.

    box       at (low corner) and size
    cylinder  inside its box, along `axis`
    prism     outline points in the two other axes (in order x, y, z), drawn out along `axis` from `at` by `size`
    """

    form: Literal["box", "cylinder", "prism"]
    at: Three
    size: Three
    axis: int = 2
    outline: tuple[tuple[Dim, Dim], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Move:
    """How something moves. Of a site body or of parts of the piece.

    kind    slide: along `way` by up to `far` [mm];  swing: about the line through `about` along `axis` by `degrees`
    way     unit vector in the room's axes
    names   the parts, assemblies or site bodies that move together
    """

    name: str
    kind: Literal["slide", "swing"]
    names: tuple[str, ...]
    way: tuple[float, float, float] = (0.0, 0.0, 0.0)
    far: Dim | None = None
    about: Three | None = None
    axis: int = 0
    degrees: tuple[float, float] = (0.0, 0.0)
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class SiteBody:
    """Something that is already there. `keep` is the clearance to leave all round it [mm]."""

    name: str
    shapes: tuple[Shape, ...]
    at: Three  # low corner of all of it
    size: Three
    keep: Dim | None = None
    move: Move | None = None
    stays_free: bool = False  # room that nothing may enter (a hand's way, a pedal's travel), not a thing
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Keep:
    """A distance that the plan asks for: an assembly stays that far from a site body or another assembly [mm]."""

    assembly: str
    away_from: str
    gap: Dim
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Opening:
    """A bay of a case: clear room for a drawer, a shelf, things. Low corner and size in the assembly's axes."""

    name: str
    holds: str  # drawer, tray, open, door
    assembly: str
    at: Three
    size: Three
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Slider:
    """A drawer or tray: the assembly that runs in an opening, how far it comes out, what it weighs when full [kg]."""

    name: str
    assembly: str
    opening: str
    travel: Dim
    side_gap: Dim  # room left at each side between box and case
    wants: tuple[Dim, Dim]  # what its slides or runners want there: least, most
    runs_on: str  # item kind or "wooden runners"
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Span:
    """A board that carries: clear span between supports [mm], width and thickness of what bends, ends, load.

    ends    'rests' (pins, dadoes, cleats: simply supported), 'fixed', 'one end'
    lip     depth and thickness of a stiffening strip glued to an edge, None if none
    """

    part: str
    clear: Dim
    ends: Literal["rests", "fixed", "one end"]
    lip: tuple[Dim, Dim] | None = None
    lip_stock: Stock | None = None
    place: Place = NOWHERE


type How = Literal["evenly", "in the middle"]


@dataclass(frozen=True, slots=True)
class Load:
    """What something has to carry [kg]: spread evenly or in the middle. `on` names a part, opening or assembly."""

    on: str
    kilograms: float
    how: How = "evenly"
    lasting: bool = True  # stays there for months: creep counts
    place: Place = NOWHERE
    weighs: Place = NOWHERE  # where the weight itself stands


@dataclass(frozen=True, eq=False)
class Build:
    """Everything that was resolved from a plan, in a stable order. Nothing above changes it."""

    title: str
    manner: Manner
    assemblies: tuple[Assembly, ...]
    parts: tuple[Part, ...]
    joints: tuple[Joined, ...] = ()
    fasteners: tuple[Fastener, ...] = ()
    items: tuple[Item, ...] = ()
    fits: tuple[Fit, ...] = ()
    openings: tuple[Opening, ...] = ()
    sliders: tuple[Slider, ...] = ()
    spans: tuple[Span, ...] = ()
    moves: tuple[Move, ...] = ()
    site: tuple[SiteBody, ...] = ()
    keeps: tuple[Keep, ...] = ()
    stock: tuple[Stock, ...] = ()
    loads: tuple[Load, ...] = ()
    pages: Mapping[str, Dim] = field(default_factory=dict)  # every named number
    truths: Mapping[str, Dim] = field(default_factory=dict)  # the same numbers, from the sizes that are really cut
    drivers: tuple[str, ...] = ()  # names of what to measure first
    about: str = ""
    currency: str = ""
    accepted: Mapping[str, str] = field(default_factory=dict)  # codes of findings knowingly accepted, with the reason
    place: Place = NOWHERE

    @cached_property
    def content(self) -> Hashable:
        """What to ask under for all of it but its title and what it is about: by which things it is made up of."""
        things: tuple[tuple[object, ...], ...] = (
            self.assemblies, self.parts, self.joints, self.fasteners, self.items, self.fits, self.openings,
            self.sliders, self.spans, self.moves, self.site, self.keeps, self.stock,
        )  # fmt: skip
        said = (self.loads, self.manner, self.drivers, self.currency, tuple(self.accepted.items()), self.place)
        return (
            tuple(tuple(map(This, some)) for some in things),
            tuple((tuple(some), tuple(map(This, some.values()))) for some in (self.pages, self.truths)),
            said,
        )

    @cached_property
    def parts_by_name(self) -> Mapping[str, Part]:
        """Every part by its full name."""
        return {part.name: part for part in self.parts}

    @cached_property
    def assemblies_by_name(self) -> Mapping[str, Assembly]:
        """Every assembly by its full name."""
        return {one.name: one for one in self.assemblies}

    @cached_property
    def entries(self) -> frozenset[str]:
        """Names of the plan's own entries that have parts, in themselves or in what is inside them."""
        return frozenset(part.assembly.split(".")[0] for part in self.parts)

    def part(self, name: str) -> Part:
        """The part of that full name; KeyError if there is none."""
        return self.parts_by_name[name]

    def assembly(self, name: str) -> Assembly:
        """The assembly of that full name; KeyError if there is none."""
        return self.assemblies_by_name[name]
