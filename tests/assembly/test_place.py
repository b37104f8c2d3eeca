"""How the finished piece gets to its place, and each part through the door."""

from fractions import Fraction

import pytest

from storystick.assembly import put_together
from storystick.model.sequence import BroughtIn, Vector
from tests.told import job

FROM_FRONT, FROM_BACK, FROM_LEFT, FROM_RIGHT, DOWN = (
    (0.0, 1.0, 0.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0),
)  # fmt: skip
PLAN = """
title: between walls
units: mm
site:
  left wall:  {box: [100, 600, 2000], at: [-100, 0, 0]}
  right wall: {box: [100, 600, 2000], at: [800, 0, 0]}
  back wall:  {box: [1000, 100, 2000], at: [-100, 600, 0]}
MORE
stock:
  ply: {sheet: birch plywood, thickness: 18 mm}
build:
  case:
    case: {wide: WIDE, deep: 500, high: 900, stock: ply, STANDS}
    sits: {at: [0, 50, 0]}
"""


def brought(more: str = "", wide: int = 790, stands: str = "joint: dado") -> BroughtIn:
    text = PLAN.replace("MORE", more).replace("WIDE", str(wide)).replace("STANDS", stands)
    (one,) = job(text).sequence.brought
    return one


def barred(one: BroughtIn) -> dict[Vector, tuple[str, ...]]:
    return dict(one.hindered)


def test_between_three_walls_it_comes_from_the_front_or_from_above():
    one = brought()
    assert set(one.free) == {FROM_FRONT, DOWN}
    assert barred(one) == {FROM_LEFT: ("left wall",), FROM_RIGHT: ("right wall",), FROM_BACK: ("back wall",)}


def test_on_castors_it_comes_along_the_floor_only():
    one = brought(stands="stands on: castors")
    assert one.rolls
    assert one.free == (FROM_FRONT,)


def test_as_wide_as_the_opening_it_still_goes_in_and_a_millimetre_wider_it_does_not():
    assert FROM_FRONT in brought(wide=800).free
    tight = brought(wide=801)
    assert tight.free == ()
    assert barred(tight)[FROM_FRONT] == ("right wall",)


def test_a_pipe_across_the_way_in_leaves_only_the_way_from_above():
    one = brought("  pipe: {box: [900, 30, 30], at: [-50, -200, 300]}")
    assert one.free == (DOWN,)
    assert barred(one)[FROM_FRONT] == ("pipe",)


def test_a_leaning_brace_is_told_from_the_box_round_it():
    brace = "  brace: {{outline: [[0, {low}], [700, {high}], [700, {high} + 40], [0, {low} + 40]], seen from: front, "
    brace += "long: 40, at: [0, -300, 0]}}"
    over = brought(brace.format(low=900, high=1600))
    assert FROM_FRONT in over.free
    through = brought(brace.format(low=800, high=1600))
    assert barred(through)[FROM_FRONT] == ("brace",)


def test_room_to_be_left_free_is_no_hindrance_on_the_way():
    one = brought("  foot room: {box: [300, 300, 300], at: [100, -400, 0], stays free: yes}")
    assert FROM_FRONT in one.free


def test_without_anything_standing_there_nobody_asks():
    text = PLAN.replace("MORE", "").replace("WIDE", "700").replace("STANDS", "joint: dado")
    start, end = text.index("site:"), text.index("stock:")
    assert job(text[:start] + text[end:]).sequence.brought == ()


@pytest.mark.parametrize(("door", "big"), [((800, 2000), False), ((300, 400), True)])
def test_a_part_goes_through_the_door_with_its_two_smaller_sizes(door: tuple[int, int], big: bool):
    from dataclasses import replace

    one = job(PLAN.replace("MORE", "").replace("WIDE", "700").replace("STANDS", "joint: dado"))
    shop = replace(one.shop, door=(Fraction(door[0]), Fraction(door[1])))
    order = put_together(one.build, one.scene, shop)
    assert ("case.left side" in order.too_big) is big


def test_a_castored_cabinet_and_what_hangs_on_it_go_as_one():
    from tests.told import sample

    order = job(sample("lathe-cabinet")).sequence
    assert order.brought[0].names[:2] == ("cabinet", "gouge box")
    assert "work board" not in order.brought[0].names
