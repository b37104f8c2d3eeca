"""Strips off a board: at one setting, the wide piece at the fence, every kerf counted; solid edging of the plan."""

from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.app.pipeline import Job
from storystick.layout.rips import unsafe_rips, with_strips
from storystick.layout.sheets import Limits, SheetProblem
from storystick.layout.sheets.refute import refute
from storystick.model.cutting import Blank, Cut, CutTree, Layout, Piece, Purpose, Sheet, Trim, Way
from storystick.model.work import Cutting
from tests.told import job

PLAN = """
title: Hall bench
units: mm
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [17.7 mm], sizes: {2440 x 1220: 80.00}}
  maple: {board: hard maple, thickness: 20, BOARDS}
  edging: {strip: hard maple, thickness: 6, width: WIDE, FROM}
build:
  chest:
    case: {wide: 900, deep: 400, high: 500, stock: ply18, LIP bays: [BAY, fixed shelf, open]}
  top:
    slab: {stock: ply18, covers: chest, overhang: 20, edge: {stock: edging}}
    sits: {on: chest}
"""
LIP = "lip: {stock: maple, proud: 12},"


@cache
def bench(
    boards: str = "sizes: {120 x 2400: 30}", off: str = "ripped from: maple", lip: str = LIP, shop: str = ""
) -> Job:
    text = PLAN.replace("BOARDS", boards).replace("FROM", off).replace("WIDE", "19")
    text = text.replace("LIP", lip).replace("BAY", "open with lip" if lip else "open")
    return job(text, "units: mm\nhelpers: 1\n" + shop)


def maple(done: Job) -> Cutting:
    assert done.laid_out.made is not None
    return next(one for one in done.laid_out.made if one.stock.name == "maple")


def rips_of(tree: CutTree) -> list[Cut]:
    return [cut for cut in tree.cuts if cut.way is Way.RIP and cut.purpose is Purpose.SIZE]


def piece_of(tree: CutTree, number: int) -> Piece:
    return next(piece for piece in tree.pieces if piece.number == number)


def test_edging_comes_off_the_boards_that_the_plan_names():
    cutting = maple(bench())
    assert not cutting.layout.unplaced
    cut = {piece.blank for tree in cutting.layout.trees for piece in tree.blanks}
    assert {"top.front edge", "top.back edge", "top.left edge", "top.right edge"} <= cut
    made = bench().laid_out.made or ()
    assert "edging" not in [one.stock.name for one in made]


def test_a_strip_is_ripped_to_its_thickness_off_a_board_as_thick_as_it_is_wide():
    (tree,) = maple(bench()).layout.trees
    edge = next(piece for piece in tree.blanks if piece.blank == "top.front edge")
    assert edge.wide == 6


def test_edging_wider_than_its_board_is_thick_is_ripped_to_its_width():
    text = PLAN.replace("BOARDS", "sizes: {200 x 2400: 30}").replace("FROM", "ripped from: maple").replace("LIP", "")
    text = text.replace("thickness: 6, width: WIDE", "thickness: 18, width: 40").replace("BAY", "open")
    (tree,) = maple(job(text, "units: mm\n")).layout.trees
    edge = next(piece for piece in tree.blanks if piece.blank == "top.front edge")
    assert edge.wide == 40


def test_all_strips_of_one_size_come_at_one_setting_off_one_board():
    cutting = maple(bench())
    assert len(cutting.layout.trees) == 1
    settings_ = [(one.way, one.size) for one in cutting.layout.settings]
    assert len(settings_) == len(set(settings_))


def test_every_kerf_is_counted_from_strip_to_strip():
    (tree,) = maple(bench()).layout.trees
    at = Fraction(0)
    for cut in rips_of(tree):
        assert cut.at == at + (cut.setting or 0)
        at = cut.at + cut.kerf
        assert 3 <= cut.kerf < Fraction("3.01")


def test_what_runs_along_the_fence_is_never_narrower_than_the_saw_rips_with_the_hands_clear():
    (tree,) = maple(bench()).layout.trees
    for cut in rips_of(tree):
        assert max(piece_of(tree, number).wide for number in cut.frees) >= 50


def test_the_order_of_the_strips_on_the_board_is_told_with_what_is_in_each():
    done = bench()
    (said,) = [note for note in maple(done).notes if note.startswith("strips off ")]
    letters = {part.letter for part in done.build.parts if part.stock.name in ("edging", "maple")}
    assert said.index("1. ") < said.index("2. ")
    assert all(letter in said for letter in letters)


def test_the_step_sets_a_stop_block_on_the_free_side_and_draws_a_line_across_the_face():
    steps = [step for step in bench().order.steps if any("maple" in text for text in (step.title, *step.does))]
    said = " ".join(text for step in steps for text in step.does)
    assert "Stop block 6 mm" in said
    assert "slanting line" in said
    assert "Fence 6 mm" not in said
    setups = [one for step in steps for one in step.setups if one.name == "stop block"]
    assert {one.says.partition(",")[2].strip() for one in setups} == {"on the side away from the fence"}


def test_the_rail_of_a_guided_saw_lies_on_the_wide_piece():
    done = bench(shop="saws:\n  track saw: {depth: 55, kerf: 2.2, narrowest: 60}\n")
    said = " ".join(text for step in done.order.steps for text in step.does)
    assert "The rail lies on the wide piece" in said
    (tree,) = maple(done).layout.trees
    for cut in rips_of(tree):
        assert max(piece_of(tree, number).wide for number in cut.frees) >= 60


def test_a_board_too_narrow_to_keep_the_hands_clear_is_told_and_goes_to_the_band_saw_if_there_is_one():
    narrow = bench("sizes: {55 x 2400: 30}")
    assert any("on both sides of the blade" in note for note in maple(narrow).notes)
    said = " ".join(text for step in narrow.order.steps for text in step.does)
    assert "carrier board" in said
    saws = "saws:\n  table saw: {rip: 600, crosscut: 600, depth: 80, kerf: 3, narrowest: 50}\n  band saw: {kerf: 1}\n"
    done = bench("sizes: {55 x 2400: 30}", shop=saws)
    assert any("band saw" in one.machine for step in done.order.steps for one in step.setups)


def test_the_boards_are_on_the_buying_list_and_no_strips_are():
    lines = [(line.what, line.unit) for line in bench().buying.lines if "maple" in line.what]
    assert lines == [("sugar maple, 20 mm", "board")]


def test_boards_are_laid_out_for_edging_alone():
    done = bench(lip="")
    assert not maple(done).layout.unplaced
    assert {piece.blank for tree in maple(done).layout.trees for piece in tree.blanks} == {
        f"top.{side} edge" for side in ("front", "back", "left", "right")
    }


def test_a_board_that_nobody_knows_is_told_with_the_nearest():
    done = bench(off="ripped from: mapel")
    (found,) = [one for one in done.laid_out.findings if one.code == "ripped-from-what"]
    assert "mapel" in found.says
    assert "maple" in found.advice


def test_boards_that_no_side_of_the_strip_is_as_thick_as_are_told():
    text = PLAN.replace("BOARDS", "sizes: {120 x 2400: 30}").replace("FROM", "ripped from: maple")
    text = text.replace("thickness: 6, width: WIDE", "thickness: 22, width: 40")
    text = text.replace("LIP", "").replace("BAY", "open")
    found = [one for one in job(text, "units: mm\n").laid_out.findings if one.code == "ripped-from-what"]
    assert found
    assert "20 mm" in found[0].says


def test_a_rip_that_leaves_a_narrow_piece_on_both_sides_is_found():
    sheet = Sheet("board", Fraction(1000), Fraction(90))
    whole = Piece(0, Fraction(0), Fraction(0), Fraction(1000), Fraction(90))
    near = Piece(1, Fraction(0), Fraction(0), Fraction(1000), Fraction(40), "a")
    far = Piece(2, Fraction(0), Fraction(43), Fraction(1000), Fraction(47), "b")
    cut = Cut(1, 0, Way.RIP, Fraction(40), Fraction(3), Fraction(40), (1, 2))
    layout = Layout((CutTree(sheet, 1, (whole, near, far), (cut,)),))
    assert unsafe_rips(layout, Fraction(50)) == (1,)
    assert unsafe_rips(layout, Fraction(47)) == ()


sizes = st.tuples(st.integers(120, 1500), st.sampled_from([6, 8, 12, 20, 38, 45]))
boards = st.lists(
    st.tuples(st.integers(600, 3000), st.integers(56, 260), st.integers(1, 3), st.booleans()), min_size=1, max_size=5
)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(sizes, min_size=1, max_size=12), boards, st.sampled_from([0, 6, 10]), st.sampled_from(["2.2", "3", "3.2"])
)
def test_any_strips_off_any_boards_can_be_cut_as_they_are_told_with_the_hands_clear(
    asked: list[tuple[int, int]], had: list[tuple[int, int, int, bool]], trim: int, kerf: str
):
    blanks = tuple(Blank(f"s{n}", Fraction(long), Fraction(wide), True) for n, (long, wide) in enumerate(asked))
    sheets = tuple(
        Sheet(f"b{n}", Fraction(long), Fraction(wide), Fraction(wide), count, on_hand, on_hand)
        for n, (long, wide, count, on_hand) in enumerate(had)
    )
    edges = Trim(left=Fraction(trim), right=Fraction(trim))
    problem = SheetProblem(blanks, sheets, Fraction(kerf), edges, Limits(narrowest_rip=Fraction(50)))
    layout = with_strips(Layout(), blanks, problem)
    assert list(refute(layout, problem)) == []
    assert unsafe_rips(layout, Fraction(50)) == ()
    rips = [(one.way, one.size) for one in layout.settings if one.way is Way.RIP]
    assert len(rips) == len(set(rips))
    if layout.unplaced:  # then no board that is not begun has room for one of those that are left
        begun = {tree.sheet.name for tree in layout.trees}
        for sheet in sheets:
            free = sum(tree.sheet.name == sheet.name for tree in layout.trees) < (sheet.copies or 0)
            for blank in blanks:
                if blank.key in layout.unplaced and (free or sheet.name not in begun):
                    clear = sheet.long - (0 if sheet.sawn else 2 * max(Fraction(trim), Fraction(kerf) if trim else 0))
                    assert blank.long > clear - 1 or sheet.wide - 50 < blank.wide + Fraction(kerf) + 1


@pytest.mark.parametrize("count", [1, 5, 9])
def test_so_many_strips_come_off_a_board_as_it_is_wide_less_what_runs_along_the_fence(count: int):
    # 120 wide, 50 kept at the fence: 70 gives seven strips of 6 with a kerf of 3 each (63), the eighth would be 72
    blanks = tuple(Blank(f"s{n}", Fraction(900), Fraction(6), True) for n in range(count))
    sheet = Sheet("board", Fraction(1000), Fraction(120), Fraction(10))
    problem = SheetProblem(blanks, (sheet,), Fraction(3), Trim(), Limits(narrowest_rip=Fraction(50)))
    layout = with_strips(Layout(), blanks, problem)
    assert not layout.unplaced
    assert len(layout.trees) == (1 if count <= 7 else 2)
