"""A story stick is printed in its true size, and a line on its page proves it."""

from itertools import pairwise

import pytest

from storystick.ground.length import Manner, inch
from storystick.paper import PAPERS, packet
from storystick.paper.drawing.stick import lengths_of, stick_page, ticks_of
from tests.paper import by_hand
from tests.paper.readback import faults, numbers, opened

SIDE = by_hand.parts()[0]


def test_a_stick_has_a_tick_for_every_cut_along_the_part_and_for_its_end():
    assert [tick.value for tick in ticks_of(SIDE)] == [
        inch(text) for text in ("3 1/2", "4", "4 23/64", *by_hand.PINS, "27", "29 9/32", "30")
    ]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=lambda paper: paper.name)
def test_the_strips_follow_one_another_and_lose_no_tick(paper):
    strips = lengths_of("A", SIDE, paper.depth)
    assert strips[0].start == 0
    assert strips[-1].end == pytest.approx(30 * 25.4)
    assert all(one.end == other.start for one, other in pairwise(strips))
    told = [tick.value for strip in strips for tick in strip.ticks]
    assert set(told) == {tick.value for tick in ticks_of(SIDE)}


@pytest.mark.parametrize("manner", [Manner("inch", 32), Manner("mm")], ids=["inch", "mm"])
def test_no_number_beside_a_stick_lies_on_another(manner: Manner):
    drawn = stick_page(lengths_of("A", SIDE, 200.0)[:5], manner, 178.0, 200.0)
    assert faults(drawn) == []
    assert len(list(numbers(drawn.svg))) > 8


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_the_line_on_the_page_is_as_long_as_it_says_and_so_are_the_sticks(paper: str):
    with opened(packet(by_hand.folder(), paper=paper, pages=["stick"])) as book:
        page = book.pages[0]
        lines = [
            (float(line["x0"]), float(line["x1"]), float(line["top"]), float(line["bottom"])) for line in page.lines
        ]
        upright = sorted(
            {round(top, 3) for x0, x1, top, bottom in lines if abs(top - bottom) < 0.01 and 30 < x1 - x0 < 32}
        )
        longest = max(x1 - x0 for x0, x1, top, bottom in lines if abs(top - bottom) < 0.01 and x1 - x0 < 400)
    assert longest == pytest.approx(4 * 72, abs=0.01)
    # 3 1/2, 4, 8 and 10, 14 and 16 ... of the first strips: whole half inches lie 36 points apart on the paper
    gaps = [round(b - a, 2) for i, a in enumerate(upright) for b in upright[i:]]
    assert 36.0 in gaps
    assert 144.0 in gaps
