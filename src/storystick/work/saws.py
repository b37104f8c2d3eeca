"""Which saw does what, what has been sawn, and parts that no layout has."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.cutting import Way
from storystick.model.part import Part
from storystick.model.work import Stage
from storystick.shop.shop import Saw, Shop
from storystick.work.bench import Bench, caution
from storystick.work.jobs import Job
from storystick.work.saying import called, cap
from storystick.work.ways import minutes

BREAKING = ("track saw", "circular saw", "table saw")
AS_MEASURED = ", or as measured"
FROM_DRY_FIT = (
    "What is set as measured is provisional: by what the openings came out wider or narrower, higher or lower than "
    "planned in the dry fit, it differs too."
)


@dataclass(slots=True)
class Sawn:
    """Filled while the jobs are made.

    by    which jobs free which part
    done  which sizes of parts that are cut to fit come off the saw at what was measured: "length", "width", by name
    """

    by: dict[str, list[str]] = field(default_factory=dict)
    done: dict[str, set[str]] = field(default_factory=dict)


def saw_for(shop: Shop, way: Way | None, reaches: Sequence[tuple[Way, Fraction]] = ()) -> Saw | None:
    """The saw for a run of cuts: what breaks sheets down for None, else what rips or crosscuts to a setting.

    reaches  how far each cut goes, so that no sheet is pushed through a saw that can't take it
    """
    kinds: tuple[str, ...] = BREAKING
    if way is not None:
        kinds = ("table saw", *BREAKING) if way is Way.RIP else ("table saw", "mitre saw", *BREAKING)
    saws = [saw for kind in kinds for saw in shop.saws_of(kind)]
    fitting = [saw for saw in saws if all(_takes(saw, one, far) for one, far in reaches)]
    return next(iter(fitting or saws or shop.saws), None)


def _takes(saw: Saw, way: Way, far: Fraction) -> bool:
    most = saw.rip if way is Way.RIP else saw.crosscut
    return most is None or far <= most


def without_layout(bench: Bench, name: str, parts: list[Part], sawn: Sawn) -> Job:
    manner, key = bench.build.manner, f"saw {name} to size"
    does = []
    for part in {p.letter or p.name: p for p in parts}.values():
        like = [p for p in parts if (p.letter or p.name) == (part.letter or part.name)]
        size = f"{show(part.length.value, manner)} x {show(part.width.value, manner)}"
        does.append(f"{cap(called(part, bench.build))}: {size}" + (f", {len(like)} of them." if len(like) > 1 else "."))
    for part in parts:
        sawn.by[part.name] = [key]
    first, each = minutes("crosscut")
    return Job(
        key,
        Stage.SAW,
        f"Saw {name} to size",
        tuple(does),
        tuple(parts),
        after=("measure",),
        new=tuple(p.name for p in parts),
        check="Measure the first piece at each setting before cutting the others.",
        cautions=(caution("spreader"),),
        hands_on=first + 2 * each * len(parts),
        why_here="parts of like size are cut at one setting",
    )
