"""Shelf strength: whether a board that carries is far from breaking, also where the load is in one place."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import inf

from storystick.checks.bearing import Bearer, Shelf, bearers
from storystick.checks.saying import at_least, decimal, kg, mm, worth_telling
from storystick.checks.stated import changes, lighter, thicker
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.physics import bending
from storystick.physics.section import neutral_line_mm

FACTOR = 4.0
"""What breaks a board on average, over what it is allowed: for the weakest of twenty, loads that stay, knots [-].

Practice. ASTM D245 comes to about 2.9 for clear wood: 2.1, times what the weakest of twenty falls short (memory)."""
BEAM = Source("bending stress; a quarter of the mean breaking stress of Wood Handbook or panel maker", "memory")
MOMENTS: dict[tuple[str, str], Callable[[float, float], float]] = {
    ("rests", "evenly"): bending.uniform_moment_nmm,
    ("rests", "in the middle"): lambda load, span: bending.point_moment_nmm(load, span / 2, span),
    ("fixed", "evenly"): bending.clamped_uniform_moment_nmm,
    ("fixed", "in the middle"): lambda load, span: load * span / 8,
    ("one end", "evenly"): bending.cantilever_uniform_moment_nmm,
    ("one end", "in the middle"): bending.cantilever_end_moment_nmm,
}


def run(asked: Asked) -> Iterator[Finding]:
    """Every board that carries and of which it is known where it breaks; of the good ones only the tightest.

    Under an even load sag speaks first: what then uses less than half of its strength is not told.
    """
    known = (one for one in bearers(asked) if one.shelf.strength and one.shelf.loads)
    yield from worth_telling(("", _finding(asked, one)) for one in known if _counts(one.shelf))


def _counts(shelf: Shelf) -> bool:
    return any(load.how == "in the middle" for load in shelf.loads) or stress_mpa(shelf) > shelf.strength / FACTOR / 2


def stress_mpa(shelf: Shelf) -> float:
    """The greatest bending stress in the board or its lip [N/mm2], self weight counted."""
    moment = sum(MOMENTS[shelf.ends, load.how](newtons, shelf.clear) for newtons, load in shelf.carries())
    line = neutral_line_mm(shelf.pieces)
    return max(
        bending.joined_stress_mpa(moment, shelf.stiffness, piece.e_mpa, abs(edge - line))
        for piece in shelf.pieces
        for edge in (piece.low_mm, piece.low_mm + piece.high_mm)
    )


def _finding(asked: Asked, one: Bearer) -> Finding:
    manner, shelf = asked.build.manner, one.shelf
    stress, allowed = stress_mpa(shelf), shelf.strength / FACTOR
    weight = sum(load.kilograms for load in shelf.loads)
    how = " in the middle" if any(load.how == "in the middle" for load in shelf.loads) else ""
    said = (
        f"{one.name} bends with {decimal(stress, 1)} N/mm2 under {kg(weight, manner)}{how} over "
        f"{mm(shelf.clear, manner)} {one.says}; {decimal(allowed, 1)} N/mm2 is allowed, one part in "
        f"{decimal(FACTOR, 0)} of the {decimal(shelf.strength, 0)} N/mm2 at which such boards break on average."
    )
    numbers = (stress / allowed, 1, "", one.about)
    if stress <= allowed:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", BEAM, *numbers)
    grade = Grade.STOP if stress > shelf.strength and not one.usual else Grade.CARE
    changed = (None, tuple(_tries(asked, one, allowed)))
    return Finding(CHECK.code, grade, one.place, said, _cures(asked, shelf, allowed), BEAM, *numbers, *changed)


def _tries(asked: Asked, one: Bearer, allowed: float) -> Iterator[Mend]:
    """A thicker stock of the plan, or less on it, or a shorter span."""
    manner, shelf = asked.build.manner, one.shelf
    part = asked.build.parts_by_name.get(one.about[0])
    if part is not None and (thick := _thick(shelf, allowed)) < inf and shelf.on_edge:
        yield from changes(part.along(2), thick - shelf.thick, manner)
    elif part is not None and thick < inf:
        yield from thicker(asked, part, thick, ("stock",))
    stress, own = stress_mpa(shelf), stress_mpa(replace(shelf, loads=()))
    if own < allowed:
        yield from lighter(one.asked_for, (allowed - own) / (stress - own), manner)
    span = next((span for span in asked.build.spans if span.part == one.name), None)
    if span is not None:
        yield from changes(span.clear, shelf.clear * (allowed / stress - 1) * 1.02, manner)


def _cures(asked: Asked, shelf: Shelf, allowed: float) -> str:
    """A thicker board, or less on it, each by itself."""
    ways = []
    if (thick := _thick(shelf, allowed)) < inf:
        ways.append(f"a board {at_least(thick, asked.build.manner)} {shelf.called} or more")
    own = stress_mpa(replace(shelf, loads=()))
    if own < allowed and (weight := sum(load.kilograms for load in shelf.loads)):
        share = (allowed - own) / (stress_mpa(shelf) - own)
        ways.append(f"{kg(int(weight * share * 10) / 10, asked.build.manner)} on it or less in all")
    return f"Any one of these will do: {'; '.join(ways)}." if ways else "Carry it from below."


def _thick(shelf: Shelf, allowed: float) -> float:
    """The least thickness that holds, by halving [mm]; inf where four times as thick does not."""
    good, bad = 4 * shelf.thick, shelf.thick
    if stress_mpa(replace(shelf, thick=good)) > allowed:
        return inf
    for _ in range(40):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if stress_mpa(replace(shelf, thick=middle)) <= allowed else (good, middle)
    return good


CHECK = Check(
    "shelf-strength", "Is each board that carries far from breaking, also under a load in one place?", run, BEAM
)
