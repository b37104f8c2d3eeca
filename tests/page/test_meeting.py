"""What runs into what is shown where it does; what moves takes along all that is on it."""

from typing import Any

import pytest

from storystick.app.page import answers
from storystick.app.page.meeting import where
from storystick.app.page.meshes import packed
from tests.told import job

PLAN = """\
title: Things in the way
units: mm
site:
  pedal: {box: [100, 80, 60], at: [200, 100, 640], slides: {way: down, by: 100}}
  cart:  {box: [500, 400, 200], at: [1200, 0, 0], slides: {way: right, by: 300}}
stock:
  ply: {sheet: birch plywood, readings: [18], sizes: {2440 x 1220: 80}}
build:
  one:
    case: {wide: 600, deep: 400, high: 600, stock: ply, bays: [open]}
    sits: floor
  two:
    case: {wide: 300, deep: 300, high: 500, stock: ply, bays: [open]}
    sits: {on: floor, left at: 590}
  chest:
    box: {wide: 400, deep: 300, high: 250, stock: ply}
    sits: {on: cart, left at: 1200}
  lid:
    slab: {stock: ply, covers: chest, held by: {hinges: chest}}
    sits: {on: chest, flush: {left: chest, back: chest}}
"""


@pytest.fixture(scope="module")
def told() -> Any:
    return job(PLAN)


def test_two_boards_in_one_place_are_shown_as_the_wood_they_share(told: Any):
    found = where(told, "one.right side", "two.left side")
    assert found["moves"] == {}
    solid = told.__dict__["bodies"][found["body"]]()
    assert solid.volume == pytest.approx(10 * 300 * 500)
    assert packed(told, [found["body"]])["bytes"]


def test_what_moves_is_stopped_where_it_first_runs_in(told: Any):
    found = where(told, "pedal", "one.top")
    [(name, share)] = found["moves"].items()
    assert name.startswith("pedal")
    assert 0.40 < share < 0.46  # 40 mm of 100 down to the top
    assert where(told, "one.top", "pedal")["moves"] == found["moves"]


def test_two_that_move_are_shown_where_they_meet_on_their_ways(told: Any):
    beside = job(
        PLAN.replace(
            "at: [200, 100, 640], slides: {way: down, by: 100}", "at: [1300, -60, 900], slides: {way: down, by: 500}"
        )
    )
    found = where(beside, "lid.top", "pedal")
    assert set(found["moves"]) <= {"lid", "pedal slides", "pedal"}
    assert found["moves"]


@pytest.mark.parametrize(
    "pair", [("one.left side", "two.left side"), ("one", "two"), ("", "nothing"), ("pedal", "pedal")]
)
def test_what_does_not_meet_is_not_shown(told: Any, pair: tuple[str, str]):
    assert where(told, *pair) == {}


def test_a_lid_takes_its_hinges_along_and_a_cart_all_that_stands_on_it(told: Any):
    moves = {move["name"]: move for move in answers.built(told)["picture"]["moves"]}
    assert {"lid.top", "lid hinge 1", "lid hinge 2"} <= set(moves["lid"]["names"])
    cart = next(move for name, move in moves.items() if name.startswith("cart"))
    assert {"cart", "chest.front", "lid.top", "lid hinge 1"} <= set(cart["names"])
    assert "one.top" not in cart["names"]
