"""Loose shelves, lips, castors, plinths and feet, worked out by hand in millimetres."""

import itertools

import pytest

from storystick.model.cut import Bore, Channel, Side
from tests.craft.plans import case
from tests.told import built, job, mm, sizes, told

LOOSE = case("bays: [open, loose shelf, open]")


def test_a_loose_shelf_is_shorter_than_its_bay_by_the_play_at_each_side():
    build = built(LOOSE)
    assert sizes(build, "cabinet.shelf 1")[0] == 764 - 2 * 1.5
    (fit,) = (f for f in build.fits if f.goes_in == "cabinet.shelf 1")
    assert mm(fit.gap) == 3
    (span,) = build.spans
    assert (mm(span.clear), span.ends) == (764, "rests")


def test_a_loose_shelf_lies_on_four_pins():
    (pins,) = built(LOOSE).items
    assert (pins.kind, pins.count) == ("5 mm shelf pin", 4)


def test_pin_holes_stand_in_rows_32_apart_37_in_from_front_and_back():
    build = built(LOOSE)
    shelf = build.part("cabinet.shelf 1")
    holes = [c for c in build.part("cabinet.left side").cuts if isinstance(c, Bore) and c.called == "shelf pin hole"]
    assert len(holes) == 10
    assert {c.side for c in holes} == {Side.FACE}
    # The side's own length runs up from the floor, its width from the front: the shelf is 484 deep.
    assert {mm(c.at[1]) for c in holes} == {37, 484 - 37}
    heights = sorted({mm(c.at[0]) for c in holes})
    assert [b - a for a, b in itertools.pairwise(heights)] == pytest.approx([32] * 4)
    # The pin of 5 lies under the shelf: its middle half of that below.
    assert heights[2] == pytest.approx(float(shelf.low(2)) - 2.5)
    assert {mm(c.diameter) for c in holes} == {5}


def test_left_and_right_pin_holes_are_mirror_images():
    build = built(LOOSE)
    left, right = (build.part(f"cabinet.{word} side") for word in ("left", "right"))
    spots = [
        {(mm(c.at[0]), mm(c.at[1])) for c in p.cuts if isinstance(c, Bore) and c.called == "shelf pin hole"}
        for p in (left, right)
    ]
    assert spots[0] == spots[1]
    assert left.is_left_handed != right.is_left_handed


def test_pin_holes_from_both_sides_of_a_divider_do_not_meet():
    rows = "{rows: [open, loose shelf, open]}"
    build = built(case(f"bays: {{columns: [{rows}, {rows}]}}"))
    deep = {mm(c.depth) for c in build.part("cabinet.divider 1").cuts if isinstance(c, Bore) and c.depth}
    # (18 - 2) / 2 = 8 from each side leaves 2 in the middle.
    assert deep == {8}


def test_holes_too_near_the_end_of_a_bay_are_left_out():
    build = built(case("bays: [open 60, loose shelf, open]"))
    holes = [c for c in build.part("cabinet.left side").cuts if isinstance(c, Bore)]
    # Steps up land 60 + 18 - 2.5 - 32 = 43.5 under the top, within two spacings: only three in each row.
    assert len(holes) == 6


def test_inch_plans_get_quarter_inch_pins():
    text = LOOSE.replace("units: mm", "units: inch").replace("wide: 800", "wide: 32").replace("deep: 500", "deep: 20")
    build = built(text.replace("high: 900", "high: 36"))
    holes = [c for c in build.part("cabinet.left side").cuts if isinstance(c, Bore)]
    assert {mm(c.diameter) for c in holes} == {6.35}


LIPPED = case("lip: {stock: beech}\n      bays: [open with lip, fixed shelf, open]")


def test_a_lip_takes_its_thickness_off_the_front_of_its_shelf_and_stiffens_it():
    build = built(LIPPED)
    plain = built(case("bays: [open, fixed shelf, open]"))
    assert sizes(build, "cabinet.shelf 1")[1] == sizes(plain, "cabinet.shelf 1")[1] - 20
    # As high as the shelf and 12 proud, between the sides.
    assert sizes(build, "cabinet.shelf 1 lip") == (764, 18 + 12, 20)
    (span,) = build.spans
    assert span.lip is not None
    assert [mm(d) for d in span.lip] == [30, 20]
    assert float(build.part("cabinet.shelf 1 lip").low(1)) == 0


def test_a_lip_on_a_board_that_goes_on_beside_its_bay_stands_on_top():
    columns = "{columns: [{rows: [open with lip]}, open]}"
    build = built(case(f"lip: {{stock: beech}}\n      bays: [{columns}, fixed shelf, open]"))
    lip = build.part("cabinet.shelf 1 lip")
    shelf = build.part("cabinet.shelf 1")
    assert lip.low(2) == shelf.high(2)
    assert (
        sizes(build, "cabinet.shelf 1")[1]
        == sizes(built(case("bays: [open, fixed shelf, open]")), "cabinet.shelf 1")[1]
    )
    assert sizes(build, "cabinet.shelf 1 lip")[0] == (764 - 18) / 2


def test_a_lip_without_a_stock_is_a_mistake():
    (found,) = told(case("bays: [open with lip, fixed shelf, open]"))
    assert "stock" in found.says


def test_a_case_on_castors_is_lower_by_their_height_so_that_the_whole_is_as_high_as_asked():
    build = built(case("stands on: {castors: 75 mm}"))
    # The table's 75 mm castor is 100 high over all.
    assert sizes(build, "cabinet.left side")[0] == 900 - 100
    assert float(build.part("cabinet.bottom").low(2)) == 100
    assert mm(build.assembly("cabinet").size[2]) == 900
    assert build.assembly("cabinet").swivels == 33


def test_castors_stand_clear_of_the_sides_and_four_screws_hold_each():
    build = built(case("stands on: {castors: 75 mm}"))
    boxes = [item.box for item in build.items if "castor" in item.kind]
    # A plate of 65 x 95 starts 18 (the side) + 6 in: its middle is at 24 + 32.5 and 24 + 47.5.
    spots = [(mm(x), mm(y)) for x, y in build.assembly("cabinet").feet]
    assert spots == [(56.5, 71.5), (800 - 56.5, 71.5), (56.5, 500 - 71.5), (800 - 56.5, 500 - 71.5)]
    assert all(box is not None and mm(box[1][2]) == 100 for box in boxes)
    assert len([f for f in build.fasteners if f.through.startswith("cabinet.castor")]) == 16


def test_six_castors_stand_in_two_rows_of_three():
    build = built(case("stands on: {castors: {size: 75 mm, count: 6}}"))
    assert len(build.assembly("cabinet").feet) == 6
    assert sorted({mm(x) for x, _ in build.assembly("cabinet").feet}) == [56.5, 400, 743.5]


def test_front_castors_lock_and_rear_ones_may_be_fixed():
    build = built(case("stands on: {castors: {size: 75 mm}}"))
    assert [i.kind for i in build.items] == ["75 mm locking castor"] * 2 + ["75 mm swivel castor"] * 2


def test_a_castor_that_nobody_sells_is_told_with_the_nearest():
    (found,) = told(case("stands on: {castors: 80 mm}"))
    assert "75 mm" in found.advice


def test_a_base_panel_adds_its_thickness_under_the_case():
    build = built(case("stands on: {base panel: {stock: ply18, castors: 75 mm}}"))
    assert sizes(build, "cabinet.left side")[0] == 900 - 100 - 18
    assert sizes(build, "cabinet.base panel") == (800, 500, 18)
    assert float(build.part("cabinet.base panel").low(2)) == 100


def test_a_plinth_stands_back_at_the_toes_and_its_sides_fit_between():
    build = built(case("stands on: {plinth: {high: 90, toe: 60}}"))
    assert sizes(build, "cabinet.plinth front") == (800, 90, 18)
    assert float(build.part("cabinet.plinth front").low(1)) == 60
    assert sizes(build, "cabinet.plinth left")[0] == mm(build.part("cabinet.back").at[1]) - 60 - 2 * 18
    assert sizes(build, "cabinet.left side")[0] == 900 - 90


def test_levelling_feet_stand_half_screwed_out():
    build = built(case("stands on: feet"))
    # The table's light foot goes from 10 to 30 high.
    assert float(build.part("cabinet.bottom").low(2)) == 20
    assert len([i for i in build.items if i.round]) == 4


def test_what_a_case_cannot_stand_on_is_told_once():
    (found,) = told(case("stands on: wheels"))
    assert "castors" in found.says
    assert len(told(case("stands on: {castors: 75 mm, plinth: 90}"))) == 1


@pytest.mark.parametrize("joint", ["rabbet", "groove"])
def test_the_screws_into_a_plinths_rear_miss_what_the_back_lies_in(joint: str):
    text = case("stands on: {plinth: {high: 90, toe: 60}}").replace("{stock: ply6}", f"{{stock: ply6, joint: {joint}}}")
    build = built(text)
    bottom, rear = build.part("cabinet.bottom"), build.part("cabinet.plinth rear")
    (channel,) = [cut for cut in bottom.cuts if isinstance(cut, Channel) and cut.joint.startswith("cabinet.back")]
    heads = [cut for cut in bottom.cuts if isinstance(cut, Bore) and cut.sink is not None]
    assert heads
    for cut in heads:
        assert cut.sink is not None
        assert float(cut.at[1]) + float(cut.sink) / 2 < float(channel.at[1])
    assert rear.high(1) <= build.part("cabinet.back").low(1)


def test_a_base_panel_is_screwed_on_from_below_where_no_shelf_keeps_a_driver_off():
    text = case("stands on: {base panel: {stock: ply18, castors: 75 mm}}\n      bays: [open, fixed shelf, open 120]")
    one = job(text)
    mine = [f for f in one.build.fasteners if f.through == "cabinet.base panel"]
    assert {(f.into, f.way) for f in mine} == {("cabinet.bottom", (0, 0, 1))}
    assert one.sequence.can_be
    assert not one.sequence.hurried
    there = [name for coming in one.sequence.comings for name in coming.moves]
    assert there.index("cabinet.shelf 1") < there.index("cabinet.base panel")
