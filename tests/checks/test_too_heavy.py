"""Weights against what one person lifts."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.checks import run_one, shelf
from storystick.ground.finding import Grade
from storystick.model.sequence import AssemblyOrder, Coming
from tests.checks.by_hand import asked, assembly, board, carcass, piece, ply, told, troubles

# A sheet of MDF 3/4 in, 49 x 97 in, 750 kg/m3, weighs 43.8 kg: size by density.
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


def test_what_is_lifted_as_one_on_the_way_is_weighed_too():
    # Two boards of 20 kg come together to a third: 40 kg, where each by itself is light enough.
    heavy = ply(40, density=20 / (600 * 400 * 40) * 1e9)
    parts = [board(f"case.{n}", (0, 0, 40 * i), (600, 400, 40), stock=heavy) for i, n in enumerate("abc")]
    build = piece(*parts)
    together = Coming(("case.b", "case.c"), ("case.a",), (0.0, 0.0, -1.0), 100.0)
    whole = replace(asked(build), sequence=AssemblyOrder((together,)))
    found = [one for one in run_one(shelf()["too-heavy"], whole) if "come as one" in one.says]
    assert [one.grade for one in found] == [Grade.NOTE]
    assert found[0].number == pytest.approx(40)
    light = replace(whole, sequence=AssemblyOrder((replace(together, moves=("case.b",)),)))
    assert not [one for one in run_one(shelf()["too-heavy"], light) if "come as one" in one.says]
