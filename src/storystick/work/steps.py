"""The order of work: every cut made once, parts sawn before they are machined, machined before they are joined."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from storystick.ground.dim import Book
from storystick.ground.finding import Finding, in_order
from storystick.model.build import Build
from storystick.model.part import Part
from storystick.model.sequence import AssemblyOrder
from storystick.model.work import Cutting, Stage, Wish, WorkOrder
from storystick.shop.shop import Shop
from storystick.work.bands import banding
from storystick.work.bench import Bench, caution
from storystick.work.choosing import choose_all, in_the_way, other_tools, tools_used
from storystick.work.coating import Finished, finishing
from storystick.work.cut_to_fit import fitting, layering
from storystick.work.ending import drawers_in, fitting_hardware, installing, joining
from storystick.work.in_place import with_stops
from storystick.work.jobs import Job, as_one
from storystick.work.laid_out import SANDER
from storystick.work.machining import Machined, machining
from storystick.work.order import ROUNDS
from storystick.work.running_on import in_one_setting
from storystick.work.sawing import sawing
from storystick.work.saws import Sawn
from storystick.work.saying import and_of
from storystick.work.staves import gluing_up
from storystick.work.telling import steps_of
from storystick.work.together import clamps_missing, dry_fits, gluing
from storystick.work.turns import in_turn, reckoned
from storystick.work.ways import minutes, timed_by

FACES = (
    "Faces that no brush or block reaches later: 120, then 180 grit, with the grain. Stay off the edges that joints "
    "close on."
)
SHARP = ("noise", "restart", "fence lock", "formaldehyde")


def plan_work(
    build: Build,
    cuttings: Sequence[Cutting],
    shop: Shop,
    book: Book,
    *,
    sequence: AssemblyOrder | None = None,
    wishes: Sequence[Wish] = (),
    rounds: int = ROUNDS,
    last: Collection[str] = (),
) -> WorkOrder:
    """Everything there is to do, in the best order found, with the way each cut is made in this shop.

    cuttings  the layouts, one a stock; parts that none of them has are sawn to size all the same
    book      where the settings are named; it is written into
    sequence  in what order the piece goes together, where that was found out; else it is taken apart in thought
    wishes    orders that somebody wants; what they cost is told
    rounds    how many changes of the order are tried
    last      names of parts that are better cut when the rest stands dry
    """
    with timed_by(shop):
        chosen, findings = choose_all(build, shop, book)
        bench = Bench(build, tuple(cuttings), shop, book, chosen, sequence, last=frozenset(last))
        bench = replace(bench, chosen=with_stops(bench))
        bench = replace(bench, chosen=in_one_setting(bench))
        trouble = list(findings)
        jobs = list(all_jobs(bench, trouble))
        turn = in_turn(jobs, shop, wishes, rounds)
    trouble.extend(turn.findings)
    steps = steps_of(jobs, turn.tasks, turn.found)
    ways = tuple(made for made, _ in bench.chosen.values() if made is not None)
    setups = as_one(one for step in steps for one in step.setups)
    tools = (*tools_used(ways), *other_tools(steps))
    told = tuple(caution(name) for name in SHARP)
    return WorkOrder(steps, ways, setups, tools, told, in_order(trouble), reckoned(turn.tasks, turn.found))


def can_be_made(build: Build, shop: Shop) -> tuple[Finding, ...]:
    """What stands in the way of making it in this shop: cuts without a way, too few clamps. No order is sought.

    The same as `plan_work` finds of these without an assembly order: which of several sound ways is taken changes
    nothing of it, so none is settled and no job is laid out.
    """
    with timed_by(shop):
        bench = Bench(build, (), shop, Book(), {})
        return in_order((*in_the_way(build, shop), *clamps_missing(bench)))


def all_jobs(bench: Bench, trouble: list[Finding]) -> Iterator[Job]:
    """Everything there is to do, before it has an order; what is found wrong goes into `trouble`."""
    yield _measuring(bench)
    sawn, machined, finished = Sawn(), Machined(), Finished()
    yield from sawing(bench, sawn)
    yield from gluing_up(bench, sawn.by)
    yield from layering(bench, sawn.by)
    yield from fitting(bench, sawn)
    cut = _cut(bench, sawn)
    yield from banding(bench, cut)
    yield from machining(bench, cut, machined)
    sanded: dict[str, list[str]] = {}
    yield from _sanding(bench, cut, machined, sanded)
    yield from dry_fits(bench, sanded)
    ready = {p.name: [*sanded.get(p.name, ()), *machined.by.get(p.name, ())] for p in bench.build.parts}
    last: dict[str, str] = {}
    yield from gluing(bench, ready, trouble, last)
    for name, keys in machined.late.items():
        ready[name] = [*ready[name], *keys]
    fixed = list(joining(bench, last, ready))
    yield from fixed
    yield from finishing(bench, _whole(bench, cut, ready, last, fixed), finished)
    yield from fitting_hardware(bench, finished)
    yield from drawers_in(bench, finished)
    yield from installing(bench, finished)


def _whole(
    bench: Bench,
    cut: dict[str, tuple[str, ...]],
    ready: dict[str, list[str]],
    last: dict[str, str],
    fixed: Sequence[Job],
) -> dict[str, list[str]]:
    """By assembly, the jobs after which no more is cut in it, glued on it or fixed to it."""
    found: dict[str, list[str]] = {}
    for part in bench.build.parts:
        found.setdefault(part.assembly, []).extend((*cut[part.name], *ready[part.name]))
    for name, key in last.items():
        found.setdefault(name, []).append(key)
    for job in fixed:
        for name in {part.assembly for part in job.parts}:
            found.setdefault(name, []).append(job.key)
    return {name: list(dict.fromkeys(keys)) for name, keys in found.items()}


def _measuring(bench: Bench) -> Job:
    build = bench.build
    unmeasured = [stock for stock in build.stock if not stock.measured]
    does = (
        ["Measure what the piece has to fit, each size three times, and write down what you read."]
        if build.drivers
        else []
    )
    if build.stock:
        names = and_of(stock.name for stock in build.stock)
        does.append(f"Measure how thick the stock really is, at several places near the edges: {names}.")
    thick = tuple(name for s in unmeasured if (name := f"{s.name}.thickness") in build.pages)
    first, each = minutes("measure")
    return Job(
        "measure",
        Stage.MEASURE,
        "Measure first",
        (*does, "Where a reading differs from the plan, put it into the plan and print anew before anything is cut."),
        reads=tuple(build.drivers) + thick,
        check="The smallest of several readings counts for what must go in, the largest for what must be covered.",
        hands_on=first + each * 3 * (len(build.drivers) + len(build.stock)),
        why_here="everything else follows from these",
    )


def _cut(bench: Bench, sawn: Sawn) -> dict[str, tuple[str, ...]]:
    """What has to be done before a part has its size: sawn, its layers glued and trimmed, or cut to fit."""
    found = {p.name: tuple(sawn.by.get(p.name, ())) for p in bench.build.parts}
    for number, parts in enumerate(bench.layered, 1):
        for part in parts:
            found[part.name] = (f"trim {number}",)
    for name, target in bench.fitted.items():
        if len(sawn.done.get(name, ())) < 2:
            found[name] = (*found[name], f"fit {target}")
    return found


def _sanding(
    bench: Bench, cut: dict[str, tuple[str, ...]], machined: Machined, sanded: dict[str, list[str]]
) -> Iterator[Job]:
    """The faces that no hand reaches later: of each assembly by itself, of what is made alike at once."""
    groups: dict[tuple[str, str], list[Part]] = {}
    for part in bench.build.parts:
        alike = bench.first_alike(part.assembly)
        groups.setdefault((bench.fitted.get(part.name, ""), alike), []).append(part)
    first, each = minutes("sand part")
    for number, ((target, _), parts) in enumerate(groups.items(), 1):
        key = f"sand {number}"
        waits = {k for p in parts for k in cut[p.name]}
        waits |= {k for p in parts for k in machined.early.get(p.name, ())}
        for part in parts:
            sanded[part.name] = [key]
        yield Job(
            key,
            Stage.SAND,
            "Sand the inside faces of {}",
            (FACES,),
            tuple(parts),
            after=tuple(sorted(waits)),
            cautions=(caution("dust"),),
            hands_on=each * len(parts),
            laid_out=((SANDER, "inside", first),),
            why_here="before glue: later no block reaches into the corners",
            kin=f"sand {target}",
            words=tuple(dict.fromkeys(part.assembly for part in parts)),
            ends=("Keep the letters and marks: copy them to an edge before they go.",),
        )
