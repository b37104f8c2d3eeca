"""Where pages end: what is kept together, what says that it goes on, and that no page is wasted."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby

import numpy
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from storystick.paper import PAPERS, packet
from storystick.paper.blocks import Block, Column, Figure, Heading, NewPage, Points, Table, Text, Whole
from storystick.paper.drawing.canvas import Box, Canvas
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.forms import CardHead, StepBlock
from storystick.paper.press import Section, lock_up, press
from tests.paper.test_samples import each_sample, folder_of

POINT = 25.4 / 72
HEADING, STEP = 15.0, 14.5  # sizes of lettering [pt]
LONG = "Of all that is said here every word is meant, and there is so much of it that it goes on for some lines. " * 6


@dataclass(frozen=True)
class Line:
    """A line of lettering on a page: its size [pt], where its top and foot are from the top of the page [mm]."""

    says: str
    size: float
    top: float
    foot: float
    left: float


def lines_on(page: pypdfium2.PdfPage) -> list[Line]:
    """The lines of a page from its top to its foot, without its own foot."""
    text, high = page.get_textpage(), page.get_height()
    chars = []
    for n in range(text.count_chars()):
        left, low, _, up = text.get_charbox(n, loose=True)
        size = round(pdfium.FPDFText_GetFontSize(text.raw, n), 1)
        if up > low and size > 6.9:
            says = chr(pdfium.FPDFText_GetUnicode(text.raw, n))
            chars.append((round((high - low) * POINT, 1), size, left * POINT, says))
    found = []
    for (foot, size), group in groupby(sorted(chars), key=lambda one: one[:2]):
        row = list(group)
        says = "".join(one[3] for one in row)
        if says.strip() and foot < high * POINT - 11.0:
            found.append(Line(says, size, foot - size * POINT, foot, row[0][2]))
    return found


def pages_of(pdf: bytes) -> list[list[Line]]:
    """The lines of each page."""
    return [lines_on(page) for page in pypdfium2.PdfDocument(pdf)]


def printed(*sections: Sequence[Block], paper: str = "letter") -> list[list[Line]]:
    """The lines of each page of some blocks, as they leave the press."""
    made = [Section(f"Part {n}", tuple(blocks), follows=n > 1) for n, blocks in enumerate(sections, 1)]
    return pages_of(press(lock_up("Trial", "foot", PAPERS[paper], made, "")))


@cache
def packet_of(name: str, paper: str) -> bytes:
    return packet(folder_of(name), paper=paper)


@cache
def pages_of_sample(name: str, paper: str) -> list[list[Line]]:
    return pages_of(packet_of(name, paper))


def lonely(pages: Sequence[Sequence[Line]]) -> Iterator[tuple[int, str]]:
    """Headings with less than two lines below them on their page."""
    for number, lines in enumerate(pages, 1):
        for head in lines:
            below = {round(line.foot) for line in lines if line.foot > head.foot + 1.0 and line.size != HEADING}
            if head.size == HEADING and len(below) < 2:
                yield number, head.says


def figure(high: float) -> Figure:
    canvas = Canvas(60.0, high)
    canvas.box(Box(0.0, 0.0, 60.0, high))
    return Figure(Drawn(canvas.svg("A board."), "A board.", 1.0, 60.0, high))


ROWS = (("board", "2"), ("strip", "3"), ("lip", "1"))
TABLE = Table((Column("what", 1.0), Column("how many", 1.0)), ROWS, dense=True)
AFTER = {
    "a line and a long text": (Text("One line.", "quiet"), Text(LONG, "small")),
    "a long text": (Text(LONG),),
    "points": (Points(("First.", "Then.", "Last.")),),
    "a line and a table": (Text("One line."), TABLE),
    "a line and a drawing": (Text("One line."), figure(40.0)),
}


@pytest.mark.parametrize("after", AFTER)
def test_a_heading_keeps_two_lines_below_it_wherever_on_a_page_it_comes(after: str):
    blocks: list[Block] = []
    for lines in range(24, 42):
        blocks += [*(Text("A line.") for _ in range(lines)), Heading("Heading"), *AFTER[after], NewPage()]
    pages = printed(blocks)
    assert sum(line.says == "Heading" for lines in pages for line in lines) == 18
    if after.endswith("drawing"):  # it has no lines: it is over 30 mm above its foot
        assert all(line.foot < 279.4 - 17 - 40 for lines in pages for line in lines if line.size == HEADING)
    else:
        assert not list(lonely(pages))


@pytest.mark.parametrize("paper", sorted(PAPERS))
@each_sample
def test_no_heading_of_a_packet_stands_alone_at_the_foot_of_its_page(name: str, paper: str):
    assert not [head for head in lonely(pages_of_sample(name, paper)) if head[0] > 1]


def test_a_step_with_a_title_of_two_lines_has_air_below_it():
    title = "Sand the inside faces of the work board, the gouge box, the cabinet and all of its drawers"
    for step in (StepBlock(1, title, (LONG,)), StepBlock(1, "Sand", (LONG,))):
        lines = printed((Heading("Sand"), step))[0]
        head = max(line.foot for line in lines if line.size == STEP)
        words = min(line.foot for line in lines if line.size == 11.5 and line.foot > head)
        assert words - head > 5.5
        assert len([line for line in lines if line.size == STEP]) == (2 if step.title == title else 1)


def test_a_card_longer_than_its_page_says_at_the_break_that_it_goes_on_and_whose_it_is():
    head = CardHead("AB", "left side", 1, (('30"', "long"),))
    pages = printed((Whole((head, *(figure(60.0) for _ in range(8)), TABLE)),))
    assert len(pages) == 3
    texts = [[line.says for line in lines] for lines in pages]
    for here, after in ((0, 1), (1, 2)):
        assert any("AB" in says and "left side" in says and "goes on overleaf" in says for says in texts[here])
        assert texts[after][0].startswith("AB") or "goes on" in " ".join(texts[after][:2])
    assert not any("overleaf" in says for says in texts[2])
    assert not any(says.endswith("goes on") for says in texts[0])


def test_a_card_that_its_page_holds_does_not_go_on():
    head = CardHead("AB", "left side", 1, (('30"', "long"),))
    pages = printed((Whole((head, figure(60.0), TABLE)), Whole((head, figure(170.0), TABLE))))
    assert len(pages) == 2
    assert not any("goes on" in line.says for lines in pages for line in lines)


def test_a_long_step_says_that_it_goes_on():
    pages = printed(
        (
            Heading("Drill"),
            StepBlock(7, "Drill", (LONG,) * 12),
        )
    )
    assert any("Step 7" in line.says and "overleaf" in line.says for line in pages[0])
    assert any("Step 7" in line.says for line in pages[1][:2])


def test_lists_are_set_closer_where_that_saves_a_page_with_little_on_it():
    def table(rows: int) -> Table:
        return Table(TABLE.columns, tuple((f"board {n}", "1") for n in range(rows)), dense=True)

    few, some, many = (printed((table(rows),)) for rows in (20, 48, 76))
    assert [len(few), len(some), len(many)] == [1, 1, 2]
    assert gap(some[0]) < gap(few[0]) - 0.5
    assert gap(many[0]) == pytest.approx(gap(few[0]), abs=0.15)  # a good part of a page would be left


def gap(lines: Sequence[Line]) -> float:
    """From one row of a table to the next [mm]."""
    feet = sorted({line.foot for line in lines if line.says.startswith("board")})
    return feet[3] - feet[2]


@pytest.mark.parametrize("paper", sorted(PAPERS))
@each_sample
def test_no_page_is_less_than_a_third_full(name: str, paper: str):
    for number, page in enumerate(pypdfium2.PdfDocument(packet_of(name, paper)), 1):
        grey = page.render(scale=0.5, grayscale=True).to_numpy().squeeze()
        high, wide = grey.shape
        inked = numpy.nonzero((grey[: int(0.93 * high), int(0.1 * wide) :] < 200).any(axis=1))[0]
        assert inked[-1] > high / 3, number


@pytest.mark.parametrize("paper", sorted(PAPERS))
@each_sample
def test_all_that_is_said_of_a_sheet_stands_on_its_page_or_below_its_name(name: str, paper: str):
    for lines in pages_of_sample(name, paper):
        notes = [line.foot for line in lines if "no layout does with less" in line.says]
        heads = [line.foot for line in lines if line.size == HEADING or "goes on" in line.says]
        assert all(any(head < note for head in heads) for note in notes)
