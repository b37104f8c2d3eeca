"""Weights against what one person lifts."""

from fractions import Fraction

import pytest

from storystick.ground.finding import Grade
from tests.checks.by_hand import assembly, board, carcass, piece, ply, told, troubles

# A sheet of MDF 3/4 in, 49 x 97 in, 750 kg/m3, weighs 43.8 kg: derived in the reference values of the project's brief.
INCH_MM = Fraction("25.4")
SHEET = (97 * INCH_MM, 49 * INCH_MM, Fraction("0.75") * INCH_MM)


def test_a_whole_sheet_of_mdf_is_more_than_one_person_lifts():
    build = piece(board("case.top", (0, 0, 0), SHEET, stock=ply(SHEET[2], density=750.0)))
    found = {one.about: one for one in troubles("too-heavy", build)}
    assert found[("case.top",)].number == pytest.approx(43.8, abs=0.05)
    assert found[("case.top",)].limit == 23  # load constant, NIOSH 94-110


def test_a_small_carcass_is_light_enough_and_says_by_how_much():
    found = told("too-heavy", carcass())
    assert [one.grade for one in found] == [Grade.FINE, Grade.FINE]
    # two sides 18 x 400 x 700, three troughs each (the top one open above); three flats 576 x 400 x 18; 680 kg/m3
    wood = 2 * (18 * 400 * 700 - (2 * 18.2 + 18) * 400 * 6) + 3 * 576 * 400 * 18
    assert found[0].number == pytest.approx(wood * 680e-9)


def test_a_shop_with_a_weaker_back_is_told_sooner():
    assert troubles("too-heavy", carcass(), lift=Fraction(10))


def test_what_rolls_on_castors_is_a_note():
    build = carcass(assemblies=(assembly(swivels=20.0),))
    assert {one.grade for one in told("too-heavy", build, lift=Fraction(10))} == {Grade.NOTE, Grade.FINE}
    assert not troubles("too-heavy", build, lift=Fraction(10))


def test_a_top_in_two_pieces_as_advised_can_be_lifted():
    half = (SHEET[0] / 2, SHEET[1], SHEET[2])
    parts = [board(f"case.half {n}", (n * half[0], 0, 0), half, stock=ply(half[2], density=750.0)) for n in (0, 1)]
    assert not [one for one in troubles("too-heavy", piece(*parts)) if one.about != ("case",)]
