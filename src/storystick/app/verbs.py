"""What can be asked from the command line. Each verb reads its words, asks the job, and shows the answer."""

import argparse
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from storystick.app import show, tell
from storystick.app.asking import Verb, Words, answered, job_of, manner_of, takes_plan
from storystick.app.bought import paid
from storystick.app.fit_verbs import FIT_VERBS
from storystick.app.packet_verb import PACKET_VERBS
from storystick.app.pipeline import Job
from storystick.app.printed import called, everything
from storystick.app.rack_verbs import RACK_VERBS
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade, worst
from storystick.ground.length import Manner, read_length
from storystick.ground.misread import Misread, nearest


def _name(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", nargs="+", help="the name of a number, as 'cabinet.shelf 1.length'")


def _new(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the file to write; it must not exist yet")
    parser.add_argument("--title", default="", help="what the piece is called")
    parser.add_argument("--units", choices=("inch", "mm"), default="inch", help="units of the plan")
    for word, says in (("wide", "left to right"), ("deep", "front to back"), ("high", "floor to top")):
        parser.add_argument(f"--{word}", metavar="LENGTH", help=f"how {word} it is over all, {says}")


def _folder(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("plans", metavar="PLANS_FOLDER", nargs="?", help="the folder of your plans")
    parser.add_argument("--lan", action="store_true", help="also for a phone in the local network, by a secret link")
    parser.add_argument("--port", type=int, default=4863, help="the number of the door, 4863 if it is free")
    parser.add_argument("--no-browser", action="store_true", help="print the link instead of opening a browser")


def _out(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--to", metavar="FILE", help="write it to this file instead of the screen")
    parser.add_argument("--units", choices=("inch", "mm"), default="inch", help="in which habit of sizes")


@answered
def check(words: Words) -> int:
    """Everything that can be found wrong, and what was found good with how much to spare."""
    job = job_of(words)
    found = job.proved
    tell.done()
    show.checked(job, found, manner_of(words, job), as_json=words.json, everything=words.all)
    return 1 if worst(found) is Grade.STOP else 0


def _all(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--all", action="store_true", help="also what was found good, with its margin")


@answered
def why(words: Words) -> int:
    """How one number came about, or why a step stands where it does."""
    from storystick.app.why_step import steps_named, why_step

    job = job_of(words)
    pages = job.build.pages
    asked = " ".join(words.name)
    found = {name.casefold(): name for name in pages}.get(asked.casefold())
    if found is None:  # a setting, a fit: what only the order of work and the fits have named
        pages = job.pages
        found = {name.casefold(): name for name in pages}.get(asked.casefold())
    if found is None:  # what is printed of sheets, tools and screws; or a number itself, as it is printed
        pages = everything(job)
        found = {name.casefold(): name for name in pages}.get(asked.casefold())
    if found is None and (names := _named_so(job, words, asked)):
        tell.done()
        return _why_each(pages, names, words, manner_of(words, job))
    if found is None and (steps := steps_named(job.order, asked)):
        tell.done()
        show.told([line for step in steps for line in why_step(step, job.order.steps)], as_json=words.json)
        return 0
    if found is None:
        inside = [name for name in pages if asked.casefold() in name.casefold()]
        close = nearest(asked, pages)
        tell.done()
        sys.stderr.write(f"storystick: no number and no step is called {asked!r}.\n")
        if inside or close:
            sys.stderr.write("These come near:\n")
        for name in inside[:12] or ([close] if close else []):
            sys.stderr.write(f"  {name}\n")
        return 2
    tell.done()
    show.why(pages[found], manner_of(words, job), as_json=words.json)
    return 0


def _named_so(job: Job, words: Words, text: str) -> tuple[str, ...]:
    """Names of the numbers that are printed as the text is, in the buying list too; none where it is neither."""
    manner = manner_of(words, job)
    try:
        value = read_length(text.removesuffix("scant").removesuffix("heavy").strip(), manner.unit)
    except Misread:
        return paid(job, text)
    return (*called(job, text, value, manner), *paid(job, text))


def _why_each(pages: Mapping[str, Dim], names: Sequence[str], words: Words, manner: Manner) -> int:
    """Why a printed number is what it is: the story of the first that is printed so, and the names of the others."""
    if not words.json:
        more = f" Asked for here: {names[0]}." if len(names) > 1 else ""
        show.wrapped(f"{show.counted(len(names), 'number')} printed so.{more}")
        show.out()
    show.why(pages[names[0]], manner, as_json=words.json)
    if not words.json and len(names) > 1:
        show.out()
        show.wrapped(f"The others: {'; '.join(names[1:40])}{' ...' if len(names) > 40 else ''}")
    return 0


@answered
def parts(words: Words) -> int:
    """Every part with its letter, size and stock."""
    job = job_of(words)
    show.parts(job.build, manner_of(words, job), job.told_last, as_json=words.json)
    return 0


@answered
def buy(words: Words) -> int:
    """What to buy, with prices."""
    job = job_of(words)
    buying = job.buying
    tell.done()
    show.buying(buying, as_json=words.json)
    return 0


@answered
def sheets(words: Words) -> int:
    """Which sheet gives which part, and the cuts in order."""
    job = job_of(words)
    cuttings = job.cuttings
    tell.done()
    show.sheets(job, cuttings, manner_of(words, job), as_json=words.json)
    return _told(job.laid_out.findings)


@answered
def steps(words: Words) -> int:
    """The order of work."""
    from storystick.plan.wanted import LIKE, unclear
    from storystick.work.wishes import wish_of

    job = job_of(words)
    said = [(sort, text) for sort in ("pin", "forbid", "prefer") for text in getattr(words, sort)]
    wrong = next((text for sort, text in said if unclear(sort, text)), None)
    if wrong is not None:
        sys.stderr.write(f"storystick: {wrong!r} does not say which step comes before which: {LIKE!r}.\n")
        return 2
    order = job.order_with([wish_of(sort, text) for sort, text in said]) if said else job.order
    tell.done()
    show.steps(job, order, manner_of(words, job), as_json=words.json)
    return _told(order.findings)


def _told(findings: tuple[Finding, ...]) -> int:
    return 1 if worst(findings) is Grade.STOP else 0


def _one_file(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--to", metavar="FILE", help="the file or folder to write it to; beside the plan if not said")


@answered
def share(words: Words) -> int:
    """The whole plan as one file that any browser opens, with nothing else and no network."""
    from storystick.app.files import aimed, write_whole
    from storystick.app.page.answers import in_units
    from storystick.app.page.shared import shared

    job = in_units(job_of(words), words.units or "")
    target = aimed(words.to, Path(words.plan).with_suffix(".html"))
    text = shared(job).encode()
    write_whole(target, text)
    tell.done()
    show.wrote(target, len(text), job.all_findings, as_json=words.json)
    return _told(job.all_findings)


@answered
def export(words: Words) -> int:
    """The piece as files for other programs and machines."""
    from storystick.app.files import write_whole
    from storystick.exports import shelf

    formats = shelf()
    for name in words.formats:
        if name not in formats:
            close = nearest(name, formats)
            sys.stderr.write(f"storystick: {name!r} is no format" + (f"; did you mean {close}?\n" if close else ".\n"))
    if not words.formats or any(name not in formats for name in words.formats):
        show.formats(formats.values(), as_json=words.json)
        return 2 if words.formats else 0
    job = job_of(words)
    found = job.proved  # told before any folder is made
    wrote: list[tuple[Path, int]] = []
    for name in dict.fromkeys(words.formats):
        folder = Path(words.to) if words.to else Path(words.plan).with_suffix("")
        folder.mkdir(parents=True, exist_ok=True)
        for file in formats[name].make(job):
            write_whole(folder / file.name, file.content)
            wrote.append((folder / file.name, len(file.content)))
    tell.done()
    show.wrote_all(wrote, found, as_json=words.json)
    return _told(found)


def _wishes(parser: argparse.ArgumentParser) -> None:
    for sort, also, says in (
        ("pin", ("--first",), '"A before B", "A first" or "A last", in words of the steps\' titles; the price is told'),
        ("forbid", (), '"A before B": it is done the other way round'),
        ("prefer", (), "as --pin, but only where it costs no more than half an hour"),
    ):
        parser.add_argument(f"--{sort}", *also, dest=sort, metavar="WORDS", action="append", default=[], help=says)


def _formats(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--as", dest="formats", metavar="FORMAT", nargs="+", default=[], help="dxf, step ...; leave it out to see which"
    )
    parser.add_argument("--to", metavar="FOLDER", help="where to write; a folder beside the plan if not said")


def new(words: Words) -> int:
    """A plan to begin with."""
    from storystick.app.files import write_new
    from storystick.plan.write import Answers, skeleton

    target = Path(words.file)
    title = words.title or target.stem.replace("-", " ").replace("_", " ").capitalize()
    usual = {"inch": ("24", "16", "30"), "mm": ("600", "400", "760")}[words.units]
    sizes = []
    for word, text in zip(("wide", "deep", "high"), usual, strict=True):
        try:
            sizes.append(read_length(getattr(words, word) or text, words.units))
        except Misread as trouble:
            sys.stderr.write(f"storystick: --{word}: {trouble}.\n")
            return 2
    wide, deep, high = sizes
    answers = Answers(title, words.units, wide, deep, high)
    if not write_new(target, skeleton(answers).encode()):
        sys.stderr.write(f"storystick: {target.name} exists already; nothing was written.\n")
        return 2
    sys.stdout.write(f"wrote {target}\n")
    return 0


def schema(words: Words) -> int:
    """The JSON Schema of plan files, for editors."""
    from storystick.app.plan_schema import schema_text

    return _written(words.to, schema_text())


def shop(words: Words) -> int:
    """The usual small shop as a file to make your own."""
    from storystick.shop.usual import usual_text

    return _written(words.to, usual_text(words.units))


def _written(to: str | None, text: str) -> int:
    from storystick.app.files import write_new

    if to is None:
        sys.stdout.write(text)
        return 0
    if not write_new(Path(to), text.encode()):
        sys.stderr.write(f"storystick: {Path(to).name} exists already; nothing was written.\n")
        return 2
    sys.stdout.write(f"wrote {to}\n")
    return 0


def page(words: Words) -> int:
    """The page in a browser: the whole job, for this computer, and for a phone at the bench when asked."""
    from storystick.app.page.serve import Opened, serve

    plans = Path(words.plans) if words.plans else Path.home() / "storystick-plans"
    if words.plans and not plans.is_dir():
        sys.stderr.write(f"storystick: there is no folder called {words.plans!r}.\n")
        return 2
    samples = Path(__file__).parents[3] / "samples"
    return serve(Opened(plans, samples, words.port, lan=words.lan, show=not words.no_browser))


VERBS: dict[str, Verb] = {
    "check": Verb(
        "is anything wrong with it?", "storystick check samples/lathe-cabinet.yaml", (takes_plan, _all), check
    ),
    "why": Verb(
        "where does this number come from?", "storystick why PLAN cabinet.shelf 1.length", (takes_plan, _name), why
    ),
    "parts": Verb("which parts, how big, of what?", "storystick parts PLAN --units mm", (takes_plan,), parts),
    "buy": Verb("what is to be bought, for how much?", "storystick buy PLAN --shop my-shop.yaml", (takes_plan,), buy),
    "sheets": Verb("which sheet gives which part, by which cuts?", "storystick sheets PLAN", (takes_plan,), sheets),
    "steps": Verb("in which order is it built?", "storystick steps PLAN", (takes_plan, _wishes), steps),
    **PACKET_VERBS,
    "share": Verb(
        "write the whole plan as one file for any browser (HTML)",
        "storystick share PLAN --to for-a-friend.html",
        (takes_plan, _one_file),
        share,
    ),
    "export": Verb(
        "write it for other programs and machines",
        "storystick export PLAN --as dxf step --to for-the-mill",
        (takes_plan, _formats),
        export,
    ),
    **FIT_VERBS,
    **RACK_VERBS,
    "new": Verb("write a plan to begin with", "storystick new bench-cabinet.yaml", (_new,), new),
    "page": Verb("open the page (also when nothing is asked)", "storystick page my-plans --lan", (_folder,), page),
    "schema": Verb(
        "print the JSON Schema of plan files, for editors", "storystick schema --to plan.json", (_out,), schema
    ),
    "shop": Verb("print the usual shop as a file to make your own", "storystick shop --to my-shop.yaml", (_out,), shop),
}


def names() -> Iterator[str]:
    """The verbs, in the order in which a job asks them."""
    yield from VERBS
