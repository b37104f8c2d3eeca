"""A story stick is printed in its true size, and a line on its page proves it."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest

from storystick.ground.dim import given
from storystick.ground.length import Manner, inch
from storystick.paper import PAPERS, packet
from storystick.paper.blocks import Figure
from storystick.paper.drawing.stick import FOOT, Length, lengths_of, stick_page, ticks_of
from storystick.paper.pages.templates import start_of, worth_it
from storystick.paper.press import Section, lock_up, press
from tests.paper import by_hand
from tests.paper.readback import faults, numbers, opened

SIDE = by_hand.parts()[0]


def test_a_stick_has_a_tick_for_every_cut_along_the_part_and_for_its_end():
    assert [tick.value for tick in ticks_of(SIDE)] == [
        inch(text) for text in ("3 1/2", "4", "4 23/64", *by_hand.PINS, "27", "29 9/32", "30")
    ]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=lambda paper: paper.name)
def test_the_strips_follow_one_another_and_lose_no_tick(paper):
    strips = lengths_of("A", ticks_of(SIDE), paper.depth)
    assert strips[0].start == 0
    assert strips[-1].end == pytest.approx(30 * 25.4)
    assert all(one.end == other.start for one, other in pairwise(strips))
    told = [tick.value for strip in strips for tick in strip.ticks]
    assert set(told) == {tick.value for tick in ticks_of(SIDE)}


@pytest.mark.parametrize("manner", [Manner("inch", 32), Manner("mm")], ids=["inch", "mm"])
def test_no_number_beside_a_stick_lies_on_another(manner: Manner):
    drawn = stick_page(lengths_of("A", ticks_of(SIDE), 200.0)[:5], manner, 178.0, 200.0)
    assert faults(drawn) == []
    assert len(list(numbers(drawn.svg))) > 8


def rules(page: Any) -> tuple[float, float]:
    """How long the level and the upright arm of the rule are on a page [mm]: its heaviest corner of lines."""
    heavy = [line for line in (*page.lines, *page.curves) if abs(float(line["linewidth"]) - 0.5 * 72 / 25.4) < 0.02]
    corners = [line for line in heavy if float(line["width"]) > 200 and float(line["height"]) > 200]
    if corners:
        return float(corners[0]["width"]) / 72 * 25.4, float(corners[0]["height"]) / 72 * 25.4
    return max(float(o["width"]) for o in heavy) / 72 * 25.4, max(float(o["height"]) for o in heavy) / 72 * 25.4


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_both_arms_of_the_rule_are_as_long_as_they_say(paper: str):
    with opened(packet(by_hand.folder(), paper=paper, pages=["stick"])) as book:
        for page in book.pages:
            assert rules(page) == (pytest.approx(5 * 25.4, abs=0.05), pytest.approx(5 * 25.4, abs=0.05))


def test_a_printer_that_prints_small_is_made_good_for():
    # what comes out of the printer is 99.2 % across and 99.6 % up of what is in the file
    off = (Fraction(992, 1000), Fraction(996, 1000))
    with opened(packet(replace(by_hand.folder(), print_off=off), pages=["stick"])) as book:
        across, up = rules(book.pages[0])
    assert across * 0.992 == pytest.approx(5 * 25.4, abs=0.05)
    assert up * 0.996 == pytest.approx(5 * 25.4, abs=0.05)


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_the_ticks_of_a_stick_lie_as_far_apart_as_they_say_across_its_strips(paper: str):
    # every strip shows its own stretch: tick to strip's start on the paper is tick less start in the shop
    strips = lengths_of("height", ticks_of(SIDE), PAPERS[paper].depth - 18.0)
    drawn = stick_page(strips, Manner("inch", 32), PAPERS[paper].room, PAPERS[paper].depth - 18.0)
    with opened(press(lock_up("t", "", PAPERS[paper], [Section("t", (Figure(drawn),))], ""))) as book:
        lines = [line for line in book.pages[0].lines if abs(float(line["width"]) - 9.0 * 72 / 25.4) < 0.01]
    for number, strip in enumerate(strips):
        left = min(float(line["x0"]) for line in lines) + number * 27.5 * 72 / 25.4
        here = sorted((float(o["bottom"]) for o in lines if abs(float(o["x0"]) - left) < 1.0), reverse=True)
        wanted = [0.0, *sorted({float(tick) - strip.start for tick in strip.ticks} - {0.0})]
        found = [(here[0] - at) / 72 * 25.4 for at in here]
        for tick in wanted:
            assert min(abs(tick - at) for at in found) < 0.05, (strip.number, tick)


def test_a_row_of_holes_has_its_strip_and_a_wide_one_has_none():
    folder = by_hand.folder()
    rows = worth_it(folder)
    assert {(row.called, len(row.spots)) for row in rows} == {("shelf pin hole", 10)}
    assert [line.letter for row in rows for line in row.where] == ["A", "A", "B", "B"]
    # the first hole is 6 in from the end, less 12 mm is 140.4 mm; the quarter inch below is 5 1/2 in (139.7 mm)
    assert start_of(rows[0], Manner("inch", 32)) == inch("5 1/2")
    assert start_of(rows[0], Manner("mm")) == 140


def test_the_name_of_a_short_strip_covers_none_of_its_ticks():
    ticks = tuple(given(f"{at} mm", Fraction(at), "plan") for at in ("567.4", "582"))
    drawn = stick_page([Length("width", 4, 558.0, 582.0, ticks, True, None, False)], Manner("mm"), 173.0, 200.0)
    (name,) = (box for box in drawn.lettering if box.says == "width 4")
    foot = 200.0 - FOOT
    assert not any(name.top < foot - (float(tick) - 558.0) < name.bottom for tick in ticks)
