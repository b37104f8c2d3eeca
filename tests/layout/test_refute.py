"""The refuter passes a right layout made by hand, and finds each fault put into it."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.layout.sheets import SheetProblem
from storystick.layout.sheets.refute import refute, refute_groups
from storystick.model.cutting import Blank, Cut, CutTree, Defect, Layout, Piece, Purpose, Sheet, Trim, Way

SHEET = Sheet("board", Fraction(1000), Fraction(500), copies=1)
PROBLEM = SheetProblem(
    (
        Blank("shelf 1", Fraction(600), Fraction(200), True, setting_group="shelves"),
        Blank("shelf 2", Fraction(600), Fraction(200), True, setting_group="shelves"),
        Blank("kick", Fraction(80), Fraction(390), False),
    ),
    (SHEET,),
    Fraction(3),
    Trim(front=Fraction(5)),
)


def piece(number: int, x: int, y: int, long: int, wide: int, blank: str = "", turned: bool = False) -> Piece:
    return Piece(number, Fraction(x), Fraction(y), Fraction(long), Fraction(wide), blank, turned)


def cut(number: int, of: int, way: Way, at: int, setting: int | None, *frees: int) -> Cut:
    purpose = Purpose.TRIM if setting is None else Purpose.SIZE
    size = None if setting is None else Fraction(setting)
    return Cut(number, of, way, Fraction(at), Fraction(3), size, frees, purpose)


# By hand: trim 5 off the front edge, rip a strip of 80 (the kick, across the grain), rip twice at 200, crosscut at
# 600 twice and the kick at 390.
PIECES = (
    piece(0, 0, 0, 1000, 500),
    piece(1, 0, 0, 1000, 2),
    piece(2, 0, 5, 1000, 495),
    piece(3, 0, 5, 1000, 200),
    piece(4, 0, 208, 1000, 292),
    piece(5, 0, 208, 1000, 200),
    piece(6, 0, 411, 1000, 89),
    piece(7, 0, 411, 1000, 80),
    piece(8, 0, 494, 1000, 6),
    piece(9, 0, 5, 600, 200, "shelf 1"),
    piece(10, 603, 5, 397, 200),
    piece(11, 0, 208, 600, 200, "shelf 2"),
    piece(12, 603, 208, 397, 200),
    piece(13, 0, 411, 390, 80, "kick", True),
    piece(14, 393, 411, 607, 80),
)
CUTS = (
    cut(1, 0, Way.RIP, 2, None, 1, 2),
    cut(2, 2, Way.RIP, 205, 200, 3, 4),
    cut(3, 4, Way.RIP, 408, 200, 5, 6),
    cut(4, 6, Way.RIP, 491, 80, 7, 8),
    cut(5, 3, Way.CROSSCUT, 600, 600, 9, 10),
    cut(6, 5, Way.CROSSCUT, 600, 600, 11, 12),
    cut(7, 7, Way.CROSSCUT, 390, 390, 13, 14),
)
RIGHT = Layout((CutTree(SHEET, 1, PIECES, CUTS),))


def with_cut(which: int, /, **change: object) -> Layout:
    cuts = tuple(replace(one, **change) if one.number == which else one for one in CUTS)  # type: ignore[arg-type]
    return Layout((CutTree(SHEET, 1, PIECES, cuts),))


def with_piece(which: int, /, **change: object) -> Layout:
    pieces = tuple(replace(one, **change) if one.number == which else one for one in PIECES)  # type: ignore[arg-type]
    return Layout((CutTree(SHEET, 1, pieces, CUTS),))


def faults(layout: Layout, problem: SheetProblem = PROBLEM) -> str:
    return "\n".join(refute(layout, problem))


def test_a_layout_made_by_hand_can_be_cut():
    assert faults(RIGHT) == ""
    assert list(refute_groups(RIGHT, PROBLEM)) == []


@pytest.mark.parametrize(
    ("layout", "says"),
    [
        (with_cut(2, kerf=Fraction(2)), "kerf is 2.000"),
        (with_cut(2, at=Fraction(206)), "does not leave the pieces"),
        (with_cut(2, way=Way.CROSSCUT), "does not leave the pieces"),
        (with_cut(2, at=Fraction(600)), "does not go through"),
        (with_cut(2, piece=6), "does not lie on the bench"),
        (with_cut(2, frees=(3,)), "does not leave the pieces"),
        (with_cut(2, setting=Fraction(199)), "no piece is as large as its setting"),
        (with_cut(2, setting=None), "no piece is as large as its setting"),
        (with_cut(1, setting=Fraction(2)), "has no setting"),
        (with_cut(7, number=9), "not numbered"),
        (with_cut(5, piece=5), "does not lie on the bench"),
        (with_piece(0, long=Fraction(1001)), "not the whole sheet"),
        (with_piece(9, blank="shelf 3"), "nobody asked for shelf 3"),
        (with_piece(9, blank=""), "shelf 1 is not cut"),
        (with_piece(11, blank="shelf 1"), "shelf 1 is cut 2 times"),
        (with_piece(9, blank="kick"), "not its size"),
        (with_piece(13, turned=False), "across the grain"),
        (with_piece(10, number=9), "piece 9 is there 2 times"),
        (with_piece(3, blank="shelf 1"), "kept and yet cut up"),
    ],
)
def test_each_fault_is_found(layout: Layout, says: str):
    assert says in faults(layout)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda p: replace(p, trim=Trim(front=Fraction(6))), "trimmed off"),
        (lambda p: replace(p, trim=Trim(front=Fraction(5), left=Fraction(1))), "trimmed off"),
        (lambda p: replace(p, kerf=Fraction(4)), "kerf"),
        (lambda p: replace(p, blanks=p.blanks[:2]), "nobody asked for kick"),
        (lambda p: replace(p, sheets=()), "there is no sheet board"),
    ],
)
def test_a_layout_for_one_job_does_not_pass_for_another(change: Callable[[SheetProblem], SheetProblem], says: str):
    assert says in faults(RIGHT, change(PROBLEM))


def test_a_second_sheet_where_there_is_one_is_found():
    second = tuple(replace(one, number=one.number + 100) for one in PIECES[:1])
    assert "2 of board are used" in faults(Layout((*RIGHT.trees, CutTree(SHEET, 2, second, ()))))


def test_a_blank_with_a_defect_in_it_is_found():
    spotted = replace(SHEET, defects=(Defect(Fraction(590), Fraction(10), Fraction(20), Fraction(20)),))
    layout = Layout((CutTree(spotted, 1, PIECES, CUTS),))
    assert "shelf 1 has a defect" in faults(layout, replace(PROBLEM, sheets=(spotted,)))


def test_a_blank_said_to_be_missing_though_it_is_cut_is_found():
    assert "kick is cut after all" in faults(replace(RIGHT, unplaced=("kick",)))


def test_a_strip_out_of_order_is_found():
    strip = tuple(replace(b, strip="bay", place=2 - n, strip_across=True) for n, b in enumerate(PROBLEM.blanks[:2]))
    assert "does not follow" in faults(RIGHT, replace(PROBLEM, blanks=(*strip, PROBLEM.blanks[2])))
    strip = tuple(replace(b, strip="bay", place=n, strip_across=True) for n, b in enumerate(PROBLEM.blanks[:2]))
    assert faults(RIGHT, replace(PROBLEM, blanks=(*strip, PROBLEM.blanks[2]))) == ""


def test_one_size_cut_at_two_settings_is_seen():
    # The same cuts, with the kick's rip between the two at 200: the fence has moved and come back.
    cuts = (CUTS[0], CUTS[1], *CUTS[4:5], *CUTS[2:4], *CUTS[5:])
    parted = tuple(replace(one, number=n) for n, one in enumerate(cuts, 1))
    layout = Layout((CutTree(SHEET, 1, PIECES, parted),))
    assert faults(layout) == ""
    assert any("shelves" in wish for wish in refute_groups(layout, PROBLEM))
