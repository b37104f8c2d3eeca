"""Numbers that know why: the arithmetic of reasons and spreads, against the GUM and against laws of its own."""

import math
from fractions import Fraction

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from storystick.ground.dim import (
    Book,
    Dim,
    Leaf,
    Reading,
    Spread,
    chosen,
    counts,
    covariance,
    curve,
    formula,
    given,
    larger,
    limits,
    number,
    rule,
    sample,
    smaller,
    spread_of,
    walk,
    why,
)
from storystick.ground.finding import Broken, Place
from storystick.ground.source import practice

DRAWS = 200_000


def show(dim: Dim) -> str:
    return f"{float(dim.value):g}" + (" mm" if dim.power == 1 else "")


def leaf(name: str, value: float | str, sd: float, power: int = 1, shape: str = "normal") -> Dim:
    return Dim(Fraction(value), Leaf(name, "reading", "measured", Spread(sd, shape)), power)  # type: ignore[arg-type]


def bookcase(book: Book) -> Dim:
    """The example of the style guide: a shelf in two dadoes."""
    case = book.within("case")
    outside = case.settle("outside width", given("24 in", Fraction("609.6"), "plan, line 6"), "as asked")
    side = case.settle("side thickness", given("18 mm", 18, "plan, line 7"), "the sheet")
    depth = case.settle("dado depth", chosen(5, practice("a third of the host"), side), "carries a shelf")
    inside = case.settle("inside width", outside - 2 * side, "two sides stand between the outsides")
    return case.settle("shelf length", inside + 2 * depth, "a dado takes each end")


def test_a_shelf_in_two_dadoes_is_the_clear_width_and_two_depths() -> None:
    assert bookcase(Book()).value == Fraction("609.6") - 2 * 18 + 2 * 5


def test_a_measured_sheet_overrules_the_name_it_was_sold_under_and_everything_follows() -> None:
    readings = {"case.side thickness": Reading(Fraction("17.6"), "measured, +/- 0.1 mm", Spread(0.1))}
    shelf = bookcase(Book(readings))
    assert shelf.value == Fraction("609.6") - 2 * Fraction("17.6") + 10
    lines = why(shelf, show)
    side = next(line for line in lines if line.name == "case.side thickness")
    assert "measured, +/- 0.1 mm" in side.because
    assert "reckoned 18 mm" in side.because


def test_why_shows_the_formula_that_ran_and_the_reason_and_where_it_starts() -> None:
    lines = why(bookcase(Book()), show)
    assert lines[0].formula == "case.inside width + 2 x case.dado depth"
    assert lines[0].because == "a dado takes each end"
    assert [line.depth for line in lines] == [0, 1, 2, 2, 1, 2]
    assert any("plan, line 6" in line.because for line in lines)


def test_the_tolerance_stack_counts_each_cause_as_often_as_it_stands_there() -> None:
    stack = {leaf.name: weight for leaf, weight in counts(bookcase(Book())).values()}
    assert stack == {"24 in": 1, "18 mm": -2, "case.dado depth": 2}


def test_a_chosen_depth_counts_by_itself_since_the_bit_is_set_to_it() -> None:
    book = Book({"case.side thickness": Reading(Fraction("17.6"), "measured", Spread(0.1))})
    stack = {leaf.name: weight for leaf, weight in counts(bookcase(book)).values()}
    assert stack["case.side thickness"] == -2  # the depth looked at the thickness but does not move with it


def test_what_two_parts_have_in_common_cancels_in_their_difference() -> None:
    sheet = leaf("sheet", 18, 0.2)
    one, other = given("a", 300, "") - sheet, given("b", 200, "") - sheet
    assert spread_of(one - other) == pytest.approx(0)
    assert covariance(one, other) == pytest.approx(0.04)


def test_a_name_is_settled_once() -> None:
    book = Book()
    book.settle("wide", given("24", 24, "plan"), "as asked")
    with pytest.raises(Broken):
        book.settle("wide", given("25", 25, "plan"), "as asked")


def test_a_length_and_an_area_do_not_add() -> None:
    side = given("a", 2, "")
    with pytest.raises(Broken):
        side + side * side


def test_equal_texts_on_two_lines_of_a_plan_are_two_causes() -> None:
    one = given("24", 24, "plan", Place("p", 3, 7), spread=Spread(1))
    other = given("24", 24, "plan", Place("p", 9, 7), spread=Spread(1))
    assert spread_of(one - other) == pytest.approx(math.sqrt(2))


def test_a_formula_keeps_its_brackets() -> None:
    a, b, c = (given(name, value, "x") for name, value in (("a", 9), ("b", 4), ("c", 2)))
    assert formula(a - (b - c), show) == "a - (b - c)"
    assert formula((a - b) / 2, show) == "(a - b) / 2"
    assert formula(2 * (a + b), show) == "2 x (a + b)"
    assert formula(a + -b, show) == "a - b"
    assert formula(smaller(a, b), show) == "the smaller of a and b"


# --- against the guide ------------------------------------------------------------------------------------------------


def test_end_gauge_of_the_guide_h1() -> None:
    # JCGM 100:2008 (GUM), H.1: l = 50 000 838 nm, u_c = 32 nm (printed to whole nanometres). Lengths in nm here.
    ls = leaf("standard", 50_000_623, 25)
    d = leaf("difference", 215, 9.7)
    alpha = leaf("expansion", "11.5e-6", 2e-6 / math.sqrt(3), 0)
    theta = leaf("off temperature", "-0.1", 0.41, 0)
    d_alpha = leaf("difference of expansion", 0, 1e-6 / math.sqrt(3), 0)
    d_theta = leaf("difference of temperature", 0, 0.05 / math.sqrt(3), 0)
    length = ls + d - ls * (d_alpha * theta + alpha * d_theta)
    assert round(length.value) == 50_000_838
    assert spread_of(length) == pytest.approx(32, abs=0.5)


def correlated() -> tuple[Dim, Dim, Dim]:
    """Voltage, current and phase of GUM H.2: correlated through causes that they share (a Cholesky factor)."""
    r_vi, r_vp, r_ip = -0.36, 0.86, -0.65
    l22 = math.sqrt(1 - r_vi**2)
    l32 = (r_ip - r_vi * r_vp) / l22
    l33 = math.sqrt(1 - r_vp**2 - l32**2)
    z = [leaf(f"cause {i}", 0, 1.0, 0) for i in range(3)]

    def mean(value: str) -> Dim:
        return Dim(Fraction(value), Leaf("", "given", ""), 0)

    def times(by: float, what: Dim) -> Dim:
        return what * number(Fraction(by))

    volt = mean("4.9990") + times(0.0032, z[0])
    amp = mean("0.019661") + times(0.0095e-3, times(r_vi, z[0]) + times(l22, z[1]))
    phase = mean("1.04446") + times(0.00075, times(r_vp, z[0]) + times(l32, z[1]) + times(l33, z[2]))
    return volt, amp, phase


def test_impedance_with_correlated_causes_of_the_guide_h2() -> None:
    # JCGM 100:2008 (GUM), H.2, Table H.4: R 127.732 / 0.071, X 219.847 / 0.295, Z 254.260 / 0.236 ohm
    volt, amp, phase = correlated()
    resistance = volt / amp * curve("cos", phase)
    reactance = volt / amp * curve("sin", phase)
    impedance = volt / amp
    for dim, value, spread in ((resistance, 127.732, 0.071), (reactance, 219.847, 0.295), (impedance, 254.260, 0.236)):
        assert float(dim.value) == pytest.approx(value, abs=0.0005)
        assert spread_of(dim) == pytest.approx(spread, abs=0.0015)
    r_rx = covariance(resistance, reactance) / spread_of(resistance) / spread_of(reactance)
    assert r_rx == pytest.approx(-0.588, abs=0.005)


def test_sampling_the_impedance_gives_what_first_order_gives() -> None:
    volt, amp, phase = correlated()
    drawn = sample({"r": volt / amp * curve("cos", phase)}, DRAWS)["r"]
    assert float(drawn.std()) == pytest.approx(0.071, abs=0.0015)  # type: ignore[attr-defined]


def test_sum_of_four_normals_and_of_four_rectangles_of_supplement_1() -> None:
    # JCGM 101:2008, 9.2.2 and 9.2.3: 95 % intervals +-3.92 and +-3.88, standard uncertainty 2.0
    for shape, half in (("normal", 3.92), ("rectangular", 3.88)):
        parts = [leaf(f"{shape} {i}", 0, 1.0, shape=shape) for i in range(4)]
        whole = parts[0] + parts[1] + parts[2] + parts[3]
        drawn = sorted(sample({"y": whole}, DRAWS)["y"])  # type: ignore[call-overload]
        assert spread_of(whole) == pytest.approx(2.0)
        assert -drawn[int(0.025 * DRAWS)] == pytest.approx(half, abs=0.03)
        assert drawn[int(0.975 * DRAWS)] == pytest.approx(half, abs=0.03)


def test_limits_of_equal_chance_are_a_over_root_three() -> None:
    assert limits(0.3).sd == pytest.approx(0.3 / math.sqrt(3))  # JCGM 100:2008 (GUM), 4.3.7


# --- laws -------------------------------------------------------------------------------------------------------------

lengths = st.fractions(min_value=-1000, max_value=1000, max_denominator=64)


@for_all(lengths, lengths, lengths)
def test_arithmetic_is_that_of_exact_fractions(a: Fraction, b: Fraction, c: Fraction) -> None:
    one, two, three = given("a", a, ""), given("b", b, ""), given("c", c, "")
    assert ((one + two) - three).value == a + b - c
    assert (3 * one).value == 3 * a
    assert (one * two / 4).value == a * b / 4
    assert larger(one, two, three).value == max(a, b, c)
    assert smaller(one, two, three).value == min(a, b, c)


@for_all(st.lists(st.tuples(st.integers(-3, 3), st.floats(0.01, 2)), min_size=1, max_size=6))
def test_spread_of_a_plain_stack_is_the_root_of_the_sum_of_squares(stack: list[tuple[int, float]]) -> None:
    total = given("start", 100, "")
    for i, (times, sd) in enumerate(stack):
        total = total + times * leaf(f"part {i}", 10, sd)
    assert spread_of(total) == pytest.approx(math.sqrt(sum((t * s) ** 2 for t, s in stack)), abs=1e-9)


@for_all(st.floats(0.5, 3), st.floats(0.5, 3))
def test_derivatives_are_those_of_small_steps(x: float, y: float) -> None:
    def build(dx: float, dy: float) -> Dim:
        a = Dim(Fraction(x + dx), Leaf("a", "reading", "m", Spread(1)), 0)
        b = Dim(Fraction(y + dy), Leaf("b", "reading", "m", Spread(1)), 0)
        return curve("sqrt", a * b) + curve("sin", a) / b - curve("cos", b) * curve("tan", a / 4)

    found = {leaf.name: weight for leaf, weight in counts(build(0, 0)).values()}
    h = 1e-6
    for name, up, down in (("a", build(h, 0), build(-h, 0)), ("b", build(0, h), build(0, -h))):
        assert found[name] == pytest.approx(float(up.value - down.value) / (2 * h), rel=1e-4, abs=1e-6)


def test_sampling_is_the_same_every_time_and_does_not_depend_on_what_else_is_asked() -> None:
    a, b = leaf("a", 10, 0.1), leaf("b", 20, 0.2)
    alone = sample({"a": a}, 1000)["a"]
    with_others = sample({"x": b - a, "b": b, "a": a}, 1000)["a"]
    assert (alone == with_others).all()  # type: ignore[attr-defined]


def test_everything_a_number_rests_on_comes_once_and_causes_come_first() -> None:
    a = leaf("a", 10, 0.1)
    total = a + a
    total = total + total
    order = list(walk(total))
    assert len(order) == 3
    assert order[0] is a
    assert order[-1] is total


def test_a_long_stack_of_boards_does_not_overflow() -> None:
    total = given("start", 0, "")
    for i in range(5000):
        total = total + rule(f"board {i % 7}", 18, practice("a sheet"), spread=Spread(0.1))
    assert spread_of(total) > 0
