"""Laws that hold for any input, beside every published value."""

from math import isclose

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from storystick.physics import geometry, lags, magnets, moisture, nails, plate, screws, section, tipping, tolerance
from storystick.physics.beam import longest_span_mm, point_sag_mm, uniform_sag_mm
from storystick.physics.continuous import overhung_end_sag_mm
from storystick.physics.lifting import weight_limit_kg
from storystick.physics.movement import width_change_from_shrinkage_mm, width_change_mm
from storystick.physics.section import Piece

approx = pytest.approx

lengths = st.floats(10, 3000)
small = st.floats(1, 100)
moduli = st.floats(500, 20_000)
contents = st.floats(4, 30)
pieces = st.lists(
    st.builds(Piece, wide_mm=small, high_mm=small, low_mm=st.floats(-100, 100), e_mpa=moduli), min_size=1, max_size=5
)


@given(lengths, st.floats(0.0005, 0.005), st.floats(6, 14), st.floats(6, 14))
def test_drying_back_undoes_the_swelling(width: float, coefficient: float, start: float, end: float):
    there = width_change_mm(width, coefficient, start, end)
    assert there + width_change_mm(width, coefficient, end, start) == approx(0, abs=1e-9)


@given(lengths, st.floats(2, 12), contents, contents)
def test_drying_back_from_any_moisture_gives_the_first_width(width: float, shrinkage: float, start: float, end: float):
    there = width + width_change_from_shrinkage_mm(width, shrinkage, start, end)
    assert there + width_change_from_shrinkage_mm(there, shrinkage, end, start) == approx(width)


@given(st.floats(0, 50), st.floats(5, 89), st.floats(0.5, 5))
def test_damper_air_makes_damper_wood(temperature: float, humidity: float, more: float):
    damper = moisture.equilibrium_mc_percent(temperature, humidity + more)
    assert damper > moisture.equilibrium_mc_percent(temperature, humidity) > 0


@given(lengths, lengths, moduli)
def test_doubling_the_span_multiplies_sag_by_16(load: float, span: float, e: float):
    # The same load on each length: twice the span carries twice the load.
    assert uniform_sag_mm(2 * load, 2 * span, e, 1e5) == approx(16 * uniform_sag_mm(load, span, e, 1e5))


@given(lengths, lengths, small)
def test_doubling_the_thickness_divides_sag_by_8(load: float, span: float, thick: float):
    thin, double = (section.rectangle_inertia_mm4(300, t) for t in (thick, 2 * thick))
    assert uniform_sag_mm(load, span, 2500, thin) == approx(8 * uniform_sag_mm(load, span, 2500, double))


@given(st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_a_load_here_sags_there_as_a_load_there_sags_here(here: float, there: float):
    # Maxwell and Betti.
    assert point_sag_mm(1, here, there, 1, 1, 1) == approx(point_sag_mm(1, there, here, 1, 1, 1))


@given(st.integers(40, 80))
def test_many_small_loads_are_an_even_load(count: int):
    sag = sum(point_sag_mm(1 / count, (n + 0.5) / count, 0.5, 1, 1, 1) for n in range(count))
    assert sag == approx(uniform_sag_mm(1, 1, 1, 1), rel=1e-3)


@given(st.floats(0.1, 10), moduli, st.floats(1e4, 1e7), st.floats(100, 700))
def test_the_longest_span_is_just_at_its_limit(load: float, e: float, inertia: float, ratio: float):
    span = longest_span_mm(load, e, inertia, ratio)
    assert uniform_sag_mm(load * span, span, e, inertia) == approx(span / ratio)


@given(pieces)
def test_glue_never_weakens(parts: list[Piece]):
    assert section.joined_stiffness_nmm2(parts) >= section.loose_stiffness_nmm2(parts) * (1 - 1e-12)


@given(pieces, st.floats(-500, 500))
def test_where_one_measures_from_does_not_matter(parts: list[Piece], up: float):
    moved = [p._replace(low_mm=p.low_mm + up) for p in parts]
    assert section.joined_stiffness_nmm2(moved) == approx(section.joined_stiffness_nmm2(parts), rel=1e-6)
    assert section.neutral_line_mm(moved) == approx(section.neutral_line_mm(parts) + up, abs=1e-6)


@given(small, small, st.floats(0.1, 0.9))
def test_a_piece_glued_from_two_is_the_piece(wide: float, high: float, at: float):
    halves = [Piece(wide, high * at, 0), Piece(wide, high * (1 - at), high * at)]
    assert section.joined_inertia_mm4(halves, 1) == approx(section.rectangle_inertia_mm4(wide, high))


@given(lengths, lengths)
def test_a_plate_does_not_care_which_side_is_long(one: float, other: float):
    assert plate.four_sides_coefficient(one, other) == plate.four_sides_coefficient(other, one)


@given(st.floats(0.2, 20), st.floats(0.2, 20))
def test_a_support_more_never_sags_more(front: float, deep: float):
    three = plate.three_sides_coefficient(front, deep) * front**4
    four = plate.four_sides_coefficient(front, deep) * min(front, deep) ** 4
    assert four <= three * (1 + 1e-9)


@given(st.floats(0.05, 15))
def test_a_deeper_shelf_with_a_free_front_sags_more(deep: float):
    assert plate.three_sides_coefficient(1, 1.05 * deep) >= plate.three_sides_coefficient(1, deep) * (1 - 1e-6)


@given(st.floats(0.3, 0.75), st.floats(2, 8), st.floats(5, 80))
def test_failure_is_always_above_allowable(gravity: float, diameter: float, deep: float):
    for kind in (screws, nails, lags):
        allowed = kind.allowable_withdrawal_n(gravity, diameter, deep)
        assert 0 < 4 * allowed < kind.failure_withdrawal_n(gravity, diameter, deep)
        assert kind.allowable_withdrawal_n(gravity, diameter, 2 * deep) == approx(2 * allowed)


@given(st.floats(5, 60), st.floats(1, 20), st.floats(0.05, 20), st.floats(0.01, 5))
def test_a_wider_gap_pulls_less(diameter: float, thick: float, gap: float, more: float):
    near = magnets.pull_on_plate_n(1.3, diameter, thick, gap)
    assert 0 < magnets.pull_on_plate_n(1.3, diameter, thick, gap + more) < near


@given(st.floats(5, 60), st.floats(1, 20), st.floats(0.1, 10), st.floats(0.5, 2))
def test_a_magnet_twice_the_size_pulls_four_times(diameter: float, thick: float, gap: float, scale: float):
    assume(gap / diameter > 0.002)
    one = magnets.pull_on_plate_n(1.3, diameter, thick, gap)
    assert magnets.pull_on_plate_n(1.3, scale * diameter, scale * thick, scale * gap) == approx(scale**2 * one)


@given(st.floats(5, 60), st.floats(1, 20), st.floats(0.5, 10))
def test_a_pinhole_changes_nothing(diameter: float, thick: float, gap: float):
    disc = magnets.pull_on_plate_n(1.3, diameter, thick, gap)
    assert magnets.pull_on_plate_n(1.3, diameter, thick, gap, 0.001 * diameter) == approx(disc, rel=0.001)


@given(lengths, lengths, st.floats(0, 40))
def test_a_slope_tips_at_the_tipping_angle(behind: float, high: float, slope: float):
    left = tipping.behind_on_slope_mm(behind, high, slope)
    angle = tipping.tip_angle_deg(behind, high)
    assume(not isclose(slope, angle, abs_tol=1e-9))
    assert (left > 0) == (slope < angle)


@given(st.lists(st.floats(0, 5), min_size=1, max_size=12))
def test_the_likely_error_is_never_over_the_worst(limits: list[float]):
    assert tolerance.root_sum_square_mm(limits) <= tolerance.worst_case_mm(limits) * (1 + 1e-12) + 1e-12


@given(st.lists(st.floats(0, 5), min_size=1, max_size=6))
def test_errors_wholly_shared_add_straight(sds: list[float]):
    ones = [[1.0] * len(sds)] * len(sds)
    assert tolerance.combined_sd([1.0] * len(sds), sds, ones) == approx(sum(sds), abs=1e-9)


@given(st.floats(17, 19), st.floats(0.01, 2), st.floats(17, 20), st.floats(0.001, 0.5))
def test_odds_are_odds(least: float, more: float, dado: float, sd: float):
    chance = tolerance.chance_panel_over_dado(least, least + more, dado, sd)
    assert -1e-9 <= chance <= 1 + 1e-9
    assert tolerance.chance_panel_over_dado(least, least + more, dado + 0.1, sd) <= chance + 1e-9


@given(st.integers(1, 30), st.floats(20, 400), st.floats(0.5, 5), st.floats(0, 0.99))
def test_as_many_strips_as_fit_and_no_more(count: int, strip: float, kerf: float, over: float):
    width = geometry.width_for_strips_mm(count, strip, kerf) + over * (strip + kerf)
    assert geometry.strips_across(width, strip, kerf) == count


@given(st.floats(250, 630), st.floats(0, 1750), st.floats(250, 1700), st.floats(0, 135))
def test_no_lift_is_over_the_load_constant(out: float, high: float, travel: float, twist: float):
    assert 0 <= weight_limit_kg(out, high, travel, twist) <= 23 + 1e-9


@given(st.floats(0.05, 0.3))
def test_short_overhangs_rise_at_their_ends(share: float):
    assert overhung_end_sag_mm(1, 1, share, 1, 1) < 0
