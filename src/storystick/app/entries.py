"""Entries for the log, made from what somebody says at the bench; and what changes when one is written."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path

from storystick.app.asking import job_at
from storystick.app.log import add, now
from storystick.app.pipeline import Job
from storystick.app.ticked import cut_step, step_mark
from storystick.ground.length import read_length
from storystick.ground.misread import Misread, nearest
from storystick.model.changed import Changed, changed, numbers_of
from storystick.model.judged import Judged
from storystick.model.made import is_fixed
from storystick.model.mending import Remedy, lacks
from storystick.plan.log import Entry


class Refused(ValueError):
    """What can't be written into the log; the message says why, and the nearest thing that can."""


def _known(asked: str, names: Iterable[str], what: str) -> str:
    listed = {name.casefold(): name for name in names}
    found = listed.get(" ".join(asked.casefold().split()))
    if found is None:
        close = nearest(asked, listed.values())
        raise Refused(f"no {what} is called {asked!r}" + (f": is it {close}?" if close else ""))
    return found


def reading(job: Job, name: str, values: Sequence[str], tool: str = "") -> Entry:
    """A named number, as read once or several times."""
    known = _known(name, {**job.build.pages, **dict.fromkeys(f.gap_name for f in job.build.fits)}, "number")
    if tool and job.shop.measuring_tool(tool) is None:
        tools = ", ".join(one.name for one in job.shop.measuring)
        raise Refused(f"the shop has no {tool}: it has {tools}")
    return Entry(now(), "read", known, tuple(_lengths(job, values)), tool=tool)


def _lengths(job: Job, values: Sequence[str]) -> Iterator[Fraction]:
    texts = [one for value in values for one in value.split(",") if one.strip()]
    if not texts:
        raise Refused("what does it measure? Write a length")
    for text in texts:
        try:
            yield read_length(text.strip(), job.plan.units)
        except Misread as trouble:
            raise Refused(str(trouble)) from trouble


def setting(job: Job, name: str, value: str) -> Entry:
    """A named number that is to be this, whatever the sums say."""
    known = _known(name, job.build.pages, "number")
    (length,) = tuple(_lengths(job, (value,)))[:1]
    return Entry(now(), "set", known, numbers=((known, length),))


def cut(job: Job, name: str) -> Entry:
    """A part that is cut now, with every number that is printed for it; its thickness is the sheet's."""
    part = _known(name, job.build.parts_by_name, "part")
    if part in job.log.cut and job.log.cut[part].act == "cut":
        raise Refused(f"{part} is cut already ({job.log.cut[part].when}); write anew {part!r} to cut another")
    thick = job.build.part(part).thickness.name
    numbers = {name: dim.value for name, dim in numbers_of(job.build, part).items() if name != thick}
    return Entry(now(), "cut", part, numbers=tuple(numbers.items()))


def anew(job: Job, name: str, says: str = "") -> Entry:
    """A part that is to be cut again."""
    return Entry(now(), "anew", _known(name, job.build.parts_by_name, "part"), says=says)


def done(job: Job, step: str, *, undone: bool = False) -> Entry:
    """A step that is done, by its number, with every number that it cut."""
    number = step.removeprefix("step ").strip()
    steps = {str(one.number): one for one in job.order.steps}
    if number not in steps:
        raise Refused(f"there is no step {number}: they go from 1 to {len(steps)}")
    one = steps[number]
    says = f"step {number}: {one.title}"
    return Entry(now(), "undone" if undone else "done", step_mark(one), numbers=cut_step(job, one), says=says)


def note(text: str) -> Entry:
    """A note."""
    if not text.strip():
        raise Refused("the note is empty")
    return Entry(now(), "note", says=" ".join(text.split()))


def chose(job: Job, broken: Judged, remedy: Remedy) -> tuple[Entry, ...]:
    """What was done about a fit that broke, and the number that this moves."""
    numbers: list[tuple[str, Fraction]] = []
    if remedy.number:
        numbers = [(remedy.number, job.build.pages[remedy.number].value + remedy.by), *_read_gaps(broken, remedy)]
    elif remedy.way == "shim":
        numbers = [(broken.fit.gap_name, broken.gap.value - remedy.by)]
    entry = Entry(now(), "chose", broken.fit.name, numbers=tuple(numbers), says=remedy.says)
    return (entry, anew(job, remedy.part, f"for {broken.fit.name}")) if remedy.way == "anew" else (entry,)


def _read_gaps(broken: Judged, remedy: Remedy) -> Iterator[tuple[str, Fraction]]:
    """Gaps that were read with the piece held in, as the remedy leaves them: until they are read again."""
    for one, by in ((broken, lacks(broken)), *remedy.also):
        if is_fixed(one.fit.gap):
            yield one.fit.gap_name, one.gap.value + by


def written(plan: Path, shop: Path | None, before: Job, entries: Sequence[Entry]) -> tuple[Job, Changed]:
    """Write entries into the log of a plan; the job after it, and what is not as it was."""
    add(plan, *entries)
    after = job_at(plan, shop)
    return after, changed(before.build, after.build, before.judged, after.judged)


def far_off(job: Job, entries: Sequence[Entry]) -> tuple[tuple[str, Fraction], ...]:
    """Readings that lie farther from what was reckoned than tapes and saws go wrong: 6 mm or one in fifty [mm]."""
    found = []
    gaps = {one.fit.gap_name: one.gap for one in job.judged}
    for one in entries:
        page = job.build.pages.get(one.about) or gaps.get(one.about)
        for value in one.values if page is not None else ():
            assert page is not None
            if abs(value - page.value) > max(Fraction(6), abs(page.value) / 50):
                found.append((one.about, value - page.value))
    return tuple(found)
