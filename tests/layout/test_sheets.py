"""Sheets by hand: cases that a woodworker reckons on a scrap of board."""

from fractions import Fraction

import pytest

from storystick.layout.sheets import HASTY, LaidOut, Limits, Patience, SheetProblem, lay_out_sheets
from storystick.layout.sheets.engine import FIRST, SEVERAL
from storystick.layout.sheets.refute import refute, refute_groups
from storystick.model.cutting import Blank, Defect, Purpose, Sheet, Trim, Way, trim_all

INCH = Fraction(254, 10)
EIGHTH = INCH / 8
QUICK = Patience(800, FIRST[:3], SEVERAL[:2], 20)


def blanks(
    name: str, long: object, wide: object, copies: int, along_grain: bool | None = True, **more: object
) -> list[Blank]:
    size = Fraction(str(long)), Fraction(str(wide))
    return [Blank(f"{name} {n}", *size, along_grain, name, **more) for n in range(1, copies + 1)]  # type: ignore[arg-type]


def sheet(long: object, wide: object, **more: object) -> Sheet:
    return Sheet("sheet", Fraction(str(long)), Fraction(str(wide)), **more)  # type: ignore[arg-type]


def laid(problem: SheetProblem, patience: Patience = QUICK) -> LaidOut:
    answer = lay_out_sheets(problem, patience=patience)
    assert list(refute(answer.layout, problem)) == []
    return answer


@pytest.mark.parametrize("patience", [HASTY, QUICK])
@pytest.mark.parametrize(("strips", "sheets"), [(4, 1), (5, 2)])
def test_four_strips_of_300_come_out_of_1250_with_10_trimmed_and_five_do_not(strips, sheets, patience):
    # By hand: 4 x 300 + 3 x 3.2 = 1209.6, and 1250 - 2 x 10 = 1230 is there. 5 x 300 is 1500.
    stock = sheet(2500, 1250)
    problem = SheetProblem(tuple(blanks("strip", 2400, 300, strips)), (stock,), Fraction("3.2"), trim_all(Fraction(10)))
    assert len(laid(problem, patience).layout.trees) == sheets


@pytest.mark.parametrize("patience", [HASTY, QUICK])
def test_four_strips_of_eleven_and_seven_eighths_come_out_of_four_feet(patience):
    # By hand: 4 x 11-7/8 + 3 x 1/8 = 47-7/8, and the last cut takes the eighth that is left.
    stock = Sheet("4 x 8", 96 * INCH, 48 * INCH)
    wide = (11 + Fraction(7, 8)) * INCH
    problem = SheetProblem(tuple(Blank(f"strip {n}", 90 * INCH, wide, True) for n in range(4)), (stock,), EIGHTH)
    layout = laid(problem, patience).layout
    assert len(layout.trees) == 1
    assert sum(1 for cut in layout.cuts if cut.way is Way.RIP) == 4


@pytest.mark.parametrize("patience", [HASTY, QUICK])
def test_four_twelves_do_not_come_out_of_forty_eight(patience):
    stock = Sheet("4 x 8", 96 * INCH, 48 * INCH)
    problem = SheetProblem(tuple(Blank(f"strip {n}", 90 * INCH, 12 * INCH, True) for n in range(4)), (stock,), EIGHTH)
    assert len(laid(problem, patience).layout.trees) == 2


def test_a_blank_as_large_as_the_sheet_needs_no_cut():
    layout = laid(SheetProblem(tuple(blanks("top", 1000, 500, 1)), (sheet(1000, 500),), Fraction(3))).layout
    assert layout.cuts == ()
    assert [piece.blank for piece in layout.trees[0].blanks] == ["top 1"]


def test_what_is_thinner_than_the_kerf_goes_to_dust_and_leaves_no_piece():
    layout = laid(SheetProblem(tuple(blanks("top", 1000, 498, 1)), (sheet(1000, 500),), Fraction(3))).layout
    (cut,) = layout.cuts
    assert len(cut.frees) == 1


def test_a_blank_along_the_grain_is_not_turned_even_if_it_would_fit_then():
    answer = laid(SheetProblem(tuple(blanks("side", 600, 400, 1)), (sheet(500, 700),), Fraction(3)))
    assert answer.layout.unplaced == ("side 1",)
    assert any("side 1" in note for note in answer.notes)


def test_a_blank_across_the_grain_is_turned():
    layout = laid(SheetProblem(tuple(blanks("kick", 600, 100, 1, False)), (sheet(500, 700),), Fraction(3))).layout
    assert layout.trees[0].blanks[0].turned


def test_what_is_on_hand_is_used_before_a_sheet_is_bought():
    offcut = Sheet("offcut", Fraction(900), Fraction(400), Fraction(9), 1, on_hand=True, sawn=True)
    stock = Sheet("sheet", Fraction(2440), Fraction(1220), Fraction(80))
    layout = laid(SheetProblem(tuple(blanks("shelf", 800, 300, 1)), (stock, offcut), Fraction(3))).layout
    assert [tree.sheet.name for tree in layout.trees] == ["offcut"]
    assert layout.cost == 0


def test_half_a_sheet_is_bought_where_half_is_enough():
    whole = Sheet("whole", Fraction(2440), Fraction(1220), Fraction(80))
    half = Sheet("half", Fraction(1220), Fraction(1220), Fraction(45))
    layout = laid(SheetProblem(tuple(blanks("shelf", 800, 300, 4)), (whole, half), Fraction(3))).layout
    assert [tree.sheet.name for tree in layout.trees] == ["half"]


def test_no_more_sheets_are_used_than_there_are():
    problem = SheetProblem(tuple(blanks("top", 900, 900, 3)), (sheet(1000, 1000, copies=2),), Fraction(3))
    answer = laid(problem)
    assert len(answer.layout.trees) == 2
    assert len(answer.layout.unplaced) == 1
    assert any("used up" in note for note in answer.notes)


def test_a_defect_is_cut_round():
    spot = Defect(Fraction(700), Fraction(200), Fraction(40), Fraction(40))
    stock = sheet(2000, 500, defects=(spot,), copies=1)
    problem = SheetProblem(tuple(blanks("panel", 600, 400, 3)), (stock,), Fraction(3))
    layout = laid(problem).layout
    assert layout.unplaced == ()
    assert any(cut.setting is None for cut in layout.cuts)


def test_fronts_of_one_strip_follow_one_another_in_order():
    fronts = [
        Blank(f"front {n}", Fraction(400), Fraction(wide), True, strip="bay", place=n, strip_across=True)
        for n, wide in enumerate((100, 150, 200))
    ]
    problem = SheetProblem((*fronts, *blanks("side", 700, 400, 4)), (sheet(2440, 1220),), Fraction(3))
    (tree,) = laid(problem).layout.trees
    lying = sorted((piece for piece in tree.blanks if piece.blank.startswith("front")), key=lambda p: p.y)
    assert [piece.blank for piece in lying] == ["front 0", "front 1", "front 2"]
    assert len({piece.x for piece in lying}) == 1


def test_blanks_of_one_sheet_group_come_out_of_one_sheet():
    doors = blanks("door", 700, 595, 2, sheet_group="doors")
    problem = SheetProblem((*blanks("side", 1200, 600, 6), *doors), (sheet(2440, 1220),), Fraction(3))
    answer = laid(problem)
    assert list(refute_groups(answer.layout, problem)) == []


def test_the_trim_is_cut_first_and_the_far_edges_go_with_the_waste():
    trim = Trim(left=Fraction(10), right=Fraction(10), front=Fraction(10), back=Fraction(10))
    layout = laid(SheetProblem(tuple(blanks("shelf", 700, 300, 6)), (sheet(2440, 1220),), Fraction(3), trim)).layout
    first, second, *rest = layout.cuts
    assert {first.purpose, second.purpose} == {Purpose.TRIM}
    assert {cut.purpose for cut in rest} == {Purpose.SIZE}


def test_a_sheet_too_heavy_to_lift_is_broken_down_first():
    # 18 mm birch plywood weighs about 12 kg/m2 (memory): a whole sheet of 2.44 x 1.22 m is 36 kg.
    limits = Limits(heaviest=Fraction(20), rough_kerf=Fraction(2), rough_allowance=Fraction(10))
    problem = SheetProblem(
        tuple(blanks("side", 700, 560, 4)),
        (sheet(2440, 1220),),
        Fraction(3),
        limits=limits,
        weight_per_area=Fraction(12, 1_000_000),
    )
    layout = laid(problem).layout
    assert layout.cuts[0].purpose is Purpose.BREAKDOWN
    assert layout.cuts[0].kerf == 2
    for tree in layout.trees:
        pieces = {piece.number: piece for piece in tree.pieces}
        for cut in layout.cuts:
            if cut.purpose is Purpose.SIZE and cut.piece in pieces:
                assert pieces[cut.piece].area * Fraction(12, 1_000_000) <= 20


def test_no_crosscut_is_longer_than_the_saw_takes():
    limits = Limits(crosscut_capacity=Fraction(620))
    problem = SheetProblem(tuple(blanks("side", 700, 560, 4)), (sheet(2440, 1220),), Fraction(3), limits=limits)
    for tree in laid(problem).layout.trees:
        pieces = {piece.number: piece for piece in tree.pieces}
        for cut in tree.cuts:
            assert cut.way is Way.RIP or pieces[cut.piece].wide <= 620


def test_two_sheets_are_cut_setting_by_setting_and_not_sheet_by_sheet():
    sides, shelves = blanks("side", 1200, 560, 4), blanks("shelf", 760, 540, 6)
    answer = laid(SheetProblem((*sides, *shelves), (sheet(2440, 1220),), Fraction(3)))
    # By hand: rips at 560 and 540, crosscuts at 1200 and 760.
    assert len(answer.layout.settings) == 4 == answer.least_settings


def test_the_same_question_gets_the_same_layout():
    problem = SheetProblem(
        (*blanks("side", 720, 560, 6), *blanks("rail", 764, 100, 7, None), *blanks("shelf", 764, 540, 5)),
        (sheet(2440, 1220),),
        Fraction("3.2"),
    )
    assert laid(problem).layout == laid(problem).layout


def test_a_search_can_be_watched_and_stopped():
    heard: list[tuple[str, float]] = []
    problem = SheetProblem(tuple(blanks("side", 720, 560, 6)), (sheet(2440, 1220),), Fraction(3))
    answer = lay_out_sheets(problem, tell=lambda says, share: heard.append((says, share)), stop=lambda: True)
    assert answer.layout.unplaced == ()
    assert len(heard) == 1
    assert 0 <= heard[0][1] <= 1


def test_nothing_to_cut_is_no_layout_and_no_fault():
    assert laid(SheetProblem((), (sheet(2440, 1220),), Fraction(3))).layout.trees == ()
    assert laid(SheetProblem(tuple(blanks("side", 720, 560, 1)), (), Fraction(3))).layout.unplaced == ("side 1",)


def test_blanks_that_must_match_get_their_size_at_one_setting():
    # Wide shelves leave a rest that the rails come out of only after a crosscut; other rails are ripped before it.
    rails = blanks("rail", 764, 170, 6, None, setting_group="rails")
    problem = SheetProblem(
        (*blanks("side", 1200, 560, 3), *blanks("shelf", 764, 540, 5), *rails, *blanks("end", 400, 170, 4, None)),
        (sheet(2440, 1220),),
        Fraction(3),
    )
    for patience in (HASTY, QUICK):
        answer = laid(problem, patience)
        assert list(refute_groups(answer.layout, problem)) == []
