"""Doors and lids worked out by hand: an 800 x 500 x 900 mm case in 18 mm sheet, 764 x 864 mm inside."""

import pytest

from storystick.checks import drawer_path
from storystick.craft.hinging import how_many
from storystick.ground.finding import Grade
from storystick.model.build import Move
from storystick.model.check import Asked
from storystick.model.cut import Bore, Channel
from storystick.model.scene import Scene
from tests.craft.plans import CHEST, case
from tests.told import built, job, mm, sizes, told

FRAMED = "doors: {leaves: pair, made as: frame and panel, stock: beech, panel stock: ply6}"


def doors(more: str) -> str:
    return case(f"doors: {{leaves: one, {more}}}")


def bores(text: str, name: str, called: str) -> list[Bore]:
    return [c for c in built(text).part(name).cuts if isinstance(c, Bore) and c.called == called]


def test_an_overlay_door_covers_sides_top_and_bottom_less_the_gap():
    build = built(doors("set: overlay, reveal: 2"))
    assert sizes(build, "cabinet.door 1.slab") == (864 + 2 * 16, 764 + 2 * 16, 18)
    assert [mm(d) for d in build.assembly("cabinet.door 1").at] == [2, -18, 2]


def test_a_pair_shares_what_it_covers_less_the_gap_between():
    build = built(case("doors: {leaves: pair, reveal: 4}"))
    assert sizes(build, "cabinet.door 1.slab")[1] == (764 + 2 * 14 - 4) / 2
    one, other = (build.assembly(f"cabinet.door {n}") for n in (1, 2))
    assert mm(other.at[0]) - mm(one.at[0]) - mm(one.size[0]) == 4


def test_a_wide_opening_gets_a_pair_where_nothing_is_said():
    assert len([a for a in built(case("doors: yes")).assemblies if a.kind == "door"]) == 2
    narrow = case("doors: {set: overlay}\n      bays: {columns: [{wide: 400, doors: yes, rows: [open]}, open]}")
    assert len([a for a in built(narrow).assemblies if a.kind == "door"]) == 1


def test_an_inset_door_has_its_gap_all_round_and_its_fits_are_the_gaps_in_all():
    build = built(doors("set: inset"))
    assert sizes(build, "cabinet.door 1.slab") == (864 - 6, 764 - 6, 18)
    gaps = {f.name: mm(f.gap) for f in build.fits if "in its opening" in f.name}
    assert gaps == {"cabinet.door 1.width in its opening": 6, "cabinet.door 1.height in its opening": 6}


def test_shelves_behind_an_inset_door_stand_back_by_its_thickness_and_some_air():
    bays = "\n      bays: [open, fixed shelf, open]"
    inset, over = (case(f"doors: {{set: {word}}}{bays}") for word in ("inset", "overlay"))
    wide = [sizes(built(text), "cabinet.shelf 1")[1] for text in (inset, over)]
    assert wide[1] - wide[0] == 18 + 3


def test_a_door_covers_a_divider_that_it_shares_to_the_middle_less_half_the_gap():
    build = built(case("doors: {reveal: 2}\n      bays: {columns: [{wide: 400, doors: one, rows: [open]}, open]}"))
    # Left over the side: 18 - 2; right over the divider: 18 / 2 - 2 / 2.
    assert sizes(build, "cabinet.door 1.slab")[1] == 400 + 16 + 8


def test_a_framed_door_is_stiles_and_rails_with_stub_tenons_in_the_panel_s_groove():
    build = built(case(FRAMED))
    wide = (764 + 2 * 15 - 3) / 2  # 395.5
    clear = wide - 2 * 60
    assert sizes(build, "cabinet.door 1.left stile") == (864 + 2 * 15, 60, 20)
    # A tenon ends half a millimetre short of a groove 10 deep; the panel, of plywood, a millimetre.
    assert sizes(build, "cabinet.door 1.top rail") == (clear + 2 * 9.5, 60, 20)
    assert sizes(build, "cabinet.door 1.panel")[:2] == (864 + 30 - 120 + 2 * 9, clear + 2 * 9)


def test_a_stub_tenon_is_as_thick_as_its_groove_less_the_slip():
    build = built(case(FRAMED))
    rail, stile = (build.part(f"cabinet.door 1.{name}").cuts for name in ("top rail", "left stile"))
    cheeks = [c for c in rail if isinstance(c, Channel) and c.called == "tenon cheek"]
    groove = next(c for c in stile if isinstance(c, Channel) and c.called == "groove")
    assert len(cheeks) == 4
    left = sorted({mm(c.depth) for c in cheeks})
    # The panel is 6, its groove 6.3; (20 - 6) / 2 = 7 in front of it; the tenon 6.3 - 0.25 = 6.05.
    assert mm(groove.width) == pytest.approx(6.3)
    assert left == pytest.approx([20 - 7 - 6.05, 7])


def test_a_panel_of_solid_wood_has_more_room_to_move():
    stock = "  thin: {board: european beech, thickness: 8 mm}\nbuild:"
    text = case(FRAMED.replace("ply6}", "thin}")).replace("build:", stock, 1)
    stays = built(text).part("cabinet.door 1.panel")
    assert mm(stays.width) == 395.5 - 120 + 2 * (10 - 2.5)


def test_hinges_by_height_and_by_weight():
    assert [how_many(h, 1) for h in (600, 900, 901, 1600, 2000, 2400)] == [2, 2, 3, 3, 4, 5]
    assert [how_many(600, kg) for kg in (6, 7, 12, 17, 22)] == [2, 3, 3, 4, 5]
    assert len(bores(doors("hinge count: 4"), "cabinet.door 1.slab", "bore for a cup hinge")) == 4


def test_cups_are_35_wide_with_their_rim_between_3_and_6_from_the_edge():
    for side in ("left", "right"):
        text = doors(f"hinged: {side}")
        slab = built(text).part("cabinet.door 1.slab")
        for cup in bores(text, slab.name, "bore for a cup hinge"):
            assert (mm(cup.diameter), mm(cup.depth or cup.diameter)) == (35, 12.5)
            at = mm(cup.at[1]) if side == "left" else float(slab.width) - mm(cup.at[1])
            assert at - 35 / 2 == pytest.approx(4.5)


def test_hinge_plates_stand_37_behind_the_front_or_behind_an_inset_door():
    for word, y in (("overlay", 37), ("inset", 18 + 37)):
        build = built(doors(f"set: {word}"))
        heads = {mm(f.at[1]) for f in build.fasteners if f.into == "cabinet.left side" and "plate screw" in f.name}
        assert heads == {y}


def test_a_hinge_goes_past_a_shelf_that_meets_the_side_there():
    # A door of 894, three hinges, 90 from its ends: 807 up in the case. A fixed shelf there, 18 thick, from 798 to 816.
    plain = built(doors("reveal: 3"))
    shelf = built(doors("reveal: 3") + "      bays: [open 66, fixed shelf, open]\n")
    up = [mm(b.pages["cabinet.door 1.hinge 3 up"]) for b in (plain, shelf)]
    assert up[0] == 894 - 90
    part = shelf.part("cabinet.shelf 1")
    there = up[1] + mm(shelf.assembly("cabinet.door 1").at[2])
    assert min(abs(there - float(part.low(2))), abs(there - float(part.high(2)))) >= 35 - 1e-9


def test_a_door_swings_about_its_hinged_front_edge():
    for side, x, degrees in (("left", 3, -110), ("right", 797, 110)):
        (move,) = built(doors(f"hinged: {side}")).moves
        assert move.about is not None
        assert (mm(move.about[0]), mm(move.about[1])) == (x, -18)
        assert (move.kind, move.axis, move.degrees) == ("swing", 2, (0, degrees))


@pytest.mark.parametrize(
    ("turned", "about"),
    [("left", (500 + 18, 3)), ("round", (797, 500 + 18)), ("right", (-18, 797))],
)
def test_a_turned_case_takes_the_swing_of_its_door_along(turned: str, about: tuple[float, float]):
    text = doors("hinged: left").rstrip() + f"\n    sits: {{turned: {turned}}}\n"
    (move,) = built(text).moves
    assert move.about is not None
    assert (mm(move.about[0]), mm(move.about[1]), move.degrees) == (*about, (0, -110))


def test_butt_hinges_are_let_into_door_and_side_by_the_thickness_of_a_leaf():
    build = built(doors("set: inset, hinges: butt hinges"))
    for name in ("cabinet.door 1.slab", "cabinet.left side"):
        recesses = [c for c in build.part(name).cuts if isinstance(c, Channel) and c.called == "hinge recess"]
        assert [mm(c.depth) for c in recesses] == pytest.approx([25.4 / 16] * len(recesses))
        assert [mm(c.width) for c in recesses] == [15] * len(recesses)  # 18 less 3 behind it
        assert len(recesses) == 3
    assert any(i.name.endswith("magnet catch") for i in build.items)


def test_butt_hinges_can_t_hang_an_overlay_door():
    (found,) = told(doors("hinges: butt hinges"))
    assert "inset" in found.advice


def test_stiles_too_narrow_for_cups_say_how_wide_they_must_be():
    found = told(case(FRAMED.replace("panel stock", "stiles: 30, panel stock")))
    assert found
    assert all("stiles" in f.says for f in found)


def test_a_door_of_thin_sheet_is_told():
    found = told(doors("stock: ply12"))
    assert any("cup" in f.says for f in found)


def test_a_hinge_that_is_not_in_the_table_is_told_once():
    assert len(told(case("doors: {hinges: velvet hinge}"))) == 1


def test_a_knob_sits_near_the_closing_edge():
    for side, x in (("left", 794 - 35), ("right", 35)):
        text = doors(f"hinged: {side}, pull: knob, pull at: bottom")
        (hole,) = bores(text, "cabinet.door 1.slab", "hole for a pull")
        assert (mm(hole.at[0]), mm(hole.at[1])) == (75, x)


def asked(text: str) -> Asked:
    one = job(text)
    return Asked(one.build, Scene(one.build), one.shop)


DRAWER_BEHIND = case(
    "doors: {leaves: one, set: SET}\n"
    "      drawers: {stock: ply12, bottom stock: ply6, front: none}\n"
    "      bays: [open, drawer 200]"
)


def test_a_drawer_behind_an_overlay_door_runs_once_that_is_open():
    found = list(drawer_path.run(asked(DRAWER_BEHIND.replace("SET", "overlay"))))
    assert [f.says for f in found if f.grade > Grade.NOTE] == []


def test_a_drawer_behind_an_inset_door_rubs_on_the_open_door():
    found = list(drawer_path.run(asked(DRAWER_BEHIND.replace("SET", "inset"))))
    assert any("door 1.slab" in f.says for f in found if f.grade > Grade.NOTE)


def test_a_lid_swings_up_about_the_back_edge_of_its_chest():
    build = built(CHEST)
    (move,) = build.moves
    assert isinstance(move, Move)
    assert move.about is not None
    assert (mm(move.about[1]), mm(move.about[2]), move.axis, move.degrees) == (450, 400, 0, (0.0, -95.0))
    assert {f.into for f in build.fasteners if "hinge" in f.name} == {"lid.top", "chest.back"}


def test_a_lid_that_lies_on_nothing_says_so():
    (found,) = told(CHEST.replace("on: chest, flush", "bottom at: 600, flush"))
    assert "hinges" in found.says



def test_a_lone_door_beside_a_divider_hangs_on_the_outer_side_of_the_case():
    door, gap = "{wide: 300, doors: yes, rows: [open]}", "open"
    left, right = (hinged_on(f"[{one}]") for one in (f"{door}, {gap}", f"{gap}, {door}"))
    assert left == {"cabinet.left side"}
    assert right == {"cabinet.right side"}


def hinged_on(columns: str) -> set[str]:
    """The boards of the case that the hinges of its doors are on."""
    build = built(case(f"bays: {{columns: {columns}}}"))
    on = {name for item in build.items if "hinge" in item.kind for name in item.on}
    return {name for name in on if ".door " not in name}
