"""Tipping, castors, racking, doors and whole sheets: hand arithmetic beside each number."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.checks.masses import fill_kg
from storystick.ground.finding import Grade
from storystick.model.build import Build, Load, Opening, Slider
from storystick.model.joining import Item
from storystick.model.stock import SoldAs
from tests.checks.by_hand import (
    Number,
    assembly,
    board,
    carcass,
    joined,
    lengths,
    mm,
    piece,
    ply,
    three,
    told,
    troubles,
)

POUND, INCH_MM, FOOT_MM = 0.45359237, Fraction("25.4"), Fraction("304.8")


def block(kilograms: float, deep: Number = 400, high: Number = 500, **more: object) -> Build:
    """A case of one block, 600 wide, of some weight."""
    volume = 600 * float(deep) * float(high)
    stock = ply(high, density=kilograms / volume * 1e9)
    size = (600, deep, high)
    built = {"assemblies": (assembly(size=size),), **more}
    return piece(board("case.block", (0, 0, 0), size, stock=stock), **built)


def drawers(count: int, kilograms: float, out: Number, case: float = 30.0, ballast: float = 0.0) -> Build:
    """A block with drawers, their loads in the middle of its depth, each coming out by `out`."""
    names = [f"case.d{n}" for n in range(count)]
    openings = tuple(Opening(n, "drawer", "case", three((50, 0, 100)), three((500, 400, 100))) for n in names)
    boxes = tuple(assembly(n, (50, 0, 100), (500, 400, 100), stands_on="", inside_of="case") for n in names)
    sliders = tuple(Slider(n, n, n, mm(out), mm(13), (mm(12), mm(14)), "slides") for n in names)
    feather = ply(1, density=0.001)
    fronts = [board(f"{n}.front", (0, 0, 0), (500, 1, 100), "xzy", stock=feather, assembly=n) for n in names]
    loads = tuple(Load(n, kilograms) for n in names)
    whole = block(case, assemblies=(assembly(size=(600, 400, 500)), *boxes), openings=openings, sliders=sliders)
    items = ()
    if ballast:
        box = (three((250, 300, 0)), three((100, 100, 100)))
        items = (Item("ballast", "", "", 1, "case", box=box, kilograms=ballast),)
    return replace(whole, parts=(*whole.parts, *fronts), loads=loads, items=items)


def test_three_full_drawers_tip_a_light_case_as_the_sum_of_moments_says():
    # Case 70 lb, 9.5 in behind its front edge, holds down 665 lb in. Each drawer 18 lb, 6 in in front: 3 x 108 = 324.
    # The reference sheet's case: 665 - 324 = 341 lb in to the good; 665 / 324 = 2.05 times.
    deep = 19 * INCH_MM
    whole = drawers(3, 18 * POUND, 200 + 6 * INCH_MM, 70 * POUND)
    heavy = block(70 * POUND, deep).parts[0]
    build = replace(whole, parts=(heavy, *whole.parts[1:]))
    (found,) = [one for one in told("tipping", build) if one.unit == "times"]
    assert found.number == pytest.approx(665 / 324, rel=1e-3)
    assert found.grade == Grade.FINE


def test_a_case_that_goes_over_with_all_drawers_out_but_not_with_one_is_a_care():
    # 30 kg at 200 mm against 3 x 15 kg at 250 in front: 6000 / 11250 = 0.53.
    # With one out, the two shut ones hold down too: (6000 + 2 x 15 x 200) / 3750 = 3.2.
    (found,) = troubles("tipping", drawers(3, 15, 450))
    assert found.grade == Grade.CARE
    assert found.number == pytest.approx(6000 / 11250, rel=1e-3)
    assert "With one drawer out at a time it is 3.2 times" in found.says


def test_a_case_that_one_drawer_tips_is_stopped():
    assert [one.grade for one in troubles("tipping", drawers(1, 40, 500))] == [Grade.STOP]


@pytest.mark.parametrize(("count", "kilograms"), [(3, 15), (1, 40), (2, 25)])
def test_weight_at_the_foot_as_advised_keeps_it_standing(count: int, kilograms: float):
    (found,) = troubles("tipping", drawers(count, kilograms, 500))
    ballast = float(found.advice.split("put ")[1].split(" kg")[0])
    assert not troubles("tipping", drawers(count, kilograms, 500, ballast=ballast))


def test_a_drawer_without_a_load_is_filled_as_the_standard_does():
    # ASTM F2057: inside 30 x 16 in, 7.125 in to the lowest thing above: 1.944 cubic feet; 8.5 lb for each.
    size = (30 * INCH_MM, 16 * INCH_MM, Fraction("7.125") * INCH_MM)
    opening = Opening("o", "drawer", "case", three((0, 0, 0)), three(size))
    assert fill_kg(opening) / POUND == pytest.approx(1.944 * 8.5, rel=1e-3)


def test_a_tall_light_case_is_pulled_over_by_its_top():
    # Reference sheet: 120 lb, 9 in behind the feet, pushed at 40 in: 27 lbf. Here 18 in deep, 40 in high.
    build = block(120 * POUND, 18 * INCH_MM, 40 * INCH_MM)
    (found,) = [one for one in told("tipping", build) if one.unit == "N"]
    assert found.number / 4.4482216 == pytest.approx(27.0, abs=0.01)
    assert found.grade == Grade.FINE
    (light,) = troubles("tipping", block(40 * POUND, 12 * INCH_MM, 60 * INCH_MM))
    assert light.unit == "N"


def test_swivel_castors_bring_the_edge_in():
    feet = tuple((mm(x), mm(y)) for x in (50, 550) for y in (50, 350))
    wheels = assembly(size=(600, 400, 500), feet=feet, swivels=30.0)
    firm, rolling = drawers(2, 10, 450), drawers(2, 10, 450)
    rolling = replace(rolling, assemblies=(wheels, *rolling.assemblies[1:]))
    # Edge 80 mm in from the front: 30 kg at 120 against 2 x 10 kg at 330 in front.
    (found,) = troubles("tipping", rolling)
    assert found.number == pytest.approx(30 * 120 / (20 * 330), rel=1e-3)
    assert told("tipping", firm)[0].number > found.number


def on_castors(load: float, kind: str = "3 inch swivel castor") -> Build:
    castors = tuple(Item(f"castor {n}", kind, kind, 1, "case") for n in range(4))
    return block(310 * POUND, items=castors, loads=(Load("case.block", load * POUND),))


def test_each_castor_is_chosen_for_a_third_of_the_weight():
    # Reference sheet: bench 310 lb and 200 lb of work: 170 lb wanted of each castor.
    (found,) = told("castor-load", on_castors(200))
    assert found.number / POUND == pytest.approx(170)
    assert found.grade == Grade.FINE


def test_small_castors_under_a_heavy_bench():
    (found,) = troubles("castor-load", on_castors(200, "2 inch swivel castor"))
    wanted = float(found.advice.split("good for ")[1].split(" kg")[0])
    assert wanted >= found.number
    assert not troubles("castor-load", on_castors(200, "3 inch swivel castor"))


def test_a_case_without_a_back_has_only_its_corners():
    (found,) = troubles("racking", carcass())
    # 200 N x 700 mm over four corners: 35 N m each.
    assert found.number == pytest.approx(35)


def test_a_back_as_advised_keeps_it_square():
    back = board("case.back", (0, 400, 0), (600, 6, 700), "zxy", stock=ply(6))
    held = (joined("case.back", "case.left side", "screws"), joined("case.back", "case.right side", "screws"))
    whole = carcass()
    build = replace(whole, parts=(*whole.parts, back), joints=(*whole.joints, *held))
    (found,) = told("racking", build)
    assert found.grade == Grade.FINE
    # A plate in shear: F h / (G b t) = 200 x 700 / (350 x 600 x 6).
    assert found.number == pytest.approx(200 * 700 / (350 * 600 * 6))
    assert troubles("racking", replace(build, joints=whole.joints))


def test_a_low_box_needs_no_back():
    assert told("racking", carcass(assemblies=(assembly(size=(600, 400, 390)),))) == []


def test_a_case_wider_than_the_door_both_ways_stays_in_the_shop():
    whole = carcass(assemblies=(assembly(size=(1000, 850, 900)),))
    assert told("shop-door", whole) == []
    door = (Fraction(800), Fraction(2000))
    (found,) = troubles("shop-door", whole, door=door)
    assert found.number == -50
    narrow, tall = lengths(found.advice)
    assert not troubles("shop-door", carcass(assemblies=(assembly(size=(tall, narrow, 2500)),)), door=door)
    assert not troubles("shop-door", carcass(), door=door)


def test_a_sheet_of_mdf_is_broken_down_on_the_floor():
    # 43.8 kg: MDF 3/4 in, 49 x 97 in at 750 kg/m3, derived in the reference sheet; over 23 kg by 1.9 times.
    thick = Fraction("0.75") * INCH_MM
    stock = ply(thick, density=750.0, sizes=(SoldAs(97 * INCH_MM, 49 * INCH_MM),))
    build = piece(board("case.shelf", (0, 0, 0), (600, 300, thick), stock=stock))
    (found,) = told("heavy-sheet", build)
    assert (found.grade, found.number) == (Grade.NOTE, pytest.approx(43.8, abs=0.05))
    light = ply(6, density=680.0, sizes=(SoldAs(Fraction(1525), Fraction(1525)),))
    (found,) = told("heavy-sheet", piece(board("case.back", (0, 0, 0), (600, 300, 6), stock=light)))
    assert found.grade == Grade.FINE


def test_a_tall_piece_with_much_closed_storage_is_told_of_the_rule_for_clothes():
    # 3.2 ft3 = 0.0906 m3 (16 CFR 1261): three drawers of 500 x 400 x 200 are 0.12 m3, one is 0.04 m3.
    def says(count: int) -> str:
        tall = drawers(count, 1, 100, 40)
        openings = tuple(replace(one, size=three((500, 400, 200))) for one in tall.openings)
        whole = replace(block(40, high=900).parts[0])
        build = replace(tall, parts=(whole, *tall.parts[1:]), openings=openings)
        return next(one.says for one in told("tipping", build) if one.unit == "N")

    assert "16 CFR 1261" in says(3)
    assert "shop furniture is not covered" in says(3)
    assert "16 CFR 1261" not in says(1)
