"""Shelf sag: how far each board that carries goes down, at once and after years, against a named limit."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from storystick.checks.bearing import Bearer, Shelf, bearers
from storystick.checks.saying import at_least, at_most, kg, mm, small
from storystick.checks.stated import changes, lighter, thicker
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.physics import beam
from storystick.physics.creep import sag_in_the_long_run_mm
from storystick.physics.sag_limits import SAG_LIMITS, allowed_sag_mm

LIMIT = "L/240"
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


def sag_mm(shelf: Shelf) -> tuple[float, float]:
    """Sag on the first day and after years [mm], self weight counted; even loads keep their weight for each length."""
    first, after = 0.0, 0.0
    for newtons, load in shelf.carries():
        sag = SAGS[shelf.ends, load.how](newtons, shelf.clear, shelf.stiffness, 1.0)
        first += sag
        after += sag_in_the_long_run_mm(sag, 1.0 if load.lasting else 0.0, shelf.creep)
    return first, after


def run(asked: Asked) -> Iterator[Finding]:
    """Every board that carries; a top that carries nothing but itself only where that is too much."""
    for one in bearers(asked):
        found = _finding(asked, one)
        if one.shelf.loads or found.grade > Grade.FINE:
            yield found


def limit_mm(shelf: Shelf) -> float:
    """How far it may sag [mm]; what sticks out is held to the limit of a span twice as long, as its bend is that."""
    return allowed_sag_mm(LIMIT, shelf.clear * (2 if shelf.ends == "one end" else 1))


def _finding(asked: Asked, one: Bearer) -> Finding:
    manner, shelf = asked.build.manner, one.shelf
    first, after = sag_mm(shelf)
    limit = limit_mm(shelf)
    weight = sum(load.kilograms for load in shelf.loads)
    carries = kg(weight, manner) if weight else "nothing but itself"
    carries += " (the usual 40 lbf/ft2: the plan gives no load)" if one.usual else ""
    said = (
        f"{one.name} carries {carries} over {mm(shelf.clear, manner)} {one.says} and sags {small(first, manner)} "
        f"at once, {small(after, manner)} in years; {LIMIT} allows {small(limit, manner)} ({SAG_LIMITS[LIMIT].says})."
    )
    source = USUAL if one.usual else BEAM
    if after <= limit:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", source, after, limit, "mm", one.about)
    grade = Grade.NOTE if one.usual else Grade.CARE
    numbers = (source, after, limit, "mm", one.about, None, tuple(tries(asked, one)))
    return Finding(CHECK.code, grade, one.place, said, cures(asked, one), *numbers)


def tries(asked: Asked, one: Bearer) -> Iterator[Mend]:
    """The same as changes of the plan: a shorter span, a thicker stock of the plan, a higher lip, less on it."""
    manner, shelf = asked.build.manner, one.shelf
    cure = Cures(one)
    span = next((span for span in asked.build.spans if span.part == one.name), None)
    if span is not None and cure.short:
        yield from changes(span.clear, Fraction(str(round(cure.short - shelf.clear, 6))), manner)
    if span is not None and span.lip is not None and cure.high:
        yield from changes(span.lip[0], cure.high - float(span.lip[0]), manner)
    part = asked.build.parts_by_name.get(one.about[0])
    if part is not None and cure.thick and shelf.on_edge:
        yield from changes(part.along(2), cure.thick - shelf.thick, manner)
    elif part is not None and cure.thick:
        yield from thicker(asked, part, cure.thick, ("stock",))
    own = sag_mm(replace(shelf, loads=()))[1]
    after, limit = sag_mm(shelf)[1], limit_mm(shelf)
    if own < limit:
        yield from lighter(one.asked_for, (limit - own) / (after - own), manner)


class Cures:
    """What would do, each by itself: the longest span, the thinnest board, the lowest lip [mm]; None what would not."""

    def __init__(self, bearer: Bearer) -> None:
        shelf = bearer.shelf

        def shorter(long: float) -> Shelf:
            """With its whole load still on it, unless it is the usual load, which goes by the area."""
            left = shelf.reckoned_span if bearer.usual else shelf.reckoned_span - shelf.clear + long
            return replace(shelf, clear=long, reckoned_span=left)

        e = shelf.lip[2] if shelf.lip else max(shelf.e, 8000.0)
        start = shelf.lip[1] if shelf.lip else shelf.thick
        self.lip_thick = shelf.lip[0] if shelf.lip else 18.0
        self.short = _edge(lambda x: _holds(shorter(x)), shelf.clear / 10, shelf.clear)
        self.thick = _edge(lambda x: _holds(replace(shelf, thick=x)), 4 * shelf.thick, shelf.thick)
        self.high = _edge(lambda x: _holds(replace(shelf, lip=(self.lip_thick, x, e))), 150.0, start)


def _holds(shelf: Shelf) -> bool:
    return sag_mm(shelf)[1] <= limit_mm(shelf)


def cures(asked: Asked, bearer: Bearer) -> str:
    """What would do, each by itself, in words: a shorter span, a thicker board, a lip."""
    manner, cure = asked.build.manner, Cures(bearer)
    out = bearer.shelf.ends == "one end"
    ways = []
    if cure.short:
        ways.append(f"{'an overhang' if out else 'a clear span'} of {at_most(cure.short, manner)} or less")
    if cure.thick:
        ways.append(f"a board {at_least(cure.thick, manner)} {bearer.shelf.called} or more")
    if not out and not bearer.shelf.on_edge and cure.high:
        lip = f"{mm(cure.lip_thick, manner)} x {at_least(cure.high, manner)}"
        ways.append(f"a lip {lip} or higher glued along its front")
    return f"Any one of these will do: {'; '.join(ways)}." if ways else "Divide it, or carry it from below."


def _edge(holds: Callable[[float], bool], good: float, bad: float) -> float | None:
    """Where `holds` turns true between a bad value and a good one, on the good side; None where even that is bad."""
    if not holds(good):
        return None
    for _ in range(40):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if holds(middle) else (good, middle)
    return good


CHECK = Check("shelf-sag", "Does each board that carries stay straight enough, also after years?", run, BEAM)
