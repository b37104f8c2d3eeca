"""Cutting the joints and drilling: what is made at one set-up of one machine is one job."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from storystick.ground.length import show
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch
from storystick.model.part import Part
from storystick.model.work import MadeBy, Setup, Stage
from storystick.work.bench import Bench, caution
from storystick.work.jobs import Job
from storystick.work.saying import all_called, and_of, cap, many, plural, said
from storystick.work.ways import Offer

MOVED = frozenset({"fence", "stop", "guide", "second guide", "second fence", "mouth", "spacing"})
"""Settings that may change from cut to cut while the machine, the tool and its height stay as they are."""
EARLY = {Channel: 0, Notch: 1, Bevel: 2, Bore: 3}


@dataclass(slots=True, eq=False)
class Batch:
    """Cuts that share machine, tool and height."""

    stage: Stage
    method: str
    held: str
    made: list[tuple[Part, Cut, MadeBy | None, Offer | None]] = field(default_factory=list)


@dataclass(slots=True)
class Machined:
    """Which jobs have to be done to a part, filled while the jobs are made."""

    by: dict[str, list[str]] = field(default_factory=dict)
    early: dict[str, list[str]] = field(default_factory=dict)  # only those done before the dry fit


def machining(bench: Bench, before: dict[str, tuple[str, ...]], machined: Machined) -> Iterator[Job]:
    """One job for each set-up and each group of parts at hand together; `before` says what each part waits for."""
    batches: dict[tuple[object, ...], Batch] = {}
    for part, cut in sorted(bench.all_cuts(), key=lambda pair: EARLY[type(pair[1])]):
        made, offer = bench.chosen[part.name, cut.name]
        place = bench.drilled_in_place.get((part.name, cut.name), "")
        held = (bench.dry_key(place) if place else "") or (
            f"fit {bench.fitted[part.name]}" if part.name in bench.fitted else ""
        )
        stage = Stage.DRILL if isinstance(cut, Bore) else Stage.MACHINE
        still = _held(made)
        # In place, each assembly is drilled by itself; else parts of all assemblies go through the machine together.
        key = (
            stage,
            bench.dry_key(place) if place else "",
            held,
            made.method if made else cut.called,
            tuple(one.key for one in still),
        )
        method = made.method if made else f"{cut.called}: no way in this shop"
        batches.setdefault(key, Batch(stage, method, place)).made.append((part, cut, made, offer))
    for number, batch in enumerate(batches.values(), 1):
        job = _job(bench, batch, f"machine {number}", before)
        for part in job.parts:
            machined.by.setdefault(part.name, []).append(job.key)
            if not batch.held:
                machined.early.setdefault(part.name, []).append(job.key)
        yield job


def _held(made: MadeBy | None) -> tuple[Setup, ...]:
    return tuple(one for one in made.setups if one.name not in MOVED) if made else ()


def _job(bench: Bench, batch: Batch, key: str, before: dict[str, tuple[str, ...]]) -> Job:
    parts = tuple({part.name: part for part, _, _, _ in batch.made}.values())
    setups = {one.key: one for _, _, made, _ in batch.made if made for one in made.setups}
    offers = [offer for _, _, _, offer in batch.made if offer is not None]
    waits = {key for part in parts for key in before.get(part.name, ())}
    if batch.held:
        waits |= {bench.dry_key(batch.held)}
    tests = dict.fromkeys(one.test for one in setups.values() if one.test)
    cuts = tuple((part.name, cut.name) for part, cut, _, _ in batch.made)
    # Cuts of one name in one part are made in one go.
    first = max((offer.minutes[0] for offer in offers), default=10.0)
    each = sum(offer.minutes[1] for offer in offers) or 5.0 * len(cuts)
    warned = dict.fromkeys(offer.caution for offer in offers if offer.caution)
    is_saw = any(one.machine == "table saw" for one in setups.values())
    cautions = [*warned, *([caution("no guard")] if is_saw and batch.stage is Stage.MACHINE else [])]
    return Job(
        key,
        batch.stage,
        _title(batch, len(cuts)),
        (*_method(batch, offers), *tests, *_lines(bench, batch)),
        parts,
        tuple(setups.values()),
        cuts,
        after=tuple(sorted(waits)),
        shows=tuple(p.name for p in parts) if len(parts) == 1 else (),
        new=tuple(p.name for p in parts),
        check=_check(batch),
        caution=" ".join(cautions),
        needs=tuple(dict.fromkeys(f"{one.machine}, {one.tool}" for one in setups.values())),
        hands_on=first + each,
        why_here=_why(bench, batch, parts),
    )


def _title(batch: Batch, count: int) -> str:
    words = dict.fromkeys(cut.called for _, cut, _, _ in batch.made)
    what = and_of([plural(one) if count > 1 else one for one in list(words)[:2]]) + (
        " and more" if len(words) > 2 else ""
    )
    if batch.held:
        return f"Drill in place: {what}"
    return f"{'Drill' if batch.stage is Stage.DRILL else 'Cut'} the {what}"


def _method(batch: Batch, offers: list[Offer]) -> tuple[str, ...]:
    if batch.held:
        return (f"With the assembly clamped together dry, through the holes of the other part: {batch.method}.",)
    why = offers[0].why if offers else ""
    return (f"{cap(batch.method)}{f': {why}' if why else ''}.",)


def _lines(bench: Bench, batch: Batch) -> Iterator[str]:
    """What goes where: like lines of like parts told once."""
    lines: dict[str, list[Part]] = {}
    holes: dict[str, list[str]] = {}
    for part, cut, _, _ in batch.made:
        if isinstance(cut, Bore):
            holes.setdefault(part.name, []).append(cut.called)
        else:
            lines.setdefault(_line(bench, part, cut), []).append(part)
    for text, parts in lines.items():
        yield f"{all_called(parts, bench.build)}: {text}."
    by_text: dict[str, list[Part]] = {}
    for name, words in holes.items():
        part = bench.build.part(name)
        sides = dict.fromkeys(cut.side.value for p, cut, _, _ in batch.made if p is part and isinstance(cut, Bore))
        by_text.setdefault(f"{many(len(words), 'hole')} in the {' and the '.join(sides)}, as on its card", []).append(
            part
        )
    for text, parts in by_text.items():
        yield f"{all_called(parts, bench.build)}: {text}."


def _line(bench: Bench, part: Part, cut: Cut) -> str:
    build = bench.build
    match cut:
        case Channel():
            over = cut.side.axes[1 - cut.runs]
            datum = ("the reference end", "the reference edge", "the face")[over]
            at = cut.at[1 - cut.runs]
            size = f"{said(cut.width, build)} wide, {said(cut.depth, build)} deep"
            start, along = cut.at[cut.runs], cut.side.axes[cut.runs]
            stops = start.value > 0 or start.value + cut.length.value < part.size[along].value
            from_ = ("the reference end", "the reference edge", "the face")[along]
            length = f", from {said(start, build)} to {said(start + cut.length, build)} off {from_}" if stops else ""
            where = f"its near side {said(at, build)} from {datum}"
            if at.value <= 0:
                where = f"along {datum}"
            elif at.value + cut.width.value >= part.size[over].value:
                where = f"along {('the far end', 'the far edge', 'the back')[over]}"
            return f"{cut.called} in the {cut.side.value}, {where}, {size}{length}"
        case Notch():
            us, vs = [c.u.value for c in cut.corners], [c.v.value for c in cut.corners]
            size = f"{show(max(us) - min(us), build.manner)} x {show(max(vs) - min(vs), build.manner)}"
            return f"{cut.called}, {size}, as on its card"
        case Bevel():
            return f"{cut.called} at {cut.degrees:g} degrees on the {cut.side.value}"
        case Bore():
            return cut.called


def _check(batch: Batch) -> str:
    if batch.stage is Stage.DRILL:
        return "Count the holes against the card before the set-up is lost."
    return "Lay the parts side by side: left and right are mirror images, and lines meet across them."


def _why(bench: Bench, batch: Batch, parts: Iterable[Part]) -> str:
    if batch.held:
        return "held together dry, both holes are in line; after glue it would be too late to clear the chips"
    if any(part.name in bench.fitted for part in parts):
        return "after these parts have been cut to fit"
    if batch.stage is Stage.DRILL:
        return "before assembly, while every hole can be reached"
    return "all parts for this set-up together, before it is lost"
