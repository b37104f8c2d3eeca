"""Each check against a number that is not ours: a table, a standard, a textbook, a maker, or a sum done by hand.

The table below says for every check which test holds it to such a number, and whose number that is. What is new here
follows the table.
"""

from fractions import Fraction
from pathlib import Path

import pytest

from storystick.checks import shelf
from storystick.ground.finding import Grade
from storystick.model.build import Move, Slider
from storystick.model.joining import Item
from storystick.shop.tables import slides
from tests.checks.by_hand import board, bore, carcass, channel, mm, piece, ply, three, told, troubles
from tests.checks.test_shelf import found_in, text_of

TESTS = Path(__file__).parents[1]
INCH = Fraction("25.4")

VALIDATED: dict[str, tuple[str, str, str]] = {
    "blind-holes": ("checks/test_validated.py", "test_the_cup_of_a_hinge_leaves", "hinge makers: 11.5 to 13 deep"),
    "can-be-assembled": ("assembly/test_laws.py", "test_it_finds_an_order_exactly_where", "every order tried"),
    "castor-load": ("checks/test_standing.py", "test_each_castor_is_chosen_for", "310 lb and 200 lb: 170 lb each"),
    "castor-turns": ("checks/test_validated.py", "test_a_castor_reaches_its_offset", "1 3/8 in and half of 3 in"),
    "channel-depth": ("checks/test_validated.py", "test_the_depths_that_the_trade_cuts", "trade: 3/16 to 1/4 in"),
    "channel-lip": ("physics/test_fasteners.py", "test_a_lip_at_its_own_limit", "a cantilever of the textbook"),
    "drawer-bottom": ("checks/test_hanging.py", "test_a_square_bottom_sags", "Timoshenko, 0.00406"),
    "drawer-path": ("checks/test_validated.py", "test_a_swinging_door_needs", "the circle about its hinge"),
    "drawer-runs": ("checks/test_validated.py", "test_a_slide_wants_the_room", "slide makers: 0.2 to 0.5 mm a side"),
    "gaps-close": ("checks/test_validated.py", "test_a_front_of_oak_fills_its_gap", "Wood Handbook, Tables 4-2, 13-5"),
    "heavy-sheet": ("checks/test_standing.py", "test_a_sheet_of_mdf_is_broken_down", "43.8 kg, NIOSH 23 kg"),
    "hung-load": ("checks/test_hanging.py", "test_a_screw_is_pulled_as_the_specification", "NDS: 109 lbf an inch"),
    "joint-load": ("checks/test_hanging.py", "test_a_nail_is_pulled_and_pushed", "Wood Handbook, Table 8-4"),
    "leg-racking": ("checks/test_frames.py", "test_a_high_frame_is_held", "statics: F h over its corners"),
    "magnets-hold": ("physics/test_statics.py", "test_pull_by_finite_elements", "finite elements"),
    "not-held": ("checks/test_not_held.py", "test_a_loose_shelf_may_rest", "no number: held or not"),
    "nothing-left": ("checks/test_nothing_left.py", "test_a_notch_as_wide_as_the_board", "pieces counted by hand"),
    "part-too-large": ("checks/test_part_too_large.py", "test_the_real_size_of_a_birch_sheet", "the maker's sheet"),
    "parts-collide": ("checks/test_parts_collide.py", "test_a_shelf_that_is_too_long", "volume by hand"),
    "pin-load": ("checks/test_shelf_sag.py", "test_three_of_four_pins", "weight by hand, on three"),
    "racking": ("checks/test_standing.py", "test_a_case_without_a_back", "statics: F h / 4"),
    "screw-length": ("checks/test_screws.py", "test_too_little_thread", "NDS: six diameters"),
    "screw-place": ("checks/test_screws.py", "test_edge_and_end_distances_are_those", "NDS commentary"),
    "screws-meet": ("checks/test_laws.py", "test_two_screws_are_as_far_apart", "every pair of points tried"),
    "shelf-sag": ("checks/test_shelf_sag.py", "test_the_span_table_of_the_woodwork", "span table of the standard"),
    "shelf-strength": ("checks/test_tops.py", "test_bending_stress_is_the_moment", "M / S of the textbook"),
    "shop-door": ("checks/test_standing.py", "test_a_case_wider_than_the_door", "by hand"),
    "short-grain": ("checks/test_hanging.py", "test_solid_wood_with_its_grain", "by hand"),
    "site-clearance": ("checks/test_carried.py", "test_where_the_cart_does_not_tilt_far", "the circle of a corner"),
    "thin-web": ("checks/test_channel_depth.py", "test_two_channels_back_to_back", "by hand"),
    "tipping": ("checks/test_standing.py", "test_three_full_drawers_tip", "665 and 324 lb in"),
    "too-heavy": ("checks/test_too_heavy.py", "test_a_whole_sheet_of_mdf", "NIOSH 23 kg"),
    "tool-sizes": ("checks/test_tool_sizes.py", "test_an_eighth_of_an_inch", "an eighth of an inch is 3.175 mm"),
    "two-at-once": ("checks/test_carried.py", "test_a_drawer_open_while_the_cart_is_tilted", "a turn by hand"),
    "wall-load": ("checks/test_hanging.py", "test_each_screw_into_a_wall", "statics by hand"),
    "width-fit": ("checks/test_width_fit.py", "test_one_in_four_does_not_go_in", "2 000 000 draws: 0.2496"),
    "wood-movement": ("checks/test_wood.py", "test_it_moves_as_the_handbook_says", "Wood Handbook, eq. 13-2"),
}  # fmt: skip


def test_every_check_is_held_to_a_number_that_is_not_ours():
    assert list(VALIDATED) == list(shelf())


@pytest.mark.parametrize("code", VALIDATED)
def test_the_test_that_holds_it_is_there(code: str):
    file, begins, whose = VALIDATED[code]
    assert f"def {begins}" in (TESTS / file).read_text("utf-8"), f"{begins} is not in {file}"
    assert whose


@pytest.mark.parametrize(("door", "deep", "grade"), [(16, 12, Grade.FINE), (19, 13, Grade.FINE), (14, 13, Grade.CARE)])
def test_the_cup_of_a_hinge_leaves_wood_in_a_door_of_the_usual_thickness(door: int, deep: int, grade: Grade):
    cup = bore("cup", (22, 100), 35, deep)
    part = board("case.door", (0, 0, 0), (door, 400, 600), "zyx", cuts=[cup])
    found = told("blind-holes", piece(part))
    assert max(one.grade for one in found) == grade
    assert found[0].number == door - deep


@pytest.mark.parametrize(("deep", "is_fine"), [("3/16", True), ("1/4", True), ("1/2", False)])
def test_the_depths_that_the_trade_cuts_are_deep_enough_and_not_too_deep(deep: str, is_fine: bool):
    # Dadoes 3/16 to 1/4 in deep in 3/4 in stock.
    thick = Fraction(3, 4) * INCH
    dado = channel("dado", (0, 300), (400, 18), Fraction(deep) * INCH)
    found = told("channel-depth", piece(board("case.side", (0, 0, 0), (400, 600, thick), "xyz", ply(thick), [dado])))
    assert (found[0].grade == Grade.FINE) is is_fine


@pytest.mark.parametrize(("share", "is_fine"), [("1/2", True), ("2/3", True), ("3/4", False)])
def test_a_rabbet_takes_half_to_two_thirds(share: str, is_fine: bool):
    thick = Fraction(18)
    rabbet = channel("rabbet", (0, 0), (400, 9), Fraction(share) * thick)
    found = told("channel-depth", piece(board("case.side", (0, 0, 0), (400, 600, thick), "xyz", ply(thick), [rabbet])))
    assert (found[0].grade == Grade.FINE) is is_fine


@pytest.mark.parametrize(("spare", "is_fine"), [("0.2", True), ("0.5", True), ("0", False), ("1", False)])
def test_a_slide_wants_the_room_that_its_maker_says(spare: str, is_fine: bool):
    # Makers of side slides 12.7 mm (1/2 in) thick: 0.2 to 0.5 mm more at each side.
    row = slides()["full extension side slide"]
    wants = (mm(row.side_least_mm), mm(row.side_most_mm))
    slider = Slider("drawer", "case", "bay", mm(300), mm(Fraction("12.7") + Fraction(spare)), wants, row.name)
    found = told("drawer-runs", carcass(sliders=(slider,)))
    assert (max(one.grade for one in found) == Grade.FINE) is is_fine


@pytest.mark.parametrize(("away", "hits"), [(403, False), (397, True)])
def test_a_swinging_door_needs_the_circle_about_its_hinge(away: int, hits: bool):
    # A leaf 400 wide and 18 thick turns about its rear corner: its front corner goes round at hypot(400, 18) = 400.4.
    swing = Move("leaf", "swing", ("case.leaf",), about=three((0, 0, 0)), axis=2, degrees=(0.0, -90.0))
    leaf = board("case.leaf", (0, -18, 0), (400, 18, 600), "xzy")
    corner = Fraction(away) * Fraction("0.70710678")
    post = board("case.post", (corner, -corner - 50, 0), (50, 50, 600), "zxy")
    found = troubles("drawer-path", piece(leaf, post, moves=(swing,)))
    assert bool(found) is hits


def test_a_front_of_oak_fills_its_gap_as_the_handbook_says():
    # Wood Handbook: 6.2 % at 30 % of humidity and 12.0 % at 65 % (70 F); red oak 0.00369 a point, flat sawn.
    (found,) = found_in("gaps-close", text_of("gaps-close"))
    assert found.number == pytest.approx(3.0 - 257 * 0.00369 * (12.0 - 6.2), abs=0.08)
    assert found.grade == Grade.CARE


def test_a_front_fitted_with_the_gap_advised_stays_free():
    text = text_of("gaps-close")
    (found,) = found_in("gaps-close", text)
    more = float(found.advice.split("Make it ")[1].split(" mm")[0])
    after = next(iter(found_in("gaps-close", text.replace("reveal: 2 mm", f"reveal: {2 + more:.1f} mm"))))
    assert after.grade == Grade.FINE


@pytest.mark.parametrize(("away", "grade"), [(60, Grade.STOP), (72, Grade.STOP), (74, Grade.CARE), (80, Grade.FINE)])
def test_a_castor_reaches_its_offset_and_half_of_its_wheel(away: int, grade: Grade):
    # A 3 in swivel castor: 1 3/8 in from its stem to where it stands, and half of its wheel: 2 7/8 in, 73.0 mm.
    box = (three((0, 0, 0)), three((60, 60, 100)))  # its stem at 30, 30
    castor = Item("castor", "3 inch swivel castor", "", 1, "case", ("case.top",), box)
    top = board("case.top", (-100, -100, 100), (400, 400, 18))
    skirt = board("case.skirt", (-100, 30 - away - 18, 0), (400, 18, 60), "xzy")
    found = told("castor-turns", piece(top, skirt, items=(castor,)))
    assert found[0].grade == grade
    assert found[0].number == pytest.approx(away - float(Fraction("2.875") * INCH), abs=0.05)
