"""What can be asked about fits, said to the log, and asked of other shops."""

import argparse
import sys
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from storystick.app import tell
from storystick.app.asking import Verb, Words, answered, job_of, manner_of, takes_plan
from storystick.app.pipeline import Job
from storystick.ground.length import read_length, show
from storystick.ground.misread import Misread, nearest
from storystick.plan.log import ACTS, MEANS, Entry


def _draws(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--draws", type=int, default=100_000, help="how many builds to draw at random")


def _entry(parser: argparse.ArgumentParser) -> None:
    acts = "; ".join(f"{act}: {MEANS[act]}" for act in ACTS if act != "chose")
    parser.add_argument("act", metavar="ACT", nargs="?", choices=[a for a in ACTS if a != "chose"], help=acts)
    parser.add_argument("about", metavar="WORDS", nargs="*", help="what it is about, then what was read")
    parser.add_argument("--with", dest="tool", metavar="TOOL", default="", help="what it was measured with: calliper")


def _mend(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("fit", metavar="FIT", nargs="?", help="the fit to put right; all that broke if not said")
    parser.add_argument("choose", metavar="NUMBER", nargs="?", type=int, help="the remedy that you choose")


def _there(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--stock", metavar="NAME=LENGTH", action="append", default=[], help="a sheet's thickness there")


def _over(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--over", metavar="NAME=LENGTH,LENGTH", action="append", default=[],
        help="a named number and what it may be; the sheets of the plan over what is sold if not said",
    )  # fmt: skip


@answered
def fits(words: Words) -> int:
    """Will it go together?"""
    from storystick.app import show_fits
    from storystick.model.again import again
    from storystick.model.judged import simulate

    job = job_of(words)
    builds = simulate(job.judged, max(100, words.draws))
    ranked = again(job.made, job.judged, job.shop)
    tell.done()
    show_fits.fits(job, builds, ranked, job.channels, manner_of(words, job), as_json=words.json)
    return 0


@answered
def log(words: Words) -> int:
    """Write an entry, and say what it changes; without one, show the log."""
    from storystick.app import show_fits
    from storystick.app.entries import Refused, far_off, written
    from storystick.plan.log import written as line_of

    job = job_of(words)
    if words.act is None:
        show_fits.log(job.log, job.log_read.findings, as_json=words.json)
        return 0
    try:
        entries = _entries(job, words)
    except Refused as trouble:
        sys.stderr.write(f"storystick: {trouble}.\n")
        return 2
    after, found = written(Path(words.plan), Path(words.shop) if words.shop else None, job, entries)
    tell.done()
    lines = [line_of(one) for one in entries]
    show_fits.change(found, manner_of(words, after), as_json=words.json, wrote=lines)
    for name, off in far_off(job, entries):
        said = show(abs(off), manner_of(words, job))
        sys.stderr.write(f"storystick: mind that {name} is {said} off what was reckoned: a slip of the pen?\n")
    return 0


def _entries(job: Job, words: Words) -> Sequence[Entry]:
    from storystick.app import entries

    said: list[str] = words.about
    if words.act == "note":
        return (entries.note(" ".join(said)),)
    if not said:
        raise entries.Refused(f"what was {words.act}? {MEANS[words.act]}")
    match words.act:
        case "read":
            return (entries.reading(job, said[0], said[1:], words.tool),)
        case "set":
            return (entries.setting(job, said[0], " ".join(said[1:])),)
        case "cut":
            return tuple(entries.cut(job, part) for part in said)
        case "anew":
            return (entries.anew(job, said[0], " ".join(said[1:])),)
        case "undone":
            return tuple(entries.done(job, step, undone=True) for step in said)
        case _:
            return tuple(entries.done(job, step) for step in said)


@answered
def mend(words: Words) -> int:
    """What can be done about fits that broke."""
    from storystick.app import show_fits
    from storystick.app.entries import chose, written
    from storystick.app.offcuts import offcuts
    from storystick.model.mending import is_broken, remedies
    from storystick.plan.log import written as line_of

    job = job_of(words)
    asked = [one for one in job.judged if is_broken(one)]
    if words.fit is not None:
        named = {one.fit.name.casefold(): one for one in job.judged}
        wanted = named.get(words.fit.casefold())
        if wanted is None:
            close = nearest(words.fit, (one.fit.name for one in job.judged))
            said = f": is it {close}?" if close else "."
            sys.stderr.write(f"storystick: no fit is called {words.fit!r}{said}\n")
            return 2
        asked = [wanted]
    found = [(one, remedies(job.made, one, job.judged, job.log.in_wood, offcuts(job))) for one in asked]
    tell.done()
    if words.choose is None:
        show_fits.mends(found, job.log, manner_of(words, job), as_json=words.json)
        return 0
    one, open_to = found[0]
    if not 1 <= words.choose <= len(open_to):
        sys.stderr.write(f"storystick: {one.fit.name} has {len(open_to)} remedies to choose from.\n")
        return 2
    entries = chose(job, one, open_to[words.choose - 1])
    after, changes = written(Path(words.plan), Path(words.shop) if words.shop else None, job, entries)
    lines = [line_of(entry) for entry in entries]
    show_fits.change(changes, manner_of(words, after), as_json=words.json, wrote=lines)
    return 0


@answered
def elsewhere(words: Words) -> int:
    """The same plan in another shop."""
    from dataclasses import replace

    from storystick.app import elsewhere as other
    from storystick.app import show_elsewhere

    there = other.as_planned(job_of(words))
    here = Job(replace(there.texts, shop=None, shop_file=""), tell=there.tell)
    texts = replace(there.texts, units=words.units or there.shop.units)
    try:
        for name, lengths in _named_lengths(there, words.stock).items():
            texts = other.with_reading(texts, name, lengths[0])
    except Misread as trouble:
        sys.stderr.write(f"storystick: {trouble}.\n")
        return 2
    found = other.elsewhere(here, Job(texts, tell=there.tell))
    tell.done()
    show_elsewhere.other_shop(found, manner_of(words, here), as_json=words.json)
    return 0 if found.works else 1


@answered
def sweep(words: Words) -> int:
    """For which sheets and units the plan works."""
    from storystick.app import elsewhere as other
    from storystick.app import show_elsewhere

    job = other.as_planned(job_of(words))
    try:
        over = _named_lengths(job, words.over) or other.thicknesses(job.build)
    except Misread as trouble:
        sys.stderr.write(f"storystick: {trouble}.\n")
        return 2
    found = tuple(other.sweep(job, over))
    tell.done()
    show_elsewhere.trials(found, as_json=words.json)
    return 0 if all(one.works for one in found) else 1


def _named_lengths(job: Job, said: Sequence[str]) -> dict[str, tuple[Fraction, ...]]:
    """NAME=LENGTH,LENGTH as full names with lengths; a stock's name is its thickness. Misread when it can't be."""
    pages = {name.casefold(): name for name in job.build.pages}
    found: dict[str, tuple[Fraction, ...]] = {}
    for one in said:
        name, _, lengths = one.partition("=")
        asked = name.strip().casefold()
        full = pages.get(asked) or pages.get(f"{asked}.thick")
        if full is None or not lengths.strip():
            some = nearest(name, pages) or next((stock.name for stock in job.build.stock), "thickness")
            raise Misread(one, "a number's name, =, and lengths", f"{some}=17.2 mm")
        found[full] = tuple(read_length(text.strip(), job.plan.units) for text in lengths.split(","))
    return found


FIT_VERBS: dict[str, Verb] = {
    "fits": Verb(
        "will it go together, with my sheet, saw and tape?", "storystick fits PLAN", (takes_plan, _draws), fits
    ),
    "log": Verb(
        "say what was measured, cut or done; see what that changes",
        "storystick log PLAN read birch18.thick '17.6 mm' '17.7 mm' --with calliper", (takes_plan, _entry), log,
    ),
    "mend": Verb("what to do about a fit that broke?", "storystick mend PLAN 'FIT' 1", (takes_plan, _mend), mend),
    "elsewhere": Verb(
        "what does another shop make of it?", "storystick elsewhere PLAN --shop theirs.yaml --stock 'birch18=17.2 mm'",
        (takes_plan, _there), elsewhere,
    ),
    "sweep": Verb("for which sheets and units does it work?", "storystick sweep PLAN", (takes_plan, _over), sweep),
}  # fmt: skip
