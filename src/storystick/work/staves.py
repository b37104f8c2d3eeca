"""Parts wider than any board: staves jointed, glued up edge to edge, and trimmed to size when dry."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from storystick.ground.length import show
from storystick.model.work import Cutting, Stage, Staves
from storystick.shop.tables import glues
from storystick.work.bench import Bench
from storystick.work.clamping import APART, GLUE
from storystick.work.jobs import Job
from storystick.work.saying import called, many, said
from storystick.work.ways import minutes, sets_for


def gluing_up(bench: Bench, sawn: dict[str, list[str]]) -> Iterator[Job]:
    """Two jobs for each part made of staves; what comes after waits for the second, which `sawn` then names."""
    for cutting in bench.cuttings:
        for number, staves in enumerate(cutting.staves, 1):
            if staves.part in bench.build.parts_by_name:
                yield from _one(bench, cutting, number, staves, sawn)


def _one(bench: Bench, cutting: Cutting, number: int, staves: Staves, sawn: dict[str, list[str]]) -> Iterator[Job]:
    part, manner = bench.build.part(staves.part), bench.build.manner
    name = part.letter or called(part, bench.build)
    set_up, each = minutes("laminate")
    glued, trimmed = f"staves {cutting.stock.name} {number}", f"trim staves {cutting.stock.name} {number}"
    half = show(staves.jointed / 2, manner)
    yield Job(
        glued,
        Stage.GLUE,
        f"Glue up {name} out of {many(staves.count, 'stave')}",
        (
            f"Joint both edges of each stave, {half} off each, faces turned to and fro so that errors cancel.",
            "Lay them out with the grain running one way, mark a triangle across them, and try them dry: no light "
            "between them.",
            "Glue on one edge of each pair; clamps above and below in turn, tightened until glue beads all along.",
        ),
        (part,),
        after=tuple(sorted(set(sawn.get(part.name, ())))),
        shows=(part.name,),
        new=(part.name,),
        check="Flat across: a straightedge touches every stave.",
        needs=("clamps and cauls",),
        hands_on=set_up + each * staves.count,
        waits=sets_for("laminate", glues()[GLUE].clamp_min),
        clamps=max(2, ceil(staves.long / APART)),
        opening=part.width.value + 2 * staves.jointed + Fraction(50),
        bench=True,
        whole=True,
        why_here="no board is as wide as this part",
    )
    yield Job(
        trimmed,
        Stage.SAW,
        f"Trim {name} to size",
        (
            "Scrape the glue off, plane or sand both faces flat.",
            f"One edge straight first, then {said(part.width, bench.build)} wide, then "
            f"{said(part.length, bench.build)} long.",
        ),
        (part,),
        after=(glued,),
        check="Diagonals equal.",
        hands_on=sum(minutes("rip")) * 2,
        why_here="staves never stay flush at the ends, so they were cut long",
    )
    sawn.setdefault(part.name, []).append(trimmed)
