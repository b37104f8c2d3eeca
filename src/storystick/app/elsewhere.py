"""The same plan in another shop, and the same plan over a range of sheets and both systems of units.

Nothing is reckoned in another way for it: another shop is another job, and another sheet is a reading of its thickness.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.app.pipeline import Job, Texts
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner, Unit, fine
from storystick.model.build import Build
from storystick.model.changed import NOTHING
from storystick.model.stock import Stock
from storystick.plan.log import HEAD, Entry, written
from storystick.shop.tables import find, panels

TRIED = "2000-01-01 00:00"  # a sheet that is only thought of has no date
CANT = ("no-way", "loose-way")


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """What is not the same in the other shop.

    sizes    parts whose length, width or thickness differs: name, here and there [mm]
    ways     cuts that are made in another way, by the ways: so many cuts, made here so, there so
    cant     what the other shop can't make, or only in another size, each with what to do instead
    worse    findings that are only there;  better  those that are only here
    """

    sizes: tuple[tuple[str, tuple[Fraction, ...], tuple[Fraction, ...]], ...]
    ways: tuple[tuple[int, str, str], ...]
    cant: tuple[Finding, ...]
    worse: tuple[Finding, ...]
    better: tuple[Finding, ...]
    manner: Manner = Manner("mm")  # how lengths are printed there

    @property
    def works(self) -> bool:
        """Nothing stops the work there that doesn't stop it here."""
        return not any(one.grade is Grade.STOP for one in (*self.cant, *self.worse))


def as_planned(job: Job) -> Job:
    """The same job without its log: what was cut in one shop says nothing of another."""
    return Job(replace(job.texts, log=None, log_file=""), tell=job.tell, stop=job.stop)


def elsewhere(here: Job, there: Job) -> Elsewhere:
    """What another shop makes of the same plan. CantGoOn when either can't be worked out."""
    ours, theirs = _found(here), _found(there)
    worse = [one for key, one in theirs.items() if key not in ours]
    return Elsewhere(
        tuple(_sizes(here.build, there.build)),
        tuple(_ways(here, there)),
        tuple(one for one in worse if one.code in CANT),
        tuple(one for one in worse if one.code not in CANT),
        tuple(one for key, one in ours.items() if key not in theirs),
        there.build.manner,
    )


def _found(job: Job) -> Mapping[tuple[object, ...], Finding]:
    told = [one for one in job.proved if one.grade >= Grade.CARE]
    return {(one.code, one.grade, one.about, one.place.line): one for one in told}


def _sizes(here: Build, there: Build) -> Iterator[tuple[str, tuple[Fraction, ...], tuple[Fraction, ...]]]:
    for part in here.parts:
        other = there.parts_by_name.get(part.name)
        one = tuple(dim.value for dim in part.size)
        two = tuple(dim.value for dim in other.size) if other else ()
        if not two or any(abs(a - b) > NOTHING for a, b in zip(one, two, strict=True)):
            yield part.name, one, two
    for part in there.parts:
        if part.name not in here.parts_by_name:
            yield part.name, (), tuple(dim.value for dim in part.size)


def _ways(here: Job, there: Job) -> Iterator[tuple[int, str, str]]:
    theirs = {(way.part, way.cut): way.method for way in there.order.ways}
    counts: dict[tuple[str, str], int] = {}
    for way in here.order.ways:
        other = theirs.get((way.part, way.cut), "")
        if other and other != way.method:
            counts[way.method, other] = counts.get((way.method, other), 0) + 1
    yield from ((count, one, two) for (one, two), count in counts.items())


@dataclass(frozen=True, slots=True)
class Trial:
    """One variation of the plan: what was varied, in words, and what stops the work or wants a look then."""

    says: str
    stops: tuple[Finding, ...]
    cares: tuple[Finding, ...]

    @property
    def works(self) -> bool:
        """Nothing stops the work."""
        return not self.stops


def sweep(
    job: Job, over: Mapping[str, tuple[Fraction, ...]], units: tuple[Unit, ...] = ("inch", "mm")
) -> Iterator[Trial]:
    """The plan over lengths by name (all other numbers as they are), in each system of units by itself.

    over   full names of numbers, and the lengths to try [mm]: thicknesses of sheets, a spacing of slots, an opening
    """
    for unit in units:
        yield _trial(f"a shop in {_UNITS[unit]}", Job(replace(job.texts, units=unit)))
    for name, lengths in over.items():
        for length in lengths:
            yield _trial(f"{name} {fine(length, job.plan.manner)}", Job(with_reading(job.texts, name, length)))


_UNITS: Mapping[Unit, str] = {"inch": "inches", "mm": "millimetres"}


def with_reading(texts: Texts, name: str, length: Fraction) -> Texts:
    """The same texts, as if a number were known to be so [mm]."""
    line = written(Entry(TRIED, "set", name, numbers=((name, length),)))
    return replace(texts, log=(texts.log or HEAD).rstrip("\n") + "\n" + line)


def _trial(says: str, job: Job) -> Trial:
    if job.resolved.made is None or any(one.grade is Grade.STOP for one in job.resolved.findings):
        stops = tuple(one for one in job.resolved.findings if one.grade is Grade.STOP)
        return Trial(says, stops, ())
    found = job.proved
    return Trial(
        says,
        tuple(one for one in found if one.grade is Grade.STOP),
        tuple(one for one in found if one.grade is Grade.CARE),
    )


def thicknesses(build: Build) -> Mapping[str, tuple[Fraction, ...]]:
    """What each sheet of a plan may measure: the thinnest and the thickest of its kind, and what it usually is."""
    return {
        f"{stock.name}.thick": found
        for stock in build.stock
        if stock.form == "sheet" and f"{stock.name}.thick" in build.pages and (found := _band(stock))
    }


def _band(stock: Stock) -> tuple[Fraction, ...]:
    row = find(panels(), stock.material)
    for thick in row.thickness if row else ():
        if abs(thick.nominal_mm - stock.nominal.value) < Fraction(3, 10):
            return (thick.least_mm, thick.usual_mm, thick.most_mm)
    return ()
