"""How deep a channel may be, how thin the wood between two, how thin the lip beside one."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.ground.finding import Grade
from storystick.model.build import Build
from storystick.model.cut import Side
from tests.checks.by_hand import INCH, METRIC, Number, board, channel, joined, lengths, piece, told, troubles


def shelf_with(depth: Number, thick: Number = 18, **more: object) -> Build:
    cut = channel("across", (200, 0), (18, 300), depth, runs=1)
    return piece(board("case.side", (0, 0, 0), (600, 300, thick), cuts=[cut]), **more)


@pytest.mark.parametrize(("depth", "grade"), [(6, Grade.FINE), (9, Grade.FINE), ("9.1", Grade.CARE), (18, Grade.STOP)])
def test_more_than_half_the_thickness_is_too_deep(depth: Number, grade: Grade):
    (found,) = told("channel-depth", shelf_with(depth))
    assert found.grade == grade
    assert (found.number, found.limit, found.unit) == (Fraction(depth), 9, "mm")


@pytest.mark.parametrize("manner", [METRIC, INCH])
def test_a_channel_cut_as_advised_is_deep_enough(manner: object):
    (found,) = troubles("channel-depth", shelf_with(11, "18.3", manner=manner))
    depth, thick = lengths(found.advice)
    assert not troubles("channel-depth", shelf_with(depth, "18.3"))
    assert not troubles("channel-depth", shelf_with(11, thick))


def back_to_back(one: Number, other: Number, apart: Number = 0) -> Build:
    cuts = [
        channel("left", (200, 0), (18, 300), one, Side.FACE, runs=1),
        channel("right", (200 + Fraction(apart), 0), (18, 300), other, Side.BACK, runs=1),
    ]
    return piece(board("case.divider", (0, 0, 0), (600, 300, 18), cuts=cuts))


def test_two_channels_back_to_back_leave_a_thin_web():
    # 18 less twice 7 leaves 4; a third of 18 is 6.
    (found,) = troubles("thin-web", back_to_back(7, 7))
    assert (found.grade, found.number, found.limit) == (Grade.CARE, 4, 6)


def test_two_channels_that_meet_in_the_middle_cut_the_board_in_two():
    (found,) = troubles("thin-web", back_to_back(9, 9))
    assert found.grade == Grade.STOP


def test_a_third_each_is_thick_enough_and_channels_apart_do_not_meet():
    assert [one.grade for one in told("thin-web", back_to_back(6, 6))] == [Grade.FINE]
    assert told("thin-web", back_to_back(7, 7, apart=18)) == []


def test_the_web_is_thick_enough_when_the_advice_is_followed():
    (found,) = troubles("thin-web", back_to_back(8, 8))
    depth, shift = lengths(found.advice)
    assert not troubles("thin-web", back_to_back(depth, depth))
    assert not troubles("thin-web", back_to_back(8, 8, apart=shift))


def beside_the_edge(lip: Number, depth: Number) -> Build:
    cut = channel("for the bottom", (0, lip), (500, 6), depth, runs=0)
    return piece(board("case.drawer side", (0, 0, 0), (500, 120, 12), cuts=[cut]))


def test_a_lip_thinner_than_the_channel_is_deep_may_split_off():
    (found,) = troubles("channel-lip", beside_the_edge(4, 6))
    assert (found.number, found.limit) == (4, 6)


def test_a_lip_as_thick_as_the_channel_is_deep_will_do():
    assert [one.grade for one in told("channel-lip", beside_the_edge(6, 6))] == [Grade.FINE]


def test_a_channel_open_to_the_edge_has_no_lip():
    assert told("channel-lip", beside_the_edge(0, 6)) == []


def test_the_lip_holds_when_the_advice_is_followed():
    (found,) = troubles("channel-lip", beside_the_edge(4, 6))
    lip, depth = lengths(found.advice)
    assert not troubles("channel-lip", beside_the_edge(lip, 6))
    assert not troubles("channel-lip", beside_the_edge(4, depth))


def test_a_channel_from_below_in_a_top_of_two_layers_has_both_to_leave_wood_in():
    lower = board(
        "case.lower", (0, 0, 0), (600, 300, 18), cuts=[channel("c", (200, 0), (18, 300), 11, Side.BACK, runs=1)]
    )
    lower = replace(lower, datum=(1, 1, 1))
    upper = board("case.upper", (0, 0, 18), (600, 300, 18))
    glued = joined("case.upper", "case.lower", "glue", axis=2, sign=-1)
    assert troubles("channel-depth", piece(lower, upper))
    (found,) = told("channel-depth", piece(lower, upper, joints=(glued,)))
    assert (found.grade, found.limit) == (Grade.FINE, 18)
    above = replace(lower, cuts=(channel("c", (200, 0), (18, 300), 11, Side.FACE, runs=1),))
    assert troubles("channel-depth", piece(above, upper, joints=(glued,)))
