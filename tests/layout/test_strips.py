"""Sticks by hand, and what holds for every list of lengths."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.layout.strips import HASTY, Patience, StripProblem, lay_out_strips
from storystick.layout.strips.refute import refute
from storystick.model.cutting import Blank, Defect, Layout, Sheet, Way

FOOT = Fraction(12 * 254, 10)
SHORT = Patience(5, 20_000_000)


def lengths(*long: object) -> tuple[Blank, ...]:
    return tuple(Blank(f"rail {n}", Fraction(str(one)), Fraction(40)) for n, one in enumerate(long))


def stick(long: object, **more: object) -> Sheet:
    return Sheet(f"stick {long}", Fraction(str(long)), Fraction(40), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(("rails", "sticks"), [(3, 1), (4, 2)])
def test_three_rails_of_two_feet_come_out_of_eight_feet_and_four_do_not(rails, sticks):
    # By hand: 4 x 24 in is 96 in, and three kerfs go off that.
    stock = Sheet("eight feet", 8 * FOOT, Fraction(40))
    blanks = tuple(Blank(f"rail {n}", 2 * FOOT, Fraction(40)) for n in range(rails))
    problem = StripProblem(blanks, (stock,), Fraction(254, 80))
    answer = lay_out_strips(problem, patience=SHORT)
    assert len(answer.layout.trees) == sticks
    assert answer.layout.cost >= answer.least_cost


def test_lengths_that_add_up_are_put_together():
    # By hand: 700 + 300 and 600 + 400, each with one kerf of 3, are 1003.
    problem = StripProblem(lengths(700, 600, 400, 300), (stick(1003),), Fraction(3))
    assert len(lay_out_strips(problem, patience=SHORT).layout.trees) == 2


def test_each_length_is_cut_at_one_stop_over_all_sticks():
    problem = StripProblem(lengths(*[500] * 5, *[300] * 6), (stick(1000),), Fraction(3))
    layout = lay_out_strips(problem, patience=SHORT).layout
    assert sorted(setting.size for setting in layout.settings) == [300, 500]


def test_the_offcut_on_hand_goes_first_and_the_ends_are_trimmed():
    offcut = stick(650, price=Fraction(3), copies=1, on_hand=True, sawn=True)
    problem = StripProblem(lengths(600, 600), (stick(1000, price=Fraction(5)), offcut), Fraction(3), Fraction(15))
    layout = lay_out_strips(problem, patience=SHORT).layout
    assert layout.cost == 5
    assert {tree.sheet.name for tree in layout.trees} == {"stick 650", "stick 1000"}


def test_a_knot_is_cut_out():
    knot = Defect(Fraction(400), Fraction(10), Fraction(20), Fraction(20))
    problem = StripProblem(lengths(390, 550), (stick(1000, copies=1, defects=(knot,)),), Fraction(3))
    layout = lay_out_strips(problem, patience=SHORT).layout
    assert layout.unplaced == ()
    assert all(cut.way is Way.CROSSCUT for cut in layout.cuts)


def test_what_is_too_long_is_named():
    answer = lay_out_strips(StripProblem(lengths(1200, 300), (stick(1000),), Fraction(3)), patience=HASTY)
    assert answer.layout.unplaced == ("rail 0",)
    assert "rail 0" in answer.notes[0]


def right() -> tuple[Layout, StripProblem]:
    problem = StripProblem(lengths(400, 300), (stick(1000, copies=1),), Fraction(3), Fraction(10))
    return lay_out_strips(problem, patience=HASTY).layout, problem


def test_the_refuter_passes_what_is_right():
    assert list(refute(*right())) == []


@pytest.mark.parametrize(
    ("number", "change", "says"),
    [
        (2, {"at": Fraction(411)}, "not where the cuts leave it"),
        (2, {"kerf": Fraction(2)}, "kerf"),
        (2, {"way": Way.RIP}, "does not go across"),
        (2, {"setting": Fraction(12)}, "no piece is as long"),
        (2, {"setting": None}, "a cut to size has a setting"),
        (2, {"frees": ()}, "does not leave the pieces"),
        (2, {"piece": 77}, "does not lie on the bench"),
        (2, {"number": 9}, "not numbered"),
    ],
)
def test_the_refuter_finds_each_fault_in_a_cut(number: int, change: dict[str, object], says: str):
    layout, problem = right()
    tree = layout.trees[0]
    cuts = tuple(replace(cut, **change) if cut.number == number else cut for cut in tree.cuts)  # type: ignore[arg-type]
    assert says in "\n".join(refute(Layout((replace(tree, cuts=cuts),)), problem))


def test_the_refuter_finds_faults_in_the_blanks_and_the_stock():
    layout, problem = right()
    assert "is cut 0 times" in "\n".join(refute(Layout(), problem))
    assert "which is not its length" in "\n".join(refute(layout, replace(problem, blanks=lengths(401, 300))))
    assert "trimmed off" in "\n".join(refute(layout, replace(problem, end_trim=Fraction(11))))
    assert "are used, and there are 0" in "\n".join(refute(layout, replace(problem, sticks=(stick(1000, copies=0),))))
    knot = Defect(Fraction(100), Fraction(0), Fraction(5), Fraction(5))
    tree = replace(layout.trees[0], sheet=replace(layout.trees[0].sheet, defects=(knot,)))
    assert "has a defect" in "\n".join(refute(Layout((tree,)), problem))


@given(
    st.lists(st.integers(20, 1100).map(Fraction), max_size=14),
    st.sampled_from([Fraction(0), Fraction("3.2"), Fraction(254, 80)]),
    st.sampled_from([Fraction(0), Fraction(12)]),
    st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_every_way_of_cutting_sticks_can_be_cut(long: list[Fraction], kerf: Fraction, trim: Fraction, offcuts: bool):
    sticks = [stick(1200)]
    if offcuts:
        knot = Defect(Fraction(200), Fraction(10), Fraction(15), Fraction(15))
        sticks += [stick(500, copies=2, on_hand=True, defects=(knot,)), stick(900, price=Fraction("0.8"))]
    problem = StripProblem(lengths(*long), tuple(sticks), kerf, trim)
    answer = lay_out_strips(problem, patience=SHORT)
    assert list(refute(answer.layout, problem)) == []
    assert answer.layout.unplaced == ()
    assert answer.layout.cost >= answer.least_cost
