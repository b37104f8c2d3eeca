"""Sag, stress, sections and plates, against span tables, textbook values and a frame library."""

from math import sqrt

import pytest

from storystick.physics.beam import (
    cantilever_end_sag_mm,
    cantilever_uniform_sag_mm,
    centre_sag_mm,
    clamped_centre_sag_mm,
    clamped_uniform_sag_mm,
    longest_span_mm,
    modulus_from_test_mpa,
    point_sag_mm,
    shear_sag_mm,
    uniform_sag_mm,
)
from storystick.physics.bending import (
    bending_stress_mpa,
    cantilever_end_moment_nmm,
    cantilever_uniform_moment_nmm,
    clamped_uniform_moment_nmm,
    joined_stress_mpa,
    overhung_moments_nmm,
    point_moment_nmm,
    rectangle_shear_stress_mpa,
    two_span_moment_nmm,
    uniform_moment_nmm,
    uniform_stress_mpa,
)
from storystick.physics.continuous import (
    best_inset_mm,
    overhang_end_point_sag_mm,
    overhung_middle_sag_mm,
    two_span_one_loaded_sag_mm,
    two_span_sag_mm,
)
from storystick.physics.creep import CREEP_RULES, creep_added, sag_in_the_long_run_mm
from storystick.physics.plate import (
    four_sides_coefficient,
    four_sides_sag_mm,
    plate_stiffness_nmm,
    three_sides_coefficient,
    three_sides_sag_mm,
)
from storystick.physics.sag_limits import SAG_LIMITS, allowed_sag_mm
from storystick.physics.section import (
    joined_inertia_mm4,
    joined_stiffness_nmm2,
    lipped_shelf,
    loose_stiffness_nmm2,
    neutral_line_mm,
    rectangle_inertia_mm4,
    rectangle_modulus_mm3,
    torsion_box,
)
from storystick.physics.units import MM_PER_IN, MPA_PER_PSF, MPA_PER_PSI

approx = pytest.approx

# Architectural Woodwork Standards, 1st ed. (2009), 4.4.14.10: longest shelf at L/144, printed in whole inches. Read.
SPANS = [
    (950_000, 0.75, 40, 40), (950_000, 1.0, 40, 53), (950_000, 1.0, 50, 49), (1_800_000, 0.75, 50, 46),
    (1_800_000, 1.0, 40, 66), (1_820_000, 0.75, 40, 49), (1_820_000, 0.75, 50, 46), (1_820_000, 1.0, 50, 61),
]  # fmt: skip


@pytest.mark.parametrize(("e_psi", "thick_in", "psf", "printed_in"), SPANS)
def test_the_span_table_of_the_quality_standard(e_psi: float, thick_in: float, psf: float, printed_in: float):
    wide = 300.0
    inertia = rectangle_inertia_mm4(wide, thick_in * MM_PER_IN)
    span = longest_span_mm(psf * MPA_PER_PSF * wide, e_psi * MPA_PER_PSI, inertia, 144)
    assert span / MM_PER_IN == approx(printed_in, abs=0.75)


# MDF association, shelves guidance: d = 9.81 * 5 W L^3 / (32 E b t^3), E 2500 N/mm2. Read.
@pytest.mark.parametrize(
    ("kg", "span", "thick", "sag"), [(30, 600, 18, 2.271), (30, 1000, 18, 10.513), (40, 900, 25, 3.814)]
)
def test_mdf_shelves_of_the_makers_guide(kg: float, span: float, thick: float, sag: float):
    assert uniform_sag_mm(9.81 * kg, span, 2500, rectangle_inertia_mm4(300, thick)) == approx(sag, abs=0.01)


@pytest.mark.parametrize(
    ("e_psi", "thick_in", "long_in", "psf", "sag_in"),
    [(350_000, 0.75, 36, 40, 0.4937), (1_200_000, 0.703, 34, 30, 0.1043)],
)
def test_shelves_in_inches(e_psi: float, thick_in: float, long_in: float, psf: float, sag_in: float):
    inertia = rectangle_inertia_mm4(MM_PER_IN, thick_in * MM_PER_IN)
    load = psf * MPA_PER_PSF * MM_PER_IN * long_in * MM_PER_IN
    sag = uniform_sag_mm(load, long_in * MM_PER_IN, e_psi * MPA_PER_PSI, inertia)
    assert sag / MM_PER_IN == approx(sag_in, abs=0.001)


# Wood Handbook, FPL-GTR-190 (2010), Table 9-1 (memory): kb of d = kb W L^3 / (E I).
@pytest.mark.parametrize(
    ("sag", "kb"),
    [(uniform_sag_mm, 5 / 384), (centre_sag_mm, 1 / 48), (clamped_uniform_sag_mm, 1 / 384),
     (clamped_centre_sag_mm, 1 / 192), (cantilever_uniform_sag_mm, 1 / 8), (cantilever_end_sag_mm, 1 / 3)],
)  # fmt: skip
def test_the_bending_constants_of_the_handbook(sag, kb: float):
    assert sag(1, 1, 1, 1) == approx(kb, rel=1e-12)


def test_a_load_at_the_middle_is_a_load_anywhere():
    assert point_sag_mm(7, 50, 50, 100, 3, 11) == approx(centre_sag_mm(7, 100, 3, 11))


def test_a_clamped_shelf_sags_a_fifth():
    assert uniform_sag_mm(1, 1, 1, 1) / clamped_uniform_sag_mm(1, 1, 1, 1) == approx(5, abs=0.001)


def test_a_span_a_quarter_longer_sags_two_and_a_half_times_as_much():
    # Same load on each area: (5/4)^4 = 2.441.
    assert uniform_sag_mm(1.25, 1.25, 1, 1) / uniform_sag_mm(1, 1, 1, 1) == approx(2.441, abs=0.001)


def test_the_board_by_the_frame_library():
    # PyNiteFEA 3.2.0: 800 x 300 x 18, E 2500, 30 kg: 5.382 mm; 600 mm clamped: 0.4541 mm; two spans: divisor 184.64.
    inertia = rectangle_inertia_mm4(300, 18)
    assert uniform_sag_mm(30 * 9.81, 800, 2500, inertia) == approx(5.382, abs=0.005)
    assert clamped_uniform_sag_mm(30 * 9.81, 600, 2500, inertia) == approx(0.4541, abs=0.001)
    assert 1 / two_span_sag_mm(1, 1, 1, 1) == approx(184.64, abs=0.1)


def test_two_spans_are_worst_with_one_empty():
    both, one = two_span_sag_mm(1, 1000, 1, 1), two_span_one_loaded_sag_mm(1, 1000, 1, 1)
    assert 1.6 < one / both < 1.8
    assert one < uniform_sag_mm(1000, 1000, 1, 1)


def test_the_best_inset_bends_least():
    # Textbook: supports set in 0.2071 of the length.
    assert best_inset_mm(1) == approx(0.2071, abs=0.0005)
    inset = best_inset_mm(1000)
    over, middle = overhung_moments_nmm(1, 1000 - 2 * inset, inset)
    assert over == approx(middle)


def test_an_overhang_lifts_the_middle():
    assert overhung_middle_sag_mm(1, 1000, 0, 1, 1) == approx(uniform_sag_mm(1000, 1000, 1, 1))
    assert overhung_middle_sag_mm(1, 1000, 1000 * sqrt(5 / 24), 1, 1) == approx(0, abs=1)
    assert overhung_middle_sag_mm(1, 1000, 600, 1, 1) < 0


def test_an_overhang_with_a_stiff_inside_is_a_cantilever():
    assert overhang_end_point_sag_mm(5, 1e-9, 300, 2, 3) == approx(cantilever_end_sag_mm(5, 300, 2, 3))


def test_shear_counts_in_a_short_deep_beam():
    # Even load on a simple span: ks 1/8 (Wood Handbook, Table 9-1, memory), area 5/6 b h.
    assert shear_sag_mm(1000, 600, 1 / 8, 100, 20, 60) == approx(1000 * 600 / 8 / (100 * 1000))


def test_an_offcut_tells_its_own_modulus():
    dip = centre_sag_mm(50, 600, 8300, rectangle_inertia_mm4(100, 17.6))
    assert modulus_from_test_mpa(50, 600, 100, 17.6, dip) == approx(8300)


@pytest.mark.parametrize(
    ("moment", "expected"),
    [(uniform_moment_nmm(8, 10), 10), (point_moment_nmm(4, 5, 10), 10), (point_moment_nmm(4, 2, 10), 6.4),
     (clamped_uniform_moment_nmm(12, 10), 10), (cantilever_uniform_moment_nmm(2, 10), 10),
     (cantilever_end_moment_nmm(1, 10), 10), (two_span_moment_nmm(0.8, 10), 10)],
)  # fmt: skip
def test_bending_moments_of_the_textbook(moment: float, expected: float):
    assert moment == approx(expected)


def test_stress_two_ways():
    stress = uniform_stress_mpa(1200, 900, 300, 18)
    assert stress == approx(bending_stress_mpa(uniform_moment_nmm(1200, 900), rectangle_modulus_mm3(300, 18)))
    inertia = rectangle_inertia_mm4(300, 18)
    assert stress == approx(joined_stress_mpa(uniform_moment_nmm(1200, 900), 2500 * inertia, 2500, 9))
    assert rectangle_shear_stress_mpa(600, 300, 18) == approx(1.5 * 600 / 5400)


def test_a_lip_makes_a_shelf_three_times_as_stiff():
    # 300 x 18 shelf, 18 x 45 lip flush with the top: 410 854.9 mm4 by the section library sectionproperties 3.10.2.
    pieces = lipped_shelf(300, 18, 2500, 18, 45, 2500)
    assert joined_inertia_mm4(pieces, 2500) == approx(410_855, abs=1)
    assert joined_inertia_mm4(pieces, 2500) / rectangle_inertia_mm4(300, 18) == approx(2.818, abs=0.001)
    assert loose_stiffness_nmm2(pieces) < 0.8 * joined_stiffness_nmm2(pieces)


def test_a_torsion_box():
    # 600 wide, two 6 mm skins, four 18 x 60 webs: 9 158 400 mm4 by sectionproperties 3.10.2.
    box = torsion_box(600, 6, 1, 4, 18, 60, 1)
    assert joined_inertia_mm4(box, 1) == approx(9_158_400, abs=1)
    assert neutral_line_mm(box) == approx(36)


# Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, Table 8 (memory): b/a and c, nu 0.3.
@pytest.mark.parametrize(
    ("ratio", "printed"), [(1.0, 0.00406), (1.2, 0.00564), (1.5, 0.00772), (2.0, 0.01013), (3.0, 0.01223)]
)
def test_plates_on_four_sides(ratio: float, printed: float):
    assert four_sides_coefficient(1, ratio) == approx(printed, abs=0.000011)


# The same book, Table 48 (memory): three sides simply supported, one free, sag at its middle; b/a and c.
@pytest.mark.parametrize(
    ("ratio", "printed"), [(0.5, 0.00710), (2 / 3, 0.00968), (1.0, 0.01286), (2.0, 0.01507), (50.0, 0.01522)]
)
def test_plates_with_a_free_front(ratio: float, printed: float):
    assert three_sides_coefficient(1, ratio) == approx(printed, abs=0.000015)


def test_a_long_plate_is_a_strip():
    strip = uniform_sag_mm(0.002 * 400, 400, 2500 / (1 - 0.3**2), rectangle_inertia_mm4(1, 18))
    assert four_sides_sag_mm(0.002, 8000, 400, 18, 2500) == approx(strip, rel=1e-4)


def test_a_back_that_carries_halves_the_sag_of_a_shelf():
    # 36 x 12 x 3/4 in, E 350 000 lbf/in2, 40 lbf/ft2: 0.4937 in as a beam on its two ends.
    e, load = 350_000 * MPA_PER_PSI, 40 * MPA_PER_PSF
    sag = three_sides_sag_mm(load, 914.4, 304.8, 19.05, e) / MM_PER_IN
    assert sag < 0.5 * 0.4937
    assert plate_stiffness_nmm(e, 19.05) == approx(e * 19.05**3 / 12 / 0.91)


@pytest.mark.parametrize(
    ("limit", "span_mm", "allowed_mm"),
    [
        ("L/144", 1440, 10),  # Architectural Woodwork Standards (2009), 1.2.21
        ("kitchen", 609.6, 3.175),  # ANSI/KCMA A161.1: 1/16 in for each foot
        ("kitchen", 1524, 6.35),  # and never over 1/4 in
        ("quarter inch", 2000, 6.35),
        ("L/240", 1200, 5),
        ("L/360", 1800, 5),
        ("L/600", 304.8, 0.508),  # 0.02 in for each foot
    ],
)
def test_limits_of_sag(limit: str, span_mm: float, allowed_mm: float):
    assert allowed_sag_mm(limit, span_mm) == approx(allowed_mm)


def test_the_limits_differ_by_a_factor_of_four():
    allowed = [allowed_sag_mm(limit, 900) for limit in SAG_LIMITS]
    assert max(allowed) / min(allowed) > 4


# Read: Wood Handbook ch. 5; NDS 3.5.2; MDF association. Memory: EN 1995-1-1, Table 3.2.
@pytest.mark.parametrize(
    ("rule", "added"),
    [("handbook, solid wood", 1.0), ("american code, dry lumber", 0.5), ("american code, green lumber", 1.0),
     ("makers, mdf", 0.5), ("european code, mdf", 2.25), ("european code, plywood", 0.8)],
)  # fmt: skip
def test_creep_by_who_says_it(rule: str, added: float):
    assert creep_added(rule) == added
    assert sag_in_the_long_run_mm(2.0, 1.0, creep_added(rule)) == approx(2 * (1 + added))


def test_every_rule_and_limit_names_its_source():
    for row in (*CREEP_RULES.values(), *SAG_LIMITS.values()):
        assert row.source
        assert row.how in ("read", "memory", "practice")
