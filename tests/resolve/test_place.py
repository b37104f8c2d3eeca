"""Where things stand: each relation against a site of plain boxes, in millimetres."""

import pytest

from storystick.model.build import Build
from tests.told import STOCK, built, mm, told

PLAN = f"""
title: places
units: mm
{STOCK}
site:
  bench: {{box: [1000, 600, 850], at: [100, 200, 0]}}
  post:  {{box: [50, 50, 2000], at: [2000, 200, 0]}}
  stand: {{frame: [700, 500, 600], tube: 40 mm, at: [0, 1500, 0]}}
build:
  box:
    case: {{wide: 300, deep: 200, high: 400, stock: ply}}
    sits: SITS
"""


def placed(sits: str) -> tuple[float, float, float]:
    return corner(built(PLAN.replace("SITS", sits)))


def corner(build: Build) -> tuple[float, float, float]:
    at = build.assembly("box").at
    return mm(at[0]), mm(at[1]), mm(at[2])


@pytest.mark.parametrize(
    ("sits", "at"),
    [
        ("floor", (0, 0, 0)),
        ("{on: bench}", (0, 0, 850)),
        ("{on: {bench: 10}}", (0, 0, 860)),
        ("{on: bench, centred: bench}", (100 + 350, 200 + 200, 850)),
        ("{left of: post}", (1700, 0, 0)),
        ("{left of: {post: 5}}", (1695, 0, 0)),
        ("{right of: bench}", (1100, 0, 0)),
        ("{in front of: {post: 3}}", (0, -3, 0)),
        ("{behind: bench}", (0, 800, 0)),
        ("{under: bench, left at: 5}", (5, 0, 450 - 0 - 400 + -50)),
        ("{flush: {right: bench, back: bench}, on: bench}", (800, 600, 850)),
        ("{centred between: [bench, post]}", (1100 + (900 - 300) / 2, 0, 0)),
        ("{level: 900}", (0, 0, 500)),
        ("{level with: bench}", (0, 0, 450)),
        ("{against: back of bench}", (0, 800, 0)),
        ("{hung on: back of bench, centred: {wide: bench}, bottom at: 100}", (450, 800, 100)),
        ("{at: [1, 2, 3]}", (1, 2, 3)),
        ("{on: floor, left at: stand.inside.left, front at: stand.inside.front}", (40, 1540, 0)),
        ("{bottom at: bench.top - 10}", (0, 0, 840)),
    ],
)
def test_a_relation_puts_it_where_a_woodworker_would(sits: str, at: tuple[float, float, float]) -> None:
    if "under" in sits:
        at = (5, 0, 0 - 400)  # under a bench that stands on the floor there is only the ground
    assert placed(sits) == at


def test_a_quarter_turn_swaps_width_and_depth() -> None:
    assert placed("{left of: post, turned: left}") == (1800, 0, 0)


def test_two_relations_for_one_way_are_a_mistake() -> None:
    (found,) = told(PLAN.replace("SITS", "{left of: post, right of: bench}"))
    assert "left to right" in found.says


def test_a_misspelt_thing_is_told_with_the_nearest() -> None:
    (found,) = told(PLAN.replace("SITS", "{on: bensh}"))
    assert "bench" in found.advice
    assert found.place.line == 12


def test_things_that_need_one_another_are_told_as_a_circle() -> None:
    text = (
        PLAN.replace("SITS", "{on: shelf}")
        + "  shelf: {case: {wide: box.wide, deep: 200, high: 100, stock: ply}, sits: {on: box}}\n"
    )
    assert any("round in a circle" in f.says for f in told(text))


def test_an_entry_may_speak_of_one_that_is_written_later() -> None:
    text = PLAN.replace("SITS", "{on: table, left at: table.left}") + (
        "  table: {case: {wide: 500, deep: 400, high: 300, stock: ply}, sits: {left at: 70}}\n"
    )
    assert placed_in(text) == (70, 0, 300)


def placed_in(text: str) -> tuple[float, float, float]:
    return corner(built(text))


def test_the_inside_of_a_frame_has_names() -> None:
    pages = built(PLAN.replace("SITS", "floor")).pages
    assert mm(pages["stand.inside.wide"]) == 700 - 80
    assert mm(pages["stand.inside.top"]) == 560


def test_a_piece_between_two_things_is_a_fit() -> None:
    build = built(PLAN.replace("SITS", "{centred between: [bench, post]}"))
    (fit,) = [f for f in build.fits if f.goes_in == "box"]
    assert mm(fit.gap) == 900 - 300
    turned = built(PLAN.replace("SITS", "{centred between: [bench, post], turned: left}"))
    (fit,) = [f for f in turned.fits if f.goes_in == "box"]
    assert mm(fit.gap) == 900 - 200
