"""What a stranger reads at the bench: which way to clamp, where a piece stands, what hangs on what, what lifts off."""

import re
from functools import cache
from pathlib import Path

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.model.work import Setup, Stage, Step
from storystick.work.bench import caution
from storystick.work.jobs import as_one
from storystick.work.saying import so_many, spoken_all

SAMPLES = Path(__file__).parents[2] / "samples"


def text_of(name: str) -> str:
    """The text of a sample plan."""
    return (SAMPLES / f"{name}.yaml").read_text("utf-8")


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


WALL = """\
title: Wall cabinet
units: mm
site:
  wall: {box: [3000, 100, 2400], at: [-500, 300, 0]}
stock:
  ply: {sheet: birch plywood, sold as: 18 mm, readings: [17.8], sizes: {2440 x 1220: 88}}
build:
  cabinet:
    case:
      {wide: 800, deep: 300, high: 700, stock: ply, back: {stock: ply}, nailers: {}, doors: {leaves: pair, pull: knob}}
    sits: {bottom at: 1400, left at: 200, front at: 0, held by: [screws]}
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
    assert re.search(r"\d through Z into E", " ".join(fixed.does))


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


def test_a_hole_drilled_through_another_part_has_its_stop_set_through_both():
    # The box front is 11.75 mm, the screw's pilot in the front 13.65 mm deep: 25.4 mm, or 1 in, from the face drilled.
    step = next(one for one in sample("drawer-tower") if "drill in place" in one.title)
    (stop,) = [one for one in step.setups if one.name == "depth stop"]
    assert stop.to is not None
    assert abs(float(stop.to) - (11.75 + 13.65)) < 0.01
    assert 'which is 17/32" heavy beyond the part drilled through' in stop.says


def test_where_a_part_is_drilled_in_place_it_is_told_how_it_stands_there():
    said = told(sample("alcove-bookcase"), "Drill in place")
    assert "H: flush with the rest at the left and right, set back from the rest by 40 mm at the front." in said
    # What lies in a dado or a rabbet is held there: nothing is said of it.
    assert not re.search(r"\b[CDF]: (flush|set|standing)", told(sample("lathe-cabinet"), "Drill in place"))


def test_heights_with_no_board_between_are_measured_whole_and_the_last_takes_up_the_rest():
    steps = sample("drawer-tower")
    (dry,) = [one for one in steps if one.title == "Dry-fit the tower and measure it"]
    assert "No board stands between drawers 1 to 5 of the tower" in " ".join(dry.does)
    assert "drawer 5 of the tower takes up what it differs" in " ".join(dry.does)
    assert {name.rpartition(" ")[2] for name in dry.reads} == {"wide"}


def test_only_sizes_that_follow_an_opening_are_set_as_measured():
    lines = [line for one in sample("drawer-tower") if one.to_fit for line in one.does]
    sides = [line for line in lines if "drawer sides" in line]
    backs = [line for line in lines if "box backs" in line]
    assert sides
    assert backs
    assert not any("as measured" in line for line in sides)
    assert all("as measured" in line for line in backs)


def test_what_had_better_be_cut_last_is_not_in_the_dry_fit_it_is_measured_from():
    (dry,) = [one for one in sample("drawer-tower") if one.title == "Dry-fit the tower and measure it"]
    assert "tower.back" not in dry.parts
    assert "Measure for E back too, and cut it to that." in dry.does


def test_three_sides_of_a_box_are_pressed_against_the_fourth_set_there_dry():
    steps = [one for one in sample("drawer-tower") if re.search(r"Glue up drawer.*: side, box front", one.title)]
    for step in steps:
        assert "right side dry at the other end, for the clamps to press against" in " ".join(step.does)


def test_slides_and_pulls_are_told_so_that_they_can_be_bought_and_set():
    steps = sample("drawer-tower")
    # The fronts are 17.83 mm thick and inset; the box front behind them 11.75 mm.
    assert 'The front end of each slide stands 11/16" heavy behind' in told(steps, "slides: in the case")
    pulls = told(steps, "Fit the pulls")
    assert "Their screws go through the box front and the front" in pulls
    # 29.58 mm and 5 into the pull: of those sold (1, 1 1/4, 1 1/2, 1 3/4 in) the third; ten for five pulls.
    assert 'Take 10 x 8-32 pull screws (1 1/2" long) from the buying list.' in pulls
    lines = {(one.what, one.size): one.count for one in Job(Texts(text_of("drawer-tower"), "plan.yaml")).buying.lines}
    assert lines["8-32 pull screw", 'x 1 1/2"'] == 10


def test_a_pull_on_one_board_is_fixed_with_the_screws_that_come_with_it():
    text = text_of("drawer-tower").replace("front: inset, front stock: maple18, ", "front: none, ")
    one = Job(Texts(text, "plan.yaml"))
    step = next(step for step in one.order.steps if step.title == "Fit the pulls")
    assert 'with the screws that come with it (1" long)' in " ".join(step.does)
    assert not any("pull screw" in line.what for line in one.buying.lines)


def test_what_a_plan_accepts_for_a_reason_is_asked_for_where_the_piece_is_put():
    assert "it is screwed to the bench at its back" in told(sample("drawer-tower"), "Put the tower in its place")
    assert "two brackets at the top" in told(sample("alcove-bookcase"), "Put the bookcase in its place")


def test_wall_screws_are_driven_when_the_piece_hangs_and_not_on_the_bench():
    steps = steps_of(WALL)
    assert not [one for one in steps if one.stage is Stage.HARDWARE and "coach screw" in " ".join(one.does)]
    said = told(steps, "Put the cabinet in its place")
    assert re.search(r"Find the studs.* drive two 6 mm coach screws, \d+ mm long, with a washer", said)
    assert "Press each cup into its bore" in told(steps, "Fit the hinges")


def test_several_of_a_kind_are_told_by_their_numbers():
    assert spoken_all(["a.drawer 3", "a.drawer 1", "a.drawer 2"]) == "drawers 1 to 3 of the a"
    assert spoken_all(["a.drawer 4", "a.drawer 1"]) == "drawers 1 and 4 of the a"
    assert so_many(5, "3 inch pulls") == "five 3 inch pulls"
    assert so_many(2, "knobs") == "2 x knobs"


def test_an_edging_is_clamped_across_the_board_and_not_along_it():
    # The board is 26 in long and 12 in deep: a front edging is pressed on across it.
    steps = [one for one in sample("lathe-cabinet") if re.fullmatch("Glue up the work board: edging", one.title)]
    assert steps
    for step in steps:
        assert re.search(r'from front to back: \d clamps that open 12"', " ".join(step.does))


def test_layers_that_are_one_board_already_are_not_tried_dry():
    steps = steps_of(
        """title: Top
units: mm
stock:
  ply: {sheet: birch plywood, readings: [18], sizes: {2440 x 1220: 90}}
build:
  top: {slab: {stock: ply, layers: 2, wide: 900, deep: 500}}
"""
    )
    titles = [one.title for one in steps]
    assert any(title.startswith("Glue up the layers") for title in titles)
    assert not any(title.startswith("Dry-fit") for title in titles)
