"""Putting together: dry fits, parts cut to fit from them, glue-ups from the inside out, with clamps and open time."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.ground.finding import Finding
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Assembly, Part
from storystick.model.work import Setup, Stage
from storystick.shop.tables import glues
from storystick.work.bench import Bench
from storystick.work.clamping import GLUE, clamps_for
from storystick.work.jobs import Job
from storystick.work.peeling import Closing, closings
from storystick.work.saying import all_called, and_of, called, many, plural, said, spoken
from storystick.work.ways import minutes, setup

SLOW = "slow white glue"
A_JOINT = 1.0
SPREADING = practice("it takes about a minute to spread glue on a joint and bring it home")
MOST_WORDS = 5
IN_DRY_FIT = (
    "Measure the openings at both ends while it is clamped together dry, and write the sizes down.",
    "Where they differ from the plan, work with what you measured: the sizes printed here are provisional.",
)
IN_PLACE = ("Measure the place once more, and cut these to what you measure: the sizes printed here are provisional.",)
AXES = ("side to side", "front to back", "up and down")


def fitting(bench: Bench, sawn: dict[str, list[str]]) -> Iterator[Job]:
    """What is cut to fit: from each assembly while it is clamped together dry, and from the place itself."""
    for target in dict.fromkeys(bench.fitted.values()):
        parts = tuple(p for p in bench.build.parts if bench.fitted.get(p.name) == target)
        waits = {key for part in parts for key in sawn.get(part.name, ())}
        first, each = minutes("crosscut")
        openings = tuple(dict.fromkeys(p.fit_to for p in parts))
        reads = tuple(n for n in bench.build.pages if any(n.startswith(f"{to}.opening") for to in openings))
        yield Job(
            f"fit {target}",
            Stage.SAW,
            f"Measure {spoken(target)} and cut what goes in to fit" if target else "Cut to fit the place itself",
            (*(IN_DRY_FIT if target else IN_PLACE), *_fit_lines(bench, parts)),
            parts,
            _fit_setups(bench, parts),
            after=(*((bench.dry_key(target),) if target else ("measure",)), *sorted(waits)),
            reads=reads,
            check="Try the first one in its place before cutting the others.",
            hands_on=first + 2 * each * len(parts) + minutes("measure")[1] * max(1, len(reads)),
            why_here=(
                f"after the dry fit: the real opening of {spoken(target)} is what they must fit"
                if target
                else "these are cut to what is really there"
            ),
        )


def _fit_lines(bench: Bench, parts: Sequence[Part]) -> Iterator[str]:
    """Parts by their size as planned, those of one size together."""
    sizes: dict[str, list[Part]] = {}
    for part in parts:
        sizes.setdefault(f"{said(part.length, bench.build)} x {said(part.width, bench.build)}", []).append(part)
    for size, like in sizes.items():
        yield f"{size} if everything came out as planned: {all_called(like, bench.build)}."


def _fit_setups(bench: Bench, parts: Sequence[Part]) -> tuple[Setup, ...]:
    saw = next(iter(bench.shop.saws_of("table saw", "track saw", "circular saw")), None)
    kind = saw.kind if saw else "saw"
    found = {}
    for part in parts:
        for word, dim in (("stop", part.length), ("fence", part.width)):
            one = setup(kind, "saw blade", word, dim, f"{word} {said(dim, bench.build)} from the blade, or as measured")
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
        size = f"{said(parts[0].length, bench.build)} x {said(parts[0].width, bench.build)}"
        yield Job(
            f"layers {number}",
            Stage.GLUE,
            f"Glue up the layers of {all_called(parts, bench.build)}",
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
            waits=int(row.clamp_min),
            why_here="one thick board before anything is cut in it",
        )
        yield Job(
            f"trim {number}",
            Stage.SAW,
            f"Trim {all_called(parts, bench.build)} to size",
            (f"One edge straight first, then to {size} all layers together.",),
            parts,
            _fit_setups(bench, parts[:1]),
            after=(f"layers {number}",),
            check="Diagonals equal.",
            hands_on=sum(minutes("rip")) * 2,
            why_here="layers never stay flush in the clamps, so they were cut oversize",
        )


def dry_fits(bench: Bench, sanded: dict[str, list[str]]) -> Iterator[Job]:
    """Each assembly of more than one part, together without glue; those that are alike one after the other."""
    set_up, each = minutes("dry fit")
    for group in bench.alike:
        parts = tuple(part for one in group for part in _firm(bench, one))
        if len(bench.parts_of(group[0].name)) < 2:
            continue
        waits = sorted({key for part in parts for key in sanded.get(part.name, ())})
        names = tuple(p.name for p in parts)
        joints = sum(len(_joints(bench, one.name)) for one in group)
        yield Job(
            bench.dry_key(group[0].name),
            Stage.DRY_FIT,
            f"Dry-fit {_all_spoken(group)}",
            (
                f"Put {all_called(parts, bench.build)} together without glue, in the clamps of the glue-up.",
                "Draw a triangle across the parts so that they can go together only one way.",
            ),
            parts,
            after=tuple(waits),
            shows=names,
            new=names,
            check="Joints close by hand, diagonals equal, no twist.",
            hands_on=set_up + each * max(1, joints),
            why_here="what does not fit is still easy to mend",
        )


def _all_spoken(group: Sequence[Assembly]) -> str:
    """One assembly, or several that are alike: "drawers 1 to 3 of the cabinet"."""
    if len(group) == 1:
        return spoken(group[0].name)
    outer = group[0].name.rpartition(".")[0]
    owns = [one.name.rpartition(".")[2] for one in group]
    return and_of(owns) + (f" of {spoken(outer)}" if outer else "")


def _firm(bench: Bench, one: Assembly) -> tuple[Part, ...]:
    return tuple(p for p in bench.parts_of(one.name) if bench.fitted.get(p.name) != one.name)


def _joints(bench: Bench, assembly: str) -> list[Joined]:
    of = bench.build.parts_by_name
    return [j for j in bench.build.joints if of[j.host].assembly == of[j.guest].assembly == assembly]


def goes(bench: Bench, assembly: str) -> list[Closing]:
    """The goes in which an assembly is closed, as many glued joints at once as the glue leaves time for."""
    layered = [{p.name for p in group} for group in bench.layered]
    joints = [j for j in _joints(bench, assembly) if not any({j.host, j.guest} <= group for group in layered)]
    most = int(glues()[GLUE].open_min / A_JOINT)
    merged: list[Closing] = []
    for one in closings([p.name for p in bench.parts_of(assembly)], joints, bench.ways_out):
        last = merged[-1] if merged else None
        if last and _glued(last) + _glued(one) <= most and (_glued(one) or not _glued(last)):
            merged[-1] = Closing(last.parts + one.parts, last.joints + one.joints, None)
        else:
            merged.append(one)
    return merged


def _glued(go: Closing) -> int:
    return sum(joint.glued for joint in go.joints)


def gluing(bench: Bench, ready: dict[str, list[str]], findings: list[Finding]) -> Iterator[Job]:
    """The glue-ups of every assembly, one go after the other; `ready` says what must have been done to each part."""
    for group in bench.alike:
        each = [goes(bench, one.name) for one in group]
        before: tuple[str, ...] = (bench.dry_key(group[0].name),)
        done = sorted({k for one in group for p in bench.parts_of(one.name) for k in ready.get(p.name, ())})
        on: list[str] = []
        for number, at_once in enumerate(zip(*each, strict=True), 1):
            on.extend(name for go in at_once for name in go.parts)
            key = bench.glue_key(group[0].name, number)
            yield _go(bench, group, at_once, key, (*before, *done), tuple(on), findings)
            before = (key,)


def _go(
    bench: Bench,
    group: Sequence[Assembly],
    at_once: Sequence[Closing],
    key: str,
    after: tuple[str, ...],
    on: tuple[str, ...],
    findings: list[Finding],
) -> Job:
    go = at_once[0]
    names = tuple(name for one in at_once for name in one.parts)
    parts = tuple(bench.build.part(name) for name in names)
    glued = [j for j in go.joints if j.glued]
    fasteners = [f for one in at_once for f in bench.fasteners_of(one.joints)]
    row = glues()[GLUE]
    needed, needs = clamps_for(bench, group[0], go, findings) if glued else (0, ())
    dry = [j for j in go.joints if not j.glued]
    does = [f"{'Glue' if glued else 'Join'} {all_called(parts, bench.build)}{_way_words(go)}."]
    if len(group) > 1 and glued:
        does.append("One after the other: the clamps move on when the one before has set.")
    if dry and glued:
        loose = dict.fromkeys(
            called(bench.build.part(j.guest), bench.build) for one in at_once for j in one.joints if not j.glued
        )
        does.append(f"No glue on {and_of(loose)}.")
    does.extend(_drive_lines(bench, fasteners))
    if len(glued) * A_JOINT > row.open_min:
        says = f"{many(len(glued), 'joint')} at about a minute each outlast {GLUE} ({row.open_min:g} min open)"
        does.append(f"{says}: take {SLOW} ({glues()[SLOW].open_min:g} min), or have a helper spread.")
    if glued:
        does.append("Wipe off what squeezes out before it skins over.")
    drive = minutes("drive screw")[1] * len(fasteners)
    set_up, each = minutes("glue-up")
    once = (set_up if glued else 1.0) + each * len(go.joints) + (minutes("check square")[1] if glued else 0)
    whole = "" if len(on) == len(names) and key.endswith(" 1") and _is_all(bench, group, names) else _last_words(parts)
    return Job(
        key,
        Stage.GLUE if glued else Stage.ASSEMBLE,
        f"{'Glue up' if glued else 'Put together'} {_all_spoken(group)}" + (f": {whole}" if whole else ""),
        tuple(does),
        parts,
        after=after,
        shows=on,
        new=names,
        check="Diagonals equal and no twist before the glue grabs." if glued else "Square and flush.",
        needs=needs,
        hands_on=once * len(group) + drive,
        waits=int(row.clamp_min) if glued and needed else 0,
        why_here=_why(go, len(on) == len(names)),
    )


def _is_all(bench: Bench, group: Sequence[Assembly], names: Sequence[str]) -> bool:
    return len(names) == sum(len(bench.parts_of(one.name)) for one in group)


def _last_words(parts: Sequence[Part]) -> str:
    roles = list(dict.fromkeys(p.role for p in parts))
    words = [plural(role) if sum(p.role == role for p in parts) > 1 else role for role in roles]
    return and_of(words if len(words) <= MOST_WORDS else [*words[: MOST_WORDS - 1], "more"])


def _way_words(go: Closing) -> str:
    return f", closing {AXES[go.axis]}" if go.axis is not None else ""


def _why(go: Closing, first: bool) -> str:
    if first:
        return "the inside goes together first, while there is room for clamps"
    return "these close it from outside, so they go on after what is between them"


def _drive_lines(bench: Bench, fasteners: Sequence[Fastener]) -> Iterator[str]:
    counts: dict[tuple[str, Fraction, str], int] = {}
    for one in fasteners:
        word = "Drive" if one.kind in ("screw", "pocket screw", "lag screw", "nail", "brad") else "Put in"
        key = (one.row, one.length.value, word)
        counts[key] = counts.get(key, 0) + 1
    for (row, long, word), count in counts.items():
        yield f"{word} {count} x {row}, {show(long, bench.build.manner)} long."
