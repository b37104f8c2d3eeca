"""What is printed in true size is: patterns over their tiles, sticks on a roll; a printer that is off is mended."""

import itertools
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from storystick.app.packet_verb import Refused, label_sheet, printed_as
from storystick.ground.length import Manner
from storystick.model.cut import Side
from storystick.paper import PAPERS, Folder, packet, roll_out
from storystick.paper.blocks import Figure
from storystick.paper.drawing.pattern import pattern_tiles, windows
from storystick.paper.pages.templates import make as make_strips
from storystick.paper.pages.templates import strips_of, worth_it
from tests.paper import by_hand
from tests.paper.readback import faults, numbers, opened
from tests.told import built, job

POINT = 25.4 / 72
CURVED = """
title: Bracket
units: mm
stock: {ply: {sheet: birch plywood, readings: [17.6]}}
build:
  bracket:
    board: {long: 700, wide: 300, stock: ply, rounded: {right front: 250},
      notches: [{at: left back, long: 60, wide: 40, radius: 8}]}
    sits: floor
"""


def curved() -> Folder:
    made = job(CURVED)
    return Folder(made.build, made.scene)


def test_a_curve_and_a_rounded_notch_have_a_pattern_and_a_plain_board_has_none():
    (part,) = curved().build.parts
    assert len(windows(part, Side.FACE)) == 2
    assert all(windows(one, Side.FACE) == [] for one in by_hand.parts())


@pytest.mark.parametrize("paper", PAPERS.values(), ids=lambda paper: paper.name)
def test_tiles_of_a_pattern_go_on_the_paper_lap_and_hide_nothing(paper: Any):
    (part,) = curved().build.parts
    large = max(windows(part, Side.FACE), key=lambda one: one.first[1] - one.first[0])
    assert large.first[1] - large.first[0] > 250
    tiles = list(pattern_tiles(large, "A", Manner("mm"), paper.room, paper.depth - 26))
    assert len(tiles) > 1
    for drawn in tiles:
        assert drawn.wide <= paper.room + 1e-6
        assert drawn.high <= paper.depth - 26
        assert faults(drawn) == []


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_the_check_line_and_the_radius_of_a_pattern_are_true_on_the_paper(paper: str):
    with opened(packet(curved(), paper=paper, pages=["patterns"])) as book:
        lines = [
            line for page in book.pages for line in page.lines if abs(float(line["linewidth"]) - 0.5 / POINT) < 0.02
        ]
        proofs = [float(line["width"]) * POINT for line in lines if float(line["height"]) < 0.01]
        assert proofs
        assert all(long == pytest.approx(50.0, abs=0.05) for long in proofs)
        # the notch with its corner rounded by 8 mm is 60 x 40 mm: its outline on the paper has these sizes
        outlines = [o for o in book.pages[0].curves if abs(float(o["linewidth"]) - 0.5 / POINT) < 0.02]
        xs = sorted({round(float(x) * POINT, 2) for o in outlines for x, _ in o["pts"]})
        assert any(b - a == pytest.approx(60.0 - 8.0, abs=0.05) for a in xs for b in xs)


def test_rings_of_neighbouring_tiles_lie_at_the_same_spot_of_the_wood():
    (part,) = curved().build.parts
    large = max(windows(part, Side.FACE), key=lambda one: one.first[1] - one.first[0])
    one, two = list(pattern_tiles(large, "A", Manner("mm"), 150.0, 600.0))[:2]

    def rings(svg: str) -> list[float]:
        return [float(word.split('"')[0]) for word in svg.split('<circle cx="')[1:]]

    # the lap is 12 mm, the middle of it 6 mm from the end of one and from the start of the next (frame starts at 1 mm)
    step = 150 - 2 - 12  # whole millimetres of a sheet less its rim and the lap
    assert any(a - step == pytest.approx(b, abs=0.05) for a in rings(one.svg) for b in rings(two.svg))


def test_on_a_roll_every_stick_is_in_one_piece_and_its_ticks_are_as_far_apart_as_they_say():
    with opened(roll_out(by_hand.folder(), 610.0)) as book:
        (page,) = book.pages
        assert float(page.width) * POINT == pytest.approx(610.0, abs=0.01)
        lines = [line for line in page.lines if abs(float(line["width"]) * POINT - 9.0) < 0.01]
        by_strip: dict[int, list[float]] = {}
        for line in lines:
            by_strip.setdefault(round(float(line["x0"])), []).append(float(line["bottom"]) * POINT)
        wanted = {float(number) for part in by_hand.parts()[:1] for number in [part.length.value]}
        spans = [max(ats) - min(ats) for ats in by_strip.values()]
        assert any(span == pytest.approx(long, abs=0.05) for span in spans for long in wanted)


def test_arms_that_came_out_short_are_made_good_for_and_a_print_fitted_to_the_paper_is_refused():
    inches = Manner("inch", 32)
    assert printed_as(Fraction(126), Fraction(127), inches) == (Fraction(126) / 127, Fraction(1))
    assert printed_as(Fraction(120), Fraction(119), Manner("mm")) == (Fraction(1), Fraction(119, 120))
    with pytest.raises(Refused, match="100 %"):
        printed_as(Fraction(110), Fraction(127), inches)


def test_a_grid_of_labels_is_read_and_one_that_does_not_go_on_the_paper_is_refused():
    sheet = label_sheet("3,10,2 5/8,1,3/16,1/2,2 3/4,1", "inch", PAPERS["letter"])
    assert (sheet.columns, sheet.rows) == (3, 10)
    assert sheet.wide == pytest.approx(66.675)
    for wrong in ("3,10", "3,x,60,30,0,0,60,30", "3,10,2 5/8,1,3/16,1/2,3 3/4,1", "0,10,60,30,0,0,60,30"):
        with pytest.raises(Refused):
            label_sheet(wrong, "inch", PAPERS["letter"])


def test_openings_have_sticks_of_their_own_with_each_size_once():
    text = """
title: Chest
units: mm
stock: {ply: {sheet: birch plywood, thickness: 18}}
build:
  chest:
    case: {wide: 500, deep: 450, high: 700, stock: ply, bays: [drawer 120, fixed shelf, drawer 160, fixed shelf, open]}
    sits: floor
"""
    from storystick.paper.pages.stick import of_openings

    made = job(text)
    strips = list(of_openings(Folder(made.build, made.scene), 2000.0))
    assert [strip.letter for strip in strips] == ["opening heights"]  # all are as wide as one another
    sizes = {opening.size[2].value for opening in built(text).openings}
    assert {tick.value for tick in strips[0].ticks} == sizes


def test_numbers_of_a_pattern_are_the_models():
    (part,) = curved().build.parts
    for window in windows(part, Side.FACE):
        for drawn in pattern_tiles(window, "A", Manner("mm"), 180.0, 200.0):
            for value, _, printed in numbers(drawn.svg):
                assert f"{float(value):g}" in printed


def centres(page: Any, radius: float) -> list[tuple[float, float]]:
    """The middles of all circles of a radius on a page, from its left and its foot [mm]."""
    found = []
    for curve in page.curves:
        x0, y0, x1, y1 = (float(curve[key]) * POINT for key in ("x0", "y0", "x1", "y1"))
        if abs(x1 - x0 - 2 * radius) < 0.05 and abs(y1 - y0 - 2 * radius) < 0.05:
            found.append(((x0 + x1) / 2, (y0 + y1) / 2))
    return found


@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_holes_of_a_drilling_strip_are_as_wide_and_as_far_apart_as_they_say_across_its_tiles(units: str, paper: str):
    folder = by_hand.folder()
    folder = replace(folder, build=replace(folder.build, manner=Manner("mm") if units == "mm" else Manner("inch", 32)))
    (row,) = worth_it(folder)
    strips = [one for one in strips_of(folder, [row], pages_high(folder, paper)) if one.letter == "strip 1"]
    assert len(strips) > 2
    with opened(packet(folder, paper=paper, pages=["templates"])) as book:
        holes = [(n, *at) for n, page in enumerate(book.pages) for at in centres(page, float(row.diameter) / 2)]
        rings = [(n, *at) for n, page in enumerate(book.pages) for at in centres(page, 2.0)]
    spots = sorted(float(spot) for spot in row.spots)
    whole = [abs(b - a) for a, b in itertools.pairwise(spots)]
    # holes of one strip stand over one another: as far apart on the paper as in the wood
    columns: dict[tuple[int, int], list[float]] = {}
    for page, x, y in holes:
        columns.setdefault((page, round(x)), []).append(y)
    told = [spot for column in columns.values() for spot in column]
    assert len(told) >= len(spots)
    for column in columns.values():
        column.sort()
        for a, b in itertools.pairwise(column):
            assert min(abs(b - a - gap) for gap in whole) < 0.05 or b - a > 30
    # on two neighbouring tiles: from the last hole to the ring of the one and from the ring of the other to its first
    for one, other in itertools.pairwise(strips):
        if not one.ticks or not other.ticks:
            continue
        before, after = one.end - float(one.ticks[-1]), float(other.ticks[0]) - other.start
        assert any(abs(ring[2] - hole[2] - before) < 0.05 and on_one(ring, hole) for ring in rings for hole in holes)
        assert any(abs(hole[2] - ring[2] - after) < 0.05 and on_one(ring, hole) for ring in rings for hole in holes)


def on_one(ring: tuple[int, float, float], hole: tuple[int, float, float]) -> bool:
    """True where a ring and a hole are on the middle line of one strip."""
    return ring[0] == hole[0] and abs(ring[1] - hole[1]) < 0.05


def pages_high(folder: Folder, paper: str) -> float:
    """The room that the packet gives a strip on a page [mm], read from the first figure of its strips."""
    figure = next(block for block in make_strips(folder, PAPERS[paper]) if isinstance(block, Figure))
    return figure.drawn.high
