"""Grades of boards, nails sideways, wood groups, threads and a plate on two ends, against what is printed elsewhere."""

import pytest

from storystick.physics import beam, board_grades, magnets, movement, nails, plate, screws, section
from storystick.physics.units import MM_PER_IN, MPA_PER_PSF, MPA_PER_PSI, N_PER_LBF

approx = pytest.approx


@pytest.mark.parametrize(("grade", "mor", "moe", "bond"), [("M-1", 11.0, 1725, 0.40), ("M-2", 14.5, 2250, 0.45)])
def test_american_particleboard_in_the_metric_print_of_the_same_table(grade: str, mor: float, moe: float, bond: float):
    # ANSI A208.1-1999 prints both: 11.0 and 1595, 14.5 and 2103 (memory).
    row = board_grades.PARTICLEBOARD_GRADES[grade]
    assert (row.strength_mpa, row.e_mpa, row.bond_mpa) == approx((mor, moe, bond), rel=5e-3)


def test_grade_m3_is_over_grade_m2_by_what_the_maker_says():
    # 13.7 % bending, 22 % modulus, 23 % bond, 9.8 % and 11.4 % screws (read).
    two, three = (board_grades.PARTICLEBOARD_GRADES[name] for name in ("M-2", "M-3"))
    more = [100 * (b / a - 1) for a, b in zip(two, three, strict=True) if a and b]
    assert more == approx([13.7, 22, 23, 9.8, 11.4], abs=0.4)


def test_a_thicker_board_is_asked_for_less():
    # EN 312, P2 (read): 11 up to 20 mm, 9.5 at 28 to 32, 8.5 at 36 to 38.
    of = [board_grades.band_of(board_grades.PARTICLEBOARD_P2, t) for t in (19, 28, 32, 38)]
    assert [one.strength_mpa for one in of if one] == [11, 9.5, 9.5, 8.5]
    assert board_grades.band_of(board_grades.FIBREBOARD, 5) is None
    for bands in (board_grades.PARTICLEBOARD_P2, board_grades.FIBREBOARD):
        assert [one.to_mm for one in bands[:-1]] == [one.over_mm for one in bands[1:]]
        assert sorted(bands, key=lambda one: -one.e_mpa) == list(bands)


def test_nails_across_by_the_density_of_the_wood():
    # Wood Handbook, Table 8-4 (memory): K D^1.5, an eightpenny common nail 0.131 in: 0.04741 x 2200, 1440, 2720.
    d = 0.131 * MM_PER_IN
    for g, hard, pounds in ((0.50, False, 104.3), (0.36, False, 68.3), (0.65, True, 129.0)):
        assert nails.proportional_lateral_n(g, d, hard) / N_PER_LBF == approx(pounds, abs=0.1)
    assert nails.allowable_lateral_n(d) * 1.6 == approx(nails.proportional_lateral_n(0.40, d, True))
    assert nails.proportional_lateral_n(0.2, d, True) < nails.proportional_lateral_n(0.33, d, True)


@pytest.mark.parametrize(("gravity", "group"), [(0.68, "I"), (0.55, "II"), (0.51, "II"), (0.45, "III"), (0.35, "IV")])
def test_woods_by_the_groups_of_the_older_code(gravity: float, group: str):
    assert screws.wood_group(gravity) == group


def test_groups_and_their_loads_rise_together():
    loads = [screws.LATERAL_OLD_PSI[group] for group, _ in screws.WOOD_GROUPS]
    assert loads == sorted(loads, reverse=True)


@pytest.mark.parametrize(("gauge", "threads"), [(2, 26), (5, 20), (6, 18), (8, 15), (10, 13)])
def test_threads_of_wood_screws(gauge: int, threads: int):
    assert screws.pitch_mm(gauge) * threads == approx(MM_PER_IN)  # wood screw table (2, 5, 6 read)


def test_a_panel_on_its_two_ends():
    # 36 x 12 x 3/4 in, E 350 000, 40 lbf/ft2: 0.499 in by finite elements.
    inch, psi = MM_PER_IN, MPA_PER_PSI
    found = plate.two_ends_sag_mm(40 * MPA_PER_PSF, 36 * inch, 12 * inch, 0.75 * inch, 350_000 * psi)
    assert found / inch == approx(0.499, abs=0.002)


def test_a_narrow_panel_on_its_two_ends_is_a_beam():
    inertia = section.rectangle_inertia_mm4(5, 18)
    strip = beam.uniform_sag_mm(0.002 * 5 * 900, 900, 7000, inertia)
    assert plate.two_ends_sag_mm(0.002, 900, 5, 18, 7000) == approx(strip, rel=1e-4)
    assert plate.two_ends_sag_mm(0.002, 900, 400, 18, 7000) == approx(strip, rel=0.06)


def test_wood_hardly_moves_along_its_grain():
    # Wood Handbook: 0.1 to 0.2 % from green to ovendry; six points of thirty of that: 0.04 % of a metre.
    assert movement.length_change_mm(1000, 6, 12) == approx(0.4, abs=0.01)


def test_what_is_counted_on_sideways_is_the_low_end():
    assert magnets.sideways_hold_n(100.0) == 100 * magnets.SIDEWAYS_SHARE[0]
