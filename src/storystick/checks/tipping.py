"""Tipping: whether a piece stays on its feet: drawers open, loaded, pulled, on a floor that leans, on what tilts it."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import atan, cos, degrees, inf, radians, sin, tan

from storystick.checks.footing import SLANT, Footing, Tilt, free_edges, standing_as_one, tilt_of
from storystick.checks.masses import Mass, carried, loads_in, masses, pulled_out, solids_of
from storystick.checks.moving import leaves
from storystick.checks.overturning import Case, load_that_mends, reach_that_mends, what_mends
from storystick.checks.saying import G_N_PER_KG, decimal, kg, mm
from storystick.checks.stated import changes, lighter
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly
from storystick.physics.tipping import (
    CARPET_MM,
    CHILD_N,
    COUNTED_HIGH_MM,
    COUNTED_MM3,
    COUNTED_N,
    HOLDS_ON_SLOPE,
    LEANING_MARGIN,
    MARGIN,
    PULL_HIGHEST_MM,
    PULL_N,
    STRAP_N,
)
from storystick.shapes.motion import pose_at
from storystick.shapes.pose import apply, direct, dot, invert

STATICS = Source("statics; half as much again over a load that just tips is practice", "practice")
PULL = Source("ASTM F2057-23, for clothes from 27 in and 30 lb: 10 lbf at the top, 56 in up at most", "read")
CLOTHES = Source("ASTM F2057-23, section 9: rear 0.43 in up as on carpet, drawers open, 60 lbf on one front", "memory")
BINDING = "For clothes 16 CFR 1261 and ASTM F2057 bind and ask for more; shop furniture is not covered"
MOST_TOLD = 99.0  # times: more is not worth a number
LEANS = "on a floor that falls 1 in 50 that way, or carpet under its other side"


def run(asked: Asked) -> Iterator[Finding]:
    """Every piece that stands by itself."""
    for ones in standing_as_one(asked):
        one, within = ones[0], frozenset(name for each in ones for name in carried(asked, each))
        empty, full = masses(asked, within, filled=False), masses(asked, within, filled=True)
        edges = free_edges(asked, ones, within)
        drawers = sorted({s.name for s in asked.build.sliders if s.assembly in within})
        cases = list(_opened(asked, one, edges, drawers, empty, full, _doors(asked, within)))
        single = _single(asked, edges, drawers, full) if drawers else None
        yield _stands(asked, one, cases, single)
        tilt = tilt_of(asked, one)
        if tilt is not None:
            yield _tilted(asked, one, edges, (empty, full), tilt)
        high = max(solid.bounds[1][2] for solid in solids_of(asked, within)) - edges[0].ground
        if high >= COUNTED_HIGH_MM and sum(mass.newtons for mass in empty) >= COUNTED_N:
            yield _pulled(asked, one, edges, empty, high)
            if closed_mm3(asked, one) >= COUNTED_MM3:
                yield _clothes(asked, one, edges, full, drawers)


def _doors(asked: Asked, within: frozenset[str]) -> frozenset[str]:
    """Names of the parts and things of a piece that doors and lids carry."""
    mine = {part.name for part in asked.build.parts if part.assembly in within}
    mine |= {item.name for item in asked.build.items if item.assembly in within}
    return frozenset(name for mover in leaves(asked) for name in mover.names if name in mine)


def _swung(asked: Asked, found: tuple[Mass, ...], footing: Footing) -> tuple[Mass, ...]:
    """The same with every door and lid opened as far as it weighs out most over an edge."""
    for mover in leaves(asked):
        mine = [mass for mass in found if mass.name in mover.names]
        if mine:
            poses = [pose_at(mover.motion, (step / 8, 0.0)) for step in range(9)]
            out = max(poses, key=lambda p: sum(m.newtons * dot(apply(p, m.at), footing.way) for m in mine))
            found = tuple(replace(m, at=apply(out, m.at)) if m.name in mover.names else m for m in found)
    return found


def _opened(
    asked: Asked, one: Assembly, edges: Sequence[Footing], drawers: Sequence[str], empty: tuple[Mass, ...],
    full: tuple[Mass, ...], doors: frozenset[str],
) -> Iterator[Case]:  # fmt: skip
    """Everything that opens all the way open, empty and full; each edge, level and leaning."""
    what = "with every drawer and door open" if drawers and doors else "with its doors open" if doors else ""
    what = what or ("with every drawer out" if drawers else "")
    loaded = [(empty, "empty"), (full, "full" if drawers else "with its loads")][full == empty :]
    for footing in edges:
        for found, how in loaded:
            out = pulled_out(asked, found, frozenset(drawers)) if drawers else found
            out = _swung(asked, out, footing) if doors else out
            what_then = f" {what}, {how}" if what else f" {how}" if full != empty else " as it stands"
            yield Case(footing, out, what_then)
            yield Case(footing, out, f"{what_then}, {LEANS}", footing.lean_deg, LEANING_MARGIN)


def _single(asked: Asked, edges: Sequence[Footing], drawers: Sequence[str], full: tuple[Mass, ...]) -> float:
    """The least margin with one full drawer out, on a level floor."""
    outs = [pulled_out(asked, full, frozenset({drawer})) for drawer in drawers]
    return min(Case(footing, out, "").margin for footing in edges for out in outs)


def _stands(asked: Asked, one: Assembly, cases: list[Case], single: float | None) -> Finding:
    about, worst = (one.name,), min(cases, key=lambda case: case.share)
    said = f"{one.name}{worst.says}"
    if worst.margin == inf:
        said += ": nothing of it hangs out over its feet."
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", STATICS, about=about)
    said += (
        f": what holds it down is {decimal(worst.margin, 2)} times what would tip it {worst.footing.word}; "
        f"{decimal(worst.wanted, 1)} times is wanted"
    )
    numbers = (worst.margin, worst.wanted, "times", about)
    if worst.share >= 1:
        return Finding(CHECK.code, Grade.FINE, one.place, f"{said}.", "", STATICS, *numbers)
    out = reach_that_mends(worst, cases)
    advice, tries = what_mends(asked, one, worst, cases, out), _tries(asked, one, worst, cases, out)
    level = min(case.margin for case in cases if not case.lean)
    grade = Grade.STOP if (level if single is None else single) < 1 else Grade.CARE
    if single is not None:
        alone = "more than enough" if single == inf else f"{decimal(single, 2)} times"
        said += f". With one drawer out at a time it is {alone}"
        advice += " Or never open two full drawers at once." if single >= MARGIN else ""
    return Finding(CHECK.code, grade, one.place, f"{said}.", advice, STATICS, *numbers, None, tries)


def _tries(asked: Asked, one: Assembly, worst: Case, cases: Sequence[Case], out: float | None) -> tuple[Mend, ...]:
    """Larger on the floor by what its feet lack, or twice that, since what is in it grows too; or less in it."""
    manner = asked.build.manner
    axis = 0 if abs(direct(invert(asked.scene.poses[one.name]), worst.footing.way)[0]) > SLANT else 1
    found = [] if out is None else [m for by in (out, 2 * out, 4 * out) for m in changes(one.size[axis], by, manner)]
    for load in loads_in(asked, one):
        if share := load_that_mends(worst, cases, load.on):
            found += lighter((load,), share, manner)
    return tuple(found)


def _tilted(
    asked: Asked, one: Assembly, edges: Sequence[Footing], loads: Sequence[tuple[Mass, ...]], tilt: Tilt
) -> Finding:
    """Standing loose on what tilts: over which edge it goes, and at which angle; and whether it slides before that."""
    leaning = [(edge, min(90.0, tilt.lean_deg(edge)), found) for edge in edges for found in loads]
    at = [(tips_at_deg(edge, found), lean, edge) for edge, lean, found in leaning if lean > 0]
    tips, lean, edge = min(at, key=lambda each: tan_share(each[0], each[1]))
    slides = degrees(atan(HOLDS_ON_SLOPE))
    said = (
        f"{one.name} stands on {tilt.body.name}, which tilts {decimal(lean, 0)} degrees with it: empty or full it goes "
        f"over {edge.word} from {decimal(tips, 0)} degrees"
    )
    most = min(degrees(atan(tan(radians(max(tips, 0.0))) / MARGIN)), slides) if tips < 90 else slides
    about = (one.name, tilt.body.name)
    number, limit = (tips, lean) if tips < slides else (slides, lean)
    said += f", and wood begins to slide at {decimal(slides, 0)}."
    if lean <= most:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", STATICS, number, limit, "degrees", about)
    pulls = kg(float(int(max(0.0, _hold_n(loads, edge, lean)) / G_N_PER_KG) + 1), asked.build.manner)
    advice = (
        f"Fix {one.name} to {tilt.body.name} with screws that hold {pulls} in all on the upper side and keep it from "
        f"sliding, or tilt it no farther than {decimal(int(most * 10) / 10, 1)} degrees."
    )
    grade = Grade.STOP if tips <= lean else Grade.CARE
    return Finding(CHECK.code, grade, one.place, said, advice, STATICS, number, limit, "degrees", about)


def tips_at_deg(footing: Footing, found: tuple[Mass, ...]) -> float:
    """The tilt at which it goes over an edge by itself [deg]: its middle comes over the edge."""
    weight = sum(mass.newtons for mass in found)
    behind = sum(mass.newtons * footing.behind(mass.at) for mass in found) / weight
    high = sum(mass.newtons * (mass.at[2] - footing.ground) for mass in found) / weight
    return degrees(atan(behind / high)) if high > 0 else 90.0


def tan_share(tips: float, lean: float) -> float:
    """How many times the tilt it stands: by the tangents, which is by the moments."""
    return tan(radians(min(tips, 89.9))) / tan(radians(min(lean, 89.9)))


def _hold_n(loads: Sequence[tuple[Mass, ...]], edge: Footing, lean: float) -> float:
    """What must hold the upper side down, with the margin of the house [N]."""
    needed: list[float] = []
    for found in loads:
        slope = radians(min(lean, 90.0))
        over = sum(m.newtons * (m.at[2] - edge.ground) for m in found) * sin(slope) * MARGIN
        down = sum(m.newtons * edge.behind(m.at) for m in found) * cos(slope)
        needed.append((over - down) / max(edge.reach, 1.0))
    return max(needed)


def closed_mm3(asked: Asked, one: Assembly) -> float:
    """Room behind drawers and doors in what stands as one [mm3]: how much a rule for clothes storage would count."""
    within = carried(asked, one)
    shut = [o for o in asked.build.openings if o.assembly in within and o.holds in ("drawer", "door")]
    return sum(float(o.size[0]) * float(o.size[1]) * float(o.size[2]) for o in shut)


def _pulled(asked: Asked, one: Assembly, edges: Sequence[Footing], empty: tuple[Mass, ...], high: float) -> Finding:
    """A pull at the worst height, which is the highest, over every edge: level, and where the floor leans."""
    manner, at = asked.build.manner, min(high, PULL_HIGHEST_MM)
    cases = [Case(edge, empty, "", 0.0, MARGIN, (PULL_N, at)) for edge in edges]
    cases += [Case(edge, empty, f", {LEANS}", edge.lean_deg, LEANING_MARGIN, (PULL_N, at)) for edge in edges]
    worst = min(cases, key=lambda case: case.share)
    found, limit = worst.margin * PULL_N, PULL_N * worst.wanted
    rule = f" {BINDING}." if closed_mm3(asked, one) >= COUNTED_MM3 else ""
    said = (
        f"A pull of {kg(found / G_N_PER_KG, manner)} at {mm(at, manner)} tips {one.name} {worst.footing.word} when it "
        f"is empty and shut{worst.says}; it should stand {kg(limit / G_N_PER_KG, manner)}.{rule}"
    )
    if worst.share >= 1:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", PULL, found, limit, "N", (one.name,))
    out = reach_that_mends(worst, cases)
    advice = what_mends(asked, one, worst, cases, out)
    tries = (*_tries(asked, one, worst, cases, out), *changes(one.size[2], high * (worst.share - 1), manner))
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, PULL, found, limit, "N", (one.name,), None, tries)


def _clothes(
    asked: Asked, one: Assembly, edges: Sequence[Footing], full: tuple[Mass, ...], drawers: Sequence[str]
) -> Finding:
    """What the published rule would find, were clothes kept in it: worth knowing, and no more for a shop."""
    manner = asked.build.manner
    cases = []
    for edge in edges:
        lean = degrees(atan(CARPET_MM / edge.reach)) if edge.reach else 0.0
        out = pulled_out(asked, full, frozenset(drawers))
        moved = [(m, was) for m, was in zip(out, full, strict=True) if m.drawer]
        if moved:
            farthest, _ = max(moved, key=lambda pair: -edge.behind(pair[0].at))
            out = (*out, Mass("on the front", CHILD_N, farthest.at))
        cases.append(Case(edge, out, "", lean, 1.0))
    worst = min(cases, key=lambda case: case.share)
    times, on_it = decimal(min(worst.margin, MOST_TOLD), 2), kg(CHILD_N / G_N_PER_KG, manner)
    said = (
        f"{one.name}, kept for clothes, would fall under ASTM F2057 and 16 CFR 1261: on carpet, its drawers open and "
        f"full, with {on_it} on one of them, what holds it down is {times} times what tips it {worst.footing.word}. "
        f"{BINDING}."
    )
    numbers = (min(worst.margin, MOST_TOLD), 1.0, "times", (one.name,))
    if worst.share >= 1:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", CLOTHES, *numbers)
    advice = f"Strap it to the wall where children are: a strap that holds {kg(STRAP_N / G_N_PER_KG, manner)} or more."
    return Finding(CHECK.code, Grade.NOTE, one.place, said, advice, CLOTHES, *numbers)


CHECK = Check(
    "tipping",
    "Does it stay on its feet with everything open, empty and full, on a floor that leans, tilted, and pulled?",
    run,
    STATICS,
)
