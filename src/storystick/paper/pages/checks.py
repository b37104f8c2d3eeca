"""Checks: what was looked at, the number, the limit, the margin, and who says so."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner, show_number
from storystick.paper.blocks import Block, Column, Heading, Table, Text
from storystick.paper.folder import Folder
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper

HEADS = {
    Grade.STOP: "Can't be built as it stands",
    Grade.CARE: "Look at these before cutting",
    Grade.NOTE: "Worth knowing",
    Grade.FINE: "Looked at and found good",
}


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """The worst first; what passed with its margins last."""
    manner = folder.build.manner
    for grade, head in HEADS.items():
        found = [finding for finding in folder.findings if finding.grade is grade]
        if not found:
            continue
        yield Heading(head)
        numbered = [finding for finding in found if finding.number is not None]
        for finding in found:
            if finding.number is None:
                source = f" {finding.source}." if finding.source else ""
                yield Text(f"{finding.says} {finding.advice}".strip() + source)
        if numbered:
            yield Table(
                (Column("what", 2.6), Column("number", 0.8, "right"), Column("limit", 0.8, "right"), Column("margin", 0.8, "right"), Column("source", 1.4)),
                tuple(
                    ((finding.says, finding.advice) if finding.advice else finding.says, shown(finding.number, finding, manner), shown(finding.limit, finding, manner), shown(finding.margin, finding, manner), str(finding.source or ""))
                    for finding in numbered
                ),
            )  # fmt: skip


def shown(number: Fraction | float | None, finding: Finding, manner: Manner) -> str:
    """A finding's number in its unit; lengths in the build's manner."""
    if number is None:
        return ""
    exact = Fraction(number).limit_denominator(10**6)
    if finding.unit == "mm":
        return said(exact, manner) if manner.unit == "mm" or exact >= manner.mark else f"{show_number(exact, 2)} mm"
    return f"{show_number(exact, 2)} {finding.unit}".strip()


PAGE = Page("checks", 100, "Checks and margins", make)
