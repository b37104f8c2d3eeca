"""Solid wood: boards each of its own size, wide parts glued up from boards that exist, wood bought by volume."""

from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.ground.length import INCH
from storystick.layout.asking import kerf_of
from storystick.layout.boards import is_thick_enough
from storystick.layout.sheets.problem import SheetProblem
from storystick.layout.sheets.refute import refute
from storystick.layout.staves import INCHES, METRIC, glued_up
from storystick.model.cutting import UNIT, Blank, Sheet, Trim
from storystick.model.stock import ByVolume
from storystick.model.volume import BOARD_FOOT, rough
from storystick.model.work import Buy, Cutting
from storystick.paper.pages.buying import row
from storystick.shop.read import default_shop
from tests.told import job
from tests.work.by_hand import inches, mm, ply

PLAN = """
title: Hall bench
units: UNITS
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [17.7 mm], sizes: {2440 mm x 1220 mm: 80.00}}
  oak: {board: white oak, thickness: 20 mm, BOARDS}
build:
  chest:
    case: {wide: 900 mm, deep: 400 mm, high: 700 mm, stock: ply18}
  top:
    slab: {stock: oak, covers: chest, overhang: 20 mm}
    sits: {on: chest}
  long shelf:
    slab: {stock: oak, wide: 700 mm, deep: 200 mm}
    sits: {on: floor, right of: {chest: 100 mm}}
  short shelf:
    slab: {stock: oak, wide: 500 mm, deep: 200 mm}
    sits: {on: floor, right of: {long shelf: 100 mm}}
"""
YARD = "boards: [190 x 1100, 165 x 1150, 27 x 140 x 1200, 2 of 120 x 2000, 210 x 900, 15 x 300 x 3000]"


@cache
def oak(boards: str, shop: str = "units: mm\n", units: str = "mm") -> tuple[Cutting, Buy]:
    """The layout of the oak, and its first line of the buying list."""
    done = job(PLAN.replace("BOARDS", boards).replace("UNITS", units), shop)
    assert done.laid_out.made is not None
    (cutting,) = [one for one in done.laid_out.made if one.stock.name == "oak"]
    return cutting, next(line for line in done.buying.lines if "oak" in line.what)


def replayed(cutting: Cutting, blanks: dict[str, tuple[Fraction, Fraction]]) -> list[str]:
    """What the refuter finds wrong with the layout as it was handed out."""
    shop = default_shop("mm")
    sheets = tuple({tree.sheet.name: tree.sheet for tree in cutting.layout.trees}.values())
    asked = tuple(Blank(key, long, wide, True) for key, (long, wide) in blanks.items())
    trim = Trim(left=shop.trim, right=shop.trim)
    return list(refute(cutting.layout, SheetProblem(asked, sheets, cutting.kerf, trim)))


def wanted(cutting: Cutting) -> dict[str, tuple[Fraction, Fraction]]:
    """The blanks that the parts need, reckoned from the plan: length along the board, and width."""
    found = {"top.top": (Fraction(940), Fraction(440)), "long shelf.top": (Fraction(700), Fraction(200)),
             "short shelf.top": (Fraction(500), Fraction(200))}  # fmt: skip
    for one in cutting.staves:
        del found[one.part]
        for number, wide in enumerate(one.wides or (one.wide,) * one.count, 1):
            found[f"{one.part} #stave {number}"] = one.long, wide
    return found


def test_boards_of_a_yard_are_each_used_once_and_none_that_is_too_thin():
    cutting, _ = oak(YARD)
    used = [tree.sheet.name for tree in cutting.layout.trees]
    assert not cutting.layout.unplaced
    assert "15 x 300 x 3000" not in used
    assert all(used.count(name) <= (2 if name == "120 x 2000" else 1) for name in used)
    assert any("only 15 mm thick" in note for note in cutting.notes)
    assert any("planed to 20 mm" in note for note in cutting.notes)


def test_every_piece_of_a_yards_boards_can_be_ripped_and_crosscut_as_it_is_told():
    cutting, _ = oak(YARD)
    assert replayed(cutting, wanted(cutting)) == []


def test_a_top_is_glued_up_of_boards_of_several_widths_where_no_even_staves_can_be_had():
    # 440 and 6 over: even staves of three would be 152, and only two boards are so wide; four of 115 would leave no
    # board for the shelves
    cutting, _ = oak(YARD)
    (top,) = [one for one in cutting.staves if one.part == "top.top"]
    assert len(set(top.wides)) > 1
    assert top.comes_to >= 440 + 6
    assert top.long >= 940


def test_a_shelf_that_has_no_board_left_of_its_width_is_glued_up_of_narrower_ones():
    cutting, _ = oak(YARD.replace("210 x 900", "210 x 720"))
    glued = {one.part: one for one in cutting.staves}
    assert "short shelf.top" in glued or "long shelf.top" in glued
    assert not cutting.layout.unplaced
    for one in cutting.staves:
        assert one.count >= 2


def test_the_price_of_a_board_is_that_of_the_wood_in_it_as_it_was_sawn():
    _, line = oak("boards: [200 x 2500, 200 x 2500, 250 x 2500], per cubic metre: 1800")
    # 20 mm is sawn 25 thick: 0.25 x 2.5 x 0.025 = 0.015625 m3 at 1800
    cutting, _ = oak("boards: [500 x 2500], per cubic metre: 1800")
    (tree,) = cutting.layout.trees
    assert tree.sheet.price == Fraction(1800) * 500 * 2500 * 25 / 10**9
    assert line.price is not None
    assert not line.guessed


def test_a_board_foot_is_a_foot_square_and_an_inch_thick():
    assert BOARD_FOOT == 12 * 12 * INCH**3
    _, line = oak("boards: [20 x 100], per board foot: $9.00", units="inch")
    # 20 mm comes of 1 in: 20 x 100 x 1 / 144 = 13.9 board feet, 125 dollars
    assert line.price == 9 * Fraction(20 * 100, 144)
    assert "13.9 board feet" in line.used_for


@pytest.mark.parametrize(
    ("thickness", "sawn"), [("3/4", "1"), ("13/16", "1"), ("7/8", "1 1/4"), ("1", "1 1/4"), ("1 1/2", "1 3/4")]
)
def test_a_board_is_charged_as_thick_as_it_was_sawn(thickness: str, sawn: str):
    wood = ply(inches(thickness), form="board", nominal=mm(inches(thickness)), by_volume=ByVolume("board foot"))
    assert rough(wood) == inches(sawn)


def test_wood_that_nobody_has_seen_is_bought_by_the_board_foot_with_three_tenths_more():
    cutting, line = oak("per board foot: $9.00", units="inch")
    parts = sum((one.area for tree in cutting.layout.trees for one in tree.blanks), Fraction(0)) * INCH / BOARD_FOOT
    assert line.unit == "board foot"
    assert f"{line.count} board feet" in row(line, "$")
    assert line.price == 9
    assert line.count >= parts * Fraction(13, 10)
    assert "random widths" in line.size
    assert any("Nobody has seen" in note for note in cutting.notes)


def test_the_waste_that_a_plan_names_is_the_waste_that_is_bought():
    few, more = (oak(f"per cubic metre: 2000, waste: {share} %")[1] for share in (60, 90))
    cutting, _ = oak("per cubic metre: 2000, waste: 60 %")
    parts = sum((one.area for tree in cutting.layout.trees for one in tree.blanks), Fraction(0)) * 25 / 10**9
    # thousandths of a cubic metre, rounded up
    assert parts * Fraction(16, 10) <= Fraction(few.count, 1000) < parts * Fraction(16, 10) + Fraction(1, 1000)
    assert parts * Fraction(19, 10) <= Fraction(more.count, 1000) < parts * Fraction(19, 10) + Fraction(1, 1000)
    assert few.price == 2


def test_no_less_wood_is_bought_than_the_boards_it_is_laid_out_on():
    cutting, line = oak("per cubic metre: 2000, waste: 0 %")
    parts = sum((one.area for tree in cutting.layout.trees for one in tree.blanks), Fraction(0)) * 25 / 10**9
    assert Fraction(line.count, 1000) > parts


def test_random_widths_are_laid_out_as_narrow_as_they_come():
    cutting, line = oak("per cubic metre: 2000, widths: 120 to 260")
    assert {tree.sheet.wide for tree in cutting.layout.trees} == {120}
    assert "from 120 mm" in line.size


def test_the_yield_is_told_and_is_that_of_the_boards():
    cutting, line = oak("sizes: {220 x 2400: 30}")
    boards = sum((tree.sheet.long * tree.sheet.wide for tree in cutting.layout.trees), Fraction(0))
    parts = sum((one.area for tree in cutting.layout.trees for one in tree.blanks), Fraction(0))
    share = f"{float(parts / boards) * 100:.0f} %"
    assert any(share in note for note in cutting.notes)
    assert share in line.used_for


def test_a_thicker_board_on_the_rack_is_planed_down_and_a_thinner_one_stays_there():
    thick, thin = "{board: white oak, size: 27 x 500 x 2000}", "{board: white oak, size: 12 x 600 x 3000}"
    rack = f"units: mm\non hand:\n  - {thick}\n  - {thin}\n"
    cutting, _ = oak("sizes: {220 x 2400: 30}", rack)
    used = [tree.sheet for tree in cutting.layout.trees if tree.sheet.on_hand]
    assert [(one.wide, one.long) for one in used] == [(500, 2000)]


def test_rough_boards_are_planed_before_the_first_cut_in_them():
    done = job(PLAN.replace("BOARDS", YARD).replace("UNITS", "mm"), "units: mm\n")
    (step,) = [one for one in done.order.steps if one.title.startswith("Plane the boards of oak")]
    assert "to 20 mm" in step.title
    assert "From 27 mm" in " ".join(step.does)
    sawn = [one.number for one in done.order.steps if "oak" in one.title and one.stage.name in ("SAW", "BREAK_DOWN")]
    assert step.number == min(sawn)
    level = job(PLAN.replace("BOARDS", "sizes: {220 x 2400: 30}").replace("UNITS", "mm"), "units: mm\n")
    assert not [one for one in level.order.steps if one.title.startswith("Plane the boards")]


@pytest.mark.parametrize(("thick", "good"), [("19.4", False), ("19.6", True), ("33", True), ("33.5", False)])
def test_how_thick_a_board_may_be(thick: str, good: bool):
    assert is_thick_enough(Fraction(thick), ply(20, form="board")) is good


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("boards: [190 by]", "size"),
        ("boards: [none of 190 x 2000]", "at least one"),
        ("per board foot: 9, per cubic metre: 1800", "by the board foot and by the cubic metre"),
        ("waste: 95 %", "waste"),
    ],
)
def test_what_is_said_of_boards_and_makes_no_sense_is_told_with_its_line(line: str, says: str):
    done = job(PLAN.replace("BOARDS", line).replace("UNITS", "mm"), "units: mm\n")
    found = [one for one in done.resolved.findings if says in one.says]
    assert found
    assert found[0].place.line == 6


def test_a_board_of_the_usual_size_is_named_where_the_plan_has_none_to_buy():
    cutting, _ = oak("on hand: [100 x 900]")
    (said,) = [note for note in cutting.notes if "as it is usually sold" in note]
    assert " x 2400 mm is taken" in said


def test_boards_are_not_listed_for_a_sheet():
    text = PLAN.replace("BOARDS", "sizes: {200 x 2400: 30}").replace("UNITS", "mm").replace("{sheet: birch plywood,",
        "{sheet: birch plywood, boards: [100 x 2000],")  # fmt: skip
    assert any("boards are listed for a sheet" in one.says for one in job(text, "units: mm\n").resolved.findings)


lengths = st.integers(600, 3000).map(Fraction)
widths = st.integers(60, 320).map(Fraction)
boards = st.lists(st.tuples(lengths, widths, st.integers(1, 3)), min_size=1, max_size=9)
panels = st.lists(st.tuples(st.integers(300, 1200).map(Fraction), st.integers(80, 700).map(Fraction)), max_size=4)


@settings(max_examples=150, deadline=None)
@given(boards, panels, st.booleans())
def test_staves_are_wide_enough_when_jointed_and_no_more_of_them_are_asked_for_than_the_boards_give(
    had: list[tuple[Fraction, Fraction, int]], parts: list[tuple[Fraction, Fraction]], inch: bool
):
    custom, trim, kerf = INCHES if inch else METRIC, Fraction(6), Fraction(3)
    sheets = [Sheet(f"b{n}", long, wide, Fraction(1), count) for n, (long, wide, count) in enumerate(had)]
    asked = [Blank(f"p{n}", long, wide, True) for n, (long, wide) in enumerate(parts)]
    for way in glued_up(asked, sheets, trim, inch, kerf):
        for one in way.staves:
            blank = next(blank for blank in asked if blank.key == one.part)
            assert one.count == len(one.wides) >= 2
            assert one.comes_to >= blank.wide + custom.over
            assert one.long >= blank.long
            assert [b.wide for b in way.blanks if b.key.startswith(f"{one.part} #")] == list(one.wides)
        kept = {blank.key for blank in way.blanks if " #" not in blank.key}
        assert kept | {one.part for one in way.staves} == {blank.key for blank in asked}


def test_no_piece_comes_out_smaller_than_it_was_asked_for():
    cutting, _ = oak(YARD)
    asked = wanted(cutting)
    for tree in cutting.layout.trees:
        for piece in tree.blanks:
            long, wide = asked[piece.blank]
            assert 0 <= piece.long - long < 2 * UNIT
            assert 0 <= piece.wide - wide < 2 * UNIT


def test_the_kerf_is_that_of_the_saw_in_the_shop():
    cutting, _ = oak(YARD)
    assert cutting.kerf == kerf_of(default_shop("mm"))
