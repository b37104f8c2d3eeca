"""Putting together: dry fits, parts cut to fit from them, glue-ups from the inside out, with clamps and open time."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from storystick.ground.finding import Finding
from storystick.ground.source import practice
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Assembly, Part
from storystick.model.work import Stage
from storystick.shop.tables import glues
from storystick.work.bench import Bench
from storystick.work.clamping import GLUE, SLOW, Clamped, clamps_for
from storystick.work.coating import fixed_pairs, join_key
from storystick.work.cut_to_fit import openings_of
from storystick.work.jobs import Job, Line
from storystick.work.laid_out import TOGETHER, clamps_out
from storystick.work.openings import to_measure, to_them
from storystick.work.peeling import Closing, closings
from storystick.work.saying import all_called, and_of, called, many, plural, role_said, short, spoken
from storystick.work.uniting import clamp_line, drive_lines, dry_against, go_lines, trim_line
from storystick.work.ways import minutes, sets_for

A_JOINT = 1.0
SPREADING = practice("it takes about a minute to spread glue on a joint and bring it home")
MOST_WORDS = 5
IN_DRY_FIT = "Before it comes apart, measure the openings at both ends, and write the sizes down: {} are cut to them."


def dry_fits(bench: Bench, sanded: dict[str, list[str]]) -> Iterator[Job]:
    """Each assembly of more than one part or stack of layers, together without glue."""
    for one in bench.build.assemblies:
        parts = _firm(bench, one)
        if len(bench.parts_of(one.name)) < 2 or _is_one_board(bench, one):
            continue
        waits = sorted({key for part in parts for key in sanded.get(part.name, ())})
        names = tuple(p.name for p in parts)
        later = [p for p in bench.build.parts if bench.fitted.get(p.name) == one.name]
        reads, heights = to_measure(bench, one, openings_of(bench, later))
        letters = and_of(dict.fromkeys(p.letter or short(p, bench.build) for p in parts))
        clamped = _most_clamped(bench, one)
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
            hands_on=minutes("dry fit")[1] * max(1, len(parts) - 1) + minutes("measure")[1] * 2 * len(reads),
            laid_out=(clamps_out(bench, one.name), (TOGETHER, one.name, 0.0)),
            why_here="what does not fit is still easy to mend",
            kin=dry_kin(bench, one.name),
            words=(one.name,),
            clamps=clamped.count,
            opening=clamped.opening,
            lines=(
                Line("Put ", f"{spoken(one.name)} ({letters})", " together without glue, in the clamps of the glue-up"),
            ),
            ends=(
                "Draw a triangle across the parts so that they can go together only one way.",
                *((IN_DRY_FIT.format(all_called(to_them(bench, later) or later, bench.build)),) if later else ()),
                *heights,
                *_cut_last(bench, one),
            ),
        )


def dry_kin(bench: Bench, assembly: str) -> str:
    """What is told as one step: the dry fits of what is made alike."""
    return f"dry fit {bench.first_alike(assembly)}"


def _is_one_board(bench: Bench, one: Assembly) -> bool:
    """Its parts are layers that were glued into one already."""
    own = {part.name for part in bench.parts_of(one.name)}
    return any(own <= {part.name for part in group} for group in bench.layered)


def _most_clamped(bench: Bench, one: Assembly) -> Clamped:
    """What the go of an assembly that wants the most clamps wants: a dry fit holds them as long as it lasts."""
    wants = [clamps_for(bench, one, go, []) for go in goes(bench, one.name) if any(j.glued for j in go.joints)]
    return max(wants, key=lambda one: one.count, default=Clamped())


def _cut_last(bench: Bench, one: Assembly) -> Iterator[str]:
    """What had better be cut now, to what is there."""
    last = [p for p in bench.parts_of(one.name) if p.name in bench.last]
    if last:
        yield f"Measure for {all_called(last, bench.build)} too, and cut {'it' if len(last) == 1 else 'them'} to that."


def _firm(bench: Bench, one: Assembly) -> tuple[Part, ...]:
    """What goes into its dry fit: not what is cut to fit from it, and not what nothing holds, such as loose shelves."""
    drilled = {name for name, _ in bench.drilled_in_place}
    own = [p for p in bench.parts_of(one.name) if p.name not in bench.last or p.name in drilled]
    parts = [p for p in own if bench.fitted.get(p.name) != one.name]
    held = {name for j in bench.build.joints for name in (j.host, j.guest)}
    held |= {name for one in bench.between_parts for name in (one.through, one.into)}
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
    comings = [one for one in bench.sequence.comings if one.assembly == assembly or own.issuperset(one.moves)]
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
    return list(in_goes_pressed_at_once(found)) if sorted(closed) == sorted(by_name) else []


def in_goes_pressed_at_once(found: Sequence[Closing]) -> Iterator[Closing]:
    """The goes, those made one that the same clamps close from both sides, such as the edgings of two ends."""
    held: Closing | None = None
    for go in found:
        if held is not None and _opposite(held, go):
            held = Closing((*held.parts, *go.parts), (*held.joints, *go.joints), go.axis)
            continue
        if held is not None:
            yield held
        held = go
    if held is not None:
        yield held


def _opposite(one: Closing, other: Closing) -> bool:
    """Whether what the other go brings presses on the same parts from the other side, while the glue is still open."""
    both = (*one.joints, *other.joints)
    new = {j.guest for j in one.joints}
    return (
        all(j.glued for j in both)
        and len(both) * A_JOINT <= glues()[GLUE].open_min
        and len({j.host for j in both}) == 1
        and not new & set(other.parts)
        and len({j.axis for j in both}) == 1
        and {j.sign for j in one.joints}.isdisjoint(j.sign for j in other.joints)
    )


def _glued(go: Closing) -> int:
    return sum(joint.glued for joint in go.joints)


def gluing(bench: Bench, ready: dict[str, list[str]], findings: list[Finding], ends: dict[str, str]) -> Iterator[Job]:
    """The glue-ups of every assembly, one go after the other; `ready` says what must have been done to each part.

    ends  filled while they are made: the job that ends each assembly
    """
    for group in bench.alike:
        for one in group:
            before: tuple[str, ...] = (bench.dry_key(one.name),)
            done = sorted({k for p in bench.parts_of(one.name) for k in ready.get(p.name, ())})
            found = goes(bench, one.name)
            last = bench.glue_key(one.name, len(found))
            on: list[str] = []
            told: list[Finding] = []
            for number, go in enumerate(found, 1):
                on.extend(go.parts)
                for fixed in _fixed_first(bench, one, go):
                    ends.setdefault(f"{fixed}, {one.name}", before[0])  # before the first that hides what fixes it
                    before = (*before, fixed)
                job = _go(bench, one, go, number, tuple(on), told if one is group[0] else [])
                kin = f"glue {group[0].name} {number}"
                yield replace(job, after=(*before, *done), kin=kin)
                before = (job.key,)
                for more in _screwed_on(bench, one, found, number):
                    key = f"screw on {more.name}"
                    yield replace(_screwing(bench, one, more, tuple(on)), key=key, after=(*before, *done))
                    on.append(more.name)
                    before = (key,)
                    last = key
                last = before[0]
            if found:
                ends[one.name] = last
            findings.extend(_most_wanted(told))


def clamps_missing(bench: Bench) -> Iterator[Finding]:
    """What `gluing` finds wrong, the glue-ups themselves left out."""
    for group in bench.alike:
        told: list[Finding] = []
        for go in goes(bench, group[0].name):
            if any(joint.glued for joint in go.joints):
                clamps_for(bench, group[0], go, told)
        yield from _most_wanted(told)


def _fixed_first(bench: Bench, one: Assembly, go: Closing) -> Iterator[str]:
    """The jobs that fix an assembly to others, where a part of a go would hide what fixes it."""
    mets = {had.met for had in bench.late if had.assembly == one.name and had.part in go.parts}
    for pair in fixed_pairs(bench):
        if one.name in pair and mets & set(pair):
            yield join_key(*pair)


def _most_wanted(told: Sequence[Finding]) -> Iterator[Finding]:
    """Of what is said of the goes of one assembly, for each opening of the clamps only what wants the most of them."""
    by: dict[object, Finding] = {}
    for one in told:
        key = (one.code, one.limit)
        if key not in by or (by[key].number or 0) < (one.number or 0):
            by[key] = one
    yield from by.values()


def _screwed_on(bench: Bench, one: Assembly, found: Sequence[Closing], number: int) -> list[Part]:
    """Parts that screws alone hold, and that go on after the go of that number: by the assembly order, or last."""
    in_goes = {name for go in found for name in go.parts}
    ends = {name for f in bench.between_parts for name in (f.through, f.into)}
    own = [p for p in bench.parts_of(one.name) if p.name in ends and p.name not in in_goes]
    return [part for part in own if _comes_after(bench, part, found) == number]


def _comes_after(bench: Bench, part: Part, found: Sequence[Closing]) -> int:
    """The number of the go after which a part is screwed on."""
    comings = bench.sequence.comings if bench.sequence is not None and bench.sequence.can_be else ()
    at = next((n for n, one in enumerate(comings) if part.name in one.moves), None)
    if at is None:
        return len(found)
    earlier = {name for one in comings[:at] for name in (*one.moves, *one.meets)}
    passed = [n for n, go in enumerate(found, 1) if set(go.parts) <= earlier]
    return max(passed, default=len(found))


def _screwing(bench: Bench, one: Assembly, part: Part, on: tuple[str, ...]) -> Job:
    """A part that screws alone hold."""
    fasteners = [
        f for f in bench.between_parts if part.name in (f.through, f.into) and {f.through, f.into} <= {part.name, *on}
    ]
    return Job(
        "",
        Stage.ASSEMBLE,
        f"Screw {called(part, bench.build)} on",
        ("Line it up dry, clamp it, and drive the screws through the holes drilled for them.",),
        (part,),
        shows=(*on, part.name),
        new=(part.name,),
        check="Flush where the plan has it flush, and no gap.",
        hands_on=3.0 + minutes("drive screw")[1] * (1 + len(fasteners)),
        why_here="while its screws can still be reached",
        lines=tuple(drive_lines(bench, fasteners)),
    )


def _go(bench: Bench, one: Assembly, go: Closing, number: int, on: tuple[str, ...], findings: list[Finding]) -> Job:
    parts = tuple(bench.build.part(name) for name in go.parts)
    glued = [j for j in go.joints if j.glued]
    fasteners = (*bench.fasteners_of(go.joints), *_loose(bench, go, on))
    row = glues()[GLUE]
    wants = clamps_for(bench, one, go, findings) if glued else Clamped()
    lines = list(go_lines(bench, go))
    lines.extend(drive_lines(bench, fasteners))
    ends = [*clamp_line(bench, go, wants, fasteners), *dry_against(bench, go, on)] if glued else []
    if len(glued) * A_JOINT > row.open_min:
        open_for = f"{GLUE} stays open ({row.open_min:g} min)"
        says = f"{many(len(glued), 'joint')} at about a minute each take longer than {open_for}"
        ends.append(f"{says}: use {SLOW} ({glues()[SLOW].open_min:g} min), or have a helper spread.")
    if glued:
        ends.append("Wipe off what squeezes out before it skins over.")
        ends.extend(trim_line(bench, parts))
    set_up, each = minutes("glue-up")
    ends_glued = {name for j in glued for name in (j.host, j.guest)}
    closed = len(glued) + sum(name not in ends_glued for name in go.parts)  # what goes in without glue goes in at once
    once = each * max(1, closed) + (set_up + minutes("check square")[1] if glued else 1.0)
    whole = len(go.parts) == len(bench.parts_of(one.name))
    return Job(
        bench.glue_key(one.name, number),
        Stage.GLUE if glued else Stage.ASSEMBLE,
        _titled(parts, bool(glued), whole),
        parts=parts,
        shows=on,
        new=go.parts,
        check="Diagonals equal and no twist before the glue grabs." if glued else "As it stood dry, and no gap.",
        needs=wants.needs,
        hands_on=once + minutes("drive screw")[1] * len(fasteners),
        laid_out=(clamps_out(bench, one.name),) if glued and wants.count else (),
        waits=sets_for("glue-up", row.clamp_min) if glued and wants.count else 0,
        why_here=_why(go, number == 1),
        words=(one.name,),
        lines=tuple(lines),
        ends=tuple(ends),
        clamps=wants.count,
        opening=wants.opening,
        bench=bool(wants.count),
        whole=bool(glued),
    )


def _titled(parts: Sequence[Part], glued: bool, whole: bool) -> str:
    if whole:
        return f"{'Glue up' if glued else 'Put together'} {{}}"
    return f"Glue up {{}}: {_last_words(parts)}" if glued else f"Put the {_last_words(parts)} on {{}}"


def _loose(bench: Bench, go: Closing, on: Sequence[str]) -> tuple[Fastener, ...]:
    """Screws that belong to no joint, between what is on now and what goes on in this go."""
    joints = {joint.name for joint in bench.build.joints}
    both = set(on)
    return tuple(
        f
        for f in bench.between_parts
        if f.joint not in joints and {f.through, f.into} <= both and {f.through, f.into} & set(go.parts)
    )


def _last_words(parts: Sequence[Part]) -> str:
    counts = Counter(role_said(p).removeprefix("drawer ") for p in parts)
    words = [plural(role) if count > 1 else role for role, count in counts.items()]
    return and_of(words if len(words) <= MOST_WORDS else [*words[: MOST_WORDS - 1], "more"])


def _why(go: Closing, first: bool) -> str:
    if first:
        return "the inside goes together first, while there is room for clamps"
    return "these close it from outside, so they go on after what is between them"
