"""The plan with its log: what was measured overrules the sums, what was cut stays, what is left adapts to both.

First the log's own numbers overrule the plan's. Then every number that comes about from boards which are all cut (the
room inside a case, a column between dividers) is what they give it, and whatever hangs on it is reckoned from that.
Last, a size that alone can still put a room right takes up what the other boards are off by.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from storystick.ground.dim import Dim, Leaf, Named, Reading, Spread, walk
from storystick.ground.finding import Finding, Grade, in_order
from storystick.ground.misread import nearest
from storystick.ground.outcome import Outcome
from storystick.model.build import Build
from storystick.model.closing import NOTHING, closers
from storystick.model.cut import Channel
from storystick.model.joining import Fit
from storystick.model.made import Made, is_fixed, made, passed_on
from storystick.plan.log import Entry, Log
from storystick.plan.plan import Plan
from storystick.plan.readings import Readings, Tools, how_read, reading_sd
from storystick.resolve.build import Resolving
from storystick.resolve.stock import error_of
from storystick.shop.shop import Shop

GIVEN = "as the boards that are cut give it"


def resolve(plan: Plan, shop: Shop, log: Log | None = None) -> Outcome[Build]:
    """The build that a plan gives in a shop, after what its log says. Never raises for any plan."""
    if log is None or not (log.readings or log.held):
        return Resolving(plan, shop).run()
    readings = overruling(log, shop)
    first = Resolving(plan, shop, readings).run()
    build = first.made
    if build is not None:
        given = given_by_boards(made(build, shop.errors))
        if given:
            second = Resolving(plan, shop, {**given, **readings}).run()
            first = second if second.made is not None else first
            build = first.made or build
        taken_up = taken_up_by_the_last(made(build, shop.errors))
        if taken_up:
            third = Resolving(plan, shop, {**taken_up, **given, **readings}).run()
            first = third if third.made is not None else first
            build = first.made
    if build is None:
        return first
    strangers = tuple(_strangers(log, build))
    build = replace(build, fits=tuple(with_read_gaps(log, made(build, shop.errors), shop)))
    return Outcome(build, in_order((*first.findings, *strangers)))


def with_read_gaps(log: Log, as_made: Made, shop: Shop) -> Iterator[Fit]:
    """The fits, those whose gap was read with the piece held in as read; unless something was done to them since."""
    known = overruling(log, shop)
    last = {name: i for i, one in enumerate(log.entries) if one.act in ("read", "set", "chose") for name in _named(one)}
    anew = {one.about: i for i, one in enumerate(log.entries) if one.act == "anew"}
    for fit in as_made.build.fits:
        name = fit.gap_name
        seen = known.get(name)
        if seen is None:
            yield fit
            continue
        since = last[name]
        moved = any(last.get(number, -1) > since for number in as_made.moves(fit.gap))
        if moved or max(anew.get(fit.goes_in, -1), anew.get(fit.into, -1)) > since:
            yield fit
            continue
        leaf = Leaf(name, "given" if seen.held else "reading", seen.says, seen.spread, seen.place, instead_of=fit.gap)
        yield replace(fit, gap=Dim(seen.value, Named(name, "the piece held in", Dim(seen.value, leaf)), 1))


def _named(entry: Entry) -> Iterator[str]:
    if entry.act == "read":
        yield entry.about
    yield from (name for name, _ in entry.numbers)


def overruling(log: Log, shop: Shop) -> dict[str, Reading]:
    """Every number that the log settles: measured with the tool's own error, or held as it was cut."""
    tools = error_of(shop)
    found = {name: _held(value, f"{_HELD[entry.act]}, {entry.when}") for name, (value, entry) in log.held.items()}
    return found | {name: _measured(readings, tools) for name, readings in log.readings.items()}


_HELD = {
    "cut": "as it was printed when it was cut", "done": "as it was printed when it was cut",
    "set": "as it was set", "chose": "as it was chosen",
}  # fmt: skip


def _held(value: Fraction, says: str) -> Reading:
    return Reading(value, says, held=True)


def _measured(readings: Readings, tools: Tools) -> Reading:
    sd = reading_sd(readings, tools)
    says = f"{how_read(readings, tools)}; {readings.says}"
    return Reading(readings.value, says, Spread(sd) if sd else None, readings.place, scatter=readings.scatter)


def given_by_boards(as_made: Made) -> Mapping[str, Reading]:
    """Numbers that come about from boards which are all cut; none where all are just what the plan's sums give them."""
    build = as_made.build
    cut = frozenset(_cut_from(build))
    found = _depths(build) | {
        name: as_made.as_made(truth).value
        for name, truth in build.truths.items()
        if not is_fixed(build.pages[name]) and _all_cut(build, truth, cut)
    }
    if all(value == build.pages[name].value for name, value in found.items()):
        return {}
    return {name: _held(value, GIVEN) for name, value in found.items()}


def taken_up_by_the_last(as_made: Made) -> Mapping[str, Reading]:
    """Sizes that alone can still put a room right, as they have to be for that."""
    pages = as_made.build.pages
    return {
        one.number: Reading(pages[one.number].value + one.by, f"so that {one.room} comes out as planned", adapts=True)
        for one in closers(as_made)
        if abs(one.by) > NOTHING
    }


def _depths(build: Build) -> dict[str, Fraction]:
    """Depths that several channels share, once all of them are cut: the middle of how deep they came out [mm]."""
    cut: dict[str, list[Dim]] = {}
    for part in build.parts:
        for one in part.cuts:
            if isinstance(one, Channel):
                for name in passed_on(one.depth):
                    cut.setdefault(name, []).append(one.depth)
    return {
        name: sum((dim.value for dim in dims), Fraction(0)) / len(dims)
        for name, dims in cut.items()
        if all(is_fixed(dim) for dim in dims) and name in build.pages and not is_fixed(build.pages[name])
    }


def _cut_from(build: Build) -> Iterator[str]:
    """Names of sizes and places that a room may come about from, and that are not cut yet."""
    for part in build.parts:
        yield from (dim.name for dim in part.size[:2] if not is_fixed(dim))
        places = (at for cut in part.cuts if isinstance(cut, Channel) for at in cut.at)
        yield from (at.name for at in places if at.value and not is_fixed(at))


def _all_cut(build: Build, truth: Dim, uncut: frozenset[str]) -> bool:
    """Whether everything that a number comes about from is cut or was measured."""
    waiting, seen = [truth], set[str]()
    while waiting:
        for one in walk(waiting.pop()):
            if not isinstance(one.node, Named):
                continue
            name = one.node.name
            if name in uncut:
                return False
            if name in build.truths and name not in seen and not is_fixed(one):
                seen.add(name)
                waiting.append(build.truths[name])
    return True


def _strangers(log: Log, build: Build) -> list[Finding]:
    """Numbers and parts that the log speaks of and the plan no longer has."""
    known = {*build.pages, *(fit.gap_name for fit in build.fits)}
    found = []
    for entry in log.entries:
        names = [entry.about] if entry.act == "read" else [name for name, _ in entry.numbers]
        missing = [name for name in names if name not in known]
        if missing:
            near = nearest(missing[0], known)
            says = f"The log speaks of {missing[0]}, and the plan has no number of that name."
            advice = f"It may be {near} now." if near else "It counts for nothing now."
            found.append(Finding("log-stranger", Grade.NOTE, entry.place, says, advice))
    return found
