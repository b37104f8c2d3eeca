"""Tolerances, panels, ISO tables and shop geometry, against the standards that print them."""

from math import atan, degrees, sqrt

import pytest

from storystick.physics import geometry, iso, panels, tolerance
from storystick.physics.units import MM_PER_IN

approx = pytest.approx


def test_ten_parts_of_a_tenth():
    # Tolerance analysis page (read): worst case 1.0, root sum of squares 0.316.
    assert tolerance.worst_case_mm([0.1] * 10) == approx(1.0, abs=0.001)
    assert tolerance.root_sum_square_mm([0.1] * 10) == approx(0.316, abs=0.001)


def test_five_fronts_and_one_spacer():
    # Five fronts +-0.2, four gaps by one spacer +-0.05: worst 1.2; likely 0.4899 with the spacer shared.
    assert tolerance.worst_case_mm([0.2] * 5 + [0.05], [1.0] * 5 + [4.0]) == approx(1.2, abs=0.001)
    assert tolerance.root_sum_square_mm([0.2] * 5 + [0.05], [1.0] * 5 + [4.0]) == approx(0.4899, abs=0.001)


def test_one_calliper_on_two_panels():
    # u 0.05 shared: 0.1 for the sum; 0.0707 if it were not. By the library uncertainties.
    assert tolerance.combined_sd([1, 1], [0.05, 0.05], [[1, 1], [1, 1]]) == approx(0.1, abs=0.0002)
    assert tolerance.combined_sd([1, 1], [0.05, 0.05], [[1, 0], [0, 1]]) == approx(0.0707, abs=0.0002)


def test_an_opening_between_two_panels():
    assert tolerance.root_sum_square_mm([0.5, 0.1, 0.1], [1, -1, -1]) == approx(0.5196, abs=0.0002)


def test_the_end_gauge_of_the_guide():
    # JCGM 100:2008 (GUM), H.1 (read): 32 nm; 31.71 by the library GTC 1.5.1.
    # l = l_s + d - l_s (d_alpha theta + alpha_s d_theta), in nm and degrees.
    l_s, theta, alpha_s = 50_000_623.0, -0.1, 11.5e-6
    sensitivities = [1.0, 1.0, -l_s * theta, -l_s * alpha_s]
    inputs = [25.0, 9.7, 5.8e-7, 0.029]
    independent = [[1.0 if i == j else 0.0 for j in range(4)] for i in range(4)]
    assert tolerance.combined_sd(sensitivities, inputs, independent) == approx(32, abs=0.5)
    assert tolerance.combined_sd(sensitivities, inputs, independent) == approx(31.71, abs=0.02)


def test_the_impedance_of_the_guide():
    # JCGM 100:2008 (GUM), H.2 (read): Z = V / I, u 0.237 ohm, with correlated readings.
    v, i = 4.999, 19.661e-3
    u = tolerance.combined_sd([1 / i, -v / i**2], [0.0032, 9.5e-6], [[1, -0.36], [-0.36, 1]])
    assert v / i == approx(254.26, abs=0.005)
    assert u == approx(0.237, abs=0.001)


def test_shapes_of_ignorance():
    # JCGM 100:2008, 4.3.7 and 4.3.9; JCGM 101:2008, 6.4.6; F.2.2.1.
    assert tolerance.rectangular_sd_mm(1) == approx(1 / sqrt(3))
    assert tolerance.triangular_sd_mm(1) == approx(1 / sqrt(6))
    assert tolerance.u_shaped_sd_mm(1) == approx(1 / sqrt(2))
    assert tolerance.resolution_sd_mm(1) == approx(0.289, abs=0.0005)


@pytest.mark.parametrize(("long_mm", "tape_class", "limit"), [(3000, 2, 0.9), (2001, 2, 0.9), (3000, 1, 0.4)])
def test_tapes_by_class(long_mm: float, tape_class: int, limit: float):
    # EU measuring instruments directive (memory).
    assert tolerance.tape_limit_mm(long_mm, tape_class) == approx(limit, abs=0.001)


def test_a_panel_that_does_not_go_in():
    # Dado 18.2, s 0.05; panel anywhere from 17.6 to 18.4: one in four, 0.2496 by Monte Carlo of 2 000 000 draws.
    assert tolerance.chance_panel_over_dado(17.6, 18.4, 18.2, 0.05) == approx(0.25, abs=0.005)
    assert tolerance.chance_panel_over_dado(17.6, 18.4, 18.2, 0) == approx(0.25)
    assert tolerance.chance_panel_over_dado(18, 18, 18, 0.05) == approx(0.5)


def test_the_normal_distribution():
    assert tolerance.chance_below(-1.96, 0, 1) == approx(0.025, abs=0.0001)
    assert tolerance.chance_below(0.1, 0, 0) == 1
    # JCGM 101:2008, 9.2.2 (memory): four standard normals, 95 % within 3.92.
    wide = tolerance.root_sum_square_mm([1] * 4)
    assert 1 - 2 * tolerance.chance_below(-3.92, 0, wide) == approx(0.95, abs=0.0005)


def test_a_set_up_that_just_does():
    # NIST/SEMATECH e-Handbook, 6.1.6, worked example (memory): limits 8 and 20, mean 16, s 2: Cp 1.0, Cpk 0.6667.
    assert tolerance.capability(16, 2, 8, 20) == (approx(1.0), approx(0.6667, abs=0.0001))


# PS 1, performance categories (read): name, least, greatest; printed to 0.001 in.
@pytest.mark.parametrize("category", list(panels.PS1_CATEGORIES))
def test_categories_of_american_plywood_are_a_formula(category: str):
    words = category.split("-")
    nominal = sum(float(w.split("/")[0]) / float(w.split("/")[1]) if "/" in w else float(w) for w in words)
    least, most = panels.ps1_unsanded_mm(nominal)
    row = panels.PS1_CATEGORIES[category]
    assert least / MM_PER_IN == approx(row.least_in, abs=0.0006)
    assert most / MM_PER_IN == approx(row.most_in, abs=0.0006)
    assert row.least_in < row.label_in < row.most_in


@pytest.mark.parametrize(("nominal", "least", "most"), [(18, 17.06, 18.74), (9, 8.33, 9.47)])
def test_european_plywood(nominal: float, least: float, most: float):
    # EN 315 (read).
    assert panels.en315_sanded_mm(nominal) == (approx(least, abs=0.005), approx(most, abs=0.005))
    assert panels.en315_unsanded_mm(nominal)[1] == approx(most + 0.6, abs=0.005)


def test_other_boards():
    assert panels.ps1_sanded_mm(0.75) == (approx(47 / 64 * 25.4), approx(49 / 64 * 25.4))  # PS 1-19, read
    assert panels.ps1_sanded_mm(1.0) == (approx(0.97 * 25.4), approx(1.03 * 25.4))  # PS 1-19, read
    assert panels.hp1_sanded_mm(19.05)[0] == approx(19.05 - 1.194, abs=0.001)  # HP-1, memory
    assert panels.mdf_mm(18) == (approx(17.8), approx(18.2))  # EN 622-1, memory
    assert panels.mdf_mm(25) == (approx(24.7), approx(25.3))
    assert panels.particleboard_mm(18) == (approx(17.7), approx(18.3))  # EN 312, read


def test_a_sheet_out_of_square():
    # PS 1-19 (read): 1/64 in for each foot, about 1.3 mm for each metre.
    assert panels.ps1_out_of_square_mm(96 * MM_PER_IN) == approx(0.125 * MM_PER_IN)
    assert panels.ps1_out_of_square_mm(1000) == approx(1.3, abs=0.005)


# ISO 2768-1, Table 1 (read).
@pytest.mark.parametrize(
    ("letter", "size", "limit"),
    [("f", 2, 0.05), ("f", 20, 0.1), ("f", 100, 0.15), ("f", 700, 0.3), ("f", 1500, 0.5), ("m", 5, 0.1), ("m", 20, 0.2),
     ("m", 300, 0.5), ("m", 700, 0.8), ("m", 3000, 2.0), ("c", 2, 0.2), ("c", 20, 0.5), ("c", 100, 0.8),
     ("c", 700, 2.0), ("c", 1500, 3.0), ("v", 5, 0.5), ("v", 20, 1.0), ("v", 300, 2.5), ("v", 700, 4.0),
     ("v", 3000, 8.0)],
)  # fmt: skip
def test_general_tolerances(letter: str, size: float, limit: float):
    assert iso.general_tolerance_mm(size, letter) == limit


def test_general_tolerances_end_somewhere():
    assert iso.general_tolerance_mm(0.4) is None
    assert iso.general_tolerance_mm(5000) is None
    assert iso.general_tolerance_mm(3, "v") is None
    assert iso.general_tolerance_mm(30, "m") == 0.2
    assert iso.general_tolerance_mm(30.1, "m") == 0.3


# ISO 286-1, Table 1 (memory).
@pytest.mark.parametrize(
    ("grade", "size", "microns"),
    [(9, 25, 52), (11, 25, 130), (12, 25, 210), (11, 15, 110), (12, 15, 180), (12, 300, 520)],
)
def test_tolerance_grades(grade: int, size: float, microns: float):
    assert iso.grade_width_mm(size, grade) == approx(microns / 1000)


def test_tolerance_grades_are_steps_of_sixty_percent():
    # ISO 286-1: from IT6 up each fifth grade is ten times as wide.
    for low in (6, 7, 8, 9):
        for narrow, wide in zip(iso.ISO_286_UM[low], iso.ISO_286_UM[low + 5], strict=True):
            assert wide / narrow == approx(10, rel=0.07)
    assert iso.grade_width_mm(600, 9) is None


def test_a_frame_a_sixteenth_out():
    # 24 x 36 in, 1/16 in over the 24 in side: the diagonals differ by 0.104 in.
    out = degrees(atan((1 / 16) / 24))
    assert geometry.diagonals_differ_mm(24, 36, out) == approx(0.104, abs=0.002)
    assert geometry.out_of_square_deg(24, 36, geometry.diagonals_differ_mm(24, 36, out)) == approx(out, rel=1e-4)


def test_five_cuts():
    # A 0.412, B 0.396, strip 15 in long: 0.0064 in over 24 in of fence.
    assert 24 * geometry.five_cut_error(0.412, 0.396, 15) == approx(0.0064, abs=0.0002)


def test_a_bushing():
    assert geometry.bushing_offset_mm(5 / 8, 1 / 4) == 0.1875


@pytest.mark.parametrize(
    ("sheet", "strip", "kerf", "trim", "count"),
    [(48, 11.875, 0.125, 0, 4), (1250, 300, 3.2, 10, 4), (48, 12, 0.125, 0, 3), (100, 100, 3, 0, 1),
     (99, 100, 3, 0, 0)],
)  # fmt: skip
def test_strips_out_of_a_width(sheet: float, strip: float, kerf: float, trim: float, count: int):
    assert geometry.strips_across(sheet, strip, kerf, trim) == count


def test_four_strips_use_up_a_sheet_but_for_an_eighth():
    assert geometry.width_for_strips_mm(4, 11.875, 0.125) == 47.875
    assert geometry.width_for_strips_mm(0, 11.875, 0.125) == 0


def test_a_width_out_of_tolerance_never_loses_a_strip_to_rounding():
    for count in range(1, 40):
        width = geometry.width_for_strips_mm(count, 31.7, 3.2)
        assert geometry.strips_across(width, 31.7, 3.2) == count
