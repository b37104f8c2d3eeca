"""Toe kicks, nailers, face frames, dowels, cleats and boards joined to a case, worked out by hand in millimetres."""

import pytest

from storystick.model.cut import Bevel, Bore, Channel, Notch, Side
from storystick.model.scene import Scene
from tests.craft.plans import STOCK, case
from tests.told import built, mm, sizes, told


def test_the_sides_of_a_case_with_a_toe_kick_stand_on_the_floor_and_are_notched():
    build = built(case("stands on: {toe kick: {high: 90, deep: 60}}"))
    side = build.part("cabinet.left side")
    assert (float(side.low(2)), sizes(build, side.name)[0]) == (0, 900)
    (notch,) = (c for c in side.cuts if isinstance(c, Notch))
    assert {mm(c.u) for c in notch.corners} == {0, 90}
    assert {mm(c.v) for c in notch.corners} == {0, 60}
    assert float(build.part("cabinet.bottom").low(2)) == 90
    kick = build.part("cabinet.toe kick")
    assert (sizes(build, kick.name), float(kick.low(1))) == ((764, 90, 18), 60)
    assert {mm(y) for _, y in build.assembly("cabinet").feet} == {60, 500}


def test_a_rabbeted_case_has_its_bottom_in_dadoes_where_the_sides_go_on_below_it():
    build = built(case("joint: rabbet\n      stands on: toe kick"))
    kinds = {j.guest: j.kind for j in build.joints if j.host == "cabinet.left side"}
    assert (kinds["cabinet.top"], kinds["cabinet.bottom"]) == ("rabbet", "dado")


def test_nailers_lie_behind_a_back_in_a_groove_flush_with_the_rear():
    build = built(case("nailers: both"))
    top, low = (build.part(f"cabinet.{word} nailer") for word in ("top", "bottom"))
    assert (float(top.low(1)), float(top.high(1))) == (482, 500)
    assert (float(top.high(2)), float(low.low(2))) == (900 - 18, 18)
    assert float(build.part("cabinet.back").high(1)) == 482
    assert sizes(build, top.name) == (764, 80, 18)
    assert "local rules" in top.notes[0]


def test_nailers_before_a_back_in_a_rabbet_take_of_the_room():
    text = case("nailers: top").replace("back: {stock: ply6}", "back: {stock: ply6, joint: rabbet}")
    text += "      bays: [open, fixed shelf, open]\n"
    build = built(text)
    assert float(build.part("cabinet.top nailer").high(1)) == 500 - 6
    assert sizes(build, "cabinet.shelf 1")[1] == 500 - 6 - 18


def test_a_back_too_near_the_rear_for_nailers_is_told():
    text = case("nailers: top").replace("back: {stock: ply6}", "back: {stock: ply6, in by: 10}")
    assert any("nailers" in f.says for f in told(text))


FACE = "face frame: {stock: beech, stiles: 50, rails: 40, bottom rail: 30, overhang: 5, JOINT}"


def face(joint: str = "joint: pocket screws", more: str = "") -> str:
    return case(FACE.replace("JOINT", joint) + more)


def test_a_face_frame_belongs_to_the_depth_and_stands_out_beyond_the_sides():
    build = built(face())
    side = build.part("cabinet.left side")
    assert (float(side.low(1)), float(side.high(1))) == (20, 500)
    stile = build.part("cabinet.left stile")
    assert (float(stile.low(0)), sizes(build, stile.name)) == (-5, (900, 50, 20))
    # Between the stiles: 800 - 2 x (50 - 5).
    assert sizes(build, "cabinet.top frame rail") == (710, 40, 20)
    assert mm(build.pages["cabinet.frame opening high"]) == 900 - 40 - 30


@pytest.mark.parametrize(
    ("joint", "longer"),
    [("dowels", 0), ("pocket screws", 0), ("{stub tenon: {depth: 12}}", 11.5), ("half lap", 50)],
)
def test_rails_of_a_face_frame_reach_into_the_stiles_by_their_tenons(joint: str, longer: float):
    assert sizes(built(face(f"joint: {joint}")), "cabinet.top frame rail")[0] == 710 + 2 * longer


def test_a_half_lap_takes_half_of_the_stile_s_back_and_of_the_rail_s_face():
    build = built(face("joint: half lap"))
    for name, side, size in (("left stile", Side.BACK, (50, 40.15)), ("top frame rail", Side.FACE, (40, 50))):
        laps = [c for c in build.part(f"cabinet.{name}").cuts if isinstance(c, Channel) and c.called == "half lap"]
        assert {c.side for c in laps} == {side}
        assert {mm(c.depth) for c in laps} == {10}
        assert any((mm(c.length), mm(c.width)) == pytest.approx(size) for c in laps)


def test_a_door_before_a_face_frame_lies_over_it():
    build = built(face(more="\n      doors: {leaves: one, overhang: 12}"))
    assert sizes(build, "cabinet.door 1.slab") == (830 + 24, 710 + 24, 18)
    heads = {mm(f.at[1]) for f in build.fasteners if f.into == "cabinet.left stile" and "plate screw" in f.name}
    assert heads == {10}  # the middle of the stile's edge


def test_an_inset_door_in_a_face_frame_leaves_the_shelves_alone():
    more = "\n      doors: {leaves: one, set: inset, hinges: butt hinges}\n      bays: [open, fixed shelf, open]"
    build = built(face(more=more))
    assert sizes(build, "cabinet.door 1.slab")[:2] == (830 - 6, 710 - 6)
    assert float(build.part("cabinet.shelf 1").low(1)) == 20


BAYS = """
      drawers: {stock: ply12, bottom stock: ply6}
      bays:
        columns:
          - wide: 300
            rows: [drawer 200, fixed shelf, drawer 250, drawer]
          - rows: [open, fixed shelf, open]
"""


def test_a_face_frame_follows_the_bays_that_have_drawers():
    build = built(face(more=BAYS))
    stile = build.part("cabinet.mid stile 1")
    # The divider lies from 18 + 300 to 336: its middle is 327, and the stile is as wide as the rails, 40.
    assert (float(stile.low(0)), float(stile.high(0))) == (307, 347)
    # Between the bottom rail, 30 high, and the top one, 40 high.
    assert (float(stile.low(2)), float(stile.high(2))) == (30, 860)
    rail = build.part("cabinet.mid rail 1")
    # The shelf lies under the first drawer, 900 - 18 - 200 down to 664; the rail is flush with it, between 45 and 307.
    assert (float(rail.low(2)), float(rail.high(2))) == (642, 682)
    assert (float(rail.low(0)), float(rail.high(0))) == (45, 307)
    assert "cabinet.mid rail 2" not in {part.name for part in build.parts}  # nothing runs beside the other shelf


def test_a_drawer_passes_between_the_stiles_and_its_slides_are_packed_out_to_them():
    build = built(face(more=BAYS))
    # The opening is 262 wide; a slide and its play take 12.7 + 0.3 at each side.
    side = mm(build.pages["cabinet.drawer 1.opening wide"])
    assert side == 307 - 45
    assert sizes(build, "cabinet.drawer 1.front")[:2] == (262 - 6, 860 - 682 - 6)
    left, right = (build.part(f"cabinet.drawer 1 {word} packing") for word in ("left", "right"))
    # From the side's face, at 18, to the stile's edge, at 45; from 307 to the divider's face, at 318.
    assert (float(left.low(0)), float(left.high(0))) == (18, 45)
    assert (float(right.low(0)), float(right.high(0))) == (307, 318)
    assert {f.into for f in build.fasteners if f.name.startswith("cabinet.drawer 1 slides screw")} == {
        left.name, right.name
    }  # fmt: skip
    # Nothing stands between the second and the third drawer: half the gap each, 882 - 200 - 18 - 250 - 1.5 high.
    assert float(left.low(1)) == 20  # behind the frame
    assert mm(build.pages["cabinet.drawer 2.opening high"]) == 642 - (882 - 200 - 18 - 250)


def test_wooden_runners_reach_past_the_frame_to_the_sides():
    build = built(face(more=BAYS.replace("ply6}", "ply6, runs on: runners}")))
    runner = build.part("cabinet.drawer 1 left runner")
    assert float(runner.low(0)) == 18
    assert float(runner.high(0)) > 45 + 15
    assert "cabinet.drawer 1 left packing" not in {part.name for part in build.parts}


def test_a_door_before_one_bay_closes_its_opening_in_the_frame_and_a_tray_behind_it_passes():
    closed = "rows: [open 200, fixed shelf, {doors: one, rows: [open, tray 120]}]"
    more = BAYS.replace("rows: [open, fixed shelf, open]", closed)
    build = built(face(more=more + "      doors: {stock: ply18, set: inset, hinges: butt hinges}\n"))
    # From the stile's edge at 347 to 755; from the bottom rail at 30 to the middle rail's lower edge at 642.
    assert sizes(build, "cabinet.door 1.slab")[:2] == (642 - 30 - 6, 755 - 347 - 6)
    assert mm(build.pages["cabinet.tray 1.opening wide"]) == 755 - 347
    assert float(build.assembly("cabinet.tray 1").at[1]) >= 20


def test_a_tray_is_packed_out_to_pass_an_open_door():
    tray = "bays: [open, {tray: {stock: ply12, bottom stock: ply6, MORE}, high: 120}]"
    plain, out = (built(case(tray.replace("MORE", more))) for more in ("pull: none", "packed out: 22"))
    assert sizes(out, "cabinet.tray 1.box front")[0] == sizes(plain, "cabinet.tray 1.box front")[0] - 44
    strip = out.part("cabinet.tray 1 right packing")
    assert (float(strip.low(0)), float(strip.high(0))) == (800 - 18 - 22, 800 - 18)
    gaps = {mm(one.side_gap) for build in (plain, out) for one in build.sliders}
    assert len(gaps) == 1  # the slides have the room that they had


def test_stiles_that_stand_in_by_too_little_to_pack_a_slide_out_are_told():
    (found,) = told(face(more="\n      bays: [drawer 200, open]").replace("stiles: 50", "stiles: 28"))
    assert "5 mm" in found.says
    assert not told(face(more="\n      bays: [drawer 200, open]").replace("stiles: 50", "stiles: 23"))  # flush


def test_narrow_stiles_that_would_leave_an_edge_bare_are_told():
    (found,) = told(face().replace("stiles: 50", "stiles: 20"))
    assert "23 mm" in found.says


def test_a_dowel_sits_half_in_each_board_and_a_little_glue_has_room():
    build = built(case("joint: {dowels: {size: 8 mm}}"))
    dowels = [f for f in build.fasteners if f.kind == "dowel" and f.through == "cabinet.top"]
    holes = {
        name: [c for c in build.part(name).cuts if isinstance(c, Bore) and c.called == "dowel hole"]
        for name in ("cabinet.top", "cabinet.left side")
    }
    # 18 mm: two thirds are 12, so the longest of which half is no more: 30 sold, 40 is too long. 15 in each is too deep
    # for 12: the shortest sold goes 12 into the side and 18 into the end, and 1 deeper for glue.
    assert {mm(d.length) for d in dowels} == {30}
    assert {mm(c.depth or c.diameter) for c in holes["cabinet.top"]} == {18 + 1}
    assert {mm(c.depth or c.diameter) for c in holes["cabinet.left side"]} == {12 + 1}
    assert {mm(c.diameter) for c in holes["cabinet.top"]} == {8}


def test_dowels_in_both_boards_face_one_another():
    build = built(case("shelf joint: dowels\n      bays: [open, fixed shelf, open]"))
    side, shelf = build.part("cabinet.left side"), build.part("cabinet.shelf 1")
    ys = [
        sorted(mm(c.at[word]) for c in part.cuts if isinstance(c, Bore) and "shelf 1 in left" in c.name)
        for part, word in ((side, 1), (shelf, 0))
    ]
    assert len(ys[0]) > 1
    assert ys[0] == pytest.approx(ys[1])


HANGING = f"""
title: hanging
units: mm
{STOCK}
build:
  cabinet:
    case: {{wide: 600, deep: 250, high: 700, stock: ply18, back: {{stock: ply18, joint: rabbet}}}}
    sits: {{bottom at: 1200, held by: [cleat]}}
  hanger:
    cleat: {{long: 500, wide: 90, stock: ply18, on: cabinet}}
    sits: {{behind: cabinet, left at: 50, level: cabinet.top - 30}}
"""


def test_the_strips_of_a_cleat_hook_into_one_another_by_their_thickness():
    build = built(HANGING)
    assert mm(build.assembly("hanger").size[2]) == 2 * 90 - 18
    upper, lower = build.part("hanger.upper strip"), build.part("hanger.wall.lower strip")
    for strip in (upper, lower):
        assert sizes(build, strip.name) == (500, 90, 18)
        (bevel,) = (c for c in strip.cuts if isinstance(c, Bevel))
        assert bevel.degrees == 45
        # A triangle of 18 x 18 is off the edge.
        volume = Scene(build).own_solids[strip.name].volume
        holes = sum(1 for c in strip.cuts if isinstance(c, Bore))
        assert volume < 500 * (90 * 18 - 18 * 18 / 2) + 1
        assert holes
    assert {f.into for f in build.fasteners if f.through == upper.name} == {"cabinet.back"}


def test_the_strip_on_the_wall_is_bored_for_every_stud():
    build = built(HANGING.replace("stock: ply18, on", "stock: ply18, studs: 200, on"))
    holes = [c for c in build.part("hanger.wall.lower strip").cuts if isinstance(c, Bore)]
    assert sorted(mm(c.at[0]) for c in holes) == [150, 350]


def test_a_cleat_that_is_not_behind_its_thing_is_told():
    (found,) = told(HANGING.replace("behind: cabinet", "front at: 900"))
    assert "behind: cabinet" in found.advice


JOINED = case("") + (
    "  extra:\n    board: {long: cabinet.inside wide, wide: 300, stock: ply18, joined to: cabinet}\n"
    "    sits: {left at: cabinet.left + 18, front at: 100, bottom at: 400}\n"
)


def test_a_board_joined_to_a_case_grows_into_its_dadoes_and_belongs_to_it():
    build = built(JOINED)
    part = build.part("extra.board")
    assert part.assembly == "cabinet"
    assert sizes(build, part.name) == (764 + 2 * 6, 300, 18)
    for side in ("left", "right"):
        dadoes = [c for c in build.part(f"cabinet.{side} side").cuts if isinstance(c, Channel) and "board" in c.name]
        assert [(mm(c.width), mm(c.length)) for c in dadoes] == [(pytest.approx(18.15), 300)]
    assert [s.part for s in build.spans] == ["extra.board"]


def test_a_board_that_meets_nothing_of_what_it_is_joined_to_is_told():
    (found,) = told(JOINED.replace("cabinet.left + 18", "cabinet.left + 19"))
    assert "inside wide" in found.advice


def test_a_board_may_stand_as_the_side_of_a_case():
    fin = "board: {long: 900, wide: 300, stock: ply18, lies: as a side}"
    text = f"title: side\nunits: mm\n{STOCK}\nbuild:\n  fin:\n    {fin}\n"
    assert [mm(d) for d in built(text).assembly("fin").size] == [18, 300, 900]


def test_a_top_on_a_frame_is_held_by_pocket_screws_out_of_its_rails():
    text = f"""
title: bench
units: mm
{STOCK}
build:
  stand: {{frame: {{wide: 900, deep: 500, high: 800, stock: beech}}}}
  top:
    slab: {{stock: ply18, layers: 2, covers: stand, held by: {{screws: stand}}}}
    sits: {{on: stand}}
"""
    build = built(text)
    into = [f for f in build.fasteners if f.into == "top.lower layer"]
    assert {f.through for f in into} == {f"stand.top {side} rail" for side in ("front", "back", "left", "right")}
    assert {f.kind for f in into} == {"pocket screw"}
    assert build.assembly("top").held_by
