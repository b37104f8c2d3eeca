"""Solid wood across the grain, and blind holes."""

from fractions import Fraction

import pytest

from storystick.ground.finding import Grade
from storystick.model.build import Build
from storystick.model.cut import Side
from storystick.shop.shop import Air
from tests.checks.by_hand import Number, board, bore, channel, joined, lengths, piece, ply, told, troubles


def breadboard(held: Number, *, holds: str = "glue", wood: str = "black walnut", host_solid: bool = True) -> Build:
    """A solid top 400 wide, its grain along x; a batten below it along y, held over part of the width."""
    top = board("case.top", (0, 0, 18), (900, 400, 20), stock=ply(20, solid=True, material=wood, form="board"))
    batten = board("case.batten", (100, 0, 0), (40, held, 18), "yxz", stock=ply(18, solid=host_solid, material=wood))
    return piece(top, batten, joints=(joined("case.top", "case.batten", holds, axis=2, sign=-1),))


def test_a_wide_top_glued_across_its_grain_will_split():
    (found,) = troubles("wood-movement", breadboard(400))
    assert found.about == ("case.top", "case.batten")
    assert found.number > 1


def test_it_moves_as_the_handbook_says():
    # Reference sheet, from Wood Handbook eqs. 4-5 and 13-2: a flat-sawn red oak panel 12 in wide, from 30 to 65 %
    # relative humidity at 70 F (6.17 to 11.96 % moisture content), moves 0.2565 in.
    air = Air(Fraction(30), Fraction(65), Fraction(211, 10))
    (found,) = troubles("wood-movement", breadboard(Fraction("304.8"), wood="northern red oak"), air=air)
    assert found.number / 25.4 == pytest.approx(0.2565, abs=0.0005)


def test_in_very_dry_air_the_straight_line_ends_and_the_other_formula_is_used():
    dry = Air(Fraction(15), Fraction(65), Fraction(21))
    mild = Air(Fraction(30), Fraction(65), Fraction(21))
    drier, milder = (troubles("wood-movement", breadboard(300), air=air)[0].number for air in (dry, mild))
    assert drier > milder


def test_screws_in_slots_are_a_note():
    assert not troubles("wood-movement", breadboard(400, holds="screws"))
    found = [one for one in told("wood-movement", breadboard(400, holds="screws")) if one.about[0] == "case.top"]
    assert [one.grade for one in found] == [Grade.NOTE]


def test_what_moves_together_may_be_glued():
    top = board("case.top", (0, 0, 0), (900, 200, 20), stock=ply(20, solid=True))
    other = board("case.lip", (0, 0, 20), (900, 200, 20), stock=ply(20, solid=True))
    assert told("wood-movement", piece(top, other, joints=(joined("case.top", "case.lip", "glue", axis=2),))) == []
    beside = board("case.lip", (0, 200, 0), (900, 20, 20), stock=ply(20, solid=True))
    assert told("wood-movement", piece(top, beside, joints=(joined("case.top", "case.lip", "glue", axis=1),))) == []


def test_glue_over_a_short_stretch_as_advised_does_no_harm():
    (found,) = troubles("wood-movement", breadboard(400))
    (short,) = lengths(found.advice)
    assert not troubles("wood-movement", breadboard(short))


def test_plywood_does_not_move():
    top = board("case.top", (0, 0, 18), (900, 400, 18))
    under = board("case.batten", (100, 0, 0), (40, 400, 18), "yxz")
    assert told("wood-movement", piece(top, under, joints=(joined("case.top", "case.batten", "glue", axis=2),))) == []


def holed(depth: Number, *others: object) -> Build:
    cuts = [bore("pin", (100, 37), 5, depth), *others]
    return piece(board("case.side", (0, 0, 0), (600, 300, 18), cuts=cuts))  # type: ignore[arg-type]


@pytest.mark.parametrize(("depth", "grade"), [(12, Grade.FINE), (16, Grade.FINE), (17, Grade.CARE), (18, Grade.STOP)])
def test_a_blind_hole_leaves_two_millimetres(depth: Number, grade: Grade):
    (found,) = told("blind-holes", holed(depth))
    assert (found.grade, found.number) == (grade, 18 - int(depth))


def test_holes_from_both_sides_of_a_divider_must_not_meet():
    found = troubles("blind-holes", holed(10, bore("other", (100, 37), 5, 8, Side.BACK)))
    assert {one.grade for one in found} == {Grade.STOP}
    assert not troubles("blind-holes", holed(10, bore("other", (108, 37), 5, 8, Side.BACK)))


def test_a_hole_that_runs_into_a_channel_from_the_other_side():
    (found,) = troubles("blind-holes", holed(12, channel("c", (90, 0), (18, 300), 6, Side.BACK, runs=1)))
    assert found.grade == Grade.STOP
    assert not troubles("blind-holes", holed(12, channel("c", (110, 0), (18, 300), 6, Side.BACK, runs=1)))


@pytest.mark.parametrize("depth", [17, 18])
def test_a_hole_as_deep_as_advised_leaves_enough(depth: Number):
    (found,) = troubles("blind-holes", holed(depth))
    assert not troubles("blind-holes", holed(lengths(found.advice)[0]))
