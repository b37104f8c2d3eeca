"""Wall load: what each screw into a wall has to carry, where a piece hangs on one."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from storystick.checks.holding_power import LIGHTEST_GROUP, allowed_push_n
from storystick.checks.masses import carried, masses, place_of
from storystick.checks.on_the_wall import OnWall, on_the_wall
from storystick.checks.saying import G_N_PER_KG, decimal, kg, listed, mm
from storystick.checks.stated import lighter
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly
from storystick.physics import lags
from storystick.physics.screws import old_allowable_lateral_n, penetration_share

STUD_GRAVITY = 0.42  # spruce, pine, fir: National Design Specification (memory)
DEEP_MM = {"inch": 38.1, "mm": 40.0}  # in the stud itself, behind the plaster
THINNER_MM = 0.5  # the screw, than its hole
ALLOWED = Source(
    "statics; a screw in a softwood stud: National Design Specification, eq. 12.2-1 (pulled), "
    "building-design handbook, eq. 6.38 (sideways)",
    "memory",
)
TOUCHING = Fraction(1, 10)  # [mm]
LOCAL = "What your wall holds, and who may fix it there, is for local rules"


def run(asked: Asked) -> Iterator[Finding]:
    """Everything that hangs on a wall by strips; the screws into the wall, and those between strip and piece."""
    known: set[str] = set()
    for one in on_the_wall(asked):
        known |= {one.strips.name, *one.hung}
        yield _wall(asked, one)
        if one.links:
            yield _links(asked, one)
    for each in asked.build.assemblies:
        said = set(each.held_by) - {f.name for f in asked.build.fasteners} - {i.name for i in asked.build.items}
        if said and not each.inside_of and not each.stands_on and each.name not in known and not _glued_on(asked, each):
            yield _unknown(asked, each, sorted(said))


def _glued_on(asked: Asked, one: Assembly) -> bool:
    """A strip or a board that is glued on another piece, such as a scribe strip: it hangs on no wall."""
    if set(one.held_by) != {"glue"}:
        return False
    others = (other for other in asked.build.assemblies if other.name != one.name and not other.inside_of)
    return any(all(_meets(one, other, axis) for axis in range(3)) for other in others)


def _meets(one: Assembly, other: Assembly, axis: int) -> bool:
    low, high = one.at[axis].value, one.at[axis].value + one.size[axis].value
    return low <= other.at[axis].value + other.size[axis].value + TOUCHING and other.at[axis].value - TOUCHING <= high


def _unknown(asked: Asked, one: Assembly, said: list[str]) -> Finding:
    """What the plan only names as holding it: its load is told, and whom to ask."""
    manner, found = asked.build.manner, masses(asked, carried(asked, one), filled=True)
    weight = kg(sum(mass.newtons for mass in found) / G_N_PER_KG, manner)
    says = f"{one.name} hangs with {weight}, its loads counted, on what the plan only names: {listed(said)}. {LOCAL}."
    advice = "Give it nailers or a cleat: then its screws are reckoned with."
    return Finding(CHECK.code, Grade.NOTE, one.place, says, advice, ALLOWED, about=(one.name,))


def each_n(one: OnWall) -> tuple[float, float]:
    """What each screw carries down, and the topmost is pulled out of the wall with [N]: it leans on its lower edge."""
    highest = max(one.above)
    return one.newtons / len(one.holes), one.newtons * one.out * highest / sum(high * high for high in one.above)


def allowed_n(hole_mm: float, deep_mm: float) -> tuple[float, float]:
    """What a screw through such a hole may carry down and be pulled with in a stud [N]."""
    thick = hole_mm - THINNER_MM
    down = old_allowable_lateral_n(LIGHTEST_GROUP, thick) * penetration_share(deep_mm, thick)
    return down, lags.allowable_withdrawal_n(STUD_GRAVITY, thick, deep_mm)


def _wall(asked: Asked, one: OnWall) -> Finding:
    manner, name, count = asked.build.manner, one.strips.name, len(one.holes)
    deep = DEEP_MM[manner.unit]
    (down, pull), (most_down, most_pull) = each_n(one), allowed_n(min(one.holes), deep)
    share = (down / most_down if most_down else float("inf")) + pull / most_pull
    own = name in one.hung  # fixed straight to the wall
    what, through = (name, "boards of its own") if own else (listed(one.hung), name)
    said = (
        f"{what} hangs on the wall with {kg(one.newtons / G_N_PER_KG, manner)} by {count} screws through "
        f"{through}: each carries {kg(down / G_N_PER_KG, manner)} and is pulled with {kg(pull / G_N_PER_KG, manner)}, "
        f"{decimal(100 * share, 0)} % of what is allowed for one {mm(deep, manner)} deep in a softwood stud. {LOCAL}."
    )
    about = (name, *one.hung)
    if share <= 1:
        return Finding(CHECK.code, Grade.FINE, one.strips.place, said, "", ALLOWED, share, 1, "", about)
    advice = f"Use {ceil(count * share)} screws into studs or more, or put it on the floor."
    tries = tuple(_less_hung(asked, one, share))
    return Finding(CHECK.code, Grade.CARE, one.strips.place, said, advice, ALLOWED, share, 1, "", about, None, tries)


def _less_hung(asked: Asked, one: OnWall, share: float) -> Iterator[Mend]:
    """Less load, so that all that hangs there comes to what is allowed."""
    within = frozenset(one.hung) | asked.scene.inside(one.strips.name)
    loads = [load for load in asked.build.loads if (at := place_of(asked, load)) and at[0] in within]
    heavy = sum(load.kilograms for load in loads) * G_N_PER_KG
    if heavy and one.newtons / share > one.newtons - heavy:
        yield from lighter(loads, (one.newtons / share - (one.newtons - heavy)) / heavy * 0.98, asked.build.manner)


def _links(asked: Asked, one: OnWall) -> Finding:
    manner, count = asked.build.manner, len(one.links)
    each, allowed = one.newtons / count, min(allowed_push_n(asked, drive) for drive in one.links)
    share = each / allowed if allowed else float("inf")
    said = (
        f"{count} screws hold {listed(one.hung)} to {one.strips.name}: each carries {kg(each / G_N_PER_KG, manner)} of "
        f"{kg(allowed / G_N_PER_KG, manner)} allowed."
    )
    about = (one.strips.name, *one.hung)
    if share <= 1:
        return Finding(CHECK.code, Grade.FINE, one.strips.place, said, "", ALLOWED, share, 1, "", about)
    advice = "Let them reach into the piece."
    if allowed:
        advice = f"Use {ceil(count * share)} screws of that size or more, or longer and thicker ones."
    tries = tuple(_less_hung(asked, one, share))
    return Finding(CHECK.code, Grade.CARE, one.strips.place, said, advice, ALLOWED, share, 1, "", about, None, tries)


CHECK = Check("wall-load", "Do the screws into a wall, and those into its cleat, hold what hangs there?", run, ALLOWED)
