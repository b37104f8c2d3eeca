"""Screws and nails along joints: how many, where, how long; checked by hand in millimetres and inches."""

import pytest

from storystick.model.cut import Bore, Side
from tests.craft.plans import case
from tests.told import built, mm, told

SCREWED = case("joint: screws")


def test_screws_stand_40_in_from_the_ends_and_no_farther_apart_than_150():
    build = built(SCREWED)
    spots = [mm(f.at[1]) for f in build.fasteners if f.joint == "cabinet.top in left side"]
    # 500 deep: 420 between the outer ones, three gaps of 140.
    assert spots == pytest.approx([40, 180, 320, 460])


def test_the_plan_may_set_spacing_and_ends():
    build = built(case("joint: {screws: {spacing: 100, from ends: 50}}"))
    spots = [mm(f.at[1]) for f in build.fasteners if f.joint == "cabinet.top in left side"]
    assert spots == pytest.approx([50, 150, 250, 350, 450])


def test_a_screw_is_about_three_times_as_long_as_the_board_under_its_head():
    build = built(SCREWED)
    # 3 x 18 = 54; chipboard screws of 4 mm are sold 45, 50, 60: 50 is nearest.
    assert {mm(f.length) for f in build.fasteners} == {50}
    assert {f.row for f in build.fasteners} == {"4.0 mm chipboard screw"}


def test_heads_lie_on_the_outside_and_screws_point_inward():
    build = built(SCREWED)
    left = next(f for f in build.fasteners if f.joint == "cabinet.top in left side")
    right = next(f for f in build.fasteners if f.joint == "cabinet.top in right side")
    assert (mm(left.at[0]), left.way) == (0, (1, 0, 0))
    assert (mm(right.at[0]), right.way) == (800, (-1, 0, 0))
    assert left.grain == "end"
    assert mm(left.at[2]) == 900 - 9  # the middle of the top


def test_the_host_gets_a_countersunk_clearance_hole_and_the_guest_a_pilot():
    build = built(SCREWED)
    through = [c for c in build.part("cabinet.left side").cuts if isinstance(c, Bore)]
    pilots = [c for c in build.part("cabinet.top").cuts if isinstance(c, Bore)]
    assert all(c.depth is None and c.side is Side.BACK and c.sink is not None for c in through)
    # 50 long, 18 of it in the side.
    assert {mm(c.depth) for c in pilots if c.depth} == {50 - 18}
    assert mm(through[0].diameter) > mm(pilots[0].diameter)


def test_a_guest_that_is_let_in_meets_the_thread_sooner():
    build = built(case("joint: {dado: {screws: 4 x 50}}"))
    pilots = [c for c in build.part("cabinet.top").cuts if isinstance(c, Bore)]
    # The dado is 6 deep: 12 are left under the head.
    assert {mm(c.depth) for c in pilots if c.depth} == {50 - 12}


def test_sizes_are_read_as_they_are_said():
    for said, row, long in (
        ('"#8 x 1 1/4 in"', "#8 wood screw", 31.75),
        ("4.5 x 45 mm", "4.5 mm chipboard screw", 45),
        ("4 x 40", "4.0 mm chipboard screw", 40),
        ('"#10 production screw x 2 in"', "#10 production screw", 50.8),
    ):
        build = built(case(f"joint: {{dado: {{screws: {said}}}}}"))
        assert {(f.row, round(mm(f.length), 2)) for f in build.fasteners} == {(row, long)}


def test_a_thin_edge_gets_a_thinner_screw():
    build = built(case("drawers: {stock: ply12, joint: screws, front: none}\n      bays: [drawer 200, open]"))
    screws = [f for f in build.fasteners if f.into == "cabinet.drawer 1.box front"]
    # Two diameters on either side: 12 / 4 = 3. Three times 12 is 36; screws of 3 mm are sold up to 30.
    assert {(f.row, mm(f.length)) for f in screws} == {("3.0 mm chipboard screw", 30)}


def test_under_a_thin_board_a_screw_still_has_15_mm_in_the_other():
    build = built(case("bays: open").replace("back: {stock: ply6}", "back: {stock: ply6, joint: screwed on}"))
    # 3 x 6 = 18, but 6 + 15 = 21: the nearest of 4 mm screws sold is 20.
    assert {mm(f.length) for f in build.fasteners} == {20}


def test_brads_stand_closer_and_bore_nothing():
    build = built(case("joint: nails"))
    spots = [mm(f.at[1]) for f in build.fasteners if f.joint == "cabinet.top in left side"]
    # 420 between the outer ones: five gaps of 84.
    assert spots == pytest.approx([40 + 84 * i for i in range(6)])
    assert not [c for p in build.parts for c in p.cuts if isinstance(c, Bore)]
    assert {f.kind for f in build.fasteners} == {"brad"}


def test_a_size_that_nobody_sells_is_told_with_its_line():
    text = case("joint: {dado: {screws: 99 x 40}}")
    (found,) = told(text)
    assert "99 x 40" in text.splitlines()[found.place.line - 1]


def test_a_back_laid_on_is_screwed_through_itself_into_the_edges():
    build = built(case("bays: open").replace("back: {stock: ply6}", "back: {stock: ply6, joint: screwed on}"))
    on_side = [f for f in build.fasteners if f.into == "cabinet.left side" and f.through == "cabinet.back"]
    assert {(mm(f.at[0]), f.way) for f in on_side} == {(9, (0, -1, 0))}  # the middle of an 18 mm edge
    on_bottom = [f for f in build.fasteners if f.into == "cabinet.bottom" and f.through == "cabinet.back"]
    assert {mm(f.at[2]) for f in on_bottom} == {9}
    assert len({mm(f.at[0]) for f in on_bottom}) > 2


def test_pocket_screws_come_out_in_the_middle_of_the_end():
    build = built(case("shelf joint: pocket screws\n      bays: [open, fixed shelf, open]"))
    part = build.part("cabinet.shelf 1")
    pockets = [c for c in part.cuts if isinstance(c, Bore) and c.called == "pocket hole"]
    assert {c.side for c in pockets} == {Side.BACK}  # from below, where nobody looks
    # From the middle of the end, 9 up at 15 degrees: 9 / tan 15 = 33.59 along the face.
    assert sorted({round(mm(c.at[0]), 2) for c in pockets}) == pytest.approx([33.59, mm(part.length) - 33.59], abs=0.01)
    # 9 / sin 15 = 34.77 along the slope, less 16 that stay under the head.
    assert {round(mm(c.depth), 2) for c in pockets if c.depth} == {18.77}
    assert {c.toward for c in pockets} == {(-1, 0), (1, 0)}


def test_pockets_may_be_drilled_from_the_face():
    build = built(case("shelf joint: {pocket screws: {from: face}}\n      bays: [open, fixed shelf, open]"))
    pockets = [c for c in build.part("cabinet.shelf 1").cuts if isinstance(c, Bore)]
    assert {c.side for c in pockets} == {Side.FACE}
    screw = build.fasteners[0]
    assert screw.way[2] < 0  # downward, from above
