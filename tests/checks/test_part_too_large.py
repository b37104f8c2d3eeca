"""Parts against the sheets and lengths that they are to come from."""

from fractions import Fraction

import pytest

from storystick.ground.finding import Grade
from storystick.model.build import Build
from storystick.model.stock import SoldAs
from tests.checks.by_hand import Number, board, lengths, mm, piece, ply, told, troubles

SMALL = SoldAs(Fraction(1200), Fraction(600))


def panel(long: Number, wide: Number, *, turnable: bool = False, **stock: object) -> Build:
    of = ply(18, **{"sizes": (SMALL,), **stock})
    return piece(board("case.top", (0, 0, 0), (long, wide, 18), stock=of, turnable=turnable))


def test_a_part_as_large_as_the_trimmed_sheet_comes_out_of_it():
    (found,) = told("part-too-large", panel(1194, 594))
    assert (found.grade, found.margin) == (Grade.FINE, 0)


def test_a_part_as_large_as_the_sheet_leaves_nothing_to_trim():
    (found,) = told("part-too-large", panel(1200, 600))
    assert found.grade == Grade.CARE


def test_a_part_larger_than_every_sheet_cannot_be_cut():
    assert [one.grade for one in troubles("part-too-large", panel(1250, 300))] == [Grade.STOP]


def test_grain_keeps_a_part_from_being_turned():
    assert troubles("part-too-large", panel(500, 1000))
    assert not troubles("part-too-large", panel(500, 1000, turnable=True))


def test_the_largest_size_that_it_is_sold_in_counts():
    assert not troubles("part-too-large", panel(1250, 300, sizes=(SMALL, SoldAs(Fraction(2440), Fraction(1220)))))


def test_boards_are_glued_up_to_their_width_but_not_to_their_length():
    boards = {"form": "board", "sizes": (SoldAs(Fraction(2000), None),)}
    assert not troubles("part-too-large", panel(1900, 700, **boards))
    assert troubles("part-too-large", panel(2100, 100, **boards))


def test_the_real_size_of_a_birch_sheet_is_what_counts():
    # A birch sheet is 1525 mm (60 in) square, not 5 ft and a bit: common sizes in the trade.
    assert told("part-too-large", panel(1519, 400, sizes=(SoldAs(Fraction(1525), Fraction(1525)),)))[0].margin == 0


@pytest.mark.parametrize(("long", "wide"), [(1250, 700), (1300, 300), (900, 601)])
def test_a_part_made_as_advised_comes_out(long: Number, wide: Number):
    (found,) = troubles("part-too-large", panel(long, wide))
    most = lengths(found.advice)
    assert not troubles("part-too-large", panel(min(Fraction(long), most[0]), min(Fraction(wide), most[1])))


def test_a_strip_has_its_width_already():
    strips = {"form": "strip", "sizes": (SoldAs(Fraction(2400), None),), "width": mm(40)}
    assert not troubles("part-too-large", panel(2300, 40, **strips))
