"""Drawers worked out by hand: 18 mm case, 12 mm boxes, 6 mm bottoms, in millimetres."""

import pytest

from storystick.model.cut import Bore, Channel, Notch, Side
from tests.craft.plans import case
from tests.told import built, mm, sizes, told

# Inside the case: 800 - 2 x 18 = 764 wide; 500 - 10 (wood behind the back's groove) - 6 (back) = 484 deep.
BOX = "drawers: {stock: ply12, bottom stock: ply6, MORE}\n      bays: [drawer 200, open]"


def drawer(more: str = "front: inset") -> str:
    return case(BOX.replace("MORE", more))


def test_a_box_on_slides_is_narrower_than_its_opening_by_two_slides_and_their_play():
    build = built(drawer())
    # The table's slide: 12.7 thick, wants 12.9 to 13.2 at each side; the middle is 13.05.
    assert mm(build.pages["cabinet.drawer 1.box wide"]) == pytest.approx(764 - 2 * 13.05)
    (slider,) = build.sliders
    assert mm(slider.side_gap) == pytest.approx(13.05)
    assert [mm(w) for w in slider.wants] == pytest.approx([12.9, 13.2])


def test_slides_are_the_longest_that_go_in_behind_an_inset_front():
    build = built(drawer())
    # 484 inside, less 18 of front, less 6 of air: 460. In millimetres 450 and 500 are sold, in inches 18 and 20.
    assert mm(build.pages["cabinet.drawer 1.box deep"]) == pytest.approx(450)
    assert sizes(build, "cabinet.drawer 1.left side")[0] == pytest.approx(450)
    assert mm(build.sliders[0].travel) == pytest.approx(450)  # full extension
    (slides,) = (item for item in build.items if item.carries)
    assert (slides.count, slides.unit, slides.carries) == (1, "pair", "cabinet.drawer 1")


def test_an_overlay_front_leaves_the_slides_the_depth_of_the_case():
    build = built(drawer("front: overlay"))
    assert mm(build.pages["cabinet.drawer 1.room for the box"]) == pytest.approx(484 - 6)


def test_front_and_back_stand_in_rabbets_half_the_side_deep():
    build = built(drawer())
    # Between the sides 764 - 26.1 - 2 x 12 = 713.9; rabbets 12 / 2 = 6 deep at each end.
    assert sizes(build, "cabinet.drawer 1.box front") == pytest.approx((713.9 + 2 * 6, 175, 12))
    rabbets = [
        c for c in build.part("cabinet.drawer 1.left side").cuts if isinstance(c, Channel) and c.called == "rabbet"
    ]
    assert [mm(c.depth) for c in rabbets] == [6, 6]


def test_the_box_has_air_above_and_below_and_a_round_height():
    build = built(drawer())
    # 200 - 12 - 12 = 176, down to the next 5.
    assert mm(build.pages["cabinet.drawer 1.box high"]) == 175
    one = build.assembly("cabinet.drawer 1")
    side = build.part("cabinet.drawer 1.left side")
    opening = next(o for o in build.openings if o.name == "cabinet.drawer 1")
    assert mm(one.at[2]) + float(side.low(2)) == pytest.approx(mm(opening.at[2]) + 12)


def test_the_bottom_reaches_into_grooves_a_third_of_the_side_deep_less_a_millimetre():
    build = built(drawer())
    # 12 / 3 = 4 deep, the bottom stays 1 short of the floor: 3 at each edge.
    long, wide, _ = sizes(build, "cabinet.drawer 1.bottom")
    assert long == pytest.approx(713.9 + 2 * 3)
    assert wide == pytest.approx(450 - 2 * 12 + 2 * 3)
    groove = next(
        c for c in build.part("cabinet.drawer 1.box front").cuts if isinstance(c, Channel) and c.called == "groove"
    )
    assert (mm(groove.at[1]), mm(groove.width)) == pytest.approx((10, 6 + 0.3))


def test_a_bottom_under_the_box_makes_its_boards_lower():
    build = built(drawer("bottom: under"))
    assert sizes(build, "cabinet.drawer 1.bottom")[:2] == pytest.approx((764 - 26.1, 450))
    assert sizes(build, "cabinet.drawer 1.left side")[1] == 175 - 6


def test_an_inset_front_has_its_reveal_all_round():
    build = built(drawer("front: inset, reveal: 2, front stock: ply18"))
    # 3 mm is usual; asked for 2. Below the drawer there is no board but the next bay: half the gap there.
    assert sizes(build, "cabinet.drawer 1.front")[:2] == (764 - 2 * 2, 200 - 2 - 1)
    face = build.part("cabinet.drawer 1.front")
    assert mm(build.assembly("cabinet.drawer 1").at[1]) + float(face.low(1)) == 0


def test_an_overlay_front_covers_outer_boards_less_the_reveal_and_stands_before_the_case():
    build = built(drawer("front: overlay"))
    # Both sides are 18: 764 + 2 x (18 - 3). Above: the top, 15; below: no board, minus half of 3.
    assert sizes(build, "cabinet.drawer 1.front")[:2] == pytest.approx((764 + 2 * 15, 200 + 15 - 1.5))
    assert mm(build.assembly("cabinet.drawer 1").at[1]) == -18


def test_boards_in_dadoes_stand_in_from_the_ends_of_the_sides():
    build = built(drawer("joint: dado"))
    # 12 mm of wood behind each dado, and the bottom is shorter by both.
    assert float(build.part("cabinet.drawer 1.box front").low(1)) == 18 + 12
    assert sizes(build, "cabinet.drawer 1.bottom")[1] == pytest.approx(450 - 2 * 12 - 2 * 12 + 2 * 3)


def test_front_and_back_run_past_when_asked():
    build = built(drawer("run past: front and back, joint: nails"))
    assert sizes(build, "cabinet.drawer 1.box back")[0] == pytest.approx(764 - 26.1)
    assert sizes(build, "cabinet.drawer 1.left side")[0] == pytest.approx(450 - 2 * 12)


def test_a_front_s_screws_share_out_what_is_free_of_the_box_above_its_bottom():
    build = built(drawer())
    # The box is 175 high; its bottom lies in a groove that begins 10 up and is 6 thick: 159 are free from 16 on.
    one, front = build.part("cabinet.drawer 1.box front"), "cabinet.drawer 1.front"
    up = {mm(f.at[2]) - float(one.low(2)) for f in build.fasteners if f.into == front and f.through == one.name}
    assert sorted(up) == pytest.approx([16 + 159 / 4, 16 + 159 * 3 / 4])


def test_a_front_s_screws_stand_in_the_middle_of_a_box_with_its_bottom_under_it():
    build = built(drawer("front: inset, bottom: under").replace("drawer 200", "drawer 80"))
    one, front = build.part("cabinet.drawer 1.box front"), "cabinet.drawer 1.front"
    up = {mm(f.at[2]) - float(one.low(2)) for f in build.fasteners if f.into == front and f.through == one.name}
    assert up == {float(one.along(2).value) / 2}


def test_a_tray_is_low_and_has_no_front():
    build = built(case("drawers: {stock: ply12}\n      bays: [tray 200, open]"))
    assert "cabinet.tray 1.front" not in build.parts_by_name
    assert sizes(build, "cabinet.tray 1.left side")[1] == 60


def test_a_box_on_runners_below_rests_on_strips_as_thick_as_the_case():
    build = built(drawer("runs on: runners"))
    # The table's wooden runner: 0.8 to 1.2 of play, 1 in the middle.
    assert mm(build.pages["cabinet.drawer 1.box wide"]) == pytest.approx(764 - 2)
    runner = build.part("cabinet.drawer 1 left runner")
    opening = next(o for o in build.openings if o.name == "cabinet.drawer 1")
    assert float(runner.low(2)) == pytest.approx(mm(opening.at[2]))
    side = build.part("cabinet.drawer 1.left side")
    assert mm(build.assembly("cabinet.drawer 1").at[2]) + float(side.low(2)) == pytest.approx(float(runner.high(2)))


def test_a_runner_in_a_groove_carries_the_side_and_clears_the_floor():
    build = built(drawer("runs on: {runners: in groove}"))
    # Groove 12 / 2 = 6 deep, 18 + 0.8 wide; the strip 1 of play + 6 - 1 clear of the floor = 6 wide.
    groove = next(c for c in build.part("cabinet.drawer 1.left side").cuts if c.name.endswith("runner groove"))
    assert isinstance(groove, Channel)
    assert (mm(groove.depth), mm(groove.width)) == pytest.approx((6, 18.8))
    assert groove.side is Side.BACK  # the face looks into the box
    assert sizes(build, "cabinet.drawer 1 left runner")[1] == pytest.approx(6)


def test_left_and_right_sides_of_a_drawer_are_mirror_images():
    build = built(drawer("runs on: {runners: in groove}"))
    left, right = (build.part(f"cabinet.drawer 1.{word} side") for word in ("left", "right"))
    assert left.is_left_handed != right.is_left_handed
    assert [type(c) for c in left.cuts] == [type(c) for c in right.cuts]
    for one, other in zip(left.cuts, right.cuts, strict=True):
        if isinstance(one, Channel) and isinstance(other, Channel):
            assert (one.side, [mm(d) for d in one.at]) == (other.side, pytest.approx([mm(d) for d in other.at]))


def test_a_finger_notch_is_cut_in_the_middle_of_the_upper_edge():
    build = built(drawer("pull: finger notch"))
    notch = next(c for c in build.part("cabinet.drawer 1.front").cuts if isinstance(c, Notch))
    long, wide, _ = sizes(build, "cabinet.drawer 1.front")
    us, vs = [mm(c.u) for c in notch.corners], [mm(c.v) for c in notch.corners]
    assert (min(us), max(us)) == pytest.approx((long / 2 - 45, long / 2 + 45))
    assert (min(vs), max(vs)) == pytest.approx((wide - 30, wide))


def test_a_tray_gets_its_notch_in_the_front_of_its_box_a_third_of_it_deep():
    build = built(case("drawers: {stock: ply12, pull: finger notch}\n      bays: [tray 200, open]"))
    notch = next(c for c in build.part("cabinet.tray 1.box front").cuts if isinstance(c, Notch))
    assert max(mm(c.v) for c in notch.corners) - min(mm(c.v) for c in notch.corners) == pytest.approx(60 / 3)


def test_fronts_above_one_another_may_follow_on_in_their_grain():
    columns = "{columns: [{rows: [drawer 150, drawer 150, open]}, {rows: [drawer 150, open]}]}"
    build = built(case(f"drawers: {{stock: ply12, match: yes}}\n      bays: {columns}"))
    match = [build.part(f"cabinet.drawer {n}.front").match for n in (1, 2, 3)]
    assert match[0] == match[1] != match[2]
    assert all(match)


def test_a_pull_is_bored_through_the_front_and_the_box_behind_it():
    build = built(drawer("pull: 96 mm pull"))
    for name in ("cabinet.drawer 1.front", "cabinet.drawer 1.box front"):
        holes = [c for c in build.part(name).cuts if isinstance(c, Bore) and c.called == "hole for a pull"]
        assert abs(mm(holes[0].at[0]) - mm(holes[1].at[0])) == pytest.approx(96)
        assert all(c.depth is None for c in holes)


def test_a_bay_says_otherwise_than_all_drawers():
    text = case(
        "drawers: {stock: ply12, joint: rabbet}\n"
        "      bays: [{drawer: {joint: butt, stock: ply18}, high: 200}, drawer 150, open]"
    )
    build = built(text)
    assert sizes(build, "cabinet.drawer 1.left side")[2] == 18
    assert sizes(build, "cabinet.drawer 2.left side")[2] == 12


def test_drawer_parts_are_cut_to_the_opening_as_built():
    build = built(drawer())
    assert {p.fit_to for p in build.parts if p.assembly == "cabinet.drawer 1"} == {"cabinet.drawer 1"}


def test_slide_screws_from_both_sides_of_a_divider_miss_each_other():
    build = built(
        case("drawers: {stock: ply12}\n      bays: {columns: [{rows: [drawer 200, open]}, {rows: [drawer 200, open]}]}")
    )
    bores = [c for c in build.part("cabinet.divider 1").cuts if isinstance(c, Bore) and "slide" in c.name]
    assert len(bores) == 6
    faces = [[mm(c.at[1]) for c in bores if c.side is side] for side in (Side.FACE, Side.BACK)]
    assert min(abs(a - b) for a in faces[0] for b in faces[1]) >= 30


def test_a_drawer_that_is_too_low_says_so_with_its_line():
    text = case("bays: [drawer 20, open]")
    (found,) = told(text)
    assert "drawer 20" in text.splitlines()[found.place.line - 1]
    assert "drawer" in found.says


def test_slides_too_long_for_the_case_say_what_there_is_room_for():
    (found,) = told(drawer("runs on: {slides: yes, length: 600}"))
    assert "460 mm" in found.advice


def test_grooved_runners_need_sides_that_run_past():
    (found,) = told(drawer("runs on: {runners: in groove}, run past: front and back"))
    assert "run past" in found.says
