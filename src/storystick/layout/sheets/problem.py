"""The question: blanks, sheets and the saw, as it is asked (in millimetres) and as it is searched (in whole units)."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.model.cutting import Blank, Purpose, Sheet, Trim, units_up

CROSSCUT = 0
"""A crosscut divides a piece along x: it sets `long`."""
RIP = 1
"""A rip divides a piece along y: it sets `wide`."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What the saw takes and one person lifts; None: no limit [mm, kg].

    rip_capacity      widest piece that fits between fence and blade
    crosscut_capacity longest crosscut: how wide a piece may be across the sled or under the saw
    narrowest_rip     narrowest strip to be ripped against the fence (practice: 50 mm, 2 in)
    heaviest          heaviest piece to be lifted after the first breakdown
    rough_kerf        kerf of the saw that breaks sheets down
    rough_allowance   taken off each rough edge afterwards, kerf of that cut included
    by_line           what is too wide for the saw may be cut along a line with the one that breaks sheets down
    """

    rip_capacity: Fraction | None = None
    crosscut_capacity: Fraction | None = None
    narrowest_rip: Fraction = Fraction(50)
    heaviest: Fraction | None = None
    rough_kerf: Fraction = Fraction(3)
    rough_allowance: Fraction = Fraction(10)
    by_line: bool = False

    @property
    def any(self) -> bool:
        """True if sheets may have to be broken down first."""
        return not (self.rip_capacity is None and self.crosscut_capacity is None and self.heaviest is None)


@dataclass(frozen=True, slots=True)
class SheetProblem:
    """Blanks of one material and the sheets there are of it.

    kerf             width of one cut [mm]
    trim             taken off the factory edges of sheets that are not `sawn`
    weight_per_area  [kg/mm2], for the limits
    keep_long, keep_wide   a leftover of at least this size, either way round, is worth keeping [mm]
    rack_first       at one cost, what is on hand is used rather than spared: it does not count as a sheet
    """

    blanks: tuple[Blank, ...]
    sheets: tuple[Sheet, ...]
    kerf: Fraction
    trim: Trim = Trim()
    limits: Limits = Limits()
    weight_per_area: Fraction = Fraction(0)
    keep_long: Fraction = Fraction(300)
    keep_wide: Fraction = Fraction(100)
    rack_first: bool = False


@dataclass(frozen=True, slots=True)
class Fit:
    """One way that a kind of blank can lie on a sheet [units]."""

    long: int
    wide: int
    turned: bool

    def size(self, way: int) -> int:
        """The side that a cut of this way sets."""
        return self.wide if way == RIP else self.long


@dataclass(frozen=True, slots=True)
class Member:
    """One blank of a strip, in its place: size as it lies before any turn [units]."""

    key: str
    long: int
    wide: int


@dataclass(frozen=True, slots=True)
class Kind:
    """Blanks that are alike: any may stand for any other.

    keys     the blanks' names, in order
    fits     ways to lie; the first is the one not turned, if that is allowed
    members  the blanks of a strip, which is searched as one; empty for a single blank
    across   the members follow one another over their wide sides
    """

    keys: tuple[str, ...]
    fits: tuple[Fit, ...]
    members: tuple[Member, ...] = ()
    across: bool = False
    sheet_group: str = ""
    setting_group: str = ""

    @property
    def area(self) -> int:
        """Area of one [square units]."""
        return self.fits[0].long * self.fits[0].wide


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of a sheet [units]."""

    x: int
    y: int
    long: int
    wide: int


@dataclass(frozen=True, slots=True)
class Split:
    """A cut along a line, before any setting: a trim, a way round a defect, a first breakdown [units].

    near, far   what it leaves: cut again, a region by its index, or waste (None)
    """

    way: int
    at: int
    kerf: int
    purpose: Purpose
    near: "Split | int | None"
    far: "Split | int | None"


@dataclass(frozen=True, slots=True)
class Region:
    """A clear rectangle of a sheet, free of defects and trimmed [units].

    spare_long, spare_wide   stock beyond its far edges that hangs on to it: a factory edge, a rough edge
    """

    area: Area
    spare_long: int
    spare_wide: int


@dataclass(frozen=True, slots=True)
class Kit:
    """One way to begin on a sheet: cuts along lines, and the clear regions they leave."""

    first: Split | int
    regions: tuple[Region, ...]


@dataclass(frozen=True, slots=True)
class Stock:
    """One size of sheet: which sheet of the problem it is, and the ways to begin on it."""

    index: int
    cost: Fraction
    copies: int | None
    kits: tuple[Kit, ...]


@dataclass(frozen=True, slots=True)
class Job:
    """The question in whole units.

    finished    settings that some blank asks for, whatever the layout
    too_large   keys of blanks that go into no sheet there is
    """

    kinds: tuple[Kind, ...]
    stocks: tuple[Stock, ...]
    kerf: int
    finished: frozenset[tuple[int, int]]
    too_large: tuple[str, ...] = ()

    @property
    def counts(self) -> list[int]:
        """How many there are of each kind."""
        return [len(kind.keys) for kind in self.kinds]

    @property
    def on_one(self) -> list[int]:
        """How many of each kind one sheet can hold at most, by its area, and no more than there are."""
        regions = [region.area for stock in self.stocks for kit in stock.kits[:1] for region in kit.regions]
        largest = max((area.long * area.wide for area in regions), default=0)
        return [min(len(kind.keys), largest // kind.area) for kind in self.kinds]


def _fits(long: int, wide: int, along_grain: bool | None) -> tuple[Fit, ...]:
    straight, turned = Fit(long, wide, False), Fit(wide, long, True)
    if along_grain is None:
        return (straight, turned) if long != wide else (straight,)
    return (straight,) if along_grain else (turned,)


def kinds_of(blanks: Iterable[Blank], kerf: int) -> list[Kind]:
    """Blanks that are alike put together, and those of a strip made one; the largest first."""
    alike: dict[tuple[tuple[Fit, ...], str, str], list[str]] = {}
    strips: dict[str, list[Blank]] = {}
    for blank in blanks:
        if blank.strip:
            strips.setdefault(blank.strip, []).append(blank)
            continue
        fits = _fits(units_up(blank.long), units_up(blank.wide), blank.along_grain)
        alike.setdefault((fits, blank.sheet_group, blank.setting_group), []).append(blank.key)
    kinds = [
        Kind(tuple(keys), fits, sheet_group=sheet, setting_group=setting)
        for (fits, sheet, setting), keys in alike.items()
    ]
    kinds.extend(_strip_kind(sorted(members, key=lambda b: b.place), kerf) for members in strips.values())
    return sorted(kinds, key=lambda kind: (-kind.area, -kind.fits[0].long, kind.keys))


def _strip_kind(blanks: Sequence[Blank], kerf: int) -> Kind:
    members = tuple(Member(b.key, units_up(b.long), units_up(b.wide)) for b in blanks)
    across = blanks[0].strip_across
    gaps = kerf * (len(members) - 1)
    if across:
        long, wide = max(m.long for m in members), sum(m.wide for m in members) + gaps
    else:
        long, wide = sum(m.long for m in members) + gaps, max(m.wide for m in members)
    fits = _fits(long, wide, blanks[0].along_grain)
    name = f"strip {blanks[0].strip}"
    return Kind((name,), fits, members, across, blanks[0].sheet_group, blanks[0].setting_group)
