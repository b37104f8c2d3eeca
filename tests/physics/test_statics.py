"""Magnets, tipping, racking, lifting and heights, against printed cases and statics."""

from math import pi

import pytest

from storystick.physics import heights, lifting, magnets, racking, tipping, weight
from storystick.physics.units import KG_M3_PER_LB_FT3, MM_PER_FT, MM_PER_IN, N_PER_LBF

approx = pytest.approx


# Image method with magpylib 6.3.0 (field of the magnet) and Maxwell stress, Br 1.30 T: diameter, thickness, gap, pull.
@pytest.mark.parametrize(
    ("diameter", "thick", "gap", "newtons"),
    [(25.4, 3.175, 0.1, 61.2), (25.4, 3.175, 0.5, 42.8), (25.4, 3.175, 1.0, 31.5), (25.4, 3.175, 2.0, 19.9),
     (25.4, 3.175, 3.175, 12.9), (25.4, 3.175, 6.35, 5.12), (12.7, 3.175, 0.5, 18.16), (9.525, 3.175, 1, 7.72),
     (6.35, 3.175, 0.5, 6.07), (10, 3, 1, 7.9), (20, 3, 0.5, 30.29)],
)  # fmt: skip
def test_pull_of_discs(diameter: float, thick: float, gap: float, newtons: float):
    assert magnets.pull_on_plate_n(1.30, diameter, thick, gap) == approx(newtons, rel=0.005)


def test_pull_by_finite_elements():
    # Published finite-element verification examples, Br 1.26 T, gap 0.005 in: a 2 x 0.65 in disc 542 N; a ring of 2 in,
    # hole 0.5 in, 0.75 in thick, 608 N. The image method lies about 5 % above.
    disc = magnets.pull_on_plate_n(1.26, 50.8, 16.51, 0.127)
    assert disc == approx(542, abs=40)
    assert disc == approx(570.7, abs=3)  # Maxwell stress with magpylib 6.3.0
    assert magnets.pull_on_plate_n(1.26, 50.8, 19.05, 0.127, 12.7) == approx(608, abs=45)


@pytest.mark.parametrize(("away", "tesla"), [(0, 0.15765), (5, 0.113703), (10, 0.06586)])
def test_field_on_the_axis(away: float, tesla: float):
    # magpylib 6.3.0, disc 25.4 x 3.175 mm, Br 1.30 T.
    assert magnets.axis_field_t(1.30, 25.4, 3.175, away) == approx(tesla, abs=0.00001)


def test_two_magnets_pull_like_steel_at_half_the_gap():
    assert magnets.pull_between_magnets_n(1.3, 20, 3, 2) == magnets.pull_on_plate_n(1.3, 20, 3, 1)


def test_sliding_is_a_small_share():
    # Practice: 0.15 to 0.25 of the straight pull.
    assert magnets.sideways_hold_n(40) == approx(6)


def test_thin_steel_is_soon_full():
    assert magnets.steel_to_carry_mm(1.3, 25.4, 5, 0.1) > magnets.steel_to_carry_mm(1.3, 25.4, 3, 0.1) > 0.5
    assert magnets.steel_to_carry_mm(1.3, 25.4, 5, 3) < magnets.steel_to_carry_mm(1.3, 25.4, 5, 0.1)


def test_flux_index():
    # 16 CFR 1262.3 (read): the limit is 50 kG2 mm2. A 5 mm pole at 0.4 T: 16 * 19.63 = 314.
    assert magnets.flux_index_kg2mm2(0.4, 5) == approx(16 * pi * 25 / 4)


@pytest.mark.parametrize(("pounds", "behind", "high", "push"), [(120, 9, 40, 27.0), (260, 14, 34, 107.06)])
def test_a_push_that_tips(pounds: float, behind: float, high: float, push: float):
    assert tipping.tip_force_n(pounds, behind, high) == approx(push, abs=0.02)


def test_three_drawers_out():
    # Case 70 lb, 9.5 in behind the front edge; three drawers of 18 lb, 6 in in front: 341 lb in to spare.
    things = [(70, 9.5), (18, -6), (18, -6), (18, -6)]
    assert tipping.standing_moment_nmm(things) == approx(341.0, abs=0.2)
    assert tipping.tip_margin(things) == approx(665 / 324)
    assert tipping.tip_margin([(70, 9.5)]) == float("inf")


def test_the_angle_that_tips():
    assert tipping.tip_angle_deg(10, 25) == approx(21.8, abs=0.02)
    assert tipping.behind_on_slope_mm(10, 25, tipping.tip_angle_deg(10, 25)) == approx(0, abs=1e-9)


def test_castors_over_three():
    # Bench 310 lb and 200 lb of work on it: 170 lbf each.
    assert tipping.castor_load_n(510) == approx(170, abs=0.5)
    assert tipping.castor_edge_mm(40, 32) == 72


def test_a_drawer_of_the_tip_over_test():
    # ASTM F2057-23 as explained by the regulator: 30 x 16 in, 7.125 in clear: 1.944 ft3; filled at 8.5 lb/ft3.
    volume = tipping.drawer_volume_mm3(30 * MM_PER_IN, 16 * MM_PER_IN, 7.125 * MM_PER_IN)
    assert volume / MM_PER_FT**3 == approx(1.944, abs=0.005)
    assert tipping.drawer_fill_kg(MM_PER_FT**3) == approx(8.5 * 0.45359237, rel=1e-4)


def test_a_back_keeps_a_case_square():
    assert racking.panel_sway_mm(500, 900, 600, 6, 700) == approx(500 * 900 / (700 * 600 * 6))
    assert racking.back_edge_load_n_mm(500, 600) == approx(0.8333, abs=0.0001)
    assert racking.brace_force_n(300, 400, 300) == approx(500)
    assert racking.corner_moment_nmm(400, 800, 4) == approx(80_000)


def test_bare_legs_sway_far_more_than_a_backed_case():
    inertia = 45 * 45**3 / 12
    assert racking.leg_sway_mm(500, 800, 4, 10_000, inertia) > 5 * racking.panel_sway_mm(500, 800, 600, 6, 700)


def test_the_file_cabinet_rack_test():
    # Federal specification AA-F-358 (read): 250 lbf.
    assert approx(250) == racking.RACK_TEST_N / N_PER_LBF


def test_a_sheet_off_a_low_rack():
    # NIOSH 94-110 (read): H 40, V 40, D 50 cm, poor grip 0.90, rare: 10.54 kg.
    assert lifting.weight_limit_kg(400, 400, 500, grip=0.9) == approx(10.54, abs=0.05)


def test_the_best_lift_is_the_load_constant():
    assert lifting.weight_limit_kg(250, 750, 250) == approx(23)
    assert lifting.weight_limit_kg(700, 750, 250) == 0
    assert lifting.lifting_index(10, 0) == float("inf")


def test_a_whole_sheet_of_mdf_is_too_much_for_one():
    # 42.5 kg over 23 kg: 1.85 times.
    assert lifting.lifting_index(42.5, lifting.weight_limit_kg(250, 750, 250)) == approx(1.85, abs=0.02)


# Bodyspace, 3rd ed. (read): 50 to 100 mm above the elbow, 50 to 100 below. Insurance fund (read): 4 to 6 in below.
@pytest.mark.parametrize(("kind", "heights_mm"), [("precise", (1100, 1150)), ("light", (950, 1000))])
def test_bench_heights(kind: str, heights_mm: tuple[float, float]):
    assert heights.surface_height_mm(1050, kind) == heights_mm
    assert heights.surface_height_mm(1050, kind, 50) == (heights_mm[0] - 50, heights_mm[1] - 50)


# Wood Handbook, eq. 4-9 (memory), G at 12 %.
@pytest.mark.parametrize(("gravity", "pounds"), [(0.63, 44.0), (0.5, 34.9)])
def test_weight_of_oak_and_cherry(gravity: float, pounds: float):
    assert weight.wood_density_kg_m3(gravity) / KG_M3_PER_LB_FT3 == approx(pounds, abs=0.2)


@pytest.mark.parametrize(
    ("long", "wide", "thick", "density", "kg"), [(2463.8, 1244.6, 19.05, 750, 43.8), (1525, 1525, 18, 680, 28.5)]
)
def test_weight_of_sheets(long: float, wide: float, thick: float, density: float, kg: float):
    assert weight.block_mass_kg(long, wide, thick, density) == approx(kg, abs=0.2)
    assert weight.weight_n(1) == 9.80665
