"""The buying list, reckoned by hand."""

from dataclasses import replace
from fractions import Fraction

from storystick.ground.quantities import Money
from storystick.model.build import Build
from storystick.model.cutting import CutTree, Layout, Piece, Sheet
from storystick.model.joining import Item
from storystick.model.work import Buy, Buying, Cutting
from storystick.shop.read import default_shop
from storystick.shop.shop import Price, Shop
from storystick.work.bands import band_length
from storystick.work.buying import buy, glue_area
from tests.work.by_hand import PLY, board, case, joined, order_of, piece

SHOP = replace(default_shop("mm"), prices=(), currency="€")


def bought(build: Build, shop: Shop = SHOP, *cuttings: Cutting) -> Buying:
    return buy(build, cuttings, order_of(build, shop), shop)


def line(buying: Buying, what: str, size: str = "") -> Buy:
    (found,) = [one for one in buying.lines if one.what.startswith(what) and size in one.size]
    return found


def cutting(*sheets: Sheet) -> Cutting:
    trees = tuple(
        CutTree(sheet, n, (Piece(n, Fraction(0), Fraction(0), sheet.long, sheet.wide),), ())
        for n, sheet in enumerate(sheets)
    )
    return Cutting(PLY, Layout(trees), Fraction(3))


WHOLE = Sheet("2440 x 1220", Fraction(2440), Fraction(1220), Fraction(80))
RACK = Sheet("600 x 1200 on the rack", Fraction(1200), Fraction(600), Fraction(0), 1, True, True)


def test_two_sheets_at_the_plans_own_price():
    buying = bought(case(), SHOP, cutting(WHOLE, WHOLE))
    one = line(buying, "birch plywood")
    assert (one.count, one.price, one.total, one.guessed) == (2, 80, 160, False)


def test_what_is_on_the_rack_costs_nothing():
    buying = bought(case(), SHOP, cutting(WHOLE, RACK))
    one = line(buying, "birch plywood", "on the rack")
    assert (one.count, one.have, one.total) == (1, 1, None)
    assert line(buying, "birch plywood", "2440").total == 80


def test_screws_are_counted_by_size_and_priced_by_the_shop():
    # three boards, two sides, one screw each: 6 at 0.05
    shop = replace(SHOP, prices=(Price("4.0 mm chipboard screw", Money(Fraction("0.05"), "€")),))
    one = line(bought(case(), shop), "4.0 mm chipboard screw")
    assert (one.count, one.price, one.total, one.guessed) == (6, Fraction("0.05"), Fraction("0.3"), False)


def test_a_price_that_nobody_gave_is_a_guess_from_the_table():
    # the table has 6 dollars for a hundred
    one = line(bought(case()), "4.0 mm chipboard screw")
    assert (one.price, one.guessed) == (Fraction("0.06"), True)


def test_hardware_of_one_kind_is_one_line():
    items = tuple(
        Item(
            f"case castor {n}",
            "3 inch swivel castor",
            "3 inch swivel castor",
            1,
            "case",
            price_key="3 inch swivel castor",
        )
        for n in range(4)
    )
    one = line(bought(case(items=items)), "3 inch swivel castor")
    assert (one.count, one.price, one.total) == (4, 9, 36)


def test_a_thing_without_a_price_is_left_out_of_the_total():
    items = (Item("case.thing", "", "brass thing", 2, "case"),)
    buying = bought(case(items=items))
    one = line(buying, "thing")
    assert one.price is None
    assert buying.total == sum(each.total for each in buying.lines if each.total is not None)


def test_glue_goes_where_boards_meet():
    # Each flat board is 576 long and lies from x = 12 to 588; the sides reach from 0 to 18 and 582 to 600. Where they
    # meet across x: 400 deep by 18 high; three boards, two ends each: 6 x 400 x 18 = 43200 mm2.
    assert glue_area(case()) == 43200


def test_layers_are_glued_all_over():
    upper, lower = board("top.upper", (0, 0, 18), (1000, 600, 18)), board("top.lower", (0, 0, 0), (1000, 600, 18))
    build = piece(upper, lower, joints=(joined("top.upper", "top.lower", 2, -1),))
    assert glue_area(build) == 600_000
    # 0.6 m2 at 0.2 l/m2 is 0.12 l: the smallest bottle
    assert (line(bought(build), "yellow glue").count, line(bought(build), "yellow glue").size) == (1, "0.25 l")


def test_no_glued_joint_no_glue():
    build = case(joints=tuple(replace(joint, glued=False) for joint in case().joints))
    assert not [one for one in bought(build).lines if "glue" in one.what]


def test_finish_for_both_faces_of_everything():
    # Sides 2 x 0.7 x 0.4 x 2 = 1.12 m2; flats 3 x 0.576 x 0.4 x 2 = 1.3824 m2; together 2.5 m2, three coats at 11 m2 a
    # litre: 0.68 l, so a tin of one litre.
    one = line(bought(case()), "water-based varnish")
    assert (one.count, one.size) == (1, "1 l")


def test_edge_band_by_the_length_of_its_strips_and_one_to_spare():
    parts = tuple(replace(part, banded=("reference edge",)) for part in case().parts)
    build = replace(case(), parts=parts)
    # 2 x 700 + 3 x 576 = 3128 mm of edges; 25 mm more at both ends of five strips; a sixth of 750 to spare: 4128
    assert band_length(build) == 3128
    assert line(bought(build), "veneer edge band").size == "5 m"


def test_the_total_by_hand():
    shop = replace(
        SHOP,
        prices=(
            Price("4.0 mm chipboard screw", Money(Fraction("0.05"), "€")),
            Price("yellow glue", Money(Fraction(8), "€")),
            Price("slow white glue", Money(Fraction(12), "€")),
            Price("water-based varnish", Money(Fraction(20), "€")),
        ),
    )
    # 2 sheets at 80; 6 screws at 0.05; a quarter litre of glue at 8 a litre, and of the slow one at 12 for the step
    # with more joints than the other leaves time for; a litre of varnish at 20
    buying = bought(case(), shop, cutting(WHOLE, WHOLE))
    assert buying.total == 160 + Fraction("0.30") + 2 + 3 + 20
    assert buying.currency == "€"
