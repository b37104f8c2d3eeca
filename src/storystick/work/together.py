"""Putting together: dry fits, parts cut to fit from them, glue-ups from the inside out, with clamps and open time."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from math import ceil

from storystick.ground.dim import Dim
from storystick.ground.finding import Finding
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Assembly, Part
from storystick.model.work import Setup, Stage
from storystick.shop.tables import glues
from storystick.work.bench import Bench
from storystick.work.clamping import APART, GLUE, Clamped, clamps_for
from storystick.work.jobs import Job, Line
from storystick.work.peeling import Closing, closings
from storystick.work.sawing import FROM_DRY_FIT, Sawn
from storystick.work.saying import all_called, and_of, called, cap, many, plural, said, short, spoken
from storystick.work.ways import minutes, setup

SLOW = "slow white glue"
A_JOINT = 1.0
SPREADING = practice("it takes about a minute to spread glue on a joint and bring it home")
MOST_WORDS = 5
IN_DRY_FIT = "Before it comes apart, measure the openings for {} at both ends, and write the sizes down."
IN_PLACE = ("Measure the place once more, and cut these to what you measure: the sizes printed here are provisional.",)
AXES = ("side to side", "front to back", "up and down")


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
            (FROM_DRY_FIT,) if target else IN_PLACE,
            parts,
            _fit_setups(bench, parts, sawn),
            after=(*((bench.dry_key(target),) if target else ("measure",)), *sorted(waits)),
            reads=() if target else _openings(bench, parts),
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


def _openings(bench: Bench, parts: Sequence[Part]) -> tuple[str, ...]:
    """Names of the numbers that parts are cut to."""
    asked = tuple(dict.fromkeys(p.fit_to for p in parts))
    return tuple(n for n in bench.build.pages if any(n.startswith(f"{to}.opening") for to in asked))


def _left(part: Part, sawn: Sawn | None) -> set[str]:
    """Which of a part's sizes are still to be cut."""
    return {"length", "width"} - (sawn.done.get(part.name, set()) if sawn else set())


def _fit_lines(bench: Bench, parts: Sequence[Part], sawn: Sawn | None = None) -> Iterator[Line]:
    """What is cut at each setting: rips first, the widest first; then crosscuts."""
    for word, dim, like in _fit_sizes(parts, sawn):
        yield Line(all_called(like, bench.build), at=f"{cap(word)} {said(dim, bench.build)}, or as measured")


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
    saw = next(iter(bench.shop.saws_of("table saw", "track saw", "circular saw")), None)
    kind = saw.kind if saw else "saw"
    found = {}
    for word, dim, _ in _fit_sizes(parts, sawn):
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
            clamps=2 * max(2, ceil(parts[0].length.value / APART)),
            opening=2 * sum((p.thickness.value * p.layers for p in parts), Fraction(0)),
            bench=True,
            whole=True,
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
        later = [p for p in bench.build.parts if bench.fitted.get(p.name) == one.name]
        reads = _openings(bench, later)
        letters = and_of(dict.fromkeys(p.letter or short(p, bench.build) for p in parts))
        yield Job(
            bench.dry_key(one.name),
            Stage.DRY_FIT,
            "Dry-fit {}" + (" and measure it" if later else ""),
            parts=parts,
            after=tuple(waits),
            shows=names,
            new=names,
            check="Joints close by hand, diagonals equal, no twist.",
            reads=reads,
            hands_on=set_up + each * max(1, len(_joints(bench, one.name))) + minutes("measure")[1] * 2 * len(reads),
            why_here="what does not fit is still easy to mend",
            kin=f"dry fit {bench.first_alike(one.name)}",
            words=(one.name,),
            lines=(
                Line("Put ", f"{spoken(one.name)} ({letters})", " together without glue, in the clamps of the glue-up"),
            ),
            ends=(
                "Draw a triangle across the parts so that they can go together only one way.",
                *((IN_DRY_FIT.format(all_called(later, bench.build)),) if later else ()),
            ),
        )


def _firm(bench: Bench, one: Assembly) -> tuple[Part, ...]:
    """What goes into its dry fit: not what is cut to fit from it, and not what nothing holds, such as loose shelves."""
    parts = [p for p in bench.parts_of(one.name) if bench.fitted.get(p.name) != one.name]
    held = {name for j in bench.build.joints for name in (j.host, j.guest)}
    return tuple([p for p in parts if p.name in held] or parts)


def _joints(bench: Bench, assembly: str) -> list[Joined]:
    of = bench.build.parts_by_name
    return [j for j in bench.build.joints if of[j.host].assembly == of[j.guest].assembly == assembly]


def goes(bench: Bench, assembly: str) -> list[Closing]:
    """The goes in which an assembly is closed, as many glued joints at once as the glue leaves time for."""
    layered = [{p.name for p in group} for group in bench.layered]
    joints = [j for j in _joints(bench, assembly) if not any({j.host, j.guest} <= group for group in layered)]
    given = _as_found(bench, assembly, joints)
    if given:
        return given
    most = int(glues()[GLUE].open_min / A_JOINT)
    merged: list[Closing] = []
    for one in closings([p.name for p in bench.parts_of(assembly)], joints, bench.ways_out):
        last = merged[-1] if merged else None
        if last and _glued(last) + _glued(one) <= most and (_glued(one) or not _glued(last)):
            merged[-1] = Closing(last.parts + one.parts, last.joints + one.joints, None)
        else:
            merged.append(one)
    return merged


def _as_found(bench: Bench, assembly: str, joints: Sequence[Joined]) -> list[Closing]:
    """The goes as an assembly order has them, comings of one go together; none where it does not close every joint."""
    if bench.sequence is None or not bench.sequence.can_be:
        return []
    by_name = {j.name: j for j in joints}
    own = {p.name for p in bench.parts_of(assembly)}
    found: list[Closing] = []
    on: set[str] = set()
    comings = [one for one in bench.sequence.comings if one.assembly == assembly]
    for _, together in groupby(comings, key=lambda one: one.go):
        some = list(together)
        here = [name for one in some for name in (*one.meets, *one.moves) if name in own and name not in on]
        closing = tuple(by_name[name] for one in some for name in one.joints if name in by_name)
        if closing:
            parts = tuple(dict.fromkeys(n for n in here if any(n in (j.host, j.guest) for j in closing)))
            on |= set(parts)
            axes = {j.axis for j in closing}
            found.append(Closing(parts, closing, axes.pop() if len(axes) == 1 else None))
    closed = [j.name for go in found for j in go.joints]
    return found if sorted(closed) == sorted(by_name) else []


def _glued(go: Closing) -> int:
    return sum(joint.glued for joint in go.joints)


def gluing(bench: Bench, ready: dict[str, list[str]], findings: list[Finding]) -> Iterator[Job]:
    """The glue-ups of every assembly, one go after the other; `ready` says what must have been done to each part."""
    for group in bench.alike:
        for one in group:
            before: tuple[str, ...] = (bench.dry_key(one.name),)
            done = sorted({k for p in bench.parts_of(one.name) for k in ready.get(p.name, ())})
            on: list[str] = []
            for number, go in enumerate(goes(bench, one.name), 1):
                on.extend(go.parts)
                job = _go(bench, one, go, number, tuple(on), findings if one is group[0] else [])
                yield replace(job, after=(*before, *done), kin=f"glue {group[0].name} {number}")
                before = (job.key,)


def _go(bench: Bench, one: Assembly, go: Closing, number: int, on: tuple[str, ...], findings: list[Finding]) -> Job:
    parts = tuple(bench.build.part(name) for name in go.parts)
    glued = [j for j in go.joints if j.glued]
    fasteners = bench.fasteners_of(go.joints)
    row = glues()[GLUE]
    wants = clamps_for(bench, one, go, findings) if glued else Clamped()
    dry = [j for j in go.joints if not j.glued]
    lines = [Line(f"{'Glue' if glued else 'Join'} {_called_on(bench, parts, on)}{_way_words(go)}")]
    if dry and glued:
        loose = dict.fromkeys(called(bench.build.part(j.guest), bench.build) for j in dry)
        lines.append(Line("No glue on ", and_of(loose)))
    lines.extend(_drive_lines(bench, fasteners))
    ends = []
    if len(glued) * A_JOINT > row.open_min:
        says = f"{many(len(glued), 'joint')} at about a minute each outlast {GLUE} ({row.open_min:g} min open)"
        ends.append(f"{says}: take {SLOW} ({glues()[SLOW].open_min:g} min), or have a helper spread.")
    if glued:
        ends.append("Wipe off what squeezes out before it skins over.")
    set_up, each = minutes("glue-up")
    once = (set_up if glued else 1.0) + each * len(go.joints) + (minutes("check square")[1] if glued else 0)
    whole = len(go.parts) == len(bench.parts_of(one.name))
    return Job(
        bench.glue_key(one.name, number),
        Stage.GLUE if glued else Stage.ASSEMBLE,
        f"{'Glue up' if glued else 'Put together'} {{}}" + ("" if whole else f": {_last_words(parts)}"),
        parts=parts,
        shows=on,
        new=go.parts,
        check="Diagonals equal and no twist before the glue grabs." if glued else "Square and flush.",
        needs=wants.needs,
        hands_on=once + minutes("drive screw")[1] * len(fasteners),
        waits=int(row.clamp_min) if glued and wants.count else 0,
        why_here=_why(go, number == 1),
        words=(one.name,),
        lines=tuple(lines),
        ends=tuple(ends),
        clamps=wants.count,
        opening=wants.opening,
        bench=bool(wants.count),
        whole=bool(glued),
    )


def _called_on(bench: Bench, parts: Sequence[Part], on: Sequence[str]) -> str:
    """What is glued to what: parts by letter and name, and what they go onto."""
    names = {p.name for p in parts}
    before = [bench.build.part(name) for name in on if name not in names]
    onto = (
        f" to {and_of(dict.fromkeys(p.letter or p.name for p in before))}"
        if before and len(before) <= MOST_WORDS
        else ""
    )
    return f"{all_called(parts, bench.build)}{onto}"


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


def _drive_lines(bench: Bench, fasteners: Sequence[Fastener]) -> Iterator[Line]:
    """What is driven: so many, which, through what into what."""
    counts: dict[tuple[str, str, str], int] = {}
    for one in fasteners:
        word = "Drive" if one.kind in ("screw", "pocket screw", "lag screw", "nail", "brad") else "Put in"
        ends = [bench.build.part(name) for name in (one.through, one.into)]
        way = " into ".join(part.letter or called(part, bench.build) for part in ends)
        key = (word, f"{one.row}, {show(one.length.value, bench.build.manner)} long", way)
        counts[key] = counts.get(key, 0) + 1
    by_row: dict[tuple[str, str], list[str]] = {}
    for (word, row, way), count in counts.items():
        by_row.setdefault((word, row), []).append(f"{count} through {way}")
    for (word, row), ways in by_row.items():
        yield Line(f"{word} {row}: ", and_of(ways))
