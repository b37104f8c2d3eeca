"""Shelf sag: how far each board that carries goes down, at once and after years, against a named limit."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.checks.saying import G_N_PER_KG, at_least, at_most, kg, mm, small
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.build import Build, Load, Opening, Span
from storystick.model.check import Asked, Check
from storystick.model.part import Part
from storystick.physics import beam
from storystick.physics.creep import CREEP_RULES, sag_in_the_long_run_mm
from storystick.physics.sag_limits import SAG_LIMITS, allowed_sag_mm
from storystick.physics.section import Piece, joined_stiffness_nmm2, lipped_shelf
from storystick.shop.tables import find, panels

LIMIT = "L/240"
SOLID_CREEP = "european code, solid wood"
USUAL_KPA = 40 * 0.04788026  # 40 lbf/ft2
USUAL = Source("Architectural Woodwork Standards (2009), 1.2.21: shelves carry 40 lbf/ft2", "read")
BEAM = Source("Wood Handbook FPL-GTR-190, eq. 9-2; limit L/240: panel makers' guidance, just visible", "read")

SAGS: dict[tuple[str, str], Callable[[float, float, float, float], float]] = {
    ("rests", "evenly"): beam.uniform_sag_mm,
    ("rests", "in the middle"): beam.centre_sag_mm,
    ("fixed", "evenly"): beam.clamped_uniform_sag_mm,
    ("fixed", "in the middle"): beam.clamped_centre_sag_mm,
    ("one end", "evenly"): beam.cantilever_uniform_sag_mm,
    ("one end", "in the middle"): beam.cantilever_end_sag_mm,
}  # fmt: skip


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

    @property
    def stiffness(self) -> float:
        """EI [N mm2] with the lip, if it has one."""
        if self.lip is None:
            return joined_stiffness_nmm2((Piece(self.wide, self.thick, 0.0, self.e),))
        return joined_stiffness_nmm2(lipped_shelf(self.wide, self.thick, self.e, *self.lip))


def sag_mm(shelf: Shelf) -> tuple[float, float]:
    """Sag on the first day and after years [mm], self weight counted; even loads keep their weight for each length."""
    ei, first, after = shelf.stiffness, 0.0, 0.0
    own = shelf.density * shelf.wide * shelf.thick * shelf.clear * 1e-9
    for load in (Load("", own, "evenly", True), *shelf.loads):
        weight = load.kilograms
        if load.how == "evenly" and load.on:
            weight *= shelf.clear / shelf.reckoned_span
        sag = SAGS[shelf.ends, load.how](weight * G_N_PER_KG, shelf.clear, ei, 1.0)
        first += sag
        after += sag_in_the_long_run_mm(sag, 1.0 if load.lasting else 0.0, shelf.creep)
    return first, after


def run(asked: Asked) -> Iterator[Finding]:
    """Every board that carries."""
    for span in asked.build.spans:
        yield _finding(asked, span)


def _finding(asked: Asked, span: Span) -> Finding:
    build, manner = asked.build, asked.build.manner
    part = build.part(span.part)
    asked_for = loads_on(build, part)
    shelf = shelf_of(part, span, asked_for)
    first, after = sag_mm(shelf)
    limit = allowed_sag_mm(LIMIT, shelf.clear)
    weight = sum(load.kilograms for load in shelf.loads)
    carries = kg(weight, manner) + ("" if asked_for else " (the usual 40 lbf/ft2: the plan gives no load)")
    said = (
        f"{part.name} carries {carries} over {mm(span.clear.value, manner)} clear and sags {small(first, manner)} "
        f"at once, {small(after, manner)} in years; {LIMIT} allows {small(limit, manner)} ({SAG_LIMITS[LIMIT].says})."
    )
    source = BEAM if asked_for else USUAL
    if after <= limit:
        return Finding(CHECK.code, Grade.FINE, span.place, said, "", source, after, limit, "mm", (part.name,))
    grade = Grade.CARE if asked_for else Grade.NOTE
    return Finding(CHECK.code, grade, span.place, said, cures(asked, shelf), source, after, limit, "mm", (part.name,))


def cures(asked: Asked, shelf: Shelf) -> str:
    """What would do, each by itself: a shorter span, a thicker board, a lip."""
    manner = asked.build.manner

    def holds(one: Shelf) -> bool:
        return sag_mm(one)[1] <= allowed_sag_mm(LIMIT, one.clear)

    ways = []
    if short := _edge(lambda x: holds(replace(shelf, clear=x)), shelf.clear / 10, shelf.clear):
        ways.append(f"a clear span of {at_most(short, manner)} or less")
    if thick := _edge(lambda x: holds(replace(shelf, thick=x)), 4 * shelf.thick, shelf.thick):
        ways.append(f"a board {at_least(thick, manner)} thick or more")
    e = shelf.lip[2] if shelf.lip else max(shelf.e, 8000.0)
    lip_thick = shelf.lip[0] if shelf.lip else 18.0
    start = shelf.lip[1] if shelf.lip else shelf.thick
    if high := _edge(lambda x: holds(replace(shelf, lip=(lip_thick, x, e))), 150.0, start):
        ways.append(f"a lip {mm(lip_thick, manner)} x {at_least(high, manner)} or higher glued along its front")
    return f"Any one of these will do: {'; '.join(ways)}." if ways else "Divide it, or carry it from below."


def _edge(holds: Callable[[float], bool], good: float, bad: float) -> float | None:
    """Where `holds` turns true between a bad value and a good one, on the good side; None where even that is bad."""
    if not holds(good):
        return None
    for _ in range(40):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if holds(middle) else (good, middle)
    return good


def shelf_of(part: Part, span: Span, loads: tuple[Load, ...]) -> Shelf:
    """What bends, from the part and its span. The low end of the stiffness is reckoned with."""
    along = _along(part, span)
    clear, wide = float(span.clear), float(part.width if along else part.length)
    row = find(panels(), part.stock.material)
    e = part.stock.stiffness[0] or (row.e_along_low_mpa if row else 0.0) or 7000.0
    if not along:
        e *= row.e_across_mpa / row.e_along_mpa if row else 1 / 15  # solid wood across its grain
    lip = None
    if span.lip is not None:
        stock = span.lip_stock or part.stock
        high, thick = float(span.lip[0]), float(span.lip[1])
        lip = (thick, high, stock.stiffness[0] or e)
    rule = row.creep if row else SOLID_CREEP
    carried = loads or (Load(part.name, USUAL_KPA * 1e-3 * clear * wide / G_N_PER_KG),)
    return Shelf(
        clear, wide, float(part.thickness), e, span.ends, part.stock.density, lip,
        CREEP_RULES.get(rule, CREEP_RULES[SOLID_CREEP]).added, carried, clear,
    )  # fmt: skip


def _along(part: Part, span: Span) -> bool:
    """Whether the grain runs along the span: the clear span is the nearer to the part's length."""
    return abs(part.length.value - span.clear.value) <= abs(part.width.value - span.clear.value)


def loads_on(build: Build, part: Part) -> tuple[Load, ...]:
    """Loads that the plan puts on the part, or in the opening whose floor it is."""
    above = {opening.name for opening in build.openings if opening.assembly == part.assembly and _floor(part, opening)}
    named = {part.name} | above
    return tuple(load for load in build.loads if load.on in named)


def _floor(part: Part, opening: Opening) -> bool:
    low = [one.value for one in opening.at]
    high = [one.value + two.value for one, two in zip(opening.at, opening.size, strict=True)]
    touches = abs(part.high(2) - low[2]) < Fraction(1, 100)
    return touches and all(part.low(a) < high[a] and part.high(a) > low[a] for a in (0, 1))


CHECK = Check("shelf-sag", "Does each board that carries stay straight enough, also after years?", run, BEAM)
