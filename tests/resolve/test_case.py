"""A case worked out by hand: 18 mm sheet, dadoes a third of it deep, in millimetres."""

import pytest

from tests.told import STOCK, built, mm, sizes, told

PLAN = f"""
title: a case
units: mm
{STOCK}
build:
  cabinet:
    case: {{wide: 800, deep: 400, high: 700, stock: ply, BAYS}}
"""


def case(bays: str) -> str:
    return PLAN.replace("BAYS", bays)


OPEN = case("bays: open")


def test_sides_run_past_and_top_and_bottom_reach_into_their_dadoes() -> None:
    build = built(OPEN)
    assert sizes(build, "cabinet.left side") == (700, 400, 18)
    assert sizes(build, "cabinet.top") == (800 - 2 * 18 + 2 * 6, 400, 18)  # a third of 18 is 6
    assert sizes(build, "cabinet.bottom") == (776, 400, 18)


def test_top_and_bottom_run_past_when_asked() -> None:
    build = built(OPEN.replace("stock: ply,", "stock: ply, run past: top and bottom,"))
    assert sizes(build, "cabinet.top")[0] == 800
    assert sizes(build, "cabinet.left side")[0] == 700 - 2 * 18 + 2 * 6


def test_a_butt_joint_makes_nothing_longer() -> None:
    build = built(OPEN.replace("stock: ply,", "stock: ply, joint: butt,"))
    assert sizes(build, "cabinet.top")[0] == 800 - 2 * 18


def test_a_stated_depth_is_the_depth_of_every_dado_in_that_stock() -> None:
    build = built(OPEN.replace("stock: ply,", "stock: ply, joint: {dado: {depth: 5}},"))
    assert sizes(build, "cabinet.top")[0] == 800 - 36 + 10
    assert {mm(cut.depth) for cut in build.part("cabinet.left side").cuts} == {5}  # type: ignore[union-attr,arg-type]


def test_clear_width_may_be_given_instead_of_the_width_over_all() -> None:
    build = built(OPEN.replace("wide: 800", "inside wide: 764"))
    assert mm(build.pages["cabinet.wide"]) == 800


def test_both_widths_at_once_are_a_mistake_with_its_line() -> None:
    (found,) = told(OPEN.replace("wide: 800", "wide: 800, inside wide: 764"))
    assert found.place.line == 7
    assert "inside wide" in found.says


def test_left_and_right_are_mirror_images_and_get_letters_of_their_own() -> None:
    build = built(case("bays: [open, fixed shelf, open]"))
    left, right = build.part("cabinet.left side"), build.part("cabinet.right side")
    assert left.letter != right.letter or all(mm(c.at[1]) == 0 for c in left.cuts)  # type: ignore[union-attr]
    assert left.is_left_handed != right.is_left_handed


def test_parts_that_are_alike_share_a_letter() -> None:
    build = built(case("bays: [open, fixed shelf, open, fixed shelf, open]"))
    assert build.part("cabinet.shelf 1").letter == build.part("cabinet.shelf 2").letter


def test_two_columns_share_what_the_divider_leaves() -> None:
    build = built(case("bays: {columns: [open, open]}"))
    assert mm(build.pages["cabinet.column 1.wide"]) == (800 - 36 - 18) / 2
    assert mm(build.part("cabinet.divider 1").at[0]) == 18 + (800 - 36 - 18) / 2


def test_a_column_with_a_width_leaves_the_rest_to_the_others() -> None:
    build = built(case("bays: {columns: [{wide: 200, open: yes}, {open: yes, share: 2}, open]}"))
    rest = 800 - 36 - 2 * 18 - 200
    assert mm(build.pages["cabinet.column 2.wide"]) == pytest.approx(rest * 2 / 3)
    assert mm(build.pages["cabinet.column 3.wide"]) == pytest.approx(rest / 3)


def test_rows_that_do_not_add_up_are_told_with_their_sum() -> None:
    (found,) = told(case("bays: [open 300, fixed shelf, open 300]"))
    assert "618 mm" in found.says
    assert "664 mm" in found.says


def test_a_shelf_stops_at_the_back() -> None:
    text = case("bays: [open, fixed shelf, open], back: {stock: ply, joint: groove, in by: 10}")
    assert sizes(built(text), "cabinet.shelf 1")[1] == 400 - 10 - 18


def test_a_back_in_grooves_is_a_millimetre_shy_of_each_floor() -> None:
    text = case("bays: open, back: {stock: ply, joint: groove}")
    long, wide, _ = sizes(built(text), "cabinet.back")
    inside_wide, inside_high, reach = 800 - 36, 700 - 36, 6 - 1
    assert (long, wide) == (max(inside_wide, inside_high) + 2 * reach, min(inside_wide, inside_high) + 2 * reach)


def test_a_back_in_a_rabbet_goes_in_by_half_the_side_less_a_whisker() -> None:
    long, wide, _ = sizes(built(case("bays: open, back: {stock: ply, joint: rabbet}")), "cabinet.back")
    assert (long, wide) == (764 + 2 * (9 - 0.5), 664 + 2 * (9 - 0.5))


def test_a_back_screwed_on_covers_the_case_and_counts_in_the_depth() -> None:
    build = built(case("bays: open, back: {stock: ply, joint: screwed on}"))
    assert sizes(build, "cabinet.back")[:2] == (800, 700)
    assert sizes(build, "cabinet.left side")[1] == 400 - 18


def test_columns_within_rows_within_columns() -> None:
    left, right = "{rows: [open, fixed shelf, {columns: [open, open, open]}]}", "{rows: [open, fixed shelf, open]}"
    bays = f"bays: {{columns: [{left}, {right}]}}"
    build = built(case(bays))
    assert len([p for p in build.parts if p.role == "divider"]) == 3
    inner = (((800 - 36 - 18) / 2) - 2 * 18) / 3
    assert mm(build.pages["cabinet.column 3.wide"]) == pytest.approx(inner)
