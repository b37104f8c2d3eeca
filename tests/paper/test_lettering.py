"""Fractions are set small, and nothing but fractions; text from a plan stays text."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.length import Manner, inch
from storystick.paper.blocks import rich
from storystick.paper.glyphs import face, printable
from storystick.paper.lettering import Vulgar, money, rounding_key, runs, said, set_width

INCHES = Manner("inch", 32)


def test_only_the_fraction_is_set_small_not_the_whole_number_before_it():
    assert runs('fence 23 5/8", then stop') == ("fence 23 ", Vulgar("5", "8"), '", then stop')


@pytest.mark.parametrize("text", ["open 24/7", "and/or", "1/3", "page 3/4/26", "9/8", "12/16x", "A/4", "1/2.5"])
def test_what_only_looks_like_a_fraction_is_left_alone(text: str):
    assert runs(text) == (text,)


def test_heavy_and_scant_become_plus_and_minus_beside_the_number():
    assert said(inch("5 1/8") + Fraction(1, 5), INCHES) == '5 1/8"+'
    assert said(inch("5 1/8") - Fraction(1, 5), INCHES, bare=True) == "5 1/8−"


def test_a_heavy_sheet_stays_heavy():
    assert rich("a heavy sheet, scant light") == ["a heavy sheet, scant light"]


def test_a_number_stays_together_on_its_line():
    assert rich('rip at 15 1/4", twice') == ["rip at ", ["15 ", "1", "4", '",'], " twice"]


def test_a_fraction_is_narrower_than_its_digits_in_a_row():
    assert set_width("5/8", 12) < set_width("5", 12) + set_width("/", 12) + set_width("8", 12) + 0.5
    assert set_width("23 5/8", 12) > set_width("23 ", 12)


def test_the_typeface_has_what_the_packet_prints():
    assert [letter for letter in '0123456789⁄"+−°×' if ord(letter) not in face("regular").advance] == []


def test_figures_are_all_of_one_width_so_that_columns_stand():
    assert len({face("regular").width(digit) for digit in "0123456789"}) == 1


def test_what_the_typeface_lacks_is_shown_as_missing():
    assert printable("birch 木\x00\n\u200b18") == "birch ?? 18"


@pytest.mark.parametrize(
    ("amount", "currency", "printed"), [("92", "$", "$92.00"), ("0.5", "$", "$0.50"), ("12.25", "EUR", "12.25 EUR")]
)
def test_money_has_two_digits_after_the_point(amount: str, currency: str, printed: str):
    assert money(Fraction(amount), currency) == printed


@pytest.mark.parametrize(
    ("manner", "mark", "half"), [(Manner("mm"), "0.1 mm", "0.05 mm"), (INCHES, '1/32"', '1/64"')]
)
def test_the_key_says_how_numbers_are_rounded_and_how_far_off_a_sum_may_be(manner: Manner, mark: str, half: str):
    assert f"to the nearest {mark}, so it is right within {half}, and a sum of several" in rounding_key(manner)


@given(st.lists(st.fractions(min_value=1, max_value=500, max_denominator=7000), min_size=1, max_size=9))
def test_printed_millimetres_added_up_are_no_farther_off_than_the_key_says(sizes: list[Fraction]):
    printed = [Fraction(said(size, Manner("mm"), bare=True)) for size in sizes]
    assert abs(sum(printed) - sum(sizes)) <= len(sizes) * Fraction("0.05")
    assert all(abs(one - size) <= Fraction("0.05") for one, size in zip(printed, sizes, strict=True))
