"""Putting together: dry fits, parts cut to fit from them, glue-ups from the inside out, with clamps and open time."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Assembly, Part
from storystick.model.work import Setup, Stage
from storystick.shop.tables import glues
from storystick.work.bench import Bench
from storystick.work.jobs import Job
from storystick.work.peeling import Closing, closings
from storystick.work.saying import all_called, and_of, called, many, said, spoken
from storystick.work.ways import minutes, setup

GLUE = "yellow glue"
SLOW = "slow white glue"
A_JOINT = 1.0
SPREADING = practice("it takes about a minute to spread glue on a joint and bring it home")
APART = Fraction(250)
CLAMPING = practice("a clamp every 250 mm (10 in) along a joint, two at least; screws and nails are clamps themselves")
AXES = ("side to side", "front to back", "up and down")


def fitting(bench: Bench, sawn: dict[str, list[str]]) -> Iterator[Job]:
    """For each assembly that others are cut to fit from: measure it while it is clamped together dry, and cut them."""
    for target in dict.fromkeys(bench.fitted.values()):
        parts = tuple(p for p in bench.build.parts if bench.fitted.get(p.name) == target)
        waits = {key for part in parts for key in sawn.get(part.name, ())}
        first, each = minutes("crosscut")
        reads = tuple(
            name
            for name in bench.build.pages
            if any(name.startswith(f"{to}.opening") for to in dict.fromkeys(p.fit_to for p in parts))
        )
        yield Job(
            f"fit {target}",
            Stage.SAW,
            f"Measure {spoken(target)} and cut what goes in to fit",
            (
                "Measure the openings at both ends while it is clamped together dry, and write the sizes down.",
                "Where they differ from the plan, work with what you measured: the sizes printed here are provisional.",
                *(_fit_line(bench, part) for part in _unlike(parts)),
            ),
            parts,
            _fit_setups(bench, parts),
            after=(f"dry fit {target}", *sorted(waits)),
            reads=reads,
            check="Try the first one in its place before cutting the others.",
            hands_on=first + 2 * each * len(parts) + minutes("measure")[1] * max(1, len(reads)),
            why_here=f"after the dry fit: the real opening of {spoken(target)} is what they must fit",
        )


def _unlike(parts: Sequence[Part]) -> list[Part]:
    return list({(p.letter or p.name): p for p in parts}.values())


def _fit_line(bench: Bench, part: Part) -> str:
    size = f"{said(part.length, bench.build)} x {said(part.width, bench.build)}"
    return f"{called(part, bench.build)}: {size} if everything came out as planned."


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
    """Each assembly of more than one part, together without glue."""
    set_up, each = minutes("dry fit")
    for one in bench.build.assemblies:
        parts = _firm(bench, one)
        if len(bench.parts_of(one.name)) < 2:
            continue
        waits = sorted({key for part in parts for key in sanded.get(part.name, ())})
        names = tuple(p.name for p in parts)
        yield Job(
            f"dry fit {one.name}",
            Stage.DRY_FIT,
            f"Dry-fit {spoken(one.name)}",
            (
                f"Put {all_called(parts, bench.build)} together without glue, in the clamps of the glue-up.",
                "Draw a triangle across the parts so that they can go together only one way.",
            ),
            parts,
            after=tuple(waits),
            shows=names,
            new=names,
            check="Joints close by hand, diagonals equal, no twist.",
            hands_on=set_up + each * max(1, len(_joints(bench, one.name))),
            why_here="what does not fit is still easy to mend",
        )


def _firm(bench: Bench, one: Assembly) -> tuple[Part, ...]:
    return tuple(p for p in bench.parts_of(one.name) if bench.fitted.get(p.name) != one.name)


def _joints(bench: Bench, assembly: str) -> list[Joined]:
    of = bench.build.parts_by_name
    return [j for j in bench.build.joints if of[j.host].assembly == of[j.guest].assembly == assembly]


def goes(bench: Bench, assembly: str) -> list[Closing]:
    """The goes in which an assembly is closed, as many joints at once as the glue leaves time for."""
    layered = [{p.name for p in group} for group in bench.layered]
    joints = [j for j in _joints(bench, assembly) if not any({j.host, j.guest} <= group for group in layered)]
    most = int(glues()[GLUE].open_min / A_JOINT)
    merged: list[Closing] = []
    for one in closings([p.name for p in bench.parts_of(assembly)], joints):
        last = merged[-1] if merged else None
        if last and len(last.joints) + len(one.joints) <= most:
            merged[-1] = Closing(last.parts + one.parts, last.joints + one.joints, None)
        elif one.parts:
            merged.append(one)
    return merged


def gluing(bench: Bench, ready: dict[str, list[str]], findings: list[Finding]) -> Iterator[Job]:
    """The glue-ups of every assembly, one go after the other; `ready` says what must have been done to each part."""
    for one in bench.build.assemblies:
        before: tuple[str, ...] = (f"dry fit {one.name}",)
        on: list[str] = []
        in_place = sorted({k for p in bench.parts_of(one.name) for k in ready.get(p.name, ())})
        for number, go in enumerate(goes(bench, one.name), 1):
            on.extend(go.parts)
            key = f"glue {one.name} {number}"
            yield _go(bench, one, go, key, (*before, *in_place), tuple(on), findings)
            before = (key,)


def _go(
    bench: Bench,
    one: Assembly,
    go: Closing,
    key: str,
    after: tuple[str, ...],
    on: tuple[str, ...],
    findings: list[Finding],
) -> Job:
    parts = tuple(bench.build.part(name) for name in go.parts)
    glued = [j for j in go.joints if j.glued]
    fasteners = bench.fasteners_of(go.joints)
    row = glues()[GLUE]
    needed, needs = clamps_for(bench, one, go, findings) if glued else (0, ())
    late = bool(glued) and len(glued) * A_JOINT > row.open_min
    dry = [j for j in go.joints if not j.glued]
    does = [f"{'Glue' if glued else 'Join'} {all_called(parts, bench.build)}{_way_words(go)}."]
    if dry and glued:
        loose = dict.fromkeys(called(bench.build.part(j.guest), bench.build) for j in dry)
        does.append(f"No glue on {and_of(loose)}: it goes in dry.")
    does.extend(_drive_lines(bench, fasteners))
    if late:
        says = f"{many(len(glued), 'joint')} at about a minute each outlast {GLUE} ({row.open_min:g} min open)"
        does.append(f"{says}: take {SLOW} ({glues()[SLOW].open_min:g} min), or have a helper spread.")
    if glued:
        does.append("Wipe off what squeezes out before it skins over.")
    drive = minutes("drive screw")[1] * len(fasteners)
    set_up, each = minutes("glue-up")
    return Job(
        key,
        Stage.GLUE if glued else Stage.ASSEMBLE,
        f"{'Glue up' if glued else 'Put together'} {spoken(one.name)}"
        + (f", {_last_words(parts)}" if _last_words(parts) else ""),
        tuple(does),
        parts,
        after=after,
        shows=on,
        new=go.parts,
        check="Diagonals equal and no twist before the glue grabs." if glued else "Square and flush.",
        needs=needs,
        hands_on=(set_up if glued else 1.0)
        + each * len(go.joints)
        + drive
        + (minutes("check square")[1] if glued else 0),
        waits=int(row.clamp_min) if glued and needed else 0,
        why_here=_why(one, go, on),
    )


def _last_words(parts: Sequence[Part]) -> str:
    roles = list(dict.fromkeys(p.role for p in parts))
    return and_of(f"{role}s" if sum(p.role == role for p in parts) > 1 else role for role in roles[:3])


def _way_words(go: Closing) -> str:
    return f", closing {AXES[go.axis]}" if go.axis is not None else ""


def _why(one: Assembly, go: Closing, on: Sequence[str]) -> str:
    if len(on) == len(go.parts):
        return "the inside goes together first, while there is room for clamps"
    return "these close it from outside, so they go on after what is between them"


def _drive_lines(bench: Bench, fasteners: Sequence[Fastener]) -> Iterator[str]:
    counts: dict[tuple[str, Fraction, str], int] = {}
    for one in fasteners:
        word = "Drive" if one.kind in ("screw", "pocket screw", "lag screw", "nail", "brad") else "Put in"
        key = (one.row, one.length.value, word)
        counts[key] = counts.get(key, 0) + 1
    for (row, long, word), count in counts.items():
        yield f"{word} {count} x {row}, {show(long, bench.build.manner)} long, while the clamps hold."


def clamps_for(bench: Bench, one: Assembly, go: Closing, findings: list[Finding]) -> tuple[int, tuple[str, ...]]:
    """How many clamps a go wants and how far they must open, held against those of the shop. Source: CLAMPING."""
    wanted = 0
    opening = Fraction(0)
    sides: dict[tuple[int, int], int] = {}
    for joint in go.joints:
        if not joint.glued or {"screws", "nails"} & set(joint.holds) or bench.fasteners_of((joint,)):
            continue
        guest = bench.build.part(joint.guest)
        along = max(guest.along(a).value for a in range(3) if a != joint.axis)
        sides[joint.axis, joint.sign] = sides.get((joint.axis, joint.sign), 0) + max(2, ceil(along / APART))
        opening = max(opening, one.size[joint.axis].value)
    for axis in range(3):
        wanted += max(sides.get((axis, 1), 0), sides.get((axis, -1), 0))
    if not wanted:
        return 0, ()
    owned = sum(c.count for c in bench.shop.clamps if c.opening >= opening)
    wide = show(opening, bench.build.manner)
    words = f"{many(wanted, 'clamp')} that open {wide} (you have {owned})"
    if owned < wanted:
        findings.append(
            Finding(
                "few-clamps",
                Grade.NOTE,
                one.place,
                f"Gluing up {spoken(one.name)} wants {many(wanted, 'clamp')} that open {wide}; the shop has {owned}.",
                f"Get {wanted - owned} more, glue it in more goes, or put a screw where it does not show.",
                CLAMPING,
                wanted,
                owned,
                "clamps",
                go.parts,
            )
        )
    return wanted, (words, GLUE)
