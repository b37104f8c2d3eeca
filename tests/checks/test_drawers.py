"""Drawers in their openings: room at the sides, above, behind; and the way out."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.ground.finding import Grade
from storystick.model.build import Build, Move, Opening, Slider
from tests.checks.by_hand import Number, assembly, board, box, carcass, lengths, mm, three, told, troubles
from tests.told import job


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


def in_a_corner(ahead: Number = 300, aside: Number = 300, away: Number = 0) -> Build:
    """A front at x 100 to 400 that comes forward, and one at y -300 to -100 that comes in from the left."""
    fronts = (
        board("case.a.front", (0, 0, 0), (300, 18, 120), "xzy", assembly="case.a"),
        board("nook.b.front", (0, 0, 0), (200, 18, 120), "xzy", assembly="nook.b"),
    )
    places = (
        assembly(),
        assembly("nook", (-400, -250 - Fraction(away), 0), (400, 400, 700), turns=1),
        assembly("case.a", (100, 0, 300), (300, 18, 120), stands_on="", inside_of="case"),
        assembly("nook.b", (-50, 0, 300), (200, 18, 120), stands_on="", inside_of="nook"),
    )
    sliders = tuple(
        Slider(name, name, "bay", mm(long), mm(13), (mm(12), mm(14)), "slides")
        for name, long in (("case.a", ahead), ("nook.b", aside))
    )
    return replace(carcass(), parts=fronts, joints=(), assemblies=places, sliders=sliders)


def test_drawers_of_two_cases_in_a_corner_meet_when_both_are_open():
    (found,) = troubles("two-at-once", in_a_corner())
    assert set(found.about) == {"case.a.front", "nook.b.front"}
    assert found.number < 0  # type: ignore[operator]


def test_a_drawer_stopped_as_advised_lets_the_other_out():
    (found,) = troubles("two-at-once", in_a_corner())
    (stop,) = lengths(found.advice)
    assert 0 < stop < 300
    assert {one.grade for one in told("two-at-once", in_a_corner(stop))} == {Grade.FINE}
    # The front's face at y 0 and the other's edge at -100: 100 less the 1 mm that is to be kept.
    assert stop == pytest.approx(99, abs=0.8)
    assert stop <= 99


# The other front passes in front of the open one: its back edge is at -100 - away, the open front's face at -300.
@pytest.mark.parametrize(("away", "grade"), [(199, Grade.CARE), (202, Grade.FINE)])
def test_two_open_drawers_are_judged_by_the_nearest_they_come(away: Number, grade: Grade):
    assert {one.grade for one in told("two-at-once", in_a_corner(away=away))} == {grade}


def test_what_one_alone_runs_into_is_told_once_by_the_check_of_its_way():
    # The second is as far out at rest as it would come: nothing that two at once do makes it worse.
    build = in_a_corner()
    (_, nook, *rest) = build.assemblies
    shut_in_the_way = replace(nook, at=three((-150, -250, 0)))
    assert troubles("drawer-path", replace(build, assemblies=(assembly(), shut_in_the_way, *rest)))
    assert not troubles("two-at-once", replace(build, assemblies=(assembly(), shut_in_the_way, *rest)))


# A flap 200 high hangs from a line at y -500, z 500. The open front's upper corner is at z 420: its distance from that
# line less 200 is the gap, by Pythagoras.
@pytest.mark.parametrize(("out", "gap"), [(310, 6.155), (320, None), (304, 11.7)])
def test_a_flap_of_the_site_and_a_drawer_keep_what_the_flap_asks_for(out: int, gap: float | None):
    swing = Move("opens", "swing", ("flap",), about=three((0, -500, 500)), axis=0, degrees=(0, 89))
    flap = box("flap", (0, -500, 300), (600, 1, 200), keep=mm(10), move=swing)
    build = in_a_corner(out)
    build = replace(build, site=(flap,), sliders=build.sliders[:1])
    assert not troubles("site-clearance", build)
    (found,) = told("two-at-once", build)
    if gap is None:
        assert (found.grade, found.number) == (Grade.CARE, 0)  # over within a step of looking, and still not missed
        return
    assert found.grade == (Grade.CARE if gap < 10 else Grade.FINE)
    if gap < 10:
        assert found.number == pytest.approx(gap, abs=0.26)
        assert found.number <= gap  # type: ignore[operator]


def test_drawers_alike_with_the_same_trouble_are_told_once():
    text = """title: Chest
units: mm
stock:
  ply: {sheet: birch plywood, readings: [18]}
  thin: {sheet: birch plywood, readings: [4]}
build:
  chest:
    case: {wide: 800, deep: 500, high: 700, stock: ply, drawers: {stock: ply, bottom stock: thin}, bays: BAYS}
    sits: floor
""".replace("BAYS", "[{drawer: {high: 150}}, drawer, drawer]")
    found = [one for one in job(text).findings if one.code == "drawer-bottom" and one.grade > Grade.FINE]
    assert [one.says.partition(" thick")[0] for one in found] == ["chest.drawer 1.bottom (and 2 more like it), 4 mm"]
    assert found[0].about == tuple(f"chest.drawer {n}.bottom" for n in (1, 2, 3))
