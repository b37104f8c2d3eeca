"""Screw place: far enough from edges and ends that nothing splits, the head in sound wood."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from storystick.checks.driven import EDGE, END, FACE, Drive, Inside, alike, inside, screws_and_nails
from storystick.checks.saying import at_least, exact, mm, small, thin, worth_telling
from storystick.checks.stated import changes, stated, worded
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.length import INCH, down_to
from storystick.ground.records import quickly_made
from storystick.ground.source import Source, practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Bore
from storystick.model.part import Part
from storystick.physics.nails import largest_penny
from storystick.physics.screws import least_distances_mm
from storystick.shop.tables import find, nails, screws

TABLE = Source(
    "National Design Specification for Wood Construction, commentary: edge 2.5 D, end 5 D bored, 10 D not", "memory"
)
PANEL = practice(
    "in the edge of a board a screw has two diameters of wood on either side, a slanting one one and a half"
)
HEAD = practice("the head stays 2 mm (1/16 in) inside the board under it")
HEAD_MM = 2.0
PENNY = Source("a carpenter's handbook: box nails in medium wood, one penny for each 1/8 in of the first board", "read")
SIDES = {END: "end", EDGE: "edge", FACE: "face"}


@quickly_made
@dataclass(frozen=True, slots=True)
class Near:
    """How near a screw comes to a side of a board, and what is wanted there [mm]."""

    part: str
    axis: int
    distance: float
    wanted: float
    source: Source

    @property
    def short(self) -> float:
        """How much is missing [mm]; below nothing where there is enough."""
        return self.wanted - self.distance


def run(asked: Asked) -> Iterator[Finding]:
    """Every screw and nail; those that are alike are told together, of the good ones the nearest of each size."""
    groups: dict[tuple[str, int, float, float], list[tuple[Drive, Near]]] = {}
    for drive in screws_and_nails(asked):
        near = [*_in_receiver(asked, drive), *_under_head(asked, drive)]
        if near:
            worst = max(near, key=lambda one: one.short)
            key = (drive.of.row, worst.axis, round(worst.distance, 1), round(worst.wanted, 2))
            groups.setdefault(key, []).append((drive, worst))
    yield from worth_telling((row, _finding(asked, group)) for (row, *_), group in groups.items())
    yield from _too_thick(asked)


def _too_thick(asked: Asked) -> Iterator[Finding]:
    """Nails thicker than the first board stands without splitting: one penny for each 1/8 in of it."""
    told: dict[tuple[str, float], list[Drive]] = {}
    for drive in screws_and_nails(asked):
        row, first = find(nails(), drive.of.row), inside(asked, drive, drive.of.through)
        if row is not None and row.penny is not None and first is not None:
            thick = round(first.leaves - first.enters, 2)
            if row.penny > largest_penny(thick) + 1e-9:
                told.setdefault((row.name, thick), []).append(drive)
    for (_, thick), group in told.items():
        manner, one, most = asked.build.manner, group[0].of, int(largest_penny(thick))
        said = f"{alike(group)}: {mm(exact(thick), manner)} of wood under its head stands a {most} penny nail unsplit."
        fits = [row for row in nails().values() if row.kind == nails()[one.row].kind and (row.penny or 99) <= most]
        best = max(fits, key=lambda row: row.penny or 0, default=None)
        advice = f"Take a {best.name}, or bore for it." if best else "Bore for it."
        about = tuple(dict.fromkeys(name for each in group for name in (each.of.through, each.of.into)))
        yield Finding(CHECK.code, Grade.NOTE, one.place, said, advice, PENNY, about=about)


def _in_receiver(asked: Asked, drive: Drive) -> Iterator[Near]:
    where = inside(asked, drive, drive.of.into)
    if where is None:
        return
    part = asked.build.part(drive.of.into)
    thick, leans = float(drive.of.diameter), _leans(where)
    table = least_distances_mm(thick, bored=leans or _bored(part, drive))  # slanting ones bore their own way
    for axis in (END, EDGE, FACE):
        if axis == where.into:
            continue
        wanted, source = table.edge_mm, TABLE
        if axis == END and part.stock.solid:
            wanted = table.end_pushed_mm
        elif axis == FACE or leans:
            wanted, source = (1.5 if leans and axis == FACE else 2.0) * thick, PANEL
        yield Near(part.name, axis, _to_side(where, axis), wanted, source)


def _leans(where: Inside) -> bool:
    """Whether it goes in at a slant."""
    return sum(abs(where.tip[axis] - where.at[axis]) > 1 for axis in range(3)) > 1


def _under_head(asked: Asked, drive: Drive) -> Iterator[Near]:
    where = inside(asked, drive, drive.of.through)
    if where is None:
        return
    for axis in (END, EDGE, FACE):
        if axis != where.into:
            side = min(where.at[axis], where.size[axis] - where.at[axis])
            yield Near(drive.of.through, axis, side, drive.head_wide / 2 + HEAD_MM, HEAD)


def _to_side(where: Inside, axis: int) -> float:
    return min(min(point[axis], where.size[axis] - point[axis]) for point in (where.at, where.tip))


def _bored(part: Part, drive: Drive) -> bool:
    return any(isinstance(cut, Bore) and cut.joint and cut.joint == drive.of.joint for cut in part.cuts)


def _finding(asked: Asked, group: list[tuple[Drive, Near]]) -> Finding:
    manner = asked.build.manner
    drive, near = max(group, key=lambda found: found[1].short)
    about = tuple(dict.fromkeys(name for one, _ in group for name in (one.of.through, one.of.into)))
    said = (
        f"{alike([one for one, _ in group])}: the nearest is {mm(near.distance, manner)} from the {SIDES[near.axis]} "
        f"of {near.part}; {mm(near.wanted, manner)} is wanted"
    )
    if near.short <= 1e-6:
        return Finding(
            CHECK.code, Grade.FINE, drive.of.place, f"{said}.", "", near.source, near.distance, near.wanted, "mm", about
        )
    return Finding(
        CHECK.code, Grade.CARE, drive.of.place, f"{said}: it may split.", _advice(asked, drive, near), near.source,
        near.distance, near.wanted, "mm", about, None, tuple(_tries(asked, drive, near)),
    )  # fmt: skip


def _tries(asked: Asked, drive: Drive, near: Near) -> Iterator[Mend]:
    """Set farther in, by the numbers that say where it is; or a thinner one."""
    manner = asked.build.manner
    for dim in drive.of.at:
        yield from changes(dim, near.short, manner)
        yield from changes(dim, -near.short, manner)
    size = float(asked.build.part(near.part).size[near.axis])
    thick = float(drive.of.diameter) * min(near.distance / near.wanted, size / 2 / near.wanted)
    fine = down_to(exact(thick), INCH / 100 if manner.unit == "inch" else Fraction(1, 10))
    leaf = stated(drive.of.diameter)
    if leaf is not None and fine > 0:
        text = small(fine, manner)
        yield Mend(leaf.place, text, f"Take one {text} thick")
    if drive.row is not None:
        fits = [row for row in screws().values() if row.kind == drive.row.kind and float(row.thread_mm) <= thick]
        for row in sorted(fits, key=lambda row: -row.thread_mm)[:2]:
            yield worded(drive.of.assembly, ("screws", "size"), row.name, f"Take {row.name}s")


def _advice(asked: Asked, drive: Drive, near: Near) -> str:
    manner = asked.build.manner
    size = float(asked.build.part(near.part).size[near.axis])
    if 2 * near.wanted > size:
        thick = float(drive.of.diameter) * size / 2 / near.wanted
        fits = [row for row in screws().values() if drive.row and row.kind == drive.row.kind and row.thread_mm <= thick]
        such = f", such as a {max(fits, key=lambda row: row.thread_mm).name}," if fits else ""
        return f"Take a screw no thicker than {thin(thick, manner)}{such} and set it in the middle."
    return f"Set it {at_least(near.wanted, manner)} or more from the {SIDES[near.axis]} of {near.part}."


CHECK = Check("screw-place", "Are screws and nails far enough from edges and ends?", run, TABLE)
