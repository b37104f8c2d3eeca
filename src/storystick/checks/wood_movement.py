"""Wood movement: solid wood held across its grain must be free to swell and shrink with the seasons."""

from collections.abc import Iterator

from storystick.checks.driven import Drive, screws_and_nails
from storystick.checks.saying import at_most, decimal, like_it, listed, mm, small, worth_telling
from storystick.checks.stated import worded
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.joining import Joined
from storystick.model.part import Part
from storystick.physics.moisture import equilibrium_mc_percent
from storystick.physics.movement import (
    STRAIGHT_FROM_MC_PERCENT,
    STRAIGHT_TO_MC_PERCENT,
    width_change_from_shrinkage_mm,
    width_change_mm,
)
from storystick.shapes.pose import Vector, direct, dot
from storystick.shop.tables import find, woods

MOST_MM = 2.0
SEASONS = Source(
    "Wood Handbook FPL-GTR-190, eqs. 4-5, 13-2 and 13-3, flat sawn; 2 mm held fast does no harm: practice",
    "read",
)
USUAL_SHRINKAGE = 9.0  # percent tangential, green to ovendry: of a middling wood, where its own is not known
USUAL_AIR = (20.0, 30.0, 65.0)  # deg C, driest and dampest relative humidity in percent: practice


def run(asked: Asked) -> Iterator[Finding]:
    """Every joint that holds a solid board across its grain to something that does not move with it."""
    worst: dict[str, tuple[float, Part, Part, Joined]] = {}
    for joint in asked.build.joints:
        parts = asked.build.parts_by_name
        pair = parts.get(joint.guest), parts.get(joint.host)
        if pair[0] is None or pair[1] is None or pair[0].assembly != pair[1].assembly:
            continue
        for part, other in ((pair[0], pair[1]), (pair[1], pair[0])):
            if not _held_across(part, other, joint):
                continue
            change = season_change_mm(asked, part, held_mm(part, other))
            if part.name not in worst or change > worst[part.name][0]:
                worst[part.name] = (change, part, other, joint)
    alike: dict[tuple[object, ...], list[tuple[float, Part, Part, Joined]]] = {}
    for found in worst.values():
        change, part, other, joint = found
        key = (part.assembly, round(change, 2), round(held_mm(part, other), 2), joint.place, "glue" in joint.holds)
        alike.setdefault(key, []).append(found)
    yield from worth_telling(("", _finding(asked, *group[0], group)) for group in alike.values())
    yield from worth_telling(("", one) for one in _tops_held_fast(asked))


def _tops_held_fast(asked: Asked) -> Iterator[Finding]:
    """Every solid board that is screwed to another assembly at places apart across its grain: a top on a case."""
    lines: dict[str, list[tuple[Drive, Part]]] = {}
    parts = asked.build.parts_by_name
    for drive in screws_and_nails(asked):
        pair = parts.get(drive.of.through), parts.get(drive.of.into)
        if pair[0] is None or pair[1] is None or pair[0].assembly == pair[1].assembly:
            continue
        for part, other in ((pair[0], pair[1]), (pair[1], pair[0])):
            along = other.stock.solid and abs(dot(_across(asked, part), _across(asked, other))) > 0.9
            if part.stock.solid and not along:
                lines.setdefault(part.name, []).append((drive, other))
    for name, found in lines.items():
        part = parts[name]
        at = [dot(drive.head, _across(asked, part)) for drive, _ in found]
        if (held := max(at) - min(at)) > 1:
            yield _held_fast(asked, part, held, found)


def _across(asked: Asked, part: Part) -> Vector:
    """The way across a board's grain, in the room."""
    return direct(asked.scene.part_poses[part.name], (0.0, 1.0, 0.0))


def _held_fast(asked: Asked, part: Part, held: float, found: list[tuple[Drive, Part]]) -> Finding:
    manner, change = asked.build.manner, season_change_mm(asked, part, held)
    others = tuple(dict.fromkeys(other.name for _, other in found))
    said = (
        f"{part.name} is screwed to {listed(others)} at places {mm(held, manner)} apart across its grain; there it "
        f"moves {small(change, manner)} from the driest to the dampest time of the year."
    )
    place, about = found[0][0].of.place, (part.name, *others)
    if change <= MOST_MM:
        return Finding(CHECK.code, Grade.FINE, place, said, "", SEASONS, change, MOST_MM, "mm", about)
    advice = (
        f"Screw it fast along one line only, and bore slots for the other screws, {small(change, manner)} longer than "
        f"the screw is thick; or hold it by clips."
    )
    tries = tuple(
        worded(part.assembly, ("stock",), stock.name, f"Make it of {stock.name}")
        for stock in sorted(asked.build.stock, key=lambda s: abs(s.thickness.value - part.thickness.value))
        if stock.form == "sheet"
    )
    grade = Grade.CARE if change > 2 * MOST_MM else Grade.NOTE
    return Finding(CHECK.code, grade, place, said, advice, SEASONS, change, MOST_MM, "mm", about, None, tries)


def _held_across(part: Part, other: Part, joint: Joined) -> bool:
    """Whether a joint keeps a solid board from moving across its grain."""
    holds = {"glue", "screws"} & set(joint.holds)
    across = part.lies[1]
    if not part.stock.solid or not holds or joint.axis == across:
        return False
    moves_with_it = other.stock.solid and other.lies[1] == across
    return not moves_with_it


def held_mm(part: Part, other: Part) -> float:
    """How much of a board's width lies against the other [mm]."""
    across = part.lies[1]
    return max(0.0, float(min(part.high(across), other.high(across)) - max(part.low(across), other.low(across))))


def season_change_mm(asked: Asked, part: Part, width: float) -> float:
    """How much a width of a board changes from the driest to the dampest time of the shop's year [mm]."""
    air = asked.shop.air
    warm, dry, damp = (float(air.celsius), float(air.driest), float(air.dampest)) if air else USUAL_AIR
    row = find(woods(), part.stock.material)
    least, most = equilibrium_mc_percent(warm, dry), equilibrium_mc_percent(warm, damp)
    if row and least >= STRAIGHT_FROM_MC_PERCENT and most <= STRAIGHT_TO_MC_PERCENT:
        return width_change_mm(width, row.tangential_per_percent, least, most)
    shrinkage = row.tangential_shrinkage_percent if row else USUAL_SHRINKAGE
    return width_change_from_shrinkage_mm(width, shrinkage, least, most)


def _finding(
    asked: Asked, change: float, part: Part, other: Part, joint: Joined, group: list[tuple[float, Part, Part, Joined]]
) -> Finding:
    """Of several parts held alike, told by the first."""
    manner, held = asked.build.manner, held_mm(part, other)
    said = (
        f"{part.name}{like_it(len(group))} is held across its grain to {other.name} over {mm(held, manner)}; there it "
        f"moves {small(change, manner)} from the driest to the dampest time of the year"
    )
    about = tuple(dict.fromkeys(one.name for _, *pair, _ in group for one in pair if isinstance(one, Part)))
    if change <= MOST_MM:
        return Finding(CHECK.code, Grade.FINE, joint.place, f"{said}.", "", SEASONS, change, MOST_MM, "mm", about)
    glued = "glue" in joint.holds
    share = decimal(100 * MOST_MM / change, 0)
    advice = (
        f"Glue {at_most(held * MOST_MM / change, manner)} of it or less, in the middle or at the front, and let the "
        f"rest slide: screws in slots, a board in a channel."
        if glued
        else f"Bore slots for the screws, {small(change, manner)} longer than the screw is thick, all but one."
    )
    grade = Grade.CARE if glued else Grade.NOTE
    said += f"; it takes {share} % of that." if glued else "."
    tries = tuple(
        worded(part.assembly, ("stock",), stock.name, f"Make it of {stock.name}")
        for stock in sorted(asked.build.stock, key=lambda s: abs(s.thickness.value - part.thickness.value))
        if stock.form == "sheet"
    )
    return Finding(CHECK.code, grade, joint.place, said, advice, SEASONS, change, MOST_MM, "mm", about, None, tries)


CHECK = Check("wood-movement", "Is solid wood free to move across its grain where it is held?", run, SEASONS)
