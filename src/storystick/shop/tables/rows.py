"""The rows of the tables: what a wood, a sheet, a screw, a slide is known by.

Trade sizes are exact millimetres (`Fraction`), properties plain numbers with the unit in the name. Every row says where
it comes from (`source`) and how that was come by (`how`). Where `how` is not read, `seen` names the fields that were
read all the same. A row marked practice is a usual size or a custom with no document behind it: measure the real thing.
"""

from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.source import How, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What all rows have. `also` holds other names in use, American, British or plain short."""

    name: str
    source: str
    how: How
    also: tuple[str, ...] = ()
    seen: tuple[str, ...] = ()
    note: str = ""

    @property
    def comes_from(self) -> Source:
        """The source as findings and notes print it."""
        no_more = self.source == "common practice, no source"
        return Source(f"a usual {self.name}" if no_more else self.source, self.how)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood(Row):
    """A species at 12 % moisture content."""

    hard: bool
    gravity: float
    e_mpa: float
    bending_strength_mpa: float
    radial_per_percent: float
    tangential_per_percent: float
    radial_shrinkage_percent: float
    tangential_shrinkage_percent: float
    shear_mpa: float | None = None
    wearing: bool = False
    """Hard on teeth: it blunts steel."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thickness:
    """A thickness a panel is sold in: its name, what it usually measures, and the band it may lie in."""

    sold_as: str
    nominal_mm: Fraction
    usual_mm: Fraction
    least_mm: Fraction
    most_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """A size a panel is sold in, grain along `long`."""

    called: str
    long_mm: Fraction
    wide_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel(Row):
    """A kind of sheet. Stiffness is given usual and low: reckon with the low one until a strip has been tested."""

    density_kg_m3: float
    e_along_mpa: float
    e_along_low_mpa: float
    e_across_mpa: float
    bending_strength_mpa: float
    grain: bool
    layered: bool
    """Made of plies: it splits between them at a screw in the edge."""
    thickness: tuple[Thickness, ...]
    sheet: tuple[SheetSize, ...]
    creep: str
    """Name of the rule in physics.creep that is used unless the plan picks another."""
    screw_gravity: float
    """Specific gravity to put into the screw formulae."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw(Row):
    """A screw. `shank_mm` is the plain part, on full-thread screws the body; `thread_mm` the outside of the thread."""

    kind: str
    gauge: int | None = None
    shank_mm: Fraction
    thread_mm: Fraction
    root_mm: Fraction
    head_mm: Fraction
    head: str
    full_thread: bool
    clearance_bit_mm: Fraction
    pilot_hard_mm: Fraction
    pilot_soft_mm: Fraction
    driver: str
    lengths_mm: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketLength(Row):
    """Length of pocket screw for a thickness of stock."""

    stock_mm: Fraction
    screw_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Nail(Row):
    """A nail, brad or pin."""

    kind: str
    penny: int | None = None
    diameter_mm: Fraction
    lengths_mm: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel(Row):
    """A dowel for joints, with the depth to leave free under it for glue."""

    diameter_mm: Fraction
    lengths_mm: tuple[Fraction, ...]
    spare_depth_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseTenon(Row):
    """A loose tenon or biscuit: thickness, width along the joint, length across it, depth of the slot in each part."""

    kind: str
    thick_mm: Fraction
    wide_mm: Fraction
    long_mm: Fraction
    slot_deep_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide(Row):
    """A drawer slide: room it wants at each side (least and most), its lengths, what a pair carries."""

    kind: str
    thick_mm: Fraction
    side_least_mm: Fraction
    side_most_mm: Fraction
    high_mm: Fraction
    below_mm: Fraction
    """Room it wants under the drawer box."""
    lengths_mm: tuple[Fraction, ...]
    metric_lengths_mm: tuple[Fraction, ...] = ()
    """The lengths sold where things are measured in millimetres; none where it is made to measure."""
    travel_share: float
    load_kg: float
    screws: str
    metric_screws: str = ""

    def sold(self, unit: str) -> tuple[Fraction, ...]:
        """The lengths that a plan in this unit, "inch" or "mm", chooses from [mm]."""
        return (self.metric_lengths_mm if unit == "mm" else ()) or self.lengths_mm

    def screws_in(self, unit: str) -> str:
        """The screws that hold it in a plan in this unit."""
        return (self.metric_screws if unit == "mm" else "") or self.screws


@dataclass(frozen=True, slots=True, kw_only=True)
class Castor(Row):
    """A castor: overall height, rating of one, plate and hole pattern, offset of the wheel from the swivel."""

    kind: str
    wheel_mm: Fraction
    high_mm: Fraction
    rating_kg: float
    plate_long_mm: Fraction
    plate_wide_mm: Fraction
    holes_long_mm: Fraction
    holes_wide_mm: Fraction
    offset_mm: Fraction
    swivels: bool
    locks: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot(Row):
    """A levelling foot: pad, thread, how far it adjusts, what one carries."""

    pad_mm: Fraction
    thread_mm: Fraction
    least_high_mm: Fraction
    most_high_mm: Fraction
    rating_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Magnet(Row):
    """A disc magnet that is easy to buy."""

    diameter_mm: Fraction
    thick_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class MagnetGrade(Row):
    """A grade of sintered neodymium magnet: remanence low and high, and how warm it may get."""

    remanence_low_t: float
    remanence_high_t: float
    hottest_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfPin(Row):
    """A pin for loose shelves: hole, its depth, distance from hole to hole and from the edge, what one carries."""

    hole_mm: Fraction
    deep_mm: Fraction
    spacing_mm: Fraction
    setback_mm: Fraction
    load_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinge(Row):
    """A hinge. Cup hinges have a bore; butt hinges a leaf."""

    kind: str
    bore_mm: Fraction | None = None
    bore_deep_mm: Fraction | None = None
    edge_least_mm: Fraction | None = None
    edge_most_mm: Fraction | None = None
    leaf_long_mm: Fraction | None = None
    leaf_wide_mm: Fraction | None = None
    leaf_thick_mm: Fraction | None = None
    opens_deg: float
    door_least_mm: Fraction
    door_most_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull(Row):
    """A pull or knob: distance between its screws (none for a knob), how far it stands out, its screw."""

    kind: str
    centres_mm: Fraction | None = None
    stands_out_mm: Fraction
    screw_mm: Fraction
    screw_long_mm: Fraction

    def screws_in(self, unit: str) -> str:
        """The screws that hold it in a plan in this unit, "inch" or "mm"."""
        return "m4 pull screw" if unit == "mm" or self.screw_mm == 4 else "8-32 pull screw"


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue(Row):
    """A glue: minutes until it skins over, in clamps, until it may be worked; clamp pressure; what it covers."""

    open_min: float
    closed_min: float
    clamp_min: float
    full_min: float
    pressure_soft_mpa: float
    pressure_hard_mpa: float
    film_mm: float
    fills_gaps: bool
    water: str
    """What wet it stands: dry, damp or wet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish(Row):
    """A finish: hours until it may be recoated and used, coats, area that a litre covers once."""

    recoat_h: float
    use_h: float
    coats: int
    cover_m2_l: float
    oily_rags: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeBand(Row):
    """Edge band: thickness, widths sold, glued how."""

    thick_mm: Fraction
    widths_mm: tuple[Fraction, ...]
    fixing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Price(Row):
    """A guess at a price, so that a buying list adds up to something before the shop's own prices are in."""

    of: str
    """The table the thing is in: panel, wood, screw ..."""
    size: str = ""
    per: str
    dollars: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamp(Row):
    """A kind of clamp and the force it gives."""

    force_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw(Row):
    """What a saw can do; every number is a start for planning, to be measured on the saw itself."""

    kind: str
    kerf_mm: Fraction
    deep_mm: Fraction | None = None
    deep_tilted_mm: Fraction | None = None
    rip_mm: Fraction | None = None
    crosscut_mm: Fraction | None = None
    narrowest_rip_mm: Fraction | None = None
    dado_least_mm: Fraction | None = None
    dado_most_mm: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterBit(Row):
    """A router bit: profile, diameters sold, cutting length, shank."""

    profile: str
    diameters_mm: tuple[Fraction, ...]
    cut_long_mm: Fraction
    bearing: bool
    shank_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill(Row):
    """A set of drill bits: the diameters in it and how deep they reach."""

    kind: str
    diameters_mm: tuple[Fraction, ...]
    reach_mm: Fraction
    flat_bottom: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument(Row):
    """What a measuring tool reads to and how far off it is: one standard deviation, part fixed, part by length."""

    reads_to_mm: Fraction
    sd_mm: float
    sd_per_m_mm: float
    longest_mm: Fraction
    shared: bool
    """Whether its error is the same in every reading taken with it, so that it adds straight."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationTime(Row):
    """Minutes that a kind of operation takes one person: to set up, for each piece, and while it only waits."""

    setup_min: float
    each_min: float
    wait_min: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Load(Row):
    """What people put on things: for each area or each run."""

    kpa: float | None = None
    n_per_mm: float | None = None
    kg: float | None = None
    lasting_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """A fact about harm: what the work is, what to say."""

    when: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Workmanship(Row):
    """How far off a kind of cut comes out: standard deviation that one setting gives to all, and each piece's own."""

    setting_mm: float
    own_mm: float
