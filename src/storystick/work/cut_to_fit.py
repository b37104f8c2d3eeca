"""What is cut to fit from a dry fit or at the place, and layers that are glued face to face and trimmed as one."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from storystick.ground.dim import Dim
from storystick.model.cutting import Way
from storystick.model.follows import followed
from storystick.model.part import Part
from storystick.model.work import Setup, Stage
from storystick.shop.tables import glues
from storystick.work.bench import Bench
from storystick.work.clamping import APART, GLUE
from storystick.work.jobs import Job, Line
from storystick.work.openings import is_measured
from storystick.work.saws import AS_MEASURED, FROM_DRY_FIT, Sawn, saw_for
from storystick.work.saying import all_called, and_of, called, cap, many, said, spoken
from storystick.work.ways import minutes, sets_for, setup

IN_PLACE = ("Measure the place once more, and cut these to what you measure: the sizes printed here are provisional.",)


def fitting(bench: Bench, sawn: Sawn) -> Iterator[Job]:
    """What did not come off the saw at its last size: cut to what was measured in a dry fit, or at the place itself."""
    for target in dict.fromkeys(bench.fitted.values()):
        parts = tuple(p for p in bench.build.parts if bench.fitted.get(p.name) == target and _left(p, sawn))
        if not parts:
            continue
        waits = {key for part in parts for key in sawn.by.get(part.name, ())}
        lines = tuple(_fit_lines(bench, parts, sawn))
        yield Job(
            f"fit {target}",
            Stage.SAW,
            f"Cut what goes into {spoken(target)} to fit" if target else "Cut to fit the place itself",
            ((FROM_DRY_FIT,) if any(AS_MEASURED in line.at for line in lines) else ()) if target else IN_PLACE,
            parts,
            _fit_setups(bench, parts, sawn),
            after=(*((bench.dry_key(target),) if target else ("measure",)), *sorted(waits)),
            reads=() if target else openings_of(bench, parts),
            check="Try the first one in its place before cutting the others.",
            hands_on=minutes("rip")[1] * sum(len(_left(p, sawn)) for p in parts)
            + (minutes("measure")[1] * 3 if not target else 0),
            why_here=(
                f"after the dry fit: the real opening of {spoken(target)} is what they must fit"
                if target
                else "these are cut to what is really there"
            ),
            lines=lines,
        )


def openings_of(bench: Bench, parts: Sequence[Part]) -> tuple[str, ...]:
    """Names of the numbers that parts are cut to."""
    asked = tuple(dict.fromkeys(f"{p.fit_to}.opening" for p in parts))
    known = tuple(name for name in bench.build.pages if name.startswith(asked))
    wanted = {name for part in parts for names in followed(part, bench.build) for name in names}
    return tuple(name for name in known if name in wanted) or known


def _left(part: Part, sawn: Sawn | None) -> set[str]:
    """Which of a part's sizes are still to be cut."""
    return {"length", "width"} - (sawn.done.get(part.name, set()) if sawn else set())


def _fit_lines(bench: Bench, parts: Sequence[Part], sawn: Sawn | None = None) -> Iterator[Line]:
    """What is cut at each setting: rips first, the widest first; then crosscuts."""
    for word, dim, like in _fit_sizes(parts, sawn):
        name = _set_by(bench, word, dim, like)[1]
        yield Line(all_called(like, bench.build), at=f"{cap(name)} {said(dim, bench.build)}{_fits(bench, word, like)}")


def _set_by(bench: Bench, word: str, dim: Dim, like: Sequence[Part]) -> tuple[str, str]:
    """The saw that takes it, and what is set on it: the fence or the stop, or a line where it runs along a rail."""
    way = Way.RIP if word == "fence" else Way.CROSSCUT
    saw = saw_for(bench.shop, way, [(way, dim.value if way is Way.RIP else max(part.width.value for part in like))])
    kind = saw.kind if saw else "saw"
    return kind, "line" if kind in ("track saw", "circular saw") else word


def _fits(bench: Bench, word: str, like: Sequence[Part]) -> str:
    size = "width" if word == "fence" else "length"
    return AS_MEASURED if any(is_measured(bench, part, size) for part in like) else ""


def _fit_sizes(parts: Sequence[Part], sawn: Sawn | None) -> Iterator[tuple[str, Dim, list[Part]]]:
    for word, size in (("fence", "width"), ("stop", "length")):
        by: dict[Fraction, list[Part]] = {}
        for part in parts:
            if size in _left(part, sawn):
                by.setdefault((part.width if size == "width" else part.length).value, []).append(part)
        for value in sorted(by, reverse=True):
            like = by[value]
            yield word, like[0].width if size == "width" else like[0].length, like


def _fit_setups(bench: Bench, parts: Sequence[Part], sawn: Sawn | None = None) -> tuple[Setup, ...]:
    found = {}
    for word, dim, like in _fit_sizes(parts, sawn):
        kind, name = _set_by(bench, word, dim, like)
        where = "from the edge, kerf beyond the line" if name == "line" else "from the blade"
        says = f"{name} {said(dim, bench.build)} {where}{_fits(bench, word, like)}"
        one = setup(kind, "saw blade", name, dim, says)
        found[one.key] = one
    return tuple(found.values())


def layering(bench: Bench, sawn: dict[str, list[str]]) -> Iterator[Job]:
    """Layers glued face to face, and then trimmed to their size as one."""
    set_up, each = minutes("laminate")
    row = glues()[GLUE]
    for number, parts in enumerate(bench.layered, 1):
        waits = tuple(sorted({key for p in parts for key in sawn.get(p.name, ())}))
        count = sum(p.layers for p in parts)
        names = tuple(p.name for p in parts)
        letters = and_of(dict.fromkeys(p.letter or called(p, bench.build) for p in parts))
        size = f"{said(parts[0].length, bench.build)} x {said(parts[0].width, bench.build)}"
        yield Job(
            f"layers {number}",
            Stage.GLUE,
            f"Glue up the layers {letters}",
            (
                f"Spread glue over the whole of one face, lay the {many(count, 'layer')} together, best faces out.",
                "Two brads in the waste keep them from sliding; clamp from the middle outwards.",
            ),
            parts,
            after=waits,
            shows=names,
            new=names,
            check="No gap along the edges, and no twist: sight along it with winding sticks.",
            needs=("clamps and cauls",),
            hands_on=set_up + each * (count - 1),
            waits=sets_for("laminate", row.clamp_min),
            clamps=2 * max(2, ceil(parts[0].length.value / APART)),
            opening=2 * sum((p.thickness.value * p.layers for p in parts), Fraction(0)),
            bench=True,
            whole=True,
            why_here="one thick board before anything is cut in it",
        )
        yield Job(
            f"trim {number}",
            Stage.SAW,
            f"Trim {letters} to size",
            (f"One edge straight first, then to {size} all layers together.",),
            parts,
            _fit_setups(bench, parts[:1]),
            after=(f"layers {number}",),
            check="Diagonals equal.",
            hands_on=sum(minutes("rip")) * 2,
            why_here="layers never stay flush in the clamps, so they were cut oversize",
        )
