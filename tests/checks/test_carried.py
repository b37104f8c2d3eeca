"""Motions of more than one thing: tilted with a carrier, opened while tilted, rolled in along a way, kept free."""

import re

import pytest

from storystick.ground.finding import Finding, Grade
from tests.checks.test_shelf import found_in

STOCK = """\
units: mm
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [18 mm], sizes: {2440 x 1220: 90}}
  ply12: {sheet: birch plywood, sold as: 12 mm, readings: [12 mm], sizes: {2440 x 1220: 70}}
  ply6: {sheet: birch plywood, sold as: 6 mm, readings: [6 mm], sizes: {2440 x 1220: 40}}
"""
CASE = """\
build:
  case:
    case:
      wide: 600
      deep: 400
      high: 700
      stock: ply18
      drawers: {stock: ply12, bottom stock: ply6, front: inset, front stock: ply18, runs on: slides}
"""
CART = f"""{STOCK}
site:
  cart: {{box: [700, 500, 300], at: [0, 0, 0], tilts: {{about: front bottom, by: ANGLE deg, toward: front}}}}
  wall: {{box: [2000, 100, 2400], at: [-500, WALL, 0], keep clear: 20}}
build:
  case:
    case: {{wide: 600, deep: 400, high: 500, stock: ply18, back: {{stock: ply6}}}}
    sits: {{on: cart, centred: cart}}
"""
DRAWER = CART.replace(
    "back: {stock: ply6}",
    "drawers: {stock: ply12, bottom stock: ply6, front: inset, front stock: ply18, runs on: slides}, "
    "bays: [drawer 120, open]",
)
NOOK = f"""{STOCK}
site:
  left wall: {{box: [100, 2000, 2400], at: [-110, -700, 0]}}
  right wall: {{box: [100, 1300, 2400], at: [610, 0, 0]}}
  back wall: {{box: [820, 100, 2400], at: [-110, 500, 0]}}
  front wall: {{box: [2000, 100, 2400], at: [-110, -800, 0]}}
build:
  case:
    case: {{wide: 600, deep: 400, high: 700, stock: ply18, back: {{stock: ply6}}}}
    sits: {{on: floor, comes in: [{{from: right, by: 1000}}, {{from: front, by: FAR}}]}}
"""


def bad(code: str, text: str) -> list[Finding]:
    return [one for one in found_in(code, text) if one.grade >= Grade.CARE]


def cart(angle: float, wall: int, text: str = CART) -> str:
    return text.replace("ANGLE", f"{angle:g}").replace("WALL", str(wall))


def test_a_piece_that_tilts_with_its_cart_runs_into_the_wall_and_stopped_as_advised_does_not():
    # Its upper front edge turns about the cart's: radius hypot(50, 800), 800 up at 0; the wall's face is at -400.
    (found,) = bad("site-clearance", cart(40, -500))
    assert found.grade == Grade.STOP
    assert found.about[1] == "wall"
    stop = float(re.findall(r"after ([\d.]+) degrees", found.advice)[0])
    assert 20 < stop < 40
    assert not bad("site-clearance", cart(stop, -500))
    assert bad("site-clearance", cart(stop + 2, -500))


def test_where_the_cart_does_not_tilt_far_the_corner_is_as_far_off_as_the_circle_says():
    # At 20 degrees the corner is at y = 50 cos 20 - 800 sin 20 = -226.6: 173.4 from the wall at -400, over 100 away.
    assert not bad("site-clearance", cart(20, -500))
    # At 30 degrees: 43.3 - 400 = -356.7, 43.3 from it.
    (found,) = found_in("site-clearance", cart(30, -500))
    assert found.number == pytest.approx(43.3, abs=0.2)


def test_what_stands_on_the_cart_does_not_collide_with_the_cart():
    assert not [one for one in found_in("site-clearance", cart(30, -500)) if one.about[1] == "cart" and one.number < 0]


def test_a_drawer_open_while_the_cart_is_tilted_hits_what_neither_does_alone():
    # Its front is at about -300 when open, 700 up: tilted 30 degrees at -300 cos 30 - 700 sin 30 = -610; wall at -620.
    assert not bad("site-clearance", cart(30, -720, DRAWER))
    (found,) = bad("two-at-once", cart(30, -720, DRAWER))
    assert "drawer" in found.says
    assert "cart" in found.says
    assert not bad("two-at-once", cart(30, -1200, DRAWER))


def test_a_cabinet_rolled_in_round_the_corner_comes_to_its_place():
    assert not bad("site-clearance", NOOK.replace("FAR", "450"))


def test_a_way_in_that_cuts_the_corner_is_told():
    (found,) = bad("site-clearance", NOOK.replace("FAR", "200"))
    assert found.grade == Grade.STOP
    assert found.about[1] == "right wall"
    assert "on its way in" in found.says
    wall = [one for one in bad("site-clearance", NOOK.replace("FAR", "705")) if one.about[1] == "front wall"]
    assert wall


@pytest.mark.parametrize(("key", "hits"), [("at: [100, -200, 400]", True), ("at: [100, -900, 400]", False)])
def test_the_room_for_a_hand_at_a_switch_is_not_entered_by_a_drawer(key: str, hits: bool):
    text = f"""{STOCK}
site:
  way to the switch: {{box: [200, 100, 200], {key}, stays free: yes}}
{CASE}      bays: [open, drawer 200, open]
"""
    found = bad("site-clearance", text)
    assert bool(found) is hits
    assert all("enters the room to be left free" in one.says for one in found)


def test_a_lid_and_a_drawer_at_once():
    text = f"""{STOCK}
build:
  chest:
    case:
      wide: 600
      deep: 400
      high: 500
      stock: ply18
      top: rails
      drawers: {{stock: ply12, bottom stock: ply6, front: inset, front stock: ply18, runs on: slides}}
      bays: [open, drawer 120]
  lid:
    slab: {{stock: ply18, covers: chest, held by: {{hinges: {{on: chest, edge: EDGE, opens: OPENS deg}}}}}}
    sits: {{on: chest, centred: chest}}
"""
    for edge, opens, clash in (("back", 95, False), ("front", 250, True)):
        plan = text.replace("EDGE", edge).replace("OPENS", str(opens))
        found = bad("two-at-once", plan)
        assert bool(found) is clash, [one.says for one in found_in("two-at-once", plan)]


CORNER = f"""{STOCK}
site:
  left wall: {{box: [100, 1400, 2400], at: [-110, -900, 0]}}
  right wall: {{box: [100, 500, 2400], at: [610, 0, 0]}}
  back wall: {{box: [820, 100, 2400], at: [-110, 500, 0]}}
  front wall: {{box: [2000, 100, 2400], at: [-110, FRONT, 0]}}
build:
  case:
    case:
      wide: 600
      deep: 400
      high: 700
      stock: ply18
      back: {{stock: ply6}}
      stands on: {{base panel: {{stock: ply18, castors: 75 mm}}}}
    sits: {{on: floor WAY}}
"""


def test_where_no_straight_way_leads_in_one_round_a_corner_is_found_and_said_in_the_plan_it_holds():
    # The right wall begins at the case's front: out by its own depth, 400, it goes off to the right.
    text = CORNER.replace("FRONT", "-900")
    (found,) = [one for one in found_in("can-be-assembled", text.replace("WAY", "")) if one.grade > Grade.FINE]
    assert found.grade == Grade.NOTE
    assert "from the right, the last 400 mm from the front" in found.says
    said = text.replace("WAY", ", comes in: [{from: right, by: 1000}, {from: front, by: 400}]")
    assert not [one for one in found_in("can-be-assembled", said) if one.grade > Grade.FINE]
    assert not bad("site-clearance", said)


def test_where_there_is_no_room_to_turn_no_way_round_the_corner_is_told():
    text = CORNER.replace("FRONT", "-480").replace("WAY", "")  # 380 before it, and it is 400 deep
    (found,) = bad("can-be-assembled", text)
    assert "Round a corner" not in found.says


@pytest.mark.parametrize(("x", "stops"), [(20, True), (200, False)])
def test_nothing_may_stand_where_the_slides_of_a_drawer_run(x: int, stops: bool):
    # The sides are 18 thick and the slides take 13 beside the box: a strip of 6 mm at 20 stands in their room.
    text = f"""{STOCK}
{CASE}      bays: [drawer 150, open]
  strip:
    board: {{long: 100, wide: 300, stock: ply6, lies: as a side}}
    sits: {{at: [{x}, 60, HIGH]}}
"""
    found = [one for one in found_in("drawer-runs", text.replace("HIGH", "560")) if "room of the slides" in one.says]
    assert [one.grade for one in found] == ([Grade.STOP] if stops else [])
    if stops:
        assert found[0].number == pytest.approx(6, abs=0.01)
    assert not [one for one in found_in("drawer-runs", text.replace("HIGH", "300")) if "room of the slides" in one.says]
