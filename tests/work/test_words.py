"""What a stranger reads at the bench: which way to clamp, where a piece stands, what hangs on what, what lifts off."""

import re
from functools import cache
from pathlib import Path

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.model.work import Setup, Stage, Step
from storystick.work.bench import caution
from storystick.work.jobs import as_one

SAMPLES = Path(__file__).parents[2] / "samples"

CHEST = """\
title: Chest
units: inch
stock:
  ply: {sheet: birch plywood, sold as: 18 mm, readings: [17.8 mm], sizes: {4 ft x 8 ft: 92}}
build:
  chest:
    box: {wide: 30, deep: 16, high: 14, stock: ply, joint: rabbet}
    sits: floor
  lid:
    slab: {stock: ply, covers: chest, overhang: {front: 1}, held by: {hinges: {on: chest}}}
    sits: {on: chest, flush: {left: chest, back: chest}}
"""
BENCH = """\
title: Bench
units: mm
site:
  left wall: {box: [100, 1000, 2400], at: [-100, 0, 0]}
  back wall: {box: [3000, 100, 2400], at: [0, 800, 0]}
stock:
  ply: {sheet: birch plywood, sold as: 18 mm, readings: [17.8], sizes: {2440 x 1220: 88}}
build:
  case:
    case: {wide: 800, deep: 400, high: 700, stock: ply, bays: [open]}
    sits: {on: floor, left at: 120, front at: 370}
  top:
    slab: {stock: ply, wide: 860, deep: 440}
    sits: {on: case, left at: 90, front at: 350, held by: [screws]}
"""


@cache
def steps_of(text: str) -> tuple[Step, ...]:
    return Job(Texts(text, "plan.yaml")).order.steps


def sample(name: str) -> tuple[Step, ...]:
    return steps_of((SAMPLES / f"{name}.yaml").read_text("utf-8"))


def told(steps: tuple[Step, ...], title: str) -> str:
    return " ".join(text for step in steps if re.search(title, step.title) for text in step.does)


def test_a_back_that_would_hide_the_screws_of_a_box_goes_on_after_the_box_is_fixed():
    steps = sample("lathe-cabinet")
    fixed = next(step for step in steps if step.title == "Fix the gouge box to the cabinet")
    back = next(step for step in steps if step.title == "Glue up the gouge box: back")
    assert fixed.number < back.number
    assert "gouge box.back" not in fixed.parts
    assert "8 through Z into E" in " ".join(fixed.does)


def test_what_is_glued_into_what_is_told_by_the_trough_it_goes_into():
    said = told(sample("lathe-cabinet"), "Glue up the cabinet: bottom")
    assert "C cabinet bottom and D cabinet top into the rabbets of A and B" in said
    assert "F cabinet divider 1 into the dados of C and D" in said
    assert "M drawer 1 bottom into the grooves of H" in told(sample("lathe-cabinet"), "1 .*bottom$")


def test_a_back_is_clamped_the_way_it_is_laid_in_and_not_across_the_whole_height():
    said = told(sample("alcove-bookcase"), "Glue up the bookcase: back")
    assert "from front to back" in said
    assert "1900 mm" not in said


def test_each_loose_shelf_is_laid_on_its_pins_and_the_hole_is_told():
    steps = sample("lathe-cabinet")
    (step,) = (step for step in steps if step.title == "Fit the shelf pins")
    assert "cabinet.shelf 2" in step.parts
    said = " ".join(step.does)
    assert "in the third hole of each row from below" in said
    assert "; lay V cabinet shelf 2 on them" in said
    # The side stands on the reference end that its holes are measured from, the divider in a dado of the bottom.
    assert re.search(r'[\d/" ]+ (scant |heavy )?up F and [\d/" ]+ (scant |heavy )?up B', said)


def test_castors_that_lock_are_told_apart_from_those_that_do_not():
    said = told(sample("lathe-cabinet"), "Fit the castors")
    assert "Two 3 inch locking castors on W cabinet base panel, at the front." in said
    assert "Two 3 inch swivel castors on W cabinet base panel, at the back." in said


def test_the_screws_of_slides_are_counted_apart_for_case_and_drawers():
    steps = sample("lathe-cabinet")
    assert "12 x #6 pan head screws" in told(steps, "slides: in the case")
    assert "12 x #6 pan head screws" in told(steps, "slides: on the drawers")


def test_a_piece_is_put_down_by_what_can_be_measured_there():
    said = told(steps_of(BENCH), "Put the case in its place")
    assert "Its left side 120 mm from the left wall and its back 30 mm from the back wall." in said


def test_a_top_is_told_by_how_far_it_stands_over_what_carries_it():
    said = told(steps_of(BENCH), "the top in its place")
    assert "Standing over it by 30 mm at the left, 30 mm at the right, 20 mm at the front and 20 mm at the back" in said
    assert "Screw it on from below" in said


def test_a_slanting_leg_is_measured_to_where_it_is_level_with_the_piece():
    # The leg's foot is 3 in wide and leans in by 3 1/4 in over 33 7/16 in; the cabinet stands 27 in high, 6 7/8 in off.
    said = told(sample("lathe-cabinet"), "Put the cabinet in its place")
    assert "left leg" in said
    gap = 6.875 - (3 + 3.25 * 27 / 33.4375)
    assert f"{round(gap * 32) / 32}" == "1.25"
    assert '1 1/4" from the left leg' in said


def test_strips_that_are_scribed_to_the_walls_come_after_the_case_they_go_in_front_of():
    titles = [step.title for step in sample("alcove-bookcase") if step.stage is Stage.INSTALL]
    assert titles[0] == "Put the bookcase in its place"
    assert "plane it until it fits, then glue it" in told(sample("alcove-bookcase"), "left scribe in its place")


def test_a_lid_on_hinges_is_not_laid_on_by_hand():
    steps = steps_of(CHEST)
    assert not [step for step in steps if "lid in its place" in step.title]
    assert [step for step in steps if step.title == "Fit the hinges"]


def test_only_what_is_heavy_is_called_heavy():
    steps = sample("lathe-cabinet")
    put = {step.title: step.caution for step in steps if step.stage is Stage.INSTALL}
    assert "eavy" in put["Put the cabinet in its place"]
    assert not put["Lay the work board in its place"]


@pytest.mark.parametrize("name", ["lathe-cabinet", "drawer-tower"])
def test_a_plan_in_inches_says_no_gap_in_millimetres(name: str):
    for step in sample(name):
        for text in step.does:
            assert not re.search(r"\d mm", text.replace("6 mm (1/4 in)", "")), text


def test_settings_that_differ_only_in_the_edge_are_told_of_both_edges():
    one = Setup("k", "router", "bit", "guide", None, "edge guide 3 in from the bit, along the reference edge")
    other = Setup("k", "router", "bit", "guide", None, "edge guide 3 in from the bit, along the far edge")
    (both,) = as_one([one, other, one])
    assert both.says == "edge guide 3 in from the bit, along the reference edge and along the far edge"


def test_a_caution_of_common_practice_claims_no_source():
    assert "source" not in caution("narrow rip")
    assert "NIOSH" in caution("heavy lift")


def test_holes_are_named_by_what_goes_into_them():
    titles = [step.title for step in sample("lathe-cabinet") if step.stage is Stage.DRILL]
    assert "Drill the pilot holes for the castors' #10 pan head screws" in titles
