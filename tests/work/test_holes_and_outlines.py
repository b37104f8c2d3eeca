"""Holes, notches and bevels with the tools of one shop."""

from dataclasses import replace
from fractions import Fraction

from storystick.ground.dim import Book
from storystick.ground.finding import Finding
from storystick.model.cut import Cut, Side
from storystick.model.work import MadeBy
from storystick.shop.shop import Saw, Shop
from storystick.work.choosing import choose
from tests.work.by_hand import TABLE_SAW, bevel, bit, board, bore, drill, inches, notch, piece, shop_with

DRILLS = (
    drill("twist", 3),
    drill("twist", "4.5"),
    drill("twist", 5),
    drill("brad point", 5),
    drill("forstner", 35, 40),
)
HAND_SAW = Saw("hand saw", "hand saw", Fraction(1))
JIGSAW = Saw("jigsaw", "jigsaw", Fraction(1), Fraction(50))


def tried(cut: Cut, shop: Shop, *others: Cut, alike: int = 1) -> tuple[MadeBy | None, tuple[Finding, ...]]:
    part = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", [cut, *others])
    way, _, findings = choose(cut, part, piece(part), shop, Book(), alike=alike)
    return way, findings


def method(cut: Cut, shop: Shop, *others: Cut) -> str:
    way, findings = tried(cut, shop, *others)
    assert way is not None, findings
    return way.method


def drilled(*drills: object) -> Shop:
    return shop_with(drills=drills or DRILLS)


def test_a_clean_hole_for_a_pin_is_bored_with_a_brad_point():
    assert method(bore("pin", (100, 37), 5, 10), drilled()) == "drill, 5 mm brad point bit"


def test_a_hole_that_a_screw_slips_through_is_bored_with_a_twist_bit():
    assert method(bore("screw", (100, 37), "4.5", None), drilled()) == "drill, 4.5 mm twist bit"


def test_a_hinge_cup_is_bored_with_a_forstner_bit_to_a_stop():
    way, _ = tried(bore("cup", (100, 22), 35, 12), drilled())
    assert way is not None
    assert "Forstner" in way.method
    (stop,) = way.setups
    assert (stop.name, stop.to and stop.to.value) == ("depth stop", 12)


def test_a_clearance_hole_may_be_a_little_larger_and_a_pin_hole_may_not():
    big = drilled(drill("twist", "4.8"))
    assert tried(bore("screw", (100, 37), "4.5", None), big)[1] == ()
    assert tried(bore("pin", (100, 37), "4.5", 10), big)[1][0].code == "loose-way"


def test_an_inch_bit_that_is_as_good_as_the_metric_one_is_taken():
    # 7/64 in is 2.778 mm, 0.02 less than 2.8
    assert (
        method(bore("pilot", (100, 37), "2.8", 30), drilled(drill("twist", inches("7/64"))))
        == "drill, 7/64 in twist bit"
    )


def test_no_bit_of_that_size_says_which_one_to_get():
    way, findings = tried(bore("pin", (100, 37), 8, 10), drilled())
    assert way is None
    assert findings[0].code == "no-way"
    assert "8 mm drill bit" in findings[0].advice
    assert tried(bore("pin", (100, 37), 8, 10), drilled(drill("twist", 8)))[1] == ()


def test_a_bit_that_is_too_short_does_not_count():
    way, findings = tried(bore("deep", (100, 37), 5, 80), drilled())
    assert way is None
    assert "reaches 80 mm" in findings[0].advice


def test_a_countersink_comes_after_the_hole_and_a_counterbore_before_it():
    sunk, _ = tried(bore("sunk", (100, 37), "4.5", None, sink=bore("x", (0, 0), 9, 1).diameter), drilled())
    wide = bore("x", (0, 0), 10, 4)
    stepped, _ = tried(bore("stepped", (100, 37), "4.5", None, step=(wide.diameter, wide.depth)), drilled())
    assert sunk is not None
    assert stepped is not None
    assert [one.name for one in sunk.setups] == ["through", "mouth"]
    assert [one.name for one in stepped.setups] == ["first", "through"]


def test_no_countersink_in_the_shop_is_told():
    cut = bore("sunk", (100, 37), "4.5", None, sink=bore("x", (0, 0), 9, 1).diameter)
    way, findings = tried(cut, replace(drilled(), countersinks=()))
    assert way is None
    assert "countersink" in findings[0].advice


def test_a_row_of_pin_holes_is_bored_along_a_stick():
    row = [bore(f"pin {n}", (100 + 32 * n, 37), 5, 10) for n in range(5)]
    way, _ = tried(row[0], drilled(), *row[1:], alike=40)
    assert way is not None
    assert "stick of holes" in way.method
    assert any(one.name == "spacing" and one.to and one.to.value == 32 for one in way.setups)


def test_holes_that_are_unevenly_apart_are_bored_one_by_one():
    row = [bore(f"pin {n}", (100 + 32 * n + n * n, 37), 5, 10) for n in range(5)]
    assert "stick" not in method(row[0], drilled(), *row[1:])


def test_a_slanting_hole_for_a_screw_goes_in_with_the_jig():
    cut = bore("slant", (100, 10), "9.5", 30, lean=75.0, toward=(1, 0))
    assert "jig" in method(cut, replace(drilled(), pocket_jig=True))
    way, findings = tried(cut, replace(drilled(), pocket_jig=False))
    assert way is None
    assert "jig" in findings[0].advice


def test_a_notch_is_sawn_along_its_line():
    corner = notch("corner", (0, 0), (60, 40))
    assert "jigsaw" in method(corner, shop_with(saws=(JIGSAW,)))
    assert "hand saw" in method(corner, shop_with(saws=(HAND_SAW,)))


def test_a_hole_sawn_in_the_middle_is_started_with_a_drill():
    way, _ = tried(notch("window", (100, 100), (200, 200)), shop_with(saws=(JIGSAW,)))
    assert way is not None
    assert "drill a hole" in way.setups[0].says


def test_a_hand_saw_does_not_start_in_the_middle_of_a_board():
    assert tried(notch("window", (100, 100), (200, 200)), shop_with(saws=(HAND_SAW,)))[0] is None


def test_a_square_corner_can_be_nibbled_on_the_table_saw():
    way, _ = tried(notch("corner", (0, 0), (60, 40)), shop_with(saws=(TABLE_SAW,)))
    assert way is not None
    assert [one.to.value for one in way.setups if one.to] == [40, 60]


def test_a_rounded_notch_is_routed_along_a_template_with_a_small_enough_bit():
    scoop = notch("scoop", (300, 360), (400, 400), radius=20)
    assert "template" in method(scoop, shop_with(bit(12, "pattern")))
    assert tried(scoop, shop_with(bit(50, "pattern")))[0] is None  # 25 mm radius does not go into a corner of 20
    assert tried(scoop, shop_with(bit(12, "pattern", cuts=12)))[0] is None  # shorter than the board is thick


def test_a_mitred_end_is_cut_with_the_blade_tilted_as_far_as_it_goes():
    assert "45 degrees" in method(bevel("end", 45), shop_with(saws=(TABLE_SAW,)))
    way, findings = tried(bevel("end", 60), shop_with(saws=(TABLE_SAW,)))
    assert way is None
    assert "60 degrees" in findings[0].advice


def test_a_board_thicker_than_the_tilted_blade_reaches_is_not_bevelled_there():
    low = replace(TABLE_SAW, tilted=Fraction(12))
    assert tried(bevel("edge", 45, Side.FAR_EDGE), shop_with(saws=(low,)))[0] is None
