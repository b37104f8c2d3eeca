"""Lengths in every notation of the trade, and back on paper."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.length import (
    INCH,
    Manner,
    down_to,
    inch,
    mm,
    nearest,
    read_length,
    show,
    up_to,
)
from storystick.ground.misread import Misread

IN = INCH  # 25.4 mm: the international inch, by definition since 1959

NOTATIONS = [
    ("23 5/8", Fraction(189, 8) * IN),
    ("23-5/8", Fraction(189, 8) * IN),
    ('23-5/8"', Fraction(189, 8) * IN),
    ('23 5/8"', Fraction(189, 8) * IN),
    ("23 5/8 in", Fraction(189, 8) * IN),
    ("23 5/8 in.", Fraction(189, 8) * IN),
    ("23 5/8 inches", Fraction(189, 8) * IN),
    ("23.625", Fraction(189, 8) * IN),
    ("23.625 in", Fraction(189, 8) * IN),
    ("23⅝", Fraction(189, 8) * IN),
    ("23 ⅝″", Fraction(189, 8) * IN),
    ("23 5⁄8”", Fraction(189, 8) * IN),
    ("⅝", Fraction(5, 8) * IN),
    ("½ in", Fraction(1, 2) * IN),
    ("5/8", Fraction(5, 8) * IN),
    ("5/4", Fraction(5, 4) * IN),
    (".75", Fraction(3, 4) * IN),
    ("0.75", Fraction(3, 4) * IN),
    ("12.", 12 * IN),
    ("12", 12 * IN),
    ("5' 3 1/2\"", Fraction(127, 2) * IN),
    ("5'-3 1/2\"", Fraction(127, 2) * IN),
    ("5′ 3½″", Fraction(127, 2) * IN),
    ("5’ 3½”", Fraction(127, 2) * IN),
    ("5' 3", 63 * IN),
    ("3'", 36 * IN),
    ("4 ft", 48 * IN),
    ("4 feet", 48 * IN),
    ("1 foot", 12 * IN),
    ("1 ft 6 in", 18 * IN),
    ("1 ft. 6 in.", 18 * IN),
    ("1.5 ft", 18 * IN),
    ("601.5 mm", Fraction(1203, 2)),
    ("601.5mm", Fraction(1203, 2)),
    ("601.5 MM", Fraction(1203, 2)),
    ("600 millimetres", Fraction(600)),
    ("600 millimeters", Fraction(600)),
    ("60 cm", Fraction(600)),
    ("0.6 m", Fraction(600)),
    ("1 m 20 cm", Fraction(1200)),
    ("1 m 5 mm", Fraction(1005)),
    ("1/2 mm", Fraction(1, 2)),
    ("-1/4", Fraction(-1, 4) * IN),
    ("−1/4", Fraction(-1, 4) * IN),
    ("+3", 3 * IN),
    ("  3  ", 3 * IN),
    ("23\u00a05/8", Fraction(189, 8) * IN),
    ('23 5/8" heavy', Fraction(189, 8) * IN),
    ('23 5/8" scant', Fraction(189, 8) * IN),
]


@pytest.mark.parametrize(("text", "value"), NOTATIONS)
def test_a_length_is_read_in_any_notation_of_the_shop(text, value):
    assert read_length(text, "inch") == value


@pytest.mark.parametrize(
    ("text", "value"),
    [("600", 600), ("601.5", Fraction(1203, 2)), ("23 5/8 in", Fraction(189, 8) * IN), ("3'", 36 * IN)],
)
def test_a_plain_number_in_a_metric_plan_is_millimetres(text, value):
    assert read_length(text, "mm") == value


@pytest.mark.parametrize("text", ["3/4", "23 5/8", "23⅝", "½"])
def test_a_bare_fraction_in_a_metric_plan_is_asked_about(text):
    with pytest.raises(Misread) as wrong:
        read_length(text, "mm")
    assert "in, or" in wrong.value.nearest


@pytest.mark.parametrize(
    ("text", "bare", "works"),
    [
        ("23,5", "mm", "23.5"),
        ("23,5 mm", "inch", "23.5 mm"),
        ("1 200 mm", "mm", "1200 mm"),
        ("601.5 mn", "mm", "601.5 mm"),
        ("3 inchs", "inch", "3 inch"),
        ("3 feets", "inch", "3 feet"),
        ("23 10/8", "inch", "24 1/4"),
        ("60 centimetre s", "mm", ""),
    ],
)
def test_a_slip_of_the_pen_is_answered_with_what_would_work(text, bare, works):
    with pytest.raises(Misread) as wrong:
        read_length(text, bare)
    if works:
        assert wrong.value.nearest == works
        read_length(wrong.value.nearest, bare)
    assert "a length" in wrong.value.expected


@pytest.mark.parametrize(
    "text",
    ["", "x", "23 5/x", "23 5", "5/0", "1e3", "1.2.3", "nan", "inf", "5' 3 mm", "5' - 3\"", "12abc", "½½", "2x4",
     "3/4/0",
     "9" * 80, "--3", "1 m 20", "٣", "23 5/8\"\"", "0x10", "1_000", "3/", "/4", "'", '"', "in", "1/2/0", "1 1 1"],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_an_example(text):
    with pytest.raises(Misread) as wrong:
        read_length(text, "inch")
    assert wrong.value.expected.startswith("a length")
    assert wrong.value.nearest


def test_nobody_builds_a_kilometre():
    with pytest.raises(Misread, match="kilometre"):
        read_length("1001 m", "mm")


SHOWN = [
    ("23 5/8", Manner(), '23 5/8"'),
    ("24", Manner(), '24"'),
    ("5/8", Manner(), '5/8"'),
    ("0", Manner(), '0"'),
    ("-1/4", Manner(), '-1/4"'),
    ("601.5 mm", Manner("inch", 16), '23 11/16" scant'),
    ("600 mm", Manner("inch", 16), '23 5/8"'),  # 23.622 in: within a tenth of a sixteenth
    ("17.6 mm", Manner("inch", 32), '11/16" heavy'),  # 0.6929 in against 0.6875
    ("63.5", Manner("inch", 32, feet=True), "5' 3 1/2\""),
    ("36", Manner("inch", 32, feet=True), "3'"),
    ("11", Manner("inch", 32, feet=True), '11"'),
    ("601.5 mm", Manner("mm"), "601.5 mm"),
    ("600 mm", Manner("mm"), "600 mm"),
    ("601.54 mm", Manner("mm"), "601.5 mm"),
    ("601.5 mm", Manner("mm", decimals=0), "602 mm"),
    ("23 5/8", Manner("mm"), "600.1 mm"),
    ("0.3 mm", Manner("inch", 16), '0.012"'),
    ("-0.01 mm", Manner("mm"), "0 mm"),
]


@pytest.mark.parametrize(("text", "manner", "shown"), SHOWN)
def test_a_length_is_printed_as_the_rule_is_read(text, manner, shown):
    assert show(read_length(text, "inch"), manner) == shown


def test_a_column_headed_with_its_unit_leaves_the_unit_off():
    assert show(inch("23 5/8"), Manner(), bare=True) == "23 5/8"
    assert show(mm("601.5"), Manner("mm"), bare=True) == "601.5"


LENGTHS = st.fractions(min_value=-3000, max_value=3000, max_denominator=2000)
MANNERS = st.one_of(
    st.builds(Manner, st.just("inch"), st.sampled_from([2, 4, 8, 16, 32, 64]), st.booleans()),
    st.builds(Manner, st.just("mm"), decimals=st.sampled_from([0, 1, 2])),
)


@given(LENGTHS, MANNERS)
def test_what_is_printed_reads_back_within_half_a_mark(length, manner):
    back = read_length(show(length, manner), manner.unit)
    assert abs(back - length) <= manner.mark / 2


@given(LENGTHS, MANNERS)
def test_what_falls_on_a_mark_reads_back_exactly(length, manner):
    on_a_mark = nearest(length, manner.mark)
    assert read_length(show(on_a_mark, manner), manner.unit) == on_a_mark


@given(LENGTHS, st.sampled_from([16, 32, 64]))
def test_heavy_is_more_than_the_mark_and_scant_is_less(length, denominator):
    manner = Manner("inch", denominator)
    said = show(abs(length), manner)
    mark = read_length(said, "inch")
    assert ("heavy" in said) <= (abs(length) > mark)
    assert ("scant" in said) <= (abs(length) < mark)
    if said.endswith('"') and "." not in said:
        assert abs(abs(length) - mark) <= manner.mark / 10


STEPS = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=200)


@given(LENGTHS, STEPS)
def test_down_is_never_more_and_up_never_less(length, step):
    low, high = down_to(length, step), up_to(length, step)
    assert low <= length <= high
    assert high - low in (0, step)
    assert nearest(length, step) in (low, high)
    assert (low / step).denominator == (high / step).denominator == 1


@given(st.integers(0, 500), st.integers(1, 63), st.sampled_from([" ", "-"]), st.sampled_from(["", '"', " in", "″"]))
def test_every_mark_of_the_rule_can_be_written(whole, sixty_fourths, between, unit):
    assert (
        read_length(f"{whole}{between}{sixty_fourths}/64{unit}", "inch") == (whole + Fraction(sixty_fourths, 64)) * IN
    )


def read_or_told(text, bare):
    """The length, or what the reader says is wrong with it."""
    try:
        return read_length(text, bare)
    except Misread as wrong:
        return str(wrong)


@given(st.text(max_size=70), st.sampled_from(["inch", "mm"]))
def test_no_text_whatever_breaks_the_reader(text, bare):
    assert read_or_told(text, bare) != ""


@given(st.text("0123456789 /.'\"-,mcinft½″", max_size=20), st.sampled_from(["inch", "mm"]))
def test_no_scribble_of_figures_and_marks_breaks_the_reader(text, bare):
    assert read_or_told(text, bare) != ""
