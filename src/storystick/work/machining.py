"""Cutting the joints and drilling: what is made at one set-up of one machine is one job."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch
from storystick.model.part import Part
from storystick.model.work import MadeBy, Setup, Stage
from storystick.work.bench import Bench, caution
from storystick.work.hiding import hidden
from storystick.work.in_place import clamped
from storystick.work.jobs import Job, Line, as_one
from storystick.work.laid_out import again_together
from storystick.work.running_on import BACKED, running_on
from storystick.work.saying import all_called, cap, said
from storystick.work.spots import DATUMS, spots
from storystick.work.together import dry_kin, goes
from storystick.work.ways import Offer
from storystick.work.ways.trough import runs_out

MOVED = frozenset({"fence", "stop", "guide", "second guide", "second fence", "mouth", "spacing"})
"""Settings that may change from cut to cut while the machine, the tool and its height stay as they are."""
EARLY = {Channel: 0, Notch: 1, Bevel: 2, Bore: 3}


@dataclass(slots=True, eq=False)
class Batch:
    """Cuts that share machine, tool and height."""

    stage: Stage
    method: str
    held: str
    whole: str = ""  # the assembly that has to be glued up first
    made: list[tuple[Part, Cut, MadeBy | None, Offer | None]] = field(default_factory=list)


@dataclass(slots=True)
class Machined:
    """Which jobs have to be done to a part, filled while the jobs are made."""

    by: dict[str, list[str]] = field(default_factory=dict)
    early: dict[str, list[str]] = field(default_factory=dict)  # only those done before the dry fit
    late: dict[str, list[str]] = field(default_factory=dict)  # those done when the assembly is glued up, not in `by`


def machining(bench: Bench, before: dict[str, tuple[str, ...]], machined: Machined) -> Iterator[Job]:
    """One job for each setting and each group of parts at hand together; `before` says what each part waits for."""
    batches: dict[tuple[object, ...], Batch] = {}
    run_on = running_on(bench)
    for part, cut in sorted(bench.all_cuts(), key=lambda pair: EARLY[type(pair[1])]):
        made, offer = bench.chosen[part.name, cut.name]
        place = bench.drilled_in_place.get((part.name, cut.name), "")
        held = (bench.dry_key(place) if place else "") or (
            f"fit {bench.fitted[part.name]}" if part.name in bench.fitted else ""
        )
        stage = Stage.DRILL if isinstance(cut, Bore) else Stage.MACHINE
        method = made.method if made else f"{cut.called}: no way in this shop"
        # In place, each assembly is drilled by itself; else parts of all assemblies go through the machine together.
        setups = made.setups if made else ()
        whole = run_on.get((part.name, cut.name), "")
        key = (stage, place and bench.dry_key(place), held, whole, method, *(one.key for one in setups))
        batches.setdefault(key, Batch(stage, method, place, whole)).made.append((part, cut, made, offer))
    for number, batch in enumerate(batches.values(), 1):
        job = _job(bench, batch, f"machine {number}", before)
        for part in job.parts:
            if batch.whole:
                machined.late.setdefault(part.name, []).append(job.key)
                continue
            machined.by.setdefault(part.name, []).append(job.key)
            if not batch.held:
                machined.early.setdefault(part.name, []).append(job.key)
        yield job


def _kin(bench: Bench, batch: Batch, setups: Iterable[Setup]) -> str:
    """Jobs that are told as one step: same machine and tool, only the fence or the guide moved; drilling by the bit.

    Of several that are made alike each is drilled while it stands together, before the next is tried dry.
    """
    held = bench.first_alike(batch.held) if batch.held else ""
    if held and len(bench.those_alike(held)) > 1:
        return dry_kin(bench, held)
    still = [one for one in setups if one.name not in MOVED]
    if batch.stage is Stage.DRILL:
        return "; ".join((held, batch.method, *dict.fromkeys(f"{one.machine} {one.tool}" for one in still)))
    return "; ".join((batch.stage, held, batch.whole, batch.method, *(one.key for one in still)))


def _job(bench: Bench, batch: Batch, key: str, before: dict[str, tuple[str, ...]]) -> Job:
    parts = tuple({part.name: part for part, _, _, _ in batch.made}.values())
    setups = as_one(one for _, _, made, _ in batch.made if made for one in made.setups)
    offers = [offer for _, _, _, offer in batch.made if offer is not None]
    waits = {key for part in parts for key in before.get(part.name, ())}
    if batch.held:
        waits |= {bench.dry_key(batch.held)}
    if batch.whole:
        waits |= {bench.glue_key(batch.whole, len(goes(bench, batch.whole)))}
    tests = dict.fromkeys(one.test for one in setups if one.test)
    cuts = tuple((part.name, cut.name) for part, cut, _, _ in batch.made)
    each = sum(offer.minutes[1] for offer in offers) or 5.0 * len(cuts)
    warned = dict.fromkeys(offer.caution for offer in offers if offer.caution)
    is_saw = any(one.machine == "table saw" for one in setups)
    verb = "Drill in place:" if batch.held else ("Drill the" if batch.stage is Stage.DRILL else "Cut the")
    return Job(
        key,
        batch.stage,
        f"{verb} {{}}",
        (*_method(bench, batch, offers), *tests),
        parts,
        setups,
        cuts,
        after=tuple(sorted(waits)),
        shows=tuple(p.name for p in parts) if len(parts) == 1 else (),
        new=tuple(p.name for p in parts),
        check=_check(batch),
        cautions=(*warned, *([caution("no guard")] if is_saw and batch.stage is Stage.MACHINE else [])),
        needs=tuple(dict.fromkeys(f"{one.machine}, {one.tool}" for one in setups)),
        hands_on=each,
        laid_out=again_together(bench, batch.held, len(_held_in(bench, batch))) if batch.held else (),
        why_here=_why(bench, batch, parts),
        kin=_kin(bench, batch, setups),
        words=tuple(_purpose(bench, part, cut) for part, cut, _, _ in batch.made),
        lines=(*_in_place(bench, batch), *_all_lines(bench, batch)),
        ends=(BACKED,) if batch.whole else (),
    )


def _held_in(bench: Bench, batch: Batch) -> set[str]:
    """The parts held together for drilling in place: what is drilled, and what it is drilled through."""
    asked = (bench.purposes.get((part.name, cut.name)) for part, cut, _, _ in batch.made)
    return {part.name for part, _, _, _ in batch.made} | {one.fastener.through for one in asked if one}


def _purpose(bench: Bench, part: Part, cut: Cut) -> str:
    """What a cut is called, a screw's hole with what it is for: "pilot hole for #8 wood screws"."""
    purpose = bench.purposes.get((part.name, cut.name))
    return f"{cut.called} for {purpose.words}" if purpose else cut.called


def _method(bench: Bench, batch: Batch, offers: list[Offer]) -> tuple[str, ...]:
    if batch.held:
        return ()  # it is told in the lines, so that several assemblies in one step share what they have alike
    why = offers[0].why if offers else ""
    return (f"{cap(batch.method)}{f': {why}' if why and why != 'the size drawn' else ''}.",)


def _in_place(bench: Bench, batch: Batch) -> Iterator[Line]:
    """Through which parts holes are drilled in place, and how what is drilled stands on them."""
    if not batch.held:
        return
    asked = (bench.purposes.get((part.name, cut.name)) for part, cut, _, _ in batch.made)
    through = (bench.build.parts_by_name.get(one.fastener.through) for one in asked if one)
    letters = dict.fromkeys(part.letter for part in through if part is not None and part.letter)
    for letter in letters or ("the other part",):
        yield Line("Clamped together dry, drill through the holes of ", letter, f": {batch.method}")
    for who, where in clamped(bench, [(part, cut) for part, cut, _, _ in batch.made]):
        yield Line("", who, f": {where}")


def _all_lines(bench: Bench, batch: Batch) -> Iterator[Line]:
    """What goes where: like lines of like parts told once."""
    lines: dict[tuple[str, str, str], list[Part]] = {}
    holes: dict[str, list[Bore]] = {}
    for part, cut, _, _ in batch.made:
        if isinstance(cut, Bore):
            holes.setdefault(part.name, []).append(cut)
        else:
            lines.setdefault(_line(bench, part, cut), []).append(part)
    for (what, where, tail), parts in lines.items():
        yield Line(f"{all_called(parts, bench.build)}: {what}", where, tail)
    by_text: dict[str, list[Part]] = {}
    for name, bores in holes.items():
        by_text.setdefault("; ".join(spots(bores, bench.build)), []).append(bench.build.part(name))
    deep = _deep(batch)
    for text, parts in by_text.items():
        each = "each " if len(parts) > 1 else ""
        yield Line(f"{all_called(parts, bench.build)}: {each}{text}{deep}")


def _deep(batch: Batch) -> str:
    """The depth of a batch of holes where it was set, so that a merged step still says it of each."""
    stop = next((one for _, _, made, _ in batch.made if made for one in made.setups if one.name == "depth stop"), None)
    return f", {stop.says.partition(', ')[2] or stop.says}" if stop else ""  # without the bit


def _line(bench: Bench, part: Part, cut: Cut) -> tuple[str, str, str]:
    """What is cut, where, and how big; cuts that differ only in where are told together."""
    build = bench.build
    match cut:
        case Channel():
            over = cut.side.axes[1 - cut.runs]
            datum = DATUMS[over]
            at = cut.at[1 - cut.runs]
            size = f"{said(cut.width, build)} wide, {said(cut.depth, build)} deep"
            start, along = cut.at[cut.runs], cut.side.axes[cut.runs]
            stops = start.value > 0 or start.value + cut.length.value < part.size[along].value
            begins = f"{said(start, build)} to " if start.value > 0 else ""
            length = f", from {begins or f'{DATUMS[along]} to '}{said(start + cut.length, build)}" if stops else ""
            length += f" from {DATUMS[along]}" if begins and stops else ""
            if not runs_out(cut, part):
                length += ", its ends squared with a chisel"
            where = f"its near side {said(at, build)} from {datum}"
            if at.value <= 0:
                where = f"along {datum}"
            elif at.value + cut.width.value >= part.size[over].value:
                where = f"along {('the far end', 'the far edge', 'the back')[over]}"
            return f"{cut.called} in the {cut.side.value}, ", where, f", {size}{length}"
        case Notch():
            us = [min(max(c.u.value, Fraction(0)), part.length.value) for c in cut.corners]  # as far as there is wood
            vs = [min(max(c.v.value, Fraction(0)), part.width.value) for c in cut.corners]
            m = build.manner
            size = f"{show(max(us) - min(us), m)} x {show(max(vs) - min(vs), m)}"
            at_u = f"{show(min(us), m)} to {show(max(us), m)} from {DATUMS[0]}"
            at_v = f"{show(min(vs), m)} to {show(max(vs), m)} from {DATUMS[1]}"
            return (
                f"{cut.called}, {size}, ",
                f"{at_u}, {at_v}",
                ", rounded as on its card" if any(c.radius for c in cut.corners) else "",
            )
        case Bevel():
            return f"{cut.called} at {cut.degrees:g} degrees on ", f"the {cut.side.value}", ""
        case Bore():
            return cut.called, "", ""


def _check(batch: Batch) -> str:
    if batch.stage is Stage.DRILL:
        return "Count the holes against the card before the set-up is lost."
    return "Lay the parts side by side: left and right are mirror images, and lines meet across them."


def _why(bench: Bench, batch: Batch, parts: Iterable[Part]) -> str:
    if batch.held:
        return "held together dry, both holes are in line; after glue it would be too late to clear the chips"
    if batch.whole:
        return "when the edgings are on: one pass through all is in line, and an edging cut before would break"
    later = hidden(((part, cut) for part, cut, _, _ in batch.made), bench.build)
    if any(part.name in bench.fitted for part in parts):
        return "after these parts have been cut to fit" + (f", and {later}" if later else "")
    if later:
        return later
    if batch.stage is Stage.DRILL:
        return "before assembly: flat on the bench a hole comes out where it should and square"
    return "all parts for this set-up together, before it is lost"
