"""Angles, weights, money, counts and the air: read as they are written, printed as they are read."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.misread import Misread
from storystick.ground.quantities import (
    Money,
    Weight,
    read_angle,
    read_count,
    read_flag,
    read_money,
    read_number,
    read_percent,
    read_temperature,
    read_weight,
    show_angle,
    show_money,
    show_weight,
)

POUND = Fraction("0.45359237")  # international pound, by definition since 1959


@pytest.mark.parametrize(
    ("text", "kg"),
    [("20 kg", 20), ("44 lb", 44 * POUND), ("3 lb 4 oz", Fraction(13, 4) * POUND), ("500 g", Fraction(1, 2)),
     ("1/2 lb", POUND / 2), ("12 pounds", 12 * POUND), ("8 oz", POUND / 2), ("2.5 kilos", Fraction(5, 2))],
)  # fmt: skip
def test_weights_are_read_in_kilos_and_pounds(text, kg):
    assert read_weight(text).kg == kg


def test_a_bare_weight_needs_a_unit_unless_the_plan_gives_one():
    assert read_weight("20", "kg").kg == 20
    with pytest.raises(Misread) as wrong:
        read_weight("20")
    assert wrong.value.nearest == "20 kg or 20 lb"


@pytest.mark.parametrize(
    ("text", "degrees"), [("75 deg", 75), ("75°", 75), ("22 1/2 degrees", Fraction(45, 2)), ("-5", -5)]
)
def test_angles_are_read_in_degrees(text, degrees):
    assert read_angle(text).degrees == degrees


@pytest.mark.parametrize("text", ["1:8", "1 in 8", "1/8 : 1"])
def test_a_slope_keeps_its_rise_and_run(text):
    angle = read_angle(text)
    assert angle.slope == Fraction(1, 8)
    # arctan(1/8) = 7.125 degrees: the usual dovetail slope for hard wood
    assert float(angle.degrees) == pytest.approx(7.125, abs=5e-4)
    assert show_angle(angle) == "1:8 (7.1 degrees)"


@pytest.mark.parametrize(
    ("text", "amount", "sign", "shown"),
    [("92.00", 92, "", "92.00"), ("$92", 92, "$", "$92.00"), ("€ 85", 85, "€", "€85.00"),
     ("85 EUR", 85, "EUR", "85.00 EUR"), ("1,250.00", 1250, "", "1,250.00"), ("0.035", Fraction("0.035"), "", "0.04")],
)  # fmt: skip
def test_a_price_keeps_its_currency_and_its_cents(text, amount, sign, shown):
    money = read_money(text)
    assert money == Money(Fraction(amount), sign)
    assert show_money(money) == shown


def test_a_decimal_comma_in_a_price_is_answered_with_a_point():
    with pytest.raises(Misread) as wrong:
        read_money("12,50")
    assert wrong.value.nearest == "12.50"


@pytest.mark.parametrize(("text", "count"), [("3", 3), ("three", 3), ("none", 0), ("Twelve", 12)])
def test_counts_are_whole(text, count):
    assert read_count(text) == count


@pytest.mark.parametrize(("text", "works"), [("tree", "three"), ("2.5", "3"), ("foor", "four")])
def test_a_miscount_is_answered_with_a_count(text, works):
    with pytest.raises(Misread) as wrong:
        read_count(text)
    assert wrong.value.nearest == works


def test_yes_and_no_are_what_people_write():
    assert [read_flag(word) for word in ("yes", "Yes", "true", "on")] == [True] * 4
    assert [read_flag(word) for word in ("no", "NO", "false", "off")] == [False] * 4
    with pytest.raises(Misread):
        read_flag("maybe")


def test_water_freezes_at_32_and_boils_at_212():
    assert read_temperature("32 F") == 0
    assert read_temperature("212 F") == 100
    assert read_temperature("20 °C") == 20
    assert read_temperature("68", "F") == 20
    with pytest.raises(Misread):
        read_temperature("20")


def test_percentages_stay_within_the_hundred():
    assert read_percent("45 %") == read_percent("45") == 45
    with pytest.raises(Misread):
        read_percent("101 %")


def test_light_things_are_weighed_in_grams_and_ounces():
    assert show_weight(Weight(Fraction(1, 4)), "kg") == "250 g"
    assert show_weight(Weight(POUND / 2), "lb") == "8 oz"
    assert show_weight(Weight(20 * POUND), "lb") == "20 lb"
    assert show_weight(Weight(Fraction(41, 2)), "kg") == "20.5 kg"


@given(st.decimals(min_value=0, max_value=99999, places=2))
def test_a_price_printed_reads_back(amount):
    assert read_money(show_money(Money(Fraction(amount), "$"))) == Money(Fraction(amount), "$")


@given(st.fractions(min_value=1, max_value=9999, max_denominator=10), st.sampled_from(["kg", "lb"]))
def test_a_weight_printed_reads_back_within_what_is_printed(kg, unit):
    back = read_weight(show_weight(Weight(kg), unit)).kg
    assert abs(back - kg) <= Fraction(1, 20) * (1 if unit == "kg" else POUND)


READERS = [
    read_weight, read_angle, read_money, read_count, read_flag, read_percent, read_temperature, read_number,
]  # fmt: skip


def read_or_told(reader, text):
    """The value, or what the reader says is wrong with it."""
    try:
        return reader(text)
    except Misread as wrong:
        return str(wrong)


@given(st.text(max_size=30), st.sampled_from(READERS))
def test_no_text_whatever_breaks_a_reader(text, reader):
    assert read_or_told(reader, text) != ""


@given(st.text("0123456789.,/:%°$€ kglbozdeg-½", max_size=16), st.sampled_from(READERS))
def test_no_scribble_breaks_a_reader(text, reader):
    assert read_or_told(reader, text) != ""
