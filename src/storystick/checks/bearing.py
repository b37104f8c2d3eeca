"""What bears a load and bends: shelves by their span, tops and bottoms by what stands below or beside them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.checks.resting import Resting, resting
from storystick.checks.saying import G_N_PER_KG
from storystick.ground.finding import NOWHERE, Place
from storystick.model.build import Build, Load, Opening, Span
from storystick.model.check import Asked
from storystick.model.part import Part
from storystick.physics.board_grades import FIBREBOARD, PARTICLEBOARD_P2, band_of
from storystick.physics.creep import CREEP_RULES
from storystick.physics.section import Piece, joined_stiffness_nmm2, lipped_shelf
from storystick.shapes.pose import direct
from storystick.shop.tables import find, panels

SOLID_CREEP = "european code, solid wood"
ACROSS_SOLID = 1 / 15  # solid wood across its grain against along it: Wood Handbook, Table 5-1, about a fifteenth
USUAL_KPA = 40 * 0.04788026  # 40 lbf/ft2
NEXT_TO = Fraction(1, 100)  # a shelf no farther than this from an opening is its floor [mm]
STICKS_OUT_MM = 30.0  # past its supports by less than this is not looked at


@dataclass(frozen=True, slots=True)
class Bearer:
    """Something that bends between two supports, or past one: in words, as a shelf, and what the plan puts on it."""

    name: str
    says: str  # "over 600 mm clear", without the number: "clear", "past what is under it"
    shelf: "Shelf"
    asked_for: tuple[Load, ...]
    place: Place
    about: tuple[str, ...]
    usual: bool = False  # no load in the plan: the usual one is reckoned with


@dataclass(frozen=True, slots=True)
class Shelf:
    """What bends: span, width and thickness [mm], modulus [N/mm2], a lip (thick, high, modulus), what years add."""

    clear: float
    wide: float
    thick: float
    e: float
    ends: str
    density: float
    lip: tuple[float, float, float] | None
    creep: float
    loads: tuple[Load, ...]
    reckoned_span: float  # the span that the loads were given for [mm]
    strength: float = 0.0  # bending strength, the mean of tests that broke [N/mm2]; 0 when unknown
    on_edge: bool = False  # stands on its edge: `thick` is how high it is

    @property
    def called(self) -> str:
        """What its depth is called when more of it is asked for."""
        return "high" if self.on_edge else "thick"

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its section: the board, and the lip if it has one."""
        if self.lip is None:
            return (Piece(self.wide, self.thick, 0.0, self.e),)
        return lipped_shelf(self.wide, self.thick, self.e, *self.lip)

    @property
    def stiffness(self) -> float:
        """EI [N mm2] with the lip, if it has one."""
        return joined_stiffness_nmm2(self.pieces)

    @property
    def own_kg(self) -> float:
        """What the board itself weighs between its supports [kg]."""
        return self.density * self.wide * self.thick * self.clear * 1e-9

    def carries(self) -> Iterator[tuple[float, Load]]:
        """Its own weight and its loads, with how much of each is on this span [N]: what is spread goes by length."""
        yield self.own_kg * G_N_PER_KG, Load("", self.own_kg)
        for load in self.loads:
            share = self.clear / self.reckoned_span if load.how == "evenly" else 1.0
            yield load.kilograms * share * G_N_PER_KG, load


def bearers(asked: Asked) -> Iterator[Bearer]:
    """Every shelf; then every top, and every other flat board that a load of the plan is on."""
    build = asked.build
    for span in build.spans:
        part = build.part(span.part)
        loads = loads_on(build, part) + from_above(build, part)
        if stands_on_edge(part) and not loads:
            continue  # a rail that nothing is said to lie on keeps its frame square and carries no shelf's load
        yield Bearer(part.name, "clear", shelf_of(part, span, loads), loads, span.place, (part.name,), not loads)
    spans = {span.part for span in build.spans}
    for one in resting(asked):
        loads = tuple(load for part in one.parts for load in loads_on(build, part))
        loads += tuple(load for load in build.loads if load.on == one.assembly and one.is_top)
        if (loads or one.is_slab) and not spans & {part.name for part in one.parts}:
            yield from _flat(asked, one, loads)


def _flat(asked: Asked, one: Resting, loads: tuple[Load, ...]) -> Iterator[Bearer]:
    """The longest way between what holds it up, and the longest that it sticks out."""
    part, names = one.parts[-1], tuple(part.name for part in one.parts)
    lying = direct(asked.scene.poses[part.assembly], _unit(part.lies[0]))
    along = abs(lying[one.axis]) > 0.5
    row = find(panels(), part.stock.material)
    across = 1.0 if along else _across(part)
    e, strong = (value * across for value in by_thickness(part))
    rule = CREEP_RULES.get(row.creep if row else SOLID_CREEP, CREEP_RULES[SOLID_CREEP])
    for clear, ends, says in ((one.clear, "rests", "clear"), (one.sticks_out, "one end", "past what is under it")):
        if clear < STICKS_OUT_MM:
            continue
        on = tuple(load for load in loads if ends == "rests" or load.how == "evenly")
        shelf = Shelf(
            clear, one.wide, one.thick, e, ends, part.stock.density, None, rule.added, on, one.long, strong
        )  # fmt: skip
        yield Bearer(part.name, says, shelf, loads, part.place, names)


def by_thickness(part: Part) -> tuple[float, float]:
    """Modulus, low, and bending strength [N/mm2]; of board without plies what its thickness is sold by.

    A thick board is asked for less: what the table has is for the usual 18 mm.
    """
    row = find(panels(), part.stock.material)
    e = part.stock.stiffness[0] or (row.e_along_low_mpa if row else 0.0) or 7000.0
    strong = part.stock.strength or (row.bending_strength_mpa if row else 0.0)
    kind = row.name.rpartition(" ")[2] if row else ""
    bands = {"particleboard": PARTICLEBOARD_P2, "mdf": FIBREBOARD}.get(kind, ())
    band = band_of(bands, float(part.thickness))
    if row is None or band is None or e != row.e_along_low_mpa:  # what was tried on the board itself holds
        return e, strong
    return min(e, band.e_mpa), min(strong, band.strength_mpa)


def _unit(axis: int) -> tuple[float, float, float]:
    return (float(axis == 0), float(axis == 1), float(axis == 2))


def stands_on_edge(part: Part) -> bool:
    """Whether its face is upright and its length level."""
    return part.lies[2] != 2 and part.lies[0] != 2


def from_above(build: Build, part: Part) -> tuple[Load, ...]:
    """Half of what the plan puts on each top that lies on a rail's frame: its front and its back rail share it."""
    frame = build.assemblies_by_name.get(part.assembly)
    if part.role != "rail" or frame is None or abs(part.high(2) - frame.size[2].value) > Fraction(1, 10):
        return ()
    tops = {one.name for one in build.assemblies if one.stands_on == frame.name}
    tops |= {other.name for other in build.parts if other.assembly in tops}
    return tuple(
        replace(load, on=part.name, kilograms=load.kilograms / 2, weighs=NOWHERE)
        for load in build.loads
        if load.on in tops
    )


def shelf_of(part: Part, span: Span, loads: tuple[Load, ...]) -> Shelf:
    """What bends, from the part and its span. The low end of the stiffness is reckoned with."""
    if stands_on_edge(part):
        return _rail_of(part, span, loads)
    along = _along(part, span)
    clear, wide = float(span.clear), float(part.width if along else part.length)
    row = find(panels(), part.stock.material)
    e, strong = by_thickness(part)
    if not along:
        e, strong = e * _across(part), strong * _across(part)
    lip = None
    if span.lip is not None:
        stock = span.lip_stock or part.stock
        high, thick = float(span.lip[0]), float(span.lip[1])
        lip = (thick, high, stock.stiffness[0] or e)
    rule = row.creep if row else SOLID_CREEP
    carried = loads or (Load(part.name, USUAL_KPA * 1e-3 * clear * wide / G_N_PER_KG),)
    return Shelf(
        clear, wide, float(part.thickness), e, span.ends, part.stock.density, lip,
        CREEP_RULES.get(rule, CREEP_RULES[SOLID_CREEP]).added, carried, clear, strong,
    )  # fmt: skip


def _rail_of(part: Part, span: Span, loads: tuple[Load, ...]) -> Shelf:
    """A board on its edge, as high as it is along z."""
    row, (e, strong) = find(panels(), part.stock.material), by_thickness(part)
    creep = CREEP_RULES.get(row.creep if row else SOLID_CREEP, CREEP_RULES[SOLID_CREEP]).added
    clear, high = float(span.clear), float(part.along(2))
    return Shelf(
        clear, float(part.thickness), high, e, span.ends, part.stock.density, None, creep, loads, clear, strong, True
    )  # fmt: skip


def _across(part: Part) -> float:
    """Stiffness across the grain of the face, for one along it; what it bears is taken in the same proportion."""
    row = find(panels(), part.stock.material)
    return row.e_across_mpa / row.e_along_mpa if row else ACROSS_SOLID


def _along(part: Part, span: Span) -> bool:
    """Whether the grain runs along the span: the clear span is the nearer to the part's length."""
    return abs(part.length.value - span.clear.value) <= abs(part.width.value - span.clear.value)


def loads_on(build: Build, part: Part) -> tuple[Load, ...]:
    """Loads that the plan puts on the part, or in the opening whose floor it is; a drawer's hang at its sides."""
    above = {
        opening.name
        for opening in build.openings
        if opening.assembly == part.assembly and opening.holds not in ("drawer", "tray") and _floor(part, opening)
    }
    named = {part.name} | above
    return tuple(load for load in build.loads if load.on in named)


def _floor(part: Part, opening: Opening) -> bool:
    low, size = [one.value for one in opening.at], [one.value for one in opening.size]
    touches = abs(part.high(2) - low[2]) < NEXT_TO
    return touches and all(part.low(a) < low[a] + size[a] and part.high(a) > low[a] for a in (0, 1))
