"""Tipping: whether a piece stays on its feet with all its drawers open, and with a pull at its top."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from storystick.checks.masses import Mass, carried, masses, pulled_out, solids_of, standing
from storystick.checks.saying import G_N_PER_KG, decimal, kg, mm
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly
from storystick.physics.tipping import MARGIN, tip_force_n, tip_margin
from storystick.physics.units import N_PER_LBF
from storystick.shapes.pose import Vector, apply, direct, dot

STATICS = Source("statics; half as much again over a load that just tips is practice", "practice")
PULL = Source("ASTM F2057-23, for clothes from 27 in and 30 lb: 10 lbf at the top, 56 in up at most", "read")
PULL_N, PULL_HIGHEST_MM = 10 * N_PER_LBF, 1422.0
TALL_MM, HEAVY_N = 686.0, 30 * N_PER_LBF
CLOSED_MM3 = 3.2 * 304.8**3  # closed storage from which that rule counts a piece, with its height and weight (memory)
BINDING = "For clothes 16 CFR 1261 and ASTM F2057 bind and ask for more; shop furniture is not covered"
WAYS: dict[str, Vector] = {
    "forward": (0.0, -1.0, 0.0), "backward": (0.0, 1.0, 0.0),
    "to the left": (-1.0, 0.0, 0.0), "to the right": (1.0, 0.0, 0.0),
}  # fmt: skip
BALLAST_IN_MM = {"inch": 50.8, "mm": 50.0}  # ballast lies with its middle so far in from the far side


@dataclass(frozen=True, slots=True)
class Footing:
    """Which way a piece may go over: the direction in the room, and where its edge is along that direction [mm]."""

    word: str
    way: Vector
    edge: float

    def behind(self, at: Vector) -> float:
        """How far a place is behind the edge [mm]; below nothing in front of it."""
        return self.edge - dot(at, self.way)


def run(asked: Asked) -> Iterator[Finding]:
    """Every piece that stands by itself."""
    for one in standing(asked):
        within = carried(asked, one)
        empty, full = masses(asked, within, filled=False), masses(asked, within, filled=True)
        footings = [_footing(asked, one, within, word) for word in WAYS]
        sliders = [slider for slider in asked.build.sliders if slider.assembly in within]
        if sliders:
            yield _drawers_open(asked, one, footings, empty, full)
        else:
            yield _loaded(asked, one, footings, full)
        high = max(solid.bounds[1][2] for solid in solids_of(asked, within))
        if high >= TALL_MM and sum(mass.newtons for mass in empty) >= HEAVY_N:
            yield _pulled(asked, one, footings[0], empty, high)


def _footing(asked: Asked, one: Assembly, within: frozenset[str], word: str) -> Footing:
    """The edge that it would go over: the line of its feet, castors turned the worst way; else its lowest boards."""
    pose = asked.scene.poses[one.name]
    way = direct(pose, WAYS[word])
    if one.feet:
        spots = [apply(pose, (float(x), float(y), 0.0)) for x, y in one.feet]
        return Footing(word, way, max(dot(spot, way) for spot in spots) - one.swivels)
    boxes = [solid.bounds for solid in solids_of(asked, within)]
    low = min(box[0][2] for box in boxes)
    corners = [(x, y, 0.0) for b in boxes if b[0][2] < low + 1 for x in (b[0][0], b[1][0]) for y in (b[0][1], b[1][1])]
    return Footing(word, way, max(dot(corner, way) for corner in corners))


def _margin(footing: Footing, found: tuple[Mass, ...]) -> float:
    return tip_margin([(mass.newtons, footing.behind(mass.at)) for mass in found])


def _drawers_open(
    asked: Asked, one: Assembly, footings: list[Footing], empty: tuple[Mass, ...], full: tuple[Mass, ...]
) -> Finding:
    drawers = sorted({mass.drawer for mass in full if mass.drawer})
    cases = [
        (_margin(footing, out), footing, out, word)
        for footing in footings
        for found, word in ((empty, "empty"), (full, "full"))
        for out in (pulled_out(asked, found, frozenset(drawers)),)
    ]
    margin, footing, found, word = min(cases, key=lambda case: case[0])
    single = min(_margin(footing, pulled_out(asked, full, frozenset({drawer}))) for drawer in drawers)
    said = f"{one.name} with every drawer out, {word}"
    return _finding(asked, one, footing, found, margin, said, single)


def _loaded(asked: Asked, one: Assembly, footings: list[Footing], full: tuple[Mass, ...]) -> Finding:
    margin, footing = min(((_margin(f, full), f) for f in footings), key=lambda case: case[0])
    return _finding(asked, one, footing, full, margin, f"{one.name} with its loads")


def _finding(
    asked: Asked, one: Assembly, footing: Footing, found: tuple[Mass, ...], margin: float, said: str,
    single: float | None = None,
) -> Finding:  # fmt: skip
    about = (one.name,)
    if margin == inf:
        said += ": nothing of it hangs out over its feet."
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", STATICS, about=about)
    said += (
        f": what holds it down is {decimal(margin, 2)} times what would tip it {footing.word}; "
        f"{decimal(MARGIN, 1)} times is wanted"
    )
    if margin >= MARGIN:
        return Finding(CHECK.code, Grade.FINE, one.place, f"{said}.", "", STATICS, margin, MARGIN, "times", about)
    moments = [mass.newtons * footing.behind(mass.at) for mass in found]
    missing = -MARGIN * sum(m for m in moments if m < 0) - sum(m for m in moments if m > 0)
    advice = _ballast(asked, one, footing, missing)
    grade = Grade.STOP if (margin if single is None else single) < 1 else Grade.CARE
    if single is not None:
        alone = "more than enough" if single == inf else f"{decimal(single, 2)} times"
        said += f". With one drawer out at a time it is {alone}"
        advice += " Or never open two full drawers at once." if single >= MARGIN else ""
    return Finding(CHECK.code, grade, one.place, f"{said}.", advice, STATICS, margin, MARGIN, "times", about)


def _ballast(asked: Asked, one: Assembly, footing: Footing, missing: float) -> str:
    """What would make up for a missing moment [N mm]."""
    manner = asked.build.manner
    inset = BALLAST_IN_MM[manner.unit]
    weight = missing / (far_side(asked, one, footing) - inset) / G_N_PER_KG
    return (
        f"Fix it to the wall, or put {kg(float(int(weight) + 1), manner)} of weight at its foot, {mm(inset, manner)} "
        f"in from the far side."
    )


def far_side(asked: Asked, one: Assembly, footing: Footing) -> float:
    """How far the far side of the piece is behind the edge that it would go over [mm]."""
    wide, deep, _ = (float(dim) for dim in one.size)
    corners = [apply(asked.scene.poses[one.name], (x, y, 0.0)) for x in (0.0, wide) for y in (0.0, deep)]
    return max(footing.behind(corner) for corner in corners)


def closed_mm3(asked: Asked, one: Assembly) -> float:
    """Room behind drawers and doors in what stands as one [mm3]: how much a rule for clothes storage would count."""
    within = carried(asked, one)
    shut = [o for o in asked.build.openings if o.assembly in within and o.holds in ("drawer", "door")]
    return sum(float(o.size[0]) * float(o.size[1]) * float(o.size[2]) for o in shut)


def _pulled(asked: Asked, one: Assembly, footing: Footing, empty: tuple[Mass, ...], high: float) -> Finding:
    manner, at = asked.build.manner, min(high, PULL_HIGHEST_MM)
    weight = sum(mass.newtons for mass in empty)
    behind = sum(mass.newtons * footing.behind(mass.at) for mass in empty) / weight
    found, limit = tip_force_n(weight, behind, at), PULL_N * MARGIN
    rule = f" {BINDING}." if closed_mm3(asked, one) >= CLOSED_MM3 else ""
    said = (
        f"A pull of {kg(found / G_N_PER_KG, manner)} at {mm(at, manner)} tips {one.name} {footing.word} when it is "
        f"empty and shut; it should stand {kg(limit / G_N_PER_KG, manner)}.{rule}"
    )
    if found >= limit:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", PULL, found, limit, "N", (one.name,))
    advice = _ballast(asked, one, footing, (limit - found) * at)
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, PULL, found, limit, "N", (one.name,))


CHECK = Check(
    "tipping",
    "Does it stay on its feet with every drawer out, empty and full, and with a pull at the top?",
    run,
    STATICS,
)
