"""Tops: layers, overhang, edging, channels, magnets, tracks; checked by hand in millimetres."""

import pytest

from storystick.model.cut import Bevel, Bore, Channel, Side
from storystick.model.scene import Scene
from tests.craft.plans import STOCK
from tests.told import built, mm, sizes, told

PLAN = f"""
title: a top
units: mm
site:
  bed: {{box: [1100, 150, 100], at: [0, 0, 600]}}
  way: {{box: [1100, 40, 10], at: [0, 20, 700]}}
  post: {{box: [60, 80, 12], at: [400, 30, 700]}}
{STOCK.rstrip()}
  bar: {{bar: steel, thickness: 8, width: 20}}
build:
  cabinet:
    case: {{wide: 800, deep: 450, high: 700, stock: ply18, top: rails}}
    sits: {{at: [0, 1000, 0]}}
  top:
    slab: {{stock: ply18, MORE}}
    sits: SITS
"""


def top(more: str, sits: str = "{on: bed, left at: 100, front at: -75}") -> str:
    return PLAN.replace("MORE", more).replace("SITS", sits)


OVER = "{on: cabinet, centred: cabinet}"


def test_a_top_covers_a_case_with_its_overhang_on_all_sides():
    build = built(top("covers: cabinet, overhang: 25", OVER))
    assert sizes(build, "top.top") == (850, 500, 18)
    assert [mm(a) for a in build.assembly("top").at] == [-25, 975, 700]


def test_overhangs_may_differ_from_side_to_side():
    build = built(top("covers: cabinet, overhang: {front: 30, left: 10}", OVER))
    assert sizes(build, "top.top")[:2] == (810, 480)


def test_layers_are_glued_face_to_face_and_cut_oversize():
    build = built(top("layers: 3, wide: 900, deep: 300"))
    assert mm(build.assembly("top").size[2]) == 54
    layers = [p for p in build.parts if p.assembly == "top"]
    assert [float(p.low(2)) for p in layers] == [0, 18, 36]
    assert all("oversize" in p.notes[0] for p in layers)
    assert [p.role for p in layers] == ["layer", "layer", "top"]
    assert len([j for j in build.joints if j.called == "glued face to face"]) == 2


def test_mitred_edging_comes_off_the_core_and_grows_to_the_corners():
    build = built(top("layers: 2, wide: 900, deep: 300, edge: {stock: beech}"))
    assert sizes(build, "top.top")[:2] == (860, 260)
    assert sizes(build, "top.front edge") == (900, 36, 20)
    assert sizes(build, "top.left edge") == (300, 36, 20)
    for name in ("front", "back", "left", "right"):
        bevels = [c for c in build.part(f"top.{name} edge").cuts if isinstance(c, Bevel)]
        assert [(c.side, c.degrees, c.from_back) for c in bevels] in (
            [(Side.END, 45, False), (Side.FAR_END, 45, False)],
            [(Side.FAR_END, 45, False), (Side.END, 45, False)],
        )


def test_core_and_edging_fill_the_top_without_a_gap_at_the_mitres():
    text = top("layers: 2, wide: 900, deep: 300, edge: {stock: beech}")
    scene = Scene(built(text))
    volume = sum(solid.volume for name, solid in scene.parts.items() if name.startswith("top."))
    assert volume == pytest.approx(900 * 300 * 36)


def test_edging_on_some_sides_only_ends_flush():
    build = built(top("wide: 900, deep: 300, edge: {stock: beech, on: [front, left]}"))
    assert sizes(build, "top.top")[:2] == (880, 280)
    assert sizes(build, "top.front edge")[0] == 900
    assert len([c for c in build.part("top.front edge").cuts if isinstance(c, Bevel)]) == 1


def test_butted_edging_runs_past_at_front_and_back():
    build = built(top("wide: 900, deep: 300, edge: {stock: beech, corners: butt}"))
    assert sizes(build, "top.front edge")[0] == 900
    assert sizes(build, "top.left edge")[0] == 260


def test_a_channel_is_wider_and_deeper_than_the_way_that_it_goes_over():
    build = built(top("wide: 900, deep: 300, channels: {over: way, wider by: 4, deeper by: 2}"))
    (cut,) = (c for c in build.part("top.top").cuts if isinstance(c, Channel))
    assert cut.side is Side.BACK
    # The way stands 10 up, is 40 wide from 20 behind the bed's front; the top begins 75 before that.
    assert (mm(cut.depth), mm(cut.width)) == (12, 44)
    assert (mm(cut.at[0]), mm(cut.at[1])) == (0, 75 + 20 - 2)
    assert mm(cut.length) == 900  # right through: the way goes past both ends
    across, clear = (f for f in build.fits if f.goes_in == "way")
    assert (mm(across.gap), mm(clear.gap)) == (4, 2)


def test_a_channel_goes_through_the_edging_too():
    build = built(top("layers: 2, wide: 900, deep: 300, edge: {stock: beech}, channels: {over: way, deeper by: 2}"))
    for name in ("left", "right"):
        (cut,) = (c for c in build.part(f"top.{name} edge").cuts if isinstance(c, Channel))
        assert cut.side is Side.EDGE
        # 3 wider than 40, from 75 + 20 - 1.5 behind the front; through all of the strip's 20.
        assert [mm(d) for d in (*cut.at, *cut.size, cut.depth)] == [93.5, 0, 43, 20, 12]


def test_a_channel_over_something_short_ends_where_it_ends():
    build = built(top("wide: 900, deep: 300, channels: {over: post, wider by: 4, deeper by: 2}"))
    (cut,) = (c for c in build.part("top.top").cuts if isinstance(c, Channel))
    # 60 x 80 from (400, 30): along its longer way exactly, across it wider by 4.
    assert [mm(a) for a in (*cut.at, *cut.size)] == [400 - 2 - 100, 75 + 30, 64, 80]


def test_a_channel_goes_on_into_the_next_layer():
    text = top("layers: 2, wide: 900, deep: 300, channels: {over: way, deeper by: 2}")
    build = built(text.replace("box: [1100, 40, 10]", "box: [1100, 40, 20]"))
    depths = {
        p.name: [mm(c.depth) for c in p.cuts if isinstance(c, Channel)] for p in build.parts if p.assembly == "top"
    }
    assert depths == {"top.lower layer": [18], "top.top": [4]}


def test_a_channel_that_would_come_out_on_top_is_a_mistake():
    (found,) = told(
        top("wide: 900, deep: 300, channels: {over: way}").replace("box: [1100, 40, 10]", "box: [1100, 40, 20]")
    )
    assert "15 mm" in found.says


def test_magnets_sit_over_the_steel_in_bores_just_deeper_than_they_are():
    build = built(top("wide: 900, deep: 300, held by: {magnets: {disc: 25 mm x 3 mm, on: bed}}"))
    bores = [c for c in build.part("top.top").cuts if isinstance(c, Bore)]
    assert {(mm(c.diameter), mm(c.depth)) for c in bores if c.depth} == {(25, 3.3)}
    assert len(bores) == 4
    # The bed lies from 75 to 225 under the top; the discs stay 25 in from its edges.
    assert {mm(c.at[1]) for c in bores} == {100, 200}
    assert {mm(c.at[0]) for c in bores} == {25, 875}
    assert build.assembly("top").held_by == tuple(f"top.magnet {i}" for i in (1, 2, 3, 4))
    assert build.assembly("top").removable


def test_magnets_on_a_way_sit_in_the_floor_of_its_channel():
    more = "layers: 2, wide: 900, deep: 300, channels: {over: way, deeper by: 2}, "
    build = built(top(more + "held by: {magnets: {disc: 25 mm x 3 mm, on: way, at: ends}}"))
    bores = [c for c in build.part("top.lower layer").cuts if isinstance(c, Bore)]
    assert [mm(c.depth) for c in bores if c.depth] == pytest.approx([12 + 3.3] * 2)


def test_a_disc_that_nobody_sells_is_told_with_the_nearest():
    (found,) = told(top("wide: 900, deep: 300, held by: {magnets: {disc: 26 mm x 3 mm, on: bed}}"))
    assert "25 mm x 3 mm" in found.advice


def test_a_top_is_screwed_on_from_below_through_the_rails():
    build = built(top("covers: cabinet, held by: {screws: cabinet}", OVER))
    through = {f.through for f in build.fasteners}
    assert through == {"cabinet.front rail", "cabinet.rear rail"}
    # 18 of rail, 18 of top, 3 to spare: 33; chipboard screws of 4 mm are sold 30 and 35.
    assert {mm(f.length) for f in build.fasteners} == {30}
    assert {f.way for f in build.fasteners} == {(0, 0, 1)}
    assert not build.assembly("top").removable


def test_nothing_to_screw_to_is_told():
    from storystick.ground.finding import Grade
    from tests.told import job

    text = top("covers: cabinet, held by: {screws: cabinet}", OVER).replace("top: rails", "top: none")
    found = [f for f in job(text).resolved.findings if f.grade is Grade.CARE]
    assert [f.code for f in found] == ["no-hold"]


def test_a_track_lies_just_below_the_surface_in_a_recess_that_takes_it():
    build = built(top("layers: 2, wide: 900, deep: 300, track: {stock: bar, from front: 100}"))
    (recess,) = (c for c in build.part("top.top").cuts if isinstance(c, Channel))
    assert recess.side is Side.FACE
    assert (mm(recess.width), mm(recess.depth)) == pytest.approx((20.3, 8.4))
    bar = build.part("top.track")
    assert float(bar.high(2)) == pytest.approx(36 - 0.4)
    assert float(bar.low(1)) + 10 == 100


def test_strips_go_down_on_both_sides_of_what_a_lift_off_top_lies_on():
    build = built(top("wide: 900, deep: 300, held by: {strips: {stock: ply18, round: bed}}"))
    front, back = build.part("top.front strip"), build.part("top.back strip")
    assert float(front.high(1)) == 75 - 1.5
    assert float(back.low(1)) == 75 + 150 + 1.5
    assert float(front.low(2)) == -18


def test_a_turned_top_finds_the_same_way_under_it():
    text = top("wide: 300, deep: 900, channels: {over: way, wider by: 4, deeper by: 2}")
    turned = text.replace("front at: -75}", "front at: -75, turned: left}")
    (cut,) = (c for c in built(turned).part("top.top").cuts if isinstance(c, Channel))
    # Turned to the left, its own right side looks to the back: the way lies along its own depth.
    assert mm(cut.width) == 44
    assert mm(cut.length) == 900
