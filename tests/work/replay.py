"""An order replayed step by step, by somebody who knows access, glue and clamps and nothing of how it was found."""

from collections.abc import Sequence

from storystick.model.build import Build
from storystick.model.cut import Channel
from storystick.model.work import Stage
from storystick.shop.shop import Clamp
from storystick.work.jobs import Job
from storystick.work.turns import Turn

DAY = 24 * 60.0
NEAR = 1e-6


def faults(
    build: Build,
    jobs: Sequence[Job],
    turn: Turn,
    clamps: Sequence[Clamp],
    hours: float = 8.0,
    *,
    hands: int = 1,
    benches: int = 3,
) -> list[str]:
    """Everything that could not be done as it is told; none where the order is good."""
    played = turn.found.played
    found: list[str] = []
    done: dict[str, float] = {}
    at_work = [(played.begins[n], played.ends[n], jobs[n].key) for n in turn.found.order]
    at_bench = [
        (played.begins[n], played.ends[n] + jobs[n].waits, jobs[n].key)
        for n in turn.found.order
        if jobs[n].bench and jobs[n].waits
    ]
    found += [f"{key}: the hands are still busy" for key in _crowded(at_work, hands)]
    found += [f"{key}: no bench is free" for key in _crowded(at_bench, max(1, benches))]
    for n in turn.found.order:
        job, begin, end = jobs[n], played.begins[n], played.ends[n]
        if begin % DAY > hours * 60 + NEAR or end % DAY > hours * 60 + NEAR:
            found.append(f"{job.key}: at night")
        if job.whole and begin // DAY != (end - NEAR) // DAY:
            found.append(f"{job.key}: left half done over night")
        spent = end - begin - (end // DAY - begin // DAY) * (DAY - hours * 60)
        if spent < job.hands_on - NEAR:
            found.append(f"{job.key}: done too quickly")
        found += [f"{job.key}: before {key} has set" for key in job.after if done.get(key, 0.0) > begin + NEAR]
        done[job.key] = end + job.waits
    keys = {job.key for job in jobs}
    order = [jobs[n].key for n in turn.found.order]
    found += [
        f"{job.key}: before {k}"
        for job in jobs
        for k in job.after
        if k in keys and order.index(k) > order.index(job.key)
    ]
    return [*found, *_clamps(jobs, turn, clamps), *_access(build, [jobs[n] for n in turn.found.order])]


def _crowded(spans: Sequence[tuple[float, float, str]], most: int) -> list[str]:
    """What begins while as many others as there is room for are still going on."""
    return [
        key
        for begin, end, key in spans
        if end > begin + NEAR and sum(b <= begin + NEAR < e - NEAR for b, e, _ in spans) > most
    ]


def _clamps(jobs: Sequence[Job], turn: Turn, clamps: Sequence[Clamp]) -> list[str]:
    """Each clamp is one thing: taken when a joint is closed, given back when it has set."""
    rack = sorted(opening for one in clamps for opening in [one.opening] * one.count)
    held: list[tuple[float, list[int]]] = []
    found = []
    events = sorted((turn.found.played.begins[n], n) for n in turn.found.order if jobs[n].clamps)
    for begin, n in events:
        end = turn.found.played.ends[n] + jobs[n].waits
        out = {at for free, some in held if free > begin + NEAR for at in some}
        there = [at for at, opening in enumerate(rack) if opening >= jobs[n].opening]
        wanted = min(jobs[n].clamps, len(there))  # with too few of them all are used, and that is told
        usable = [at for at in there if at not in out]
        if len(usable) < wanted:
            found.append(f"{jobs[n].key}: {wanted} clamps wanted, {len(usable)} free")
        held.append((end, usable[:wanted]))
    return found


def _access(build: Build, turn: Sequence[Job]) -> list[str]:
    """Sawn before it is machined, machined before it is closed in, nothing made twice, nothing left out."""
    at: dict[tuple[str, str], int] = {}
    found = []
    for place, job in enumerate(turn):
        for cut in job.cuts:
            if cut in at:
                found.append(f"{cut}: made twice")
            at[cut] = place
    wanted = {(part.name, cut.name) for part in build.parts for cut in part.cuts}
    found += [f"{cut}: never made" for cut in sorted(wanted - at.keys())]
    sawn: dict[str, int] = {}
    closed: dict[str, int] = {}
    for place, job in enumerate(turn):
        for part in job.parts:
            if job.stage in (Stage.BREAK_DOWN, Stage.SAW):
                sawn[part.name] = place
            if job.stage in (Stage.GLUE, Stage.ASSEMBLE) and not job.key.startswith("layers"):
                closed.setdefault(part.name, place)
    for (part_name, cut_name), place in at.items():
        if sawn.get(part_name, -1) > place:
            found.append(f"{cut_name}: cut in {part_name} before that is sawn")
        if closed.get(part_name, len(turn)) < place and not _bare(build, part_name, cut_name):
            found.append(f"{cut_name}: {part_name} is closed in already")
    return found


def _bare(build: Build, part_name: str, cut_name: str) -> bool:
    """Whether a router still gets at a trough when all is together: nothing lies before its mouth."""
    part = next(one for one in build.parts if one.name == part_name)
    cut = next(one for one in part.cuts if one.name == cut_name)
    if not isinstance(cut, Channel):
        return False
    own = [[0.0, float(size)] for size in part.size]
    for axis, start, size in zip(cut.side.axes, cut.at, cut.size, strict=True):
        own[axis] = [float(start), float(start) + float(size)]
    down = cut.side.normal
    own[down] = [own[down][1], own[down][1] + 50.0] if cut.side.is_far else [-50.0, 0.0]
    mouth = [[0.0, 0.0]] * 3
    for n, axis in enumerate(part.lies):
        low, high = float(part.low(axis)), float(part.high(axis))
        from_low = (part.datum[n] > 0) != (n == 2)
        mouth[axis] = [low + own[n][0], low + own[n][1]] if from_low else [high - own[n][1], high - own[n][0]]
    others = (one for one in build.parts if one.assembly == part.assembly and one.name != part_name)
    return not any(
        all(min(mouth[a][1], float(o.high(a))) - max(mouth[a][0], float(o.low(a))) > NEAR for a in range(3))
        for o in others
    )
