"""Screw length: long enough to hold in the second board, short enough to stay in it."""

from collections.abc import Iterator

from storystick.checks.driven import Drive, Inside, alike, drives, inside, sold_between
from storystick.checks.saying import at_least, at_most, exact, mm
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source, practice
from storystick.model.check import Asked, Check
from storystick.physics.screws import LEAST_PENETRATION_DIAMETERS, thread_in_receiver_mm

SPARE_MM = 3.0
SPARE = practice("a point stays 3 mm (1/8 in) short of the far side, so that nothing shows or bulges")
HOLD = Source(
    "National Design Specification for Wood Construction: six diameters in the receiving piece at least", "memory"
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every screw and nail; those that are alike are told together."""
    groups: dict[tuple[object, ...], list[tuple[Drive, Inside | None]]] = {}
    for drive in drives(asked):
        where, one = inside(asked, drive, drive.of.into), drive.of
        depths = (round(where.enters, 2), round(where.leaves, 2)) if where else None
        groups.setdefault((one.through, one.into, one.row, one.length.value, depths), []).append((drive, where))
    for group in groups.values():
        yield _finding(asked, [drive for drive, _ in group], group[0][1])


def _finding(asked: Asked, group: list[Drive], where: Inside | None) -> Finding:
    manner, drive = asked.build.manner, group[0]
    one, about = drive.of, (drive.of.through, drive.of.into)
    long, thick = mm(one.length.value, manner), float(one.diameter)
    said = f"{alike(group)}, {long} long"
    if where is None:
        return Finding(
            CHECK.code,
            Grade.STOP,
            one.place,
            f"{said}, points past {one.into}.",
            "Turn it or move it.",
            HOLD,
            about=about,
        )
    need = LEAST_PENETRATION_DIAMETERS * thick
    held = max(0.0, min(drive.long, where.leaves) - where.enters)
    thread = min(held, thread_in_receiver_mm(drive.long, where.enters, drive.thread))
    spare = where.leaves - drive.long
    advice = _advice(asked, drive, where)
    if spare < 0:
        grade, more = (Grade.CARE, _next(asked, drive)) if _next(asked, drive) else (Grade.STOP, "")
        said += f", comes out of the far side of {one.into} by {mm(-spare, manner)}{more}."
        return Finding(CHECK.code, grade, one.place, said, advice, SPARE, spare, SPARE_MM, "mm", about)
    if spare < SPARE_MM - 1e-6:
        said += f", ends {mm(spare, manner)} short of the far side of {one.into}: it may bulge or show."
        return Finding(CHECK.code, Grade.CARE, one.place, said, advice, SPARE, spare, SPARE_MM, "mm", about)
    said += f": {mm(thread, manner)} of thread holds in {one.into}; six diameters are {mm(need, manner)}."
    if thread < need - 1e-6:
        grade = Grade.STOP if held <= 0 else Grade.CARE
        return Finding(CHECK.code, grade, one.place, said, advice, HOLD, thread, need, "mm", about)
    return Finding(CHECK.code, Grade.FINE, one.place, said, "", HOLD, thread, need, "mm", about)


def shortest(drive: Drive, where: Inside) -> float:
    """The shortest that holds by six diameters of thread [mm]."""
    need = LEAST_PENETRATION_DIAMETERS * float(drive.of.diameter)
    partly = drive.thread < drive.long
    return max(where.enters + need, need * 3 / 2 if partly else 0.0)


def thickest(drive: Drive, where: Inside) -> float:
    """The thickest of which some length holds by six diameters and stays inside [mm]."""
    most = where.leaves - SPARE_MM
    held = most - where.enters
    if drive.thread < drive.long:
        held = min(held, most * 2 / 3)
    return max(0.0, held / LEAST_PENETRATION_DIAMETERS)


def _next(asked: Asked, drive: Drive) -> str:
    """Where its point ends up in yet another board: in words, "" where it comes out into the open."""
    for part in asked.build.parts:
        if part.name in (drive.of.into, drive.of.through):
            continue
        found = inside(asked, drive, part.name)
        if found and found.enters < drive.long <= found.leaves:
            return f" and ends in {part.name}"
    return ""


def _advice(asked: Asked, drive: Drive, where: Inside) -> str:
    manner = asked.build.manner
    least, most = shortest(drive, where), where.leaves - SPARE_MM
    if least > most:
        return (
            f"No length of it both holds and stays inside: take one no thicker than "
            f"{at_most(thickest(drive, where), manner)}, {at_most(most, manner)} long, or hold it otherwise."
        )
    sold = sold_between(drive.row, least, most)
    if sold:
        best = min(sold, key=lambda long: abs(float(long) - drive.long))
        return f"Take one {mm(best, manner)} long."
    return f"Take one from {at_least(exact(least), manner)} to {at_most(exact(most), manner)} long."


CHECK = Check("screw-length", "Does every screw hold in the second board without coming through it?", run, HOLD)
