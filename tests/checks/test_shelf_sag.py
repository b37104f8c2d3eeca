"""Shelves against the published span table and worked cases."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.checks.bearing import by_thickness, loads_on, shelf_of
from storystick.checks.shelf_sag import sag_mm
from storystick.ground.finding import Grade
from storystick.model.build import Build, Load, Opening, Span
from storystick.shop.tables import find, panels
from tests.checks.by_hand import Number, board, lengths, mm, piece, ply, three, told, troubles
from tests.checks.test_shelf import found_in, text_of

PSI = 0.006894757
PSF_KPA = 0.04788026


def shelf(
    clear: Number, wide: Number, thick: Number, kilograms: float | None, lip: tuple[Number, Number] | None = None,
    *, e: float = 7500.0, material: str = "birch plywood", how: str = "evenly", lasting: bool = True,
    density: float = 680.0,
) -> Build:  # fmt: skip
    stock = ply(thick, stiffness=(e, e), material=material, density=density)
    part = board("case.shelf", (0, 0, 0), (clear, wide, thick), stock=stock)
    span = Span("case.shelf", mm(clear), "rests", lip=(mm(lip[1]), mm(lip[0])) if lip else None)
    loads = () if kilograms is None else (Load("case.shelf", kilograms, how, lasting),)  # type: ignore[arg-type]
    return piece(part, spans=(span,), loads=loads)


def first_sag(build: Build) -> float:
    part = build.parts[0]
    return sag_mm(shelf_of(part, build.spans[0], loads_on(build, part)))[0]


# MDF association formula, 300 mm wide, E 2500 N/mm2; values printed in the project's reference sheet for shelves.
@pytest.mark.parametrize(
    ("kilograms", "clear", "thick", "sag"), [(30, 600, 18, 2.271), (30, 1000, 18, 10.513), (40, 900, 25, 3.814)]
)
def test_mdf_shelves_sag_as_the_makers_say(kilograms: float, clear: int, thick: int, sag: float):
    build = shelf(clear, 300, thick, kilograms, e=2500, density=0.0)
    assert first_sag(build) == pytest.approx(sag, rel=5e-4)


# Architectural Woodwork Standards (2009), 4.4.14.10: longest shelf at L/144, in whole inches.
@pytest.mark.parametrize(
    ("e_psi", "thick_in", "psf", "inches"),
    [
        (950e3, "0.75", 40, 40),
        (950e3, "1", 40, 53),
        (1.8e6, "0.75", 50, 46),
        (1.82e6, "0.75", 40, 49),
        (1.8e6, "1", 40, 66),
    ],
)
def test_the_span_table_of_the_woodwork_standard_is_met(e_psi: float, thick_in: str, psf: int, inches: int):
    def over(long: float) -> float:
        clear, wide = Fraction(str(long)) * Fraction("25.4"), Fraction("304.8")
        weight = psf * PSF_KPA * 1e-3 * float(clear * wide) / 9.80665
        build = shelf(clear, wide, Fraction(thick_in) * Fraction("25.4"), weight, e=e_psi * PSI, density=0.0)
        return first_sag(build) / (float(clear) / 144)

    assert over(inches - 0.5) < 1 < over(inches + 1)


def test_a_lip_glued_along_the_front_stiffens_as_the_joined_section_does():
    # 300 x 18 with an 18 x 45 lip flush with the top: 410 855 mm4 against 145 800, 2.818 times.
    bare, lipped = shelf(900, 300, 18, 30, density=0.0), shelf(900, 300, 18, 30, lip=(18, 45), density=0.0)
    assert first_sag(bare) / first_sag(lipped) == pytest.approx(2.818, abs=0.001)


def test_a_short_shelf_is_fine_and_shows_its_margin():
    (found,) = told("shelf-sag", shelf(500, 300, 18, 20))
    assert found.grade == Grade.FINE
    assert found.limit == pytest.approx(500 / 240)
    assert found.margin


def test_a_long_loaded_shelf_sags_too_far_and_years_make_it_worse():
    lasting, passing = shelf(1000, 300, 18, 40), shelf(1000, 300, 18, 40, lasting=False)
    (worse,), (better,) = told("shelf-sag", lasting), told("shelf-sag", passing)
    assert worse.grade == Grade.CARE
    assert worse.number > better.number


@pytest.mark.parametrize("how", ["evenly", "in the middle"])
@pytest.mark.parametrize("lip", [None, (18, 30)])
def test_each_of_the_three_cures_does_by_itself(how: str, lip: tuple[Number, Number] | None):
    build = shelf(1100, 300, 18, 60, lip, how=how)
    (found,) = troubles("shelf-sag", build)
    clear, thick, lip_thick, lip_high = lengths(found.advice)
    weight = 60 if how == "in the middle" else 60 * float(clear) / 1100
    assert not troubles("shelf-sag", shelf(clear, 300, 18, weight, lip, how=how))
    assert not troubles("shelf-sag", shelf(1100, 300, thick, 60, lip, how=how))
    stiff = ply(18, stiffness=(8000.0, 8000.0)) if lip is None else None
    span = replace(build.spans[0], lip=(mm(lip_high), mm(lip_thick)), lip_stock=stiff)
    assert not troubles("shelf-sag", replace(build, spans=(span,)))


def test_without_a_load_in_the_plan_the_usual_one_is_tried_and_only_noted():
    (found,) = told("shelf-sag", shelf(1100, 300, 18, None))
    assert found.grade == Grade.NOTE
    assert "the plan gives no load" in found.says


def test_a_load_in_an_opening_rests_on_its_floor():
    build = shelf(1100, 300, 18, None)
    opening = Opening("case.open bay", "open", "case", three((0, 0, 18)), three((1100, 300, 200)))
    build = replace(build, openings=(opening,), loads=(Load("case.open bay", 60),))
    assert troubles("shelf-sag", build)


@pytest.mark.parametrize(("thick", "e", "strong"), [(18, 1600, 11.0), (28, 1350, 9.5), (38, 1200, 8.5)])
def test_a_thick_particleboard_is_reckoned_with_what_its_thickness_is_sold_by(thick: int, e: float, strong: float):
    # EN 312, type P2: bending strength 11 up to 20 mm, 9.5 at 28 to 32, 8.5 at 36 to 38 (read).
    stock = ply(thick, material="particleboard", stiffness=(1600.0, 2000.0), strength=11.0)
    assert by_thickness(board("case.shelf", (0, 0, 0), (600, 300, thick), stock=stock)) == (e, strong)
    assert by_thickness(board("case.shelf", (0, 0, 0), (600, 300, thick))) == (7500, 40)
    tried = replace(stock, stiffness=(1900.0, 1900.0))
    assert by_thickness(board("case.shelf", (0, 0, 0), (600, 300, thick), stock=tried))[0] == 1900


def test_three_of_four_pins_carry_a_loose_shelf():
    # 80 kg and the shelf itself, 464 between its sides x 400 x 18 mm of birch plywood, on three pins of 20 kg.
    (one,) = [f for f in found_in("pin-load", text_of("pin-load")) if f.grade is Grade.CARE]
    own = find(panels(), "birch plywood")
    assert own is not None
    assert one.number == pytest.approx((80 + 0.464 * 0.4 * 0.018 * own.density_kg_m3) / 3, abs=0.05)
    assert one.limit == 20
