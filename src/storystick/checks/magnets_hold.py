"""Magnets hold: what disc magnets pull with across their gap, and what is left of it against sliding."""

from collections.abc import Iterator

from storystick.checks.saying import G_N_PER_KG, kg, small
from storystick.checks.stated import worded
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.joining import Item
from storystick.model.part import Assembly
from storystick.physics.magnets import pull_on_plate_n, sideways_hold_n
from storystick.shop.tables import find, magnet_grades, magnets
from storystick.shop.tables.rows import Magnet

GRADE = "n35"  # the weakest that is sold
KNOCK_KG = 2.0
IMAGE = Source(
    "textbook magnetostatics, image method, weakest grade, thick flat steel; 0.15 of it sideways; 2 kg is practice",
    "memory",
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every assembly that magnets keep in its place."""
    for one in asked.build.assemblies:
        discs = [
            (item, row)
            for item in asked.build.items
            if item.name in one.held_by and (row := find(magnets(), item.kind)) is not None
        ]
        if discs:
            yield _finding(asked, one, discs)


def gap_mm(asked: Asked, item: Item) -> float:
    """What lies between a magnet and the underside that it is let into [mm]; a tenth for a coat of finish at least."""
    return max(0.1, float(item.box[0][2])) if item.box else 0.1


def _finding(asked: Asked, one: Assembly, discs: list[tuple[Item, Magnet]]) -> Finding:
    manner, remanence = asked.build.manner, magnet_grades()[GRADE].remanence_low_t
    gaps = [gap_mm(asked, item) for item, _ in discs]
    pulls = [
        pull_on_plate_n(remanence, float(row.diameter_mm), float(row.thick_mm), gap)
        for (_, row), gap in zip(discs, gaps, strict=True)
    ]
    pull, weight = sum(pulls), asked.scene.weight_of(one.name)
    slides = sideways_hold_n(pull) / G_N_PER_KG
    said = (
        f"{len(discs)} magnets ({discs[0][0].said}) pull {one.name}, which weighs {kg(weight, manner)}, with "
        f"{kg(pull / G_N_PER_KG, manner)} across {small(max(gaps), manner)}, and keep it from sliding with "
        f"{kg(slides, manner)}."
    )
    if slides >= KNOCK_KG:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", IMAGE, slides, KNOCK_KG, "kg", (one.name,))
    said += f" A knock of {kg(KNOCK_KG, manner)} shifts it."
    advice = (
        "Take larger or more magnets, or give it strips below that keep it from sliding: magnets are weak sideways."
    )
    tries = tuple(_larger(asked, one, discs, remanence, gaps))
    return Finding(
        CHECK.code, Grade.CARE, one.place, said, advice, IMAGE, slides, KNOCK_KG, "kg", (one.name,), None, tries
    )  # fmt: skip


def _larger(
    asked: Asked, one: Assembly, discs: list[tuple[Item, Magnet]], remanence: float, gaps: list[float]
) -> Iterator[Mend]:
    """The smallest discs of the table that hold well enough, of those that the shop has a bit for, three at most."""
    bits = {drill.diameter for drill in asked.shop.drills}
    rows = [row for row in magnets().values() if row.diameter_mm in bits]
    left = 3
    for row in sorted(rows, key=lambda row: (row.diameter_mm, row.thick_mm)):
        size = (float(row.diameter_mm), float(row.thick_mm))
        pull = sum(pull_on_plate_n(remanence, *size, gap) for gap in gaps)
        if left and sideways_hold_n(pull) / G_N_PER_KG >= KNOCK_KG:
            left -= 1
            name = row.name.removesuffix(" disc")
            yield worded(one.name, ("disc",), name, f"Take discs of {name}")


CHECK = Check("magnets-hold", "Do the magnets hold what they are to hold, also against sliding?", run, IMAGE)
