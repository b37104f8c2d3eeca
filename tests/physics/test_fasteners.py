"""Screws, nails, lag screws and glue, against design codes and the Wood Handbook."""

import pytest

from storystick.physics import glue, groove_lip, lags, nails, particleboard, screws
from storystick.physics.units import MM_PER_IN, MPA_PER_PSI, N_PER_LBF

approx = pytest.approx


def pounds(newtons: float) -> float:
    return newtons / N_PER_LBF


# ASME B18.6.1 (memory).
@pytest.mark.parametrize(
    ("gauge", "inches"),
    [(2, 0.086), (4, 0.112), (5, 0.125), (7, 0.151), (8, 0.164), (10, 0.19), (12, 0.216), (16, 0.268), (18, 0.294)],
)
def test_american_gauges(gauge: int, inches: float):
    assert screws.gauge_diameter_mm(gauge) / MM_PER_IN == approx(inches, abs=0.0005)


def test_british_screws_run_thicker_above_number_8():
    # A furniture-making text (read): 0.066 in for No. 1 and 0.014 more for each.
    assert screws.british_gauge_diameter_mm(1) / MM_PER_IN == approx(0.066)
    assert screws.british_gauge_diameter_mm(8) == approx(screws.gauge_diameter_mm(8), abs=0.001)
    assert screws.british_gauge_diameter_mm(14) > screws.gauge_diameter_mm(14)


def test_the_clearance_rule():
    assert screws.clearance_bit_mm(8) == approx(11 / 64 * MM_PER_IN)
    for gauge in range(4, 15):
        assert screws.clearance_bit_mm(gauge) > screws.gauge_diameter_mm(gauge) - 0.15


# National Design Specification for Wood Construction, eq. 12.2-2 (read); Table 12.2B in whole lbf/in.
@pytest.mark.parametrize(
    ("gravity", "gauge", "per_inch"),
    [(0.35, 6, 48.2), (0.42, 8, 82.4), (0.5, 8, 116.8), (0.55, 8, 141.4), (0.63, 8, 185.5), (0.67, 10, 243.1)],
)
def test_allowable_pull_of_screws(gravity: float, gauge: int, per_inch: float):
    held = screws.allowable_withdrawal_n(gravity, screws.gauge_diameter_mm(gauge), MM_PER_IN)
    assert pounds(held) == approx(per_inch, abs=0.6)


def test_the_worked_example_of_the_code():
    # NDS example, read: G 0.45, No. 10: 109 lbf for each inch (109.65 before it is cut off).
    assert pounds(screws.allowable_withdrawal_n(0.45, 0.19 * MM_PER_IN, MM_PER_IN)) == approx(109, abs=1)


# Wood Handbook, FPL-GTR-190 (2010), eq. 8-10 (memory).
@pytest.mark.parametrize(
    ("gravity", "diameter_in", "thread_in", "lbf"), [(0.63, 0.164, 1.0, 1022), (0.35, 0.19, 1.5, 548)]
)
def test_screws_let_go_where_the_handbook_says(gravity: float, diameter_in: float, thread_in: float, lbf: float):
    failure = screws.failure_withdrawal_n(gravity, diameter_in * MM_PER_IN, thread_in * MM_PER_IN)
    assert pounds(failure) == approx(lbf, abs=3)


def test_the_metric_form_of_the_handbook():
    # Eq. 8-10 is printed with 108.25 for newtons and millimetres, eq. 8-1 with 54.12.
    assert screws.failure_withdrawal_n(1, 1, 1) == approx(108.25, abs=0.01)
    assert nails.failure_withdrawal_n(1, 1, 1) == approx(54.12, abs=0.01)


def test_failure_is_never_shown_as_allowable():
    ratio = screws.failure_withdrawal_n(0.5, 4, 25) / screws.allowable_withdrawal_n(0.5, 4, 25)
    assert ratio == approx(5.51, abs=0.01)


def test_lead_holes_of_the_code():
    # NDS, wood screws (read).
    assert screws.withdrawal_pilot_mm(0.63, 3.0) == approx(2.7)
    assert screws.withdrawal_pilot_mm(0.55, 3.0) == approx(2.1)
    assert screws.withdrawal_pilot_mm(0.5, 3.0) == 0
    assert screws.lateral_holes_mm(0.63, 4.2, 3.0) == (4.2, 3.0)
    assert screws.lateral_holes_mm(0.45, 4.2, 3.0) == (approx(3.675), approx(2.625))


def test_distances_in_diameters():
    # NDS commentary, wood screws (memory).
    bored = screws.least_distances_mm(4.0)
    assert (bored.edge_mm, bored.end_pulled_mm, bored.end_pushed_mm) == (10, 40, 20)
    assert (bored.along_mm, bored.across_mm, bored.rows_mm, bored.rows_staggered_mm) == (40, 20, 20, 10)
    assert screws.least_distances_mm(4.0, bored=False).end_pulled_mm == 60


def test_two_thirds_of_a_screw_in_the_second_piece():
    assert screws.wanted_length_mm(19) == approx(57)
    assert screws.wanted_length_mm(19, 0.5) == approx(38)
    assert screws.thread_mm(60) == approx(40)
    assert screws.thread_in_receiver_mm(60, 19, screws.thread_mm(60)) == approx(40)
    assert screws.thread_in_receiver_mm(30, 19, 20) == approx(11)
    assert screws.thread_in_receiver_mm(15, 19, 10) == 0


# Older allowable lateral load p = C D^2 (building-design handbook, eq. 6.38, read).
@pytest.mark.parametrize(("group", "c"), [("I", 4800), ("II", 3960), ("IV", 2520)])
def test_the_older_lateral_rule(group: str, c: float):
    assert screws.old_allowable_lateral_n(group, 1) == approx(c * MPA_PER_PSI)


def test_a_number_10_in_group_two():
    assert pounds(screws.old_allowable_lateral_n("II", 0.19 * MM_PER_IN)) == approx(143, abs=1)


# Wood Handbook, Table 8-4 (memory).
@pytest.mark.parametrize(
    ("gravity", "hardwood", "k"),
    [(0.33, True, 3360), (0.47, True, 3360), (0.55, True, 4640), (0.35, False, 3380), (0.50, False, 5280)],
)
def test_lateral_constants(gravity: float, hardwood: bool, k: float):
    assert screws.proportional_lateral_n(gravity, 1, hardwood) == approx(k * MPA_PER_PSI)


def test_a_shallow_screw_counts_for_nothing():
    # NDS (memory): 10 diameters in full, 6 at least.
    assert screws.penetration_share(59, 10) == 0
    assert screws.penetration_share(80, 10) == approx(0.8)
    assert screws.penetration_share(130, 10) == 1


def test_particleboard_holds_less_at_the_edge():
    # Wood Handbook, ch. 8 (memory): No. 8, 5/8 in deep in the face, G 0.72: 276 lbf.
    face = particleboard.face_failure_withdrawal_n(0.72, 0.164 * MM_PER_IN, 0.625 * MM_PER_IN)
    edge = particleboard.edge_failure_withdrawal_n(0.72, 0.164 * MM_PER_IN, 0.625 * MM_PER_IN)
    assert pounds(face) == approx(276, abs=3)
    assert edge / face == approx(2055 / 2655)
    # The metric constants are printed as 41.1 and 31.8.
    assert particleboard.face_failure_withdrawal_n(1, 4, 12) == approx(41.1 * 2 * (12 - 4 / 3) ** 1.25, rel=0.002)


# NDS, Table 12.2A (read): lbf for each inch of thread, in whole pounds.
@pytest.mark.parametrize(
    ("gravity", "diameter_in", "per_inch"),
    [(0.73, 0.25, 397), (0.73, 0.375, 538), (0.73, 0.5, 668), (0.55, 0.3125, 307), (0.55, 0.375, 352),
     (0.5, 0.25, 225), (0.5, 0.3125, 266), (0.5, 0.5, 378), (0.42, 0.25, 173), (0.42, 0.375, 235), (0.42, 0.5, 291),
     (0.35, 0.3125, 156), (0.35, 0.375, 179), (0.31, 0.25, 110), (0.31, 0.3125, 130), (0.31, 0.5, 185)],
)  # fmt: skip
def test_lag_screws_of_the_code(gravity: float, diameter_in: float, per_inch: float):
    assert pounds(lags.allowable_withdrawal_n(gravity, diameter_in * MM_PER_IN, MM_PER_IN)) == approx(
        per_inch, abs=0.6
    )


def test_lag_screws_fail_at_four_and_a_half_times():
    # Wood Handbook eq. 8-14 (memory) over NDS eq. 12.2-1: 8100 / 1800.
    assert lags.failure_withdrawal_n(0.5, 8, 50) / lags.allowable_withdrawal_n(0.5, 8, 50) == approx(4.5)
    assert lags.proportional_lateral_n(3000, MM_PER_IN) == approx(3000 * N_PER_LBF)


# Wood Handbook, eq. 8-1 (read).
@pytest.mark.parametrize(
    ("gravity", "diameter_in", "deep_in", "lbf"), [(0.35, 0.0475, 1.0, 27.0), (0.5, 0.131, 1.5, 272.7)]
)
def test_nails_let_go_where_the_handbook_says(gravity: float, diameter_in: float, deep_in: float, lbf: float):
    failure = nails.failure_withdrawal_n(gravity, diameter_in * MM_PER_IN, deep_in * MM_PER_IN)
    assert pounds(failure) == approx(lbf, abs=0.5)
    assert nails.allowable_withdrawal_n(gravity, diameter_in * MM_PER_IN, deep_in * MM_PER_IN) < failure / 5


def test_a_penny_for_each_eighth():
    # A carpenter's handbook (read): a 6d nail for a board of 3/4 in.
    assert nails.largest_penny(0.75 * MM_PER_IN) == approx(6)


def test_glue_goes_as_far_as_geometry_lets_it():
    # 1604 / 6 thousandths = 267 ft2 for each US gallon.
    square_feet = glue.cover_m2_per_litre(6 * 0.0254) * 3.785411784 / 0.09290304
    assert square_feet == approx(267, abs=1)


def test_an_edge_joint_wants_two_tons():
    # 3/4 x 36 in at 150 lbf/in2: 4050 lbf.
    force = glue.clamp_force_n(36 * MM_PER_IN, 0.75 * MM_PER_IN, 150 * MPA_PER_PSI)
    assert pounds(force) == approx(4050, abs=1)


def test_a_caul_spreads_a_clamp():
    assert glue.clamps_for_spread(900, 75) == 6
    assert glue.clamps_for_spread(900, 150) == 3
    assert glue.clamps_for_spread(10, 150) == 1


def test_a_long_grain_joint_is_as_strong_as_the_wood():
    # Shear strength of yellow birch, Wood Handbook Table 5-3b (read): 1880 lbf/in2.
    assert pounds(glue.long_grain_joint_n(25.4, 25.4, 1880 * MPA_PER_PSI)) == approx(1880)


def test_a_lip_at_its_own_limit():
    force = groove_lip.lip_force_n(40, 6, 6, 400, factor=1)
    assert groove_lip.lip_bending_stress_mpa(force, 6, 6, 400) == approx(40)
    assert groove_lip.lip_force_n(40, 6, 6, 400) == approx(force / 4)
    assert groove_lip.lip_shear_stress_mpa(1000, 5, 300) == approx(1)
