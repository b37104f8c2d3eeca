"""Answers as text for a screen of 80 columns, or as JSON."""

import json
import sys
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from storystick.app import plain
from storystick.app.pipeline import Job
from storystick.ground.dim import Dim
from storystick.ground.dim import why as because
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner, show, show_number
from storystick.model.build import Build
from storystick.model.work import Buying, Cutting, WorkOrder

if TYPE_CHECKING:
    from storystick.exports import Export

WIDTH = 80
SIZES = ("length", "width", "thickness")
GRADES = {Grade.STOP: "stop", Grade.CARE: "care", Grade.NOTE: "note", Grade.FINE: "fine"}


def out(text: str = "") -> None:
    """One line on the screen."""
    sys.stdout.write(text + "\n")


def put_json(value: Any) -> None:
    """A value as JSON, keys in their order."""
    out(json.dumps(value, ensure_ascii=False, indent=2))


def wrapped(text: str, indent: str = "", first: str | None = None) -> None:
    """A text over as many lines as it needs."""
    for line in textwrap.wrap(text, WIDTH, initial_indent=indent if first is None else first, subsequent_indent=indent):
        out(line)


def table(head: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[int] = ()) -> None:
    """A table with its heading; columns as wide as they need, the widest text column cut to fit the screen."""
    lines = [list(head), *(list(row) for row in rows)]
    widths = [max(len(line[i]) for line in lines) for i in range(len(head))]
    spare = WIDTH - sum(widths) - 2 * (len(widths) - 1)
    if spare < 0:
        widest = max(range(len(widths)), key=lambda i: widths[i] if i not in right else 0)
        widths[widest] = max(8, widths[widest] + spare)
    for number, line in enumerate(lines):
        cells = []
        for i, (text, width) in enumerate(zip(line, widths, strict=True)):
            cut = text if len(text) <= width else text[: width - 1] + "…"
            cells.append(cut.rjust(width) if i in right else cut.ljust(width))
        out("  ".join(cells).rstrip())
        if number == 0:
            out("  ".join("-" * width for width in widths))


def finding(one: Finding) -> None:
    """One finding: where, how grave, which; the fact; what to do; who says so."""
    out(f"{one.place}: {GRADES[one.grade]} ({one.code})")
    wrapped(one.says, "  ")
    if one.advice:
        wrapped(one.advice, "  ")
    if one.source:
        wrapped(f"Source: {one.source}", "  ")
    out()


def findings(found: Iterable[Finding], json_too: bool, heading: str = "") -> None:
    """Findings, all of them."""
    listed = list(found)
    if json_too:
        put_json({"findings": [plain.finding(f) for f in listed]})
        return
    if heading:
        out(f"{heading[0].upper()}{heading[1:]}: {counted(len(listed), 'thing')} to put right.\n")
    for one in listed:
        finding(one)


def counted(number: int, word: str, words: str = "") -> str:
    """1 part, 2 parts."""
    return f"{number} {word if number == 1 else words or word + 's'}"


def checked(job: Job, found: Sequence[Finding], manner: Manner, *, as_json: bool, everything: bool) -> None:
    """What `check` answers: the piece in a line, then what was found, the worst first."""
    build = job.build
    if as_json:
        put_json({"title": build.title, **plain.size_up(build), "findings": [plain.finding(f) for f in found]})
        return
    told = [f for f in found if f.grade is not Grade.FINE]
    fine = len(found) - len(told)
    kinds = len({p.letter for p in build.parts})
    out(
        f"{build.title}: {counted(len(build.parts), 'part')} ({kinds} different), "
        f"{counted(len(build.joints), 'joint')}."
    )
    out(f"{counted(fine, 'check')} found good; {counted(len(told), 'thing')} to look at.\n")
    for one in found if everything else told:
        finding(one)


def why(dim: Dim, manner: Manner, *, as_json: bool) -> None:
    """A number's whole story as a tree."""

    def said(one: Dim) -> str:
        return show(one.value, manner) if one.power == 1 else show_number(one.value)

    lines = because(dim, said)
    if as_json:
        put_json([plain.because(line, said) for line in lines])
        return
    for line in lines:
        lead = "  " * line.depth
        text = f"{line.name} {said(line.dim)}".strip() + (f" = {line.formula}" if line.formula else "")
        wrapped(text, lead + "    ", lead)
        if line.because:
            wrapped(line.because, lead + "      ", lead + "    · ")


def told(lines: Sequence[str], *, as_json: bool) -> None:
    """Plain sentences."""
    if as_json:
        put_json({"says": list(lines)})
        return
    for line in lines:
        wrapped(line, "  ", "")


def parts(build: Build, manner: Manner, last: Mapping[str, str], *, as_json: bool) -> None:
    """The parts, those that are alike in one line; `last`: those better cut to fit, how often they go wrong else."""
    rows = plain.parts(build, manner)
    for row in rows:
        row["better_to_fit"] = [name for name in row["names"] if name in last]
    if as_json:
        put_json(rows)
        return
    table(
        ("", "part", "n", "length", "width", "thick", "stock"),
        [
            (r["letter"], ", ".join(_short(r["names"])), str(r["count"]), *(r[word] for word in SIZES), r["stock"])
            for r in rows
        ],
        right=(2, 3, 4, 5),
    )  # fmt: skip
    if any(r["fit_to"] for r in rows):
        out("\nCut to fit when the rest stands dry; the sizes here are only a start:")
        for r in rows:
            if r["fit_to"]:
                out(f"  {r['letter']} {', '.join(_short(r['names']))}: to {r['fit_to']}")
    if any(r["better_to_fit"] for r in rows):
        out()
        wrapped("Better cut when the rest stands dry, to what is there; the sizes here are provisional:")
        for r in rows:
            for name in r["better_to_fit"]:
                wrapped(f"{r['letter']} {name}: cut at once it goes wrong in {last[name]} of builds", "    ", "  ")


def _short(names: Sequence[str]) -> list[str]:
    """Part names without what they have in common; more than two are counted."""
    short = [name.split(".", 1)[-1] if name.count(".") == 1 else name for name in names]
    return short if len(short) <= 2 else [short[0], f"and {len(short) - 1} more"]


def buying(bought: Buying, *, as_json: bool) -> None:
    """The buying list."""
    if as_json:
        put_json(plain.buying(bought))
        return
    rows = []
    for line in bought.lines:
        price = "" if line.price is None else plain.money(line.price, bought.currency)
        total = "" if line.total is None else plain.money(line.total, bought.currency)
        mark = " ~" if line.guessed and total else ""
        have = f"{line.have}" if line.have else ""
        unit = "" if line.unit == "each" else f" {line.unit}"
        rows.append((line.what, line.size, f"{line.count}{unit}", have, price, total + mark))
    table(("what", "size", "need", "have", "price", "total"), rows, right=(2, 3, 4, 5))
    guess = any(line.guessed and line.price is not None for line in bought.lines)
    without = sum(1 for line in bought.lines if line.price is None)
    out(f"\nIn all {plain.money(bought.total, bought.currency)}" + (", ~ guessed prices" if guess else ""))
    if without:
        out(f"{counted(without, 'line')} without a price {'is' if without == 1 else 'are'} not in the sum.")


def sheets(job: Job, cuttings: Sequence[Cutting], manner: Manner, *, as_json: bool) -> None:
    """Every sheet and length with its cuts in order."""
    if as_json:
        put_json([plain.cutting(c, job.build, manner) for c in cuttings])
        return
    for one in plain.cut_lists(cuttings, job.build, manner):
        out(one.heading)
        for line in one.lines:
            wrapped(line, "      ", "  ")
        out()
    for cutting in cuttings:
        for note in cutting.notes:
            wrapped(f"{cutting.stock.name}: {note}", "  ", "")
    findings(job.laid_out.findings, False)


def steps(job: Job, order: WorkOrder, manner: Manner, *, as_json: bool) -> None:
    """The steps, in order."""
    if as_json:
        put_json(plain.steps(order, manner))
        return
    for step in order.steps:
        wrapped(f"{step.number}. {step.title}", "   ", "")
        for setup in step.setups:
            value = f" {set_to(setup.to, manner)}" if setup.to is not None else ""
            wrapped(f"Set {setup.machine}, {setup.tool}: {setup.name}{value}".replace(", :", ":"), "     ", "   ")
        for text in step.does:
            wrapped(text, "     ", "   ")
        if step.check:
            wrapped(f"Check: {step.check}", "     ", "   ")
        if step.caution:
            wrapped(f"Caution: {step.caution}", "     ", "   ")
        wrapped(f"Day {step.day}, {hours(step.hands_on)}. Why here: {step.why_here}.", "     ", "   ")
        out()
    hands = sum(s.hands_on for s in order.steps)
    out(f"About {hours(hands)} of work.")
    if (sum_ := order.reckoned) is not None:
        says = f"Setting up takes {hours(round(sum_.set_up))} of it; no order could do with less than"
        wrapped(f"{says} {hours(round(sum_.least_set_up))}.", "  ", "")
        says = f"With days of {sum_.hours:g} hours it is done {moment(sum_.ends)}; no order could end before"
        wrapped(f"{says} {moment(sum_.least_end).removeprefix('on ')}.", "  ", "")
    findings(order.findings, False)


def moment(minutes: float) -> str:
    """1500 -> on day 2, after 1 h."""
    day, rest = divmod(minutes, 24 * 60)
    return f"on day {int(day) + 1}, after {hours(round(rest))}"


def set_to(to: Dim, manner: Manner) -> str:
    """What a machine is set to: a length, or an angle."""
    return show(to.value, manner) if to.power else f"{float(to.value):g} degrees"


def hours(minutes: int) -> str:
    """90 -> 1 1/2 h."""
    if minutes < 60:
        return f"{minutes} min"
    halves = Fraction(round(minutes / 30), 2)
    whole, rest = divmod(halves, 1)
    return f"{whole} h" if not rest else f"{whole} 1/2 h"


def wrote(target: Path, size: int, found: Sequence[Finding], *, as_json: bool) -> None:
    """What was written, and whether something found needs a look."""
    told = [f for f in found if f.grade >= Grade.CARE]
    if as_json:
        put_json({"wrote": str(target), "bytes": size, "findings": [plain.finding(f) for f in told]})
        return
    out(f"wrote {target} ({size // 1024} KB)")
    if told:
        out(f"{counted(len(told), 'thing')} to look at first; ask `storystick check`.")


def wrote_all(files: Sequence[tuple[Path, int]], found: Sequence[Finding], *, as_json: bool) -> None:
    """Files that were written, those of one folder and ending together, and whether something found needs a look."""
    told = [f for f in found if f.grade >= Grade.CARE]
    if as_json:
        wrote = [{"wrote": str(target), "bytes": size} for target, size in files]
        put_json({"files": wrote, "findings": [plain.finding(f) for f in told]})
        return
    groups: dict[tuple[str, str], list[int]] = {}
    for target, size in files:
        groups.setdefault((str(target.parent), target.suffix), []).append(size)
    for (folder, suffix), sizes in groups.items():
        out(f"wrote {counted(len(sizes), suffix.lstrip('.') + ' file')} to {folder} ({max(1, sum(sizes) // 1024)} KB)")
    if told:
        out(f"{counted(len(told), 'thing')} to look at first; ask `storystick check`.")


def formats(known: Iterable["Export"], *, as_json: bool) -> None:
    """The formats that a piece can be written in."""
    rows = [(one.name, one.says) for one in known]
    if as_json:
        put_json([{"name": name, "says": says} for name, says in rows])
        return
    out("Say which with --as; several in a row are taken too.\n")
    wide = max(len(name) for name, _ in rows) + 2
    for name, says in rows:
        wrapped(says, " " * (wide + 2), f"  {name:<{wide}}")
