"""Checks: what was looked at, the number, the limit, the margin, and who says so."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import INCH, Manner, show_number
from storystick.ground.quantities import Weight, show_weight
from storystick.paper.blocks import Block, Cell, Column, Heading, Table, Text
from storystick.paper.folder import Folder
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import sentence
from storystick.paper.spoken import aloud

HEADS = {
    Grade.STOP: "Can't be built as it stands",
    Grade.CARE: "Look at these before cutting",
    Grade.NOTE: "Worth knowing",
    Grade.FINE: "Looked at and found good",
}


COLUMNS = (
    Column("what", 1.0), Column("number", 0, "right"), Column("limit", 0, "right"), Column("margin", 0, "right"),
    Column("source", 0, "right"),
)  # fmt: skip


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """The worst first; what passed last, each kind of check once, by the one that has least to spare."""
    sources: dict[str, int] = {}
    for grade, head in HEADS.items():
        found = [spoken_out(finding, folder) for finding in folder.findings if finding.grade is grade]
        if found:
            yield Heading(head)
            yield from (
                told(found, folder.build.manner, sources)
                if grade is not Grade.FINE
                else passed(found, folder.build.manner, sources)
            )
    if sources:
        where = "Where nothing is said of it, a rule is common practice, with no published source."
        each = "  ".join(f"[{number}] {briefly(source)}." for source, number in sources.items())
        yield from (Heading("Sources"), Text(where, "quiet"), Text(each, "small"))


def briefly(source: str) -> str:
    """A source with how sure it is in few words."""
    for long, short in HOW_SURE.items():
        source = source.replace(long, short)
    return source


HOW_SURE = {
    " (house rule: common practice, no published source)": "",
    "(published, quoted from memory: check it)": "(published; from memory)",
}


def spoken_out(finding: Finding, folder: Folder) -> Finding:
    """A finding with the names in it put the way they are said."""
    return replace(finding, says=aloud(finding.says, folder.names), advice=aloud(finding.advice, folder.names))


def told(found: Sequence[Finding], manner: Manner, sources: dict[str, int]) -> Iterator[Block]:
    """Each finding by itself: those with numbers in a table."""
    for finding in found:
        if finding.number is None:
            mark = f" [{cited(finding, sources)}]" if finding.source else ""
            yield Text(f"{sentence(finding.says)} {finding.advice}".strip() + mark)
    numbered = tuple(row(finding, "", manner, sources) for finding in found if finding.number is not None)
    if numbered:
        yield Table(COLUMNS, numbered, dense=True)


def passed(found: Sequence[Finding], manner: Manner, sources: dict[str, int]) -> Iterator[Block]:
    """One row for each kind of check: the finding with the least margin, and how many others have more."""
    kinds: dict[tuple[str, str], list[Finding]] = {}
    for finding in found:
        kinds.setdefault((finding.code, finding.unit), []).append(finding)
    rows = []
    for group in kinds.values():
        tightest = min(group, key=spare)
        more = f"({len(group) - 1} more with no less to spare.)" if len(group) > 1 else ""
        rows.append(row(tightest, more, manner, sources))
    yield Table(COLUMNS, tuple(rows), dense=True)


def spare(finding: Finding) -> float:
    """The margin as a share of the limit: what is tightest comes first."""
    if finding.margin is None or not finding.limit:
        return float("inf")
    return finding.margin / abs(float(finding.limit))


def row(finding: Finding, more: str, manner: Manner, sources: dict[str, int]) -> tuple[Cell, ...]:
    """What was looked at, the number, its limit, the margin, and which source."""
    says = sentence(f"{finding.says} {more}") if more else sentence(finding.says)
    words = tuple(text for text in (says, finding.advice) if text)
    numbers = (finding.number, finding.limit, finding.margin)
    return (words, *(shown(number, finding, manner) for number in numbers), cited(finding, sources))


def cited(finding: Finding, sources: dict[str, int]) -> str:
    """The number of a finding's source in the list below."""
    if finding.source is None:
        return ""
    return str(sources.setdefault(str(finding.source), len(sources) + 1))


def shown(number: Fraction | float | None, finding: Finding, manner: Manner) -> str:
    """A finding's number in its unit; lengths in the build's manner."""
    if number is None:
        return ""
    exact = Fraction(number).limit_denominator(10**6)
    if finding.unit == "mm":
        fine = finding.margin is not None and abs(finding.margin) < 2 * manner.mark
        if manner.unit == "mm" or (abs(exact) >= 2 * manner.mark and not fine):
            return said(exact, manner)
        return f'{float(exact / INCH):.3f}"'
    if finding.unit == "kg" and manner.unit == "inch":
        return show_weight(Weight(exact), "lb")
    if finding.unit == "N" and manner.unit == "inch":
        return f"{show_number(exact / POUND_FORCE, 1)} lb"
    if finding.unit == "N" and " kg" in finding.says:  # the sentence says it as a weight
        return f"{show_number(exact / GRAVITY, 2)} kg"
    return f"{show_number(exact, 2)} {finding.unit}".strip().removesuffix(" times")


GRAVITY = Fraction("9.80665")
"""What a kilogram presses with [N], by definition."""
POUND_FORCE = Fraction("4.4482216152605")
"""One pound of force [N], by definition."""


PAGE = Page("checks", 100, "Checks and margins", make, follows=True)
