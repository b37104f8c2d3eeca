"""Boards that their own cuts take away."""

from dataclasses import replace

from storystick.checks import run_all
from storystick.ground.finding import Grade
from storystick.model.build import Build
from storystick.model.cut import Corner, Notch
from tests.checks.by_hand import Number, asked, board, carcass, mm, piece, told, troubles


def sawn(low: Number, high: Number, deep: Number = 100) -> Build:
    """A board 500 x 100 with a notch across it from `low` to `high` along its length."""
    corners = tuple(Corner(mm(u), mm(v)) for u, v in ((low, 0), (high, 0), (high, deep), (low, deep)))
    return piece(board("case.rail", (0, 0, 0), (500, 100, 18), cuts=[Notch("notch", corners, "notch")]))


def test_a_notch_as_wide_as_the_board_cuts_it_in_two():
    (found,) = troubles("nothing-left", sawn(200, 250))
    assert (found.grade, found.number) == (Grade.STOP, 2)


def test_a_notch_at_the_end_only_makes_it_shorter_and_a_shallow_one_leaves_it_whole():
    assert not troubles("nothing-left", sawn(0, 250))
    assert not troubles("nothing-left", sawn(200, 250, 60))
    assert [one.grade for one in told("nothing-left", carcass())] == [Grade.FINE]


def test_a_board_of_which_nothing_is_left_is_told_and_the_other_checks_go_on():
    (found,) = troubles("nothing-left", sawn(-1, 501, 101))
    assert found.number == 0
    whole = carcass()
    build = replace(whole, parts=(*whole.parts, replace(sawn(-1, 501, 101).parts[0], name="case.gone")))
    assert "nothing-left" in {one.code for one in run_all(asked(build))}
    assert run_all(asked(sawn(-1, 501, 101)))
