"""A formula told shorter is the same number, resting on the same causes."""

import math
from fractions import Fraction

from hypothesis import given as for_any
from hypothesis import strategies as some

from storystick.ground.dim import Dim, counts, formula, given, number
from storystick.ground.tidy import tidied

A, B, C = (given(name, value, "measured") for name, value in (("a", 30), ("b", 7), ("c", 12)))


def told(dim: Dim) -> str:
    return formula(tidied(dim), lambda d: str(d.value))


def test_what_is_added_and_taken_away_again_falls_out():
    assert told(A + B - (A - C)) == "b + c"
    assert told(A + B - A) == "b"


def test_two_of_one_kind_are_told_as_two():
    assert told(A - B + C - B) == "a + c - 2 x b"


def test_a_sum_that_is_short_stays_as_it_was_written():
    for dim in ((A - B) / 2, A - 2 * B, A + B + C):
        assert tidied(dim) is dim


def test_brackets_after_a_minus_are_opened():
    assert told(A - (B - C)) == "a + c - b"


def test_less_than_nothing_is_told_with_a_minus():
    assert told(-A) == "-a"
    assert formula(A - -B, lambda d: str(d.value)) == "a + b"


def test_nothing_that_is_left_is_told_as_nothing():
    assert told(A + B - A - B) == "nothing"


@some.composite
def sums(draw: some.DrawFn, depth: int = 4) -> Dim:
    if depth == 0:
        return draw(some.sampled_from([A, B, C]))
    one, other = draw(sums(depth - 1)), draw(sums(depth - 1))
    match draw(some.integers(0, 4)):
        case 0:
            return one + other
        case 1:
            return one - other
        case 2:
            return one * draw(some.integers(1, 5))
        case 3:
            return one / number(Fraction(draw(some.integers(1, 5))))
        case _:
            return one


@for_any(sums())
def test_the_number_and_how_often_each_cause_counts_stay_the_same(dim: Dim):
    fresh = tidied(dim)
    assert fresh.value == dim.value
    before, after = counts(dim), counts(fresh)
    for key, (_, slope) in before.items():
        assert math.isclose(after[key][1] if key in after else 0.0, slope, abs_tol=1e-9)
