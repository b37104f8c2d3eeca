"""Screw length: long enough to hold in the second board, short enough to stay in it."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from storystick.checks.driven import Drive, Inside, alike, inside, screws_and_nails, sold_between
from storystick.checks.saying import at_least, at_most, exact, mm, small, worth_telling
from storystick.checks.stated import stated
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source, practice
from storystick.model.check import Asked, Check
from storystick.physics.screws import LEAST_PENETRATION_DIAMETERS, thread_in_receiver_mm

SPARE_MM, HARDWARE_SPARE_MM = 3.0, 0.5
SPARE = practice(
    "a point stays 3 mm (1/8 in) short of the far side; the short screws of slides and plates half a millimetre"
)
POCKET_SPARE_MM = 2.0
POCKET = practice("the point of a slanting pocket screw stays 2 mm (1/16 in) short of the far side")
THIN_SHARE = 0.6
UNSOLD_DIAMETERS, UNSOLD_SHARE = 3.0, 0.45
UNSOLD = practice(
    "where no length sold does both, and for the screws that come with hardware: three diameters, or 45 hundredths "
    "of a thin board; what they carry is asked elsewhere"
)
HOLD = Source(
    "National Design Specification for Wood Construction: six diameters in the receiving piece; 6/10 of a thin one",
    "memory",
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every screw and nail; those that are alike are told together, of the good ones the tightest of each size."""
    groups: dict[tuple[object, ...], list[tuple[Drive, Inside | None]]] = {}
    for drive in screws_and_nails(asked):
        where, one = inside(asked, drive, drive.of.into), drive.of
        depths = (round(where.enters, 2), round(where.leaves, 2)) if where else None
        groups.setdefault((one.row, one.length.value, depths), []).append((drive, where))
    yield from worth_telling(
        (group[0][0].of.row, _finding(asked, [drive for drive, _ in group], group[0][1])) for group in groups.values()
    )


def _finding(asked: Asked, group: list[Drive], where: Inside | None) -> Finding:
    manner, drive = asked.build.manner, group[0]
    one, about = drive.of, tuple(dict.fromkeys(name for d in group for name in (d.of.through, d.of.into)))
    said = f"{alike(group)}, {mm(one.length.value, manner)} long"
    if where is None:
        said += f", points past {one.into}."
        return Finding(CHECK.code, Grade.STOP, one.place, said, "Turn it or move it.", HOLD, about=about)
    need, short_by = _wanted(asked, drive, where), spare_of(asked, drive)
    held = max(0.0, min(drive.long, where.leaves) - where.enters)
    thread = min(held, thread_in_receiver_mm(drive.long, where.enters, drive.thread))
    spare, advice, mend = where.leaves - drive.long, _advice(asked, drive, where), _mend(asked, drive, where)
    kept = POCKET if one.kind == "pocket screw" else SPARE
    if spare < 0:
        ends = _next(asked, drive)
        grade = Grade.CARE if ends else Grade.STOP
        said += f", comes out of the far side of {one.into} by {mm(-spare, manner)}{ends}."
        return Finding(CHECK.code, grade, one.place, said, advice, kept, spare, short_by, "mm", about, mend)
    if spare < short_by - 1e-6:
        said += f", ends {small(spare, manner)} short of the far side of {one.into}: it may bulge or show."
        return Finding(CHECK.code, Grade.CARE, one.place, said, advice, kept, spare, short_by, "mm", about, mend)
    source = HOLD if need == needed(drive, where) else UNSOLD
    said += f": {mm(thread, manner)} of thread holds in {one.into}; {mm(need, manner)} is wanted."
    if thread < need - 1e-6:
        grade = Grade.STOP if held <= 0 else Grade.CARE
        return Finding(CHECK.code, grade, one.place, said, advice, source, thread, need, "mm", about, mend)
    return Finding(CHECK.code, Grade.FINE, one.place, said, "", source, thread, need, "mm", about)


def needed(drive: Drive, where: Inside) -> float:
    """Thread wanted in the receiving board [mm]: six diameters, or six tenths of a board too thin for that."""
    return min(LEAST_PENETRATION_DIAMETERS * float(drive.of.diameter), THIN_SHARE * (where.leaves - where.enters))


def _wanted(asked: Asked, drive: Drive, where: Inside) -> float:
    """The same, or what will do where nothing better is sold or the screw comes with its hardware [mm]."""
    need, least, most = needed(drive, where), shortest(drive, where), where.leaves - spare_of(asked, drive)
    ours = drive.of.through in asked.build.parts_by_name
    if ours and (drive.row is None or sold_between(drive.row, least, most)):
        return need
    return min(need, UNSOLD_DIAMETERS * float(drive.of.diameter), UNSOLD_SHARE * (where.leaves - where.enters))


def spare_of(asked: Asked, drive: Drive) -> float:
    """How far its point stays from the far side [mm]: less for pocket screws, and for the screws of hardware."""
    if drive.of.kind == "pocket screw":
        return POCKET_SPARE_MM
    return SPARE_MM if drive.of.through in asked.build.parts_by_name else HARDWARE_SPARE_MM


def shortest(drive: Drive, where: Inside, need: float | None = None) -> float:
    """The shortest that holds well enough, or so much [mm]."""
    need = needed(drive, where) if need is None else need
    return max(where.enters + need, need * 3 / 2 if drive.thread < drive.long else 0.0)


def _fitting(asked: Asked, drive: Drive, where: Inside) -> tuple[Fraction, ...]:
    """The lengths sold that do: by the full rule, or else by what will do [mm]."""
    most = where.leaves - spare_of(asked, drive)
    best = sold_between(drive.row, shortest(drive, where), most)
    return best or sold_between(drive.row, shortest(drive, where, _wanted(asked, drive, where)), most)


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
    """A length that is sold; where none does, how thick the second board would have to be for one."""
    manner, spare = asked.build.manner, spare_of(asked, drive)
    if sold := _fitting(asked, drive, where):
        return f"Take one {mm(_best(sold, drive), manner)} long."
    least, most = shortest(drive, where), where.leaves - spare
    if drive.row is None and least <= most:
        return f"Take one from {at_least(exact(least), manner)} to {at_most(exact(most), manner)} long."
    short = where.size[where.into] - (where.leaves - where.enters)  # of the board, before the screw is in it
    for long in sorted(drive.row.lengths_mm if drive.row else ()):
        thick = float(long) + spare - where.enters
        deep = replace(where, leaves=where.enters + thick)
        if thick > where.leaves - where.enters and shortest(drive, deep) <= float(long):
            return (
                f"{drive.of.into} is too thin for it: make it {at_least(exact(short + thick), manner)} thick and take "
                f"one {mm(long, manner)} long, or hold it otherwise."
            )
    thick = short + spare / (1 - THIN_SHARE)
    return f"{drive.of.into} is too thin for it: make it {at_least(exact(thick), manner)} thick, or hold it otherwise."


def _best(sold: tuple[Fraction, ...], drive: Drive) -> Fraction:
    return min(sold, key=lambda long: abs(float(long) - drive.long))


def _mend(asked: Asked, drive: Drive, where: Inside) -> Mend | None:
    """Another length that it is sold in, where the plan states size and length."""
    sold = _fitting(asked, drive, where)
    leaf = stated(drive.of.length)
    if leaf is None or not sold:
        return None
    size, by, _ = leaf.name.rpartition(" x ")
    text = f"{size}{by}{mm(_best(sold, drive), asked.build.manner)}"
    return Mend(leaf.place, text, f"Take {text} instead of {leaf.name}") if size else None


CHECK = Check("screw-length", "Does every screw hold in the second board without coming through it?", run, HOLD)
