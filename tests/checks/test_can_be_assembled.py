"""Whether it can be put together, as it is told: what can't be, what has to wait, what stands in its way."""

from dataclasses import replace
from fractions import Fraction

from storystick.assembly import put_together
from storystick.checks import run_one, shelf
from storystick.ground.finding import Finding, Grade
from storystick.model.check import Asked
from tests.told import job

CODE = "can-be-assembled"
HEAD = """title: t
units: mm
stock:
  ply: {sheet: birch plywood, thickness: 18 mm}
  thin: {sheet: birch plywood, thickness: 12 mm}
"""
MADE = "    case: {wide: 600, deep: 400, high: 700, stock: ply, back: {stock: thin, joint: rabbet}}\n"
CASE = f"{HEAD}build:\n  case:\n{MADE}"
BOX = "  box:\n    box: {wide: 300, deep: 60, high: 400, stock: thin, joint: rabbet, screwed to: case}\n"
HUNG = BOX + "    sits: {hung on: back of case, bottom at: 100, left at: 50}\n"
ROOM = """site:
  left:  {box: [50, 400, 900], at: [-50, 0, 0]}
  right: {box: [50, 400, 900], at: [600, 0, 0]}
  back:  {box: [700, 50, 900], at: [-50, 400, 0]}
  lid:   {box: [700, 400, 50], at: [-50, 0, 900]}
  bar:   {box: [50, 50, 50], at: [300, -200, 300]MOVE}
"""


def told(text: str) -> list[Finding]:
    one = job(text)
    asked = Asked(one.build, one.scene, one.shop, one.sequence)
    return list(run_one(shelf()[CODE], asked))


def worse(text: str) -> list[Finding]:
    return [one for one in told(text) if one.grade > Grade.FINE]


def test_the_order_is_told_in_the_words_of_the_bench():
    (found,) = told(CASE)
    assert found.grade is Grade.FINE
    assert found.says.startswith("Everything comes in straight. case: left side first, bottom from the right, ")
    assert found.says.endswith("back from the back.")


def test_a_box_that_has_to_be_closed_after_it_is_hung_is_told():
    (found,) = worse(CASE + HUNG)
    assert found.grade is Grade.NOTE
    assert found.about == ("box.back",)
    assert "only after box is fixed to case" in found.says


def test_what_shuts_the_piece_out_of_its_place_is_named_way_by_way():
    (found,) = worse(CASE.replace("stock:", ROOM.replace("MOVE", "") + "stock:", 1))
    assert found.grade is Grade.CARE
    for one, way in (("bar", "from the front"), ("left", "from the left"), ("lid", "from above")):
        assert f"{one} is in the way {way}" in found.says


def test_what_can_be_moved_aside_is_only_worth_a_note():
    room = ROOM.replace("MOVE", ", slides: {way: down, by: 300}")
    (found,) = worse(CASE.replace("stock:", room + "stock:", 1))
    assert found.grade is Grade.NOTE
    assert "from the front while bar is moved out of the way" in found.advice


def test_a_part_that_the_door_does_not_let_through_is_told():
    one = job(CASE)
    shop = replace(one.shop, door=(Fraction(300), Fraction(350)))
    order = put_together(one.build, one.scene, shop)
    asked = Asked(one.build, one.scene, shop, order)
    (found,) = [each for each in run_one(shelf()[CODE], asked) if each.grade is Grade.CARE]
    assert "door of the shop" in found.says
    assert set(found.about) == {f"case.{name}" for name in ("left side", "right side", "bottom", "top", "back")}


def test_where_nobody_sought_an_order_nothing_is_said():
    one = job(CASE)
    assert list(run_one(shelf()[CODE], Asked(one.build, one.scene, one.shop))) == []
