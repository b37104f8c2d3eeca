"""Fits: too tight, too loose, and what is not known yet."""

from fractions import Fraction

import pytest

from storystick.ground.dim import limits
from storystick.ground.finding import Grade
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.joining import Fit
from tests.checks.by_hand import Number, board, mm, piece, ply, told, troubles


def fitted(width: Number, panel: Number, sd: float = 0.0, *, measured: bool = True, sold: Number = 18) -> Build:
    stock = ply(panel, nominal=mm(sold), measured=measured)
    shelf = board("case.shelf", (0, 0, 0), (500, 300, panel), stock=stock)
    gap = mm(width, sd, "channel") - mm(panel, 0, "panel")
    fit = Fit("shelf in side", gap, mm(0), mm("0.4"), "by hand", "case.shelf", "case.side", "dado", practice("by hand"))
    return piece(shelf, board("case.side", (0, 0, 0), (18, 300, 600), "zyx"), fits=(fit,))


def test_a_gap_in_the_middle_of_what_is_wanted_is_fine():
    (found,) = told("width-fit", fitted("17.8", "17.6"))
    assert (found.grade, found.number) == (Grade.FINE, Fraction("0.2"))
    assert found.margin == pytest.approx(0.2)


def test_a_channel_narrower_than_the_panel_stops_the_work():
    (found,) = told("width-fit", fitted("17.5", "17.6"))
    assert found.grade == Grade.STOP
    assert "Make dado 0.3 mm wider." in found.advice


def test_an_18_mm_panel_rattles_in_a_full_three_quarter_inch_channel():
    # Shop reference: 3/4 in is 19.05 mm, 1.05 mm more than 18 mm (exact conversion).
    (found,) = told("width-fit", fitted("19.05", 18))
    assert found.grade == Grade.CARE
    assert found.number == pytest.approx(1.05)


def test_one_in_four_does_not_go_in():
    # Checked case: channel 18.2 with 0.05 sd, panel anywhere from 17.6 to 18.4: one in four is too thick.
    # To first order with a normal spread the chance is the same to a few hundredths.
    stock = ply(18)
    panel = mm(18, 0, "panel")
    panel = type(panel)(panel.value, type(panel.node)("panel", "given", "sheet", limits(0.4)))  # type: ignore[call-arg]
    fit = Fit("f", mm("18.2", 0.05, "channel") - panel, mm(0), mm(2), "by hand", "case.shelf", "case.side")
    build = piece(board("case.shelf", (0, 0, 0), (500, 300, 18), stock=stock), fits=(fit,))
    (found,) = troubles("width-fit", build)
    tight = int(found.says.split("Too tight: ")[1].split(" ")[0])
    assert tight == pytest.approx(25, abs=6)


@pytest.mark.parametrize(("width", "sd"), [("17.5", 0.05), ("18.4", 0.05), ("17.62", 0.08), ("17.2", 0.0)])
def test_a_fit_set_as_advised_is_good(width: str, sd: float):
    (found,) = troubles("width-fit", fitted(width, "17.6", sd))
    by = Fraction(found.advice.split("Make dado ")[1].split(" mm")[0])
    by = by if "wider" in found.advice else -by
    assert not troubles("width-fit", fitted(Fraction(width) + by, "17.6", sd))


def test_where_no_setting_is_sure_the_advice_is_to_measure_better():
    (found,) = troubles("width-fit", fitted("17.8", "17.6", 0.3))
    assert "measure both parts" in found.advice
    known = Fraction(found.advice.split("known to ")[2].split(" mm")[0])
    assert not troubles("width-fit", fitted("17.8", "17.6", float(known) / 2))


def test_an_unmeasured_sheet_is_to_be_measured_first():
    # EN 315, sanded, 18 mm nominal: 17.06 to 18.74 mm.
    (found,) = told("width-fit", fitted("17.8", "17.6", measured=False))
    assert found.grade == Grade.NOTE
    assert "17.06 mm to 18.74 mm" in found.says
    assert "Measure ply" in found.advice
