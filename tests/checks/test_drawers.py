"""Drawers in their openings: room at the sides, above, behind; and the way out."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.ground.finding import Grade
from storystick.model.build import Build, Opening, Slider
from tests.checks.by_hand import Number, assembly, board, carcass, lengths, mm, three, told, troubles


def drawer(
    gap: Number = 13, high: Number = 100, long: Number = 350, sd: float = 0.0, at: Number = 330, front: Number = 560
) -> Build:
    """A drawer in the upper bay (318 to 682 high, 564 clear) of a case 400 deep, on ball-bearing slides."""
    wide = 564 - 2 * Fraction(gap)
    x = 18 + Fraction(gap)
    name = "case.drawer"
    inner = [
        board(f"{name}.bottom", (0, 20, 0), (wide, long, 6), assembly=name),
        board(f"{name}.back", (0, 20 + Fraction(long) - 12, 6), (wide, 12, Fraction(high) - 6), "xzy", assembly=name),
        board(f"{name}.front", ((wide - Fraction(front)) / 2, 0, 0), (front, 18, 120), "xzy", assembly=name),
    ]
    place = assembly(name, (x, 0, at), (wide, 370, high), stands_on="", inside_of="case")
    opening = Opening("case.bay", "drawer", "case", three((18, 0, 318)), three((564, 400, 364)))
    slider = Slider("drawer", name, "case.bay", mm(300), mm(gap, sd), (mm("12.7"), mm("13.5")), "side-mount slides")
    whole = carcass(assemblies=(assembly(), place), openings=(opening,), sliders=(slider,))
    return replace(whole, parts=(*whole.parts, *inner))


def test_a_drawer_with_the_room_that_its_slides_want_is_fine():
    assert {one.grade for one in told("drawer-runs", drawer())} == {Grade.FINE}


# Trade sizes: a side-mounted slide is 12.7 mm (1/2 in) thick; 0.2 to 0.5 mm more at each side is wanted by practice.
@pytest.mark.parametrize("gap", ["12.5", "13.8", 10, 18])
def test_a_drawer_too_wide_or_too_narrow_for_its_slides(gap: Number):
    (found,) = troubles("drawer-runs", drawer(gap))
    by = Fraction(found.advice.split("Make the box ")[1].split(" mm")[0])
    wider = by if "wider" in found.advice else -by
    assert not troubles("drawer-runs", drawer(Fraction(gap) - wider / 2))


def test_an_opening_that_is_not_known_well_enough_asks_for_a_reading():
    (found,) = troubles("drawer-runs", drawer("13.1", sd=0.6))
    assert "measure the opening" in found.advice
    assert not troubles("drawer-runs", drawer("13.1", sd=0.2))


def test_a_drawer_longer_than_its_case_is_deep():
    (found,) = troubles("drawer-runs", drawer(long=390))
    assert found.grade == Grade.STOP
    (by,) = lengths(found.advice)
    assert not troubles("drawer-runs", drawer(long=390 - by))


def test_a_drawer_box_as_high_as_its_opening_rubs():
    # 12 mm below the box (330 less 318), 350 high: 2 mm above.
    (found,) = troubles("drawer-runs", drawer(high=350))
    assert (found.grade, found.number, found.limit) == (Grade.CARE, 2, 3)
    (most,) = lengths(found.advice)
    assert not troubles("drawer-runs", drawer(high=most))


def test_a_free_drawer_runs_free_and_says_how_near_its_front_passes():
    # The front is 560 wide in 564: 2 mm at each side.
    (found,) = told("drawer-path", drawer())
    assert (found.grade, found.number) == (Grade.FINE, pytest.approx(2))


def test_a_front_that_fills_its_opening_rubs():
    (found,) = troubles("drawer-path", drawer(front="562.8"))
    assert (found.grade, found.number) == (Grade.CARE, pytest.approx(0.6))
    (by,) = lengths(found.advice)
    assert not troubles("drawer-path", drawer(front=Fraction("562.8") - 2 * by))


def test_a_rail_in_front_of_a_drawer_stops_it():
    rail = board("case.rail", (18, -60, 400), (564, 18, 60), "xzy")
    build = drawer()
    (found,) = troubles("drawer-path", replace(build, parts=(*build.parts, rail)))
    assert found.grade == Grade.STOP
    assert "case.rail" in found.about
    lower = board("case.rail", (18, -60, 200), (564, 18, 60), "xzy")
    assert not troubles("drawer-path", replace(build, parts=(*build.parts, lower)))
