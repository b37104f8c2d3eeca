"""What holds for every cutting list."""

from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from storystick.layout.sheets import HASTY, Limits, Patience, SheetProblem, lay_out_sheets
from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.bound import counted, over, plain, stepped
from storystick.layout.sheets.engine import FIRST, SEVERAL
from storystick.layout.sheets.refute import refute
from storystick.layout.sheets.settings import fewest, in_turn
from storystick.model.cutting import UNIT, Blank, Defect, Sheet, Trim, from_units, units_down, units_up

SHORT = Patience(200, FIRST[:3], SEVERAL[:2], 20)

sizes = st.one_of(
    st.integers(30, 900).map(Fraction),
    st.integers(80, 2300).map(lambda n: Fraction(n * 254, 640)),  # sixty-fourths of an inch
)


@st.composite
def problems(draw: st.DrawFn) -> SheetProblem:
    kinds = draw(st.lists(st.tuples(sizes, sizes, st.sampled_from([True, False, None]), st.integers(1, 4)), max_size=6))
    blanks = [
        Blank(f"blank {n}.{copy}", long, wide, grain, sheet_group="pair" if n == 0 and copies == 2 else "")
        for n, (long, wide, grain, copies) in enumerate(kinds)
        for copy in range(copies)
    ]
    sheets = [Sheet("whole", Fraction(2440), Fraction(1220), Fraction(80))]
    if draw(st.booleans()):
        sheets.append(Sheet("half", Fraction("1220.3"), Fraction(1220), Fraction(45), draw(st.sampled_from([None, 2]))))
    if draw(st.booleans()):
        spot = Defect(draw(sizes), draw(st.integers(0, 300).map(Fraction)), Fraction(30), Fraction("40.1"))
        defects = draw(st.sampled_from([(), (spot,)]))
        sheets.append(Sheet("offcut", draw(sizes), draw(sizes), Fraction(5), 1, True, True, defects))
    kerf = draw(st.sampled_from([Fraction(0), Fraction("3.2"), Fraction(254, 80), Fraction(1)]))
    trim = draw(st.sampled_from([Trim(), Trim(*[Fraction(10)] * 4), Trim(left=Fraction(1), back=Fraction("6.35"))]))
    limits = draw(st.sampled_from([Limits(), Limits(heaviest=Fraction(20)), Limits(crosscut_capacity=Fraction(650))]))
    return SheetProblem(tuple(blanks), tuple(sheets), kerf, trim, limits, Fraction(12, 1_000_000))


@given(problems())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_layout_can_be_cut(problem: SheetProblem):
    answer = lay_out_sheets(problem, patience=SHORT)
    assert list(refute(answer.layout, problem)) == []
    if not answer.layout.unplaced:
        assert answer.layout.cost >= answer.least_cost
    assert len(answer.layout.settings) >= answer.least_settings


@given(problems())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_first_answer_is_whole_wherever_the_stock_allows(problem: SheetProblem):
    answer = lay_out_sheets(problem, patience=HASTY)
    # Whole sheets are there without end, so only blanks that go into no sheet are left out.
    assert set(answer.layout.unplaced) == set(reckon(problem).too_large)


@given(problems())
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_looking_longer_never_makes_it_dearer(problem: SheetProblem):
    first, longer = (lay_out_sheets(problem, patience=patience).layout for patience in (HASTY, SHORT))
    assert longer.cost <= first.cost


whole_and_sizes = st.integers(20, 500).flatmap(
    lambda whole: st.tuples(st.just(whole), st.lists(st.integers(1, whole), min_size=1, max_size=12))
)


@given(whole_and_sizes, st.integers(1, 250), st.integers(1, 6))
def test_sizes_that_fit_in_a_length_count_at_most_one(given_sizes: tuple[int, list[int]], least: int, steps: int):
    whole, several = given_sizes
    fitting: list[int] = []
    for size in several:
        if sum(fitting) + size <= whole:
            fitting.append(size)
    for share in (plain, over(least), stepped(steps), counted(least)):
        assert sum(share(size, whole) for size in fitting) <= 1 + 1e-9


chains = st.lists(
    st.lists(st.tuples(st.integers(0, 1), st.integers(1, 4)), min_size=1, max_size=4).map(tuple), max_size=6
)


@given(chains)
def test_the_order_of_settings_serves_every_piece(told: list[tuple[tuple[int, int], ...]]):
    turns = in_turn(told)
    assert len(turns) >= fewest(told)
    for chain in told:
        rest = iter(turns)
        assert all(label in rest for label in chain)


@given(st.fractions(0, 3000, max_denominator=640))
def test_rounding_never_makes_a_blank_small_or_a_sheet_large(length: Fraction):
    assert 0 <= from_units(units_up(length)) - length < UNIT
    assert 0 <= length - from_units(units_down(length)) < UNIT
