"""Boxes, free boards and frames, worked out by hand in millimetres."""

import pytest

from storystick.model.body import spot_of
from storystick.model.cut import Bore, Notch
from storystick.model.scene import Scene
from storystick.shapes.pose import apply, direct
from tests.craft.plans import STOCK, aside
from tests.told import built, mm, sizes, told

HEAD = f"title: others\nunits: mm\n{STOCK}\nbuild:\n"


def board(more: str) -> str:
    return HEAD + f"  fin:\n    board: {{stock: ply18, {more}}}\n"


def area(text: str) -> float:
    """What is left of a board's face [mm2]."""
    return Scene(built(text)).own_solids["fin.board"].volume / 18


def test_a_board_lies_flat_on_edge_or_upright():
    for lies, size in (("flat", (500, 200, 18)), ("on edge", (500, 18, 200)), ("upright", (200, 18, 500))):
        build = built(board(f"long: 500, wide: 200, lies: {lies}"))
        assert tuple(mm(s) for s in build.assembly("fin").size) == size
        assert sizes(build, "fin.board") == (500, 200, 18)


def test_a_sloped_board_is_a_trapezium():
    assert area(board("long: 500, slope: {from: 200, to: 80}")) == pytest.approx(500 * (200 + 80) / 2)
    assert area(board("long: 500, slope: {from: 80, to: 200}, lies: upright")) == pytest.approx(500 * 140)


def test_corners_are_cut_off_notched_and_rounded():
    whole = 500 * 200
    assert area(board("long: 500, wide: 200, cut corners: {left front: 40}")) == pytest.approx(whole - 40 * 40 / 2)
    notches = "notches: [{at: front left, long: 30, wide: 50}, {at: back right, long: 60, wide: 20, in by: 100}]"
    assert area(board(f"long: 500, wide: 200, {notches}")) == pytest.approx(whole - 30 * 50 - 60 * 20)
    # A rounded corner loses (1 - pi / 4) r2.
    assert area(board("long: 500, wide: 200, rounded: 50")) == pytest.approx(whole - 4 * 0.2146 * 50**2, rel=1e-4)


def test_a_corner_is_where_its_words_say():
    build = built(board("long: 500, wide: 200, notches: [{at: back right, long: 30, wide: 50}]"))
    (notch,) = (c for c in build.part("fin.board").cuts if isinstance(c, Notch))
    assert {mm(c.u) for c in notch.corners} == {470, 500}
    assert {mm(c.v) for c in notch.corners} == {150, 200}


def test_a_corner_that_a_board_has_not_is_told():
    (found,) = told(board("long: 500, wide: 200, cut corners: {left top: 40}"))
    assert "left front" in found.says


def test_wide_and_slope_together_are_a_mistake():
    assert len(told(board("long: 500, wide: 200, slope: {from: 100, to: 80}"))) == 1
    assert len(told(board("long: 500"))) == 1


BOX = HEAD + (
    "  cabinet:\n    case: {wide: 800, deep: 450, high: 700, stock: ply18}\n"
    "  bin:\n    box: {wide: 300, deep: 120, high: 400, stock: ply12, MORE}\n"
    "    sits: {hung on: back of cabinet, bottom at: 200, left at: -100}\n"
)


def test_a_box_has_five_boards_between_its_two_sides():
    build = built(BOX.replace("MORE", "open: top"))
    parts = {p.name.removeprefix("bin."): tuple(mm(s) for s in p.size) for p in build.parts if p.assembly == "bin"}
    assert parts == {
        "left side": (400, 120, 12),
        "right side": (400, 120, 12),
        "back": (400, 276, 12),
        "front": (400, 276, 12),
        "bottom": (276, 120 - 24, 12),
    }


@pytest.mark.parametrize(("high", "axis"), [(400, 2), (300, 0), (100, 0)])
def test_the_grain_of_a_box_s_walls_runs_round_it_and_upright_in_one_higher_than_wide(high: int, axis: int):
    build = built(BOX.replace("MORE", "open: top").replace("high: 400", f"high: {high}"))
    along = {name: build.part(f"bin.{name}").lies[0] for name in ("left side", "right side", "front", "back")}
    side = 2 if axis == 2 else 1
    assert along == {"left side": side, "right side": side, "front": axis, "back": axis}


def test_the_grain_of_a_box_open_at_the_front_runs_round_its_ring():
    build = built(BOX.replace("MORE", "open: front"))
    along = {name: build.part(f"bin.{name}").lies[0] for name in ("left side", "right side", "top", "bottom")}
    assert along == {"left side": 2, "right side": 2, "top": 0, "bottom": 0}


def test_a_box_open_at_the_front_has_a_top():
    build = built(BOX.replace("MORE", "open: front"))
    assert "bin.top" in build.parts_by_name
    assert "bin.front" not in build.parts_by_name


def test_a_box_hangs_by_screws_in_the_boards_that_it_touches():
    build = built(BOX.replace("MORE", "screwed to: cabinet"))
    screws = [f for f in build.fasteners if f.into.startswith("cabinet.")]
    # The cabinet has no back: the box touches the rear edge of the left side, 100 from its own left end.
    assert {mm(f.at[0]) for f in screws} == {100 + 9}
    assert {f.into for f in screws} == {"cabinet.left side"}
    assert {f.through for f in screws} == {"bin.front"}
    assert {f.way for f in screws} == {(0, -1, 0)}
    assert build.assembly("bin").held_by == tuple(f.name for f in screws)


def test_a_box_on_a_thick_back_hangs_in_that_and_not_in_a_sliver_of_the_side():
    text = BOX.replace("MORE", "screwed to: cabinet").replace("left at: -100", "left at: 0")
    build = built(text.replace("stock: ply18}", "stock: ply18, back: {stock: ply12, joint: rabbet}}"))
    assert {f.into for f in build.fasteners if f.into.startswith("cabinet.")} == {"cabinet.back"}


def test_a_box_that_touches_nothing_says_so():
    (found,) = told(BOX.replace("MORE", "screwed to: cabinet").replace("hung on: back of cabinet", "front at: 900"))
    assert "touches" in found.says


FRAME = (
    HEAD
    + "  stand:\n    frame: {wide: 900, deep: 500, high: 800, stock: beech, legs: 75, rails: 100, low rails at: 150}\n"
)


def test_rails_fit_between_the_legs():
    build = built(FRAME)
    assert sizes(build, "stand.top front rail") == (900 - 2 * 75, 100, 20)
    assert sizes(build, "stand.top left rail") == (500 - 2 * 20, 100, 20)
    assert float(build.part("stand.low back rail").low(2)) == 150
    assert float(build.part("stand.top front rail").high(2)) == 800
    assert len([p for p in build.parts if p.role == "leg"]) == 4
    assert len(build.assembly("stand").feet) == 4


TURNED = HEAD + (
    "  cabinet:\n    case: {wide: 800, deep: 450, high: 700, stock: ply18, back: {stock: ply12, joint: rabbet}}\n"
    "    sits: {at: [1000, 1000, 0], turned: ONE}\n"
    "  bin:\n    box: {wide: 300, deep: 120, high: 400, stock: ply12, screwed to: cabinet}\n"
    "    sits: {AT, bottom at: 200, turned: OTHER}\n"
)


@pytest.mark.parametrize(
    ("one", "at"),
    [
        ("round", "at: [1250, 880]"),
        ("left", "at: [880, 1250]"),
        ("right", "at: [1450, 1250]"),
    ],
)
@pytest.mark.parametrize("other", ["left", "round", "right"])
def test_a_box_hangs_on_a_back_however_the_two_are_turned(one: str, at: str, other: str):
    # Turned round, a cabinet's back looks to the front; turned to the left it looks to the left, at x = 1000.
    x, y = (int(n) for n in at.removeprefix("at: [").removesuffix("]").split(","))
    beside = {"round": f"left at: {x}, in front of: cabinet", "left": f"front at: {y}, left of: cabinet",
              "right": f"front at: {y}, right of: cabinet"}[one]  # fmt: skip
    build = built(TURNED.replace("ONE", one).replace("OTHER", other).replace("AT", beside))
    screws = [f for f in build.fasteners if f.through.startswith("bin.") and f.into == "cabinet.back"]
    assert screws
    scene = Scene(build)
    for screw in screws:
        for name in (screw.through, screw.into):
            part = build.part(name)
            head = apply(scene.poses[screw.assembly], (mm(screw.at[0]), mm(screw.at[1]), mm(screw.at[2])))
            way = direct(scene.poses[screw.assembly], screw.way)
            pose = scene.part_poses[name]
            size = (float(part.length), float(part.width), float(part.thickness))
            near = min(
                aside(apply(pose, spot_of(c.side, (mm(c.at[0]), mm(c.at[1])), size)), head, way)
                for c in part.cuts
                if isinstance(c, Bore)
            )
            assert near < 1e-6, f"{screw.name} misses its hole in {name}"
