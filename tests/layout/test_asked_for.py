"""What can be asked for in the plan and the shop file: glued-up parts, spoilt corners, one sheet, bands, odd saws."""

from fractions import Fraction

import pytest

from storystick.model.work import Cutting
from tests.told import job

BENCH = """
title: Hall bench
units: mm
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [17.7 mm], sizes: {2440 x 1220: 80.00} MORE}
  oak: {board: white oak, thickness: 20, sizes: {BOARDS}}
build:
  chest:
    case: {wide: 900, deep: 400, high: 700, stock: ply18, bays: [open, fixed shelf, open, loose shelf, open]}
  top:
    slab: {stock: oak, covers: chest, overhang: 20}
    sits: {on: chest}
"""
SHOP = "units: mm\nhelpers: 1\n"


def cut(more: str = "", boards: str = "160 x 2400: 30.00", shop: str = "") -> tuple[Cutting, ...]:
    done = job(BENCH.replace(" MORE", more).replace("BOARDS", boards), SHOP + shop)
    assert done.laid_out.made is not None
    return done.laid_out.made


def sheet_of(cutting: Cutting) -> dict[str, int]:
    return {piece.blank: number for number, tree in enumerate(cutting.layout.trees) for piece in tree.blanks}


def test_a_top_wider_than_any_board_is_glued_up_of_staves_that_leave_enough_for_their_joints():
    oak = cut()[1]
    (staves,) = oak.staves
    assert staves.part == "top.top"
    assert len(oak.layout.trees[0].blanks) >= 1
    assert staves.wide <= 160
    # 900 wide and 400 deep with 20 over at every edge that hangs over: what is left after jointing is wide enough
    top = next(part for part in job(BENCH.replace(" MORE", "").replace("BOARDS", "160 x 2400: 30.00"), SHOP).build.parts
               if part.name == "top.top")  # fmt: skip
    assert staves.count * (staves.wide - staves.jointed) >= top.width.value
    assert staves.long >= top.length.value
    assert not oak.layout.unplaced


def test_a_top_that_one_board_is_wide_enough_for_is_not_glued_up():
    assert cut(boards="500 x 2400: 90.00")[1].staves == ()


def test_the_glue_up_of_the_staves_is_a_step_before_the_top_is_sanded_or_fixed():
    done = job(BENCH.replace(" MORE", "").replace("BOARDS", "160 x 2400: 30.00"), SHOP)
    titles = [step.title for step in done.order.steps]
    glue = next(n for n, title in enumerate(titles) if "out of" in title and "staves" in title)
    trim = next(n for n, title in enumerate(titles) if title.startswith("Trim") and n > glue)
    touched = [n for n, step in enumerate(done.order.steps) if "top.top" in step.parts and n > trim]
    sawn = [n for n, step in enumerate(done.order.steps) if "top.top" in step.parts and n < glue]
    assert sawn
    assert touched


def test_parts_that_must_be_of_one_thickness_come_out_of_one_sheet():
    ply = cut(", same sheet: [shelf, left side, right side]")[0]
    places = sheet_of(ply)
    assert len({places[name] for name in places if "side" in name or "shelf" in name}) == 1


def test_a_word_that_no_part_goes_by_is_told_with_those_that_do():
    done = job(BENCH.replace(" MORE", ", same sheet: [shelv]").replace("BOARDS", "160 x 2400: 30.00"), SHOP)
    (found,) = [one for one in done.laid_out.findings if one.code == "same-sheet-of-what"]
    assert "shelv" in found.says
    assert "shelf" in found.advice


@pytest.mark.parametrize("corner", ["far right", "near left", "far left", "near right", "300 x 200"])
def test_nothing_is_cut_from_the_corner_that_an_offcut_lacks(corner: str):
    spoilt = f"spoilt: [400 x 300 at {corner}]"
    rack = f"on hand:\n  - {{offcut: birch plywood, size: 1500 x 900, thickness: 18, {spoilt}}}\n"
    ply = cut(shop=rack)[0]
    (tree,) = [tree for tree in ply.layout.trees if tree.sheet.on_hand]
    (spot,) = tree.sheet.defects
    assert (spot.long, spot.wide) == (400, 300)
    assert tree.blanks
    for piece in tree.blanks:
        clear_x = piece.x >= spot.x + spot.long or piece.x + piece.long <= spot.x
        clear_y = piece.y >= spot.y + spot.wide or piece.y + piece.wide <= spot.y
        assert clear_x or clear_y


def test_a_door_is_cut_smaller_by_the_band_all_round():
    plain = BENCH.replace(" MORE", "").replace("BOARDS", "160 x 2400: 30.00")
    doors = plain.replace("bays: [open, fixed shelf, open, loose shelf, open]", "doors: {stock: ply18, banded: yes}")
    band = doors.replace("build:", "  veneer: {band: oak veneer, thickness: 1, width: 22, sizes: {5000: 8.00}}\nbuild:")

    def door(text: str) -> tuple[Fraction, Fraction]:
        done = job(text, SHOP)
        assert done.laid_out.made is not None
        tree = next(t for t in done.laid_out.made[0].layout.trees for p in t.blanks if "slab" in p.blank)
        piece = next(p for p in tree.blanks if "slab" in p.blank)
        return piece.long, piece.wide

    (long, wide), (less_long, less_wide) = door(doors), door(band)
    assert abs(long - less_long - 2) < Fraction(1, 100)
    assert abs(wide - less_wide - 2) < Fraction(1, 100)


def test_the_answer_says_what_no_layout_can_do_with_less_of():
    ply = cut()[0]
    assert "no layout does with less" in ply.notes[0]
    assert ply.least is not None
    assert ply.least <= ply.layout.cost


def test_a_test_strip_is_named_for_each_sheet_or_said_to_be_missing():
    ply = cut()[0]
    (said,) = [note for note in ply.notes if "test strip" in note or "leaves none" in note]
    for number in range(1, len(ply.layout.trees) + 1):
        alone = len(ply.layout.trees) == 1
        assert alone or f"sheet {number}" in said or f"{number} leaves none" in said or f"and {number}" in said


SMALL = "saws:\n  table saw: {rip: 300, crosscut: 300, depth: 80, kerf: 3, narrowest: 50}\n  circular saw: {kerf: 2}\n"
NO_TABLE = "saws:\n  track saw: {depth: 55, kerf: 2}\n"
ONLY_CIRCULAR = "saws:\n  circular saw: {depth: 60, kerf: 2}\n"


@pytest.mark.parametrize(("saws", "kerf"), [(SMALL, 3), (NO_TABLE, 2), (ONLY_CIRCULAR, 2)])
def test_a_shop_with_odd_saws_cuts_every_part_with_the_kerf_it_has(saws: str, kerf: int):
    ply = cut(shop=saws)[0]
    assert not ply.layout.unplaced
    assert ply.kerf == kerf


def test_no_rip_is_set_wider_than_a_small_saw_takes_where_another_way_is_there():
    text = BENCH.replace(" MORE", "").replace("BOARDS", "500 x 2400: 30.00").replace("deep: 400", "deep: 280")
    done = job(text, SHOP + SMALL)
    assert done.laid_out.made is not None
    ply = done.laid_out.made[0]
    wide = [cut.setting for tree in ply.layout.trees for cut in tree.cuts if cut.way == "rip" and cut.setting]
    assert wide
    assert max(wide) <= 300


def test_what_one_person_cannot_lift_is_broken_down_with_the_rough_saw_first():
    text = BENCH.replace(" MORE", "").replace("BOARDS", "160 x 2400: 30.00")
    done = job(text, "units: mm\nhelpers: none\nlift: 20 kg\n" + SMALL)
    assert done.laid_out.made is not None
    for tree in done.laid_out.made[0].layout.trees:
        rough = [cut for cut in tree.cuts if cut.purpose == "breakdown"]
        assert rough
        assert all(abs(cut.kerf - 2) < Fraction(1, 100) for cut in rough)
