"""Solids: volumes known from school, and another program's reckoning of the same mesh."""

import math
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.shapes.outline import circle, polygon, rectangle, rounded_rectangle
from storystick.shapes.pose import Pose, X, facing, mirrored, shifted, turned
from storystick.shapes.solid import (
    Solid,
    ball,
    box,
    box_between,
    cone,
    cylinder,
    from_mesh,
    meet,
    minus,
    moved,
    nothing,
    pieces,
    prism,
    revolved,
    round_sides,
    tube_frame,
    union,
)

SOURCE = Path(__file__).parents[2] / "src"
sizes = st.floats(1, 300).map(lambda v: round(v, 2))
places = st.tuples(*[st.floats(-200, 200).map(lambda v: round(v, 2))] * 3)
poses = st.builds(turned, places.filter(lambda v: math.hypot(*v) > 1), st.floats(-180, 180), places)
boxes = st.builds(lambda w, d, h, pose: moved(box(w, d, h), pose), sizes, sizes, sizes, poses)


def bookcase_side() -> Solid:
    """A side with two dados, a groove, and 30 countersunk holes."""
    bore = revolved(((2.5, -1), (2.5, 15.5), (5, 18), (5.1, 18.1)))
    holes = [moved(bore, shifted((30 + 25 * i, 40, 0))) for i in range(30)]
    dados = [box_between((x, -1, 12), (x + 18, 400, 19)) for x in (200.0, 600.0)]
    return minus(box(900, 300, 18), [*dados, box_between((-1, 280, 12), (901, 286.4, 19)), *holes])


def polygon_share(sides: int) -> float:
    """Area of a many-sided circle as a share of the true one."""
    return math.sin(math.tau / sides) / (math.tau / sides)


def test_volumes_known_from_school() -> None:
    assert box(600, 400, 18).volume == 600 * 400 * 18
    assert box(2, 3, 4).surface == 52
    assert cylinder(8, 20).volume == pytest.approx(math.pi * 16 * 20 * polygon_share(32), rel=1e-12)
    assert cone(0, 12, 30).volume == pytest.approx(math.pi * 36 * 10 * polygon_share(round_sides(12)), rel=1e-12)
    assert cone(4, 8, 6).volume == pytest.approx(math.pi * 6 / 3 * (4 + 8 + 16) * polygon_share(32), rel=1e-12)
    assert prism(polygon([(0, 0), (30, 0), (0, 40)]), 18).volume == pytest.approx(600 * 18)
    assert ball(40).volume == pytest.approx(math.pi / 6 * 40**3, rel=0.02)
    # wide, high and deep tubes; each corner cube is shared by three of them
    assert tube_frame(660, 508, 762, 40).volume == pytest.approx(4 * (660 + 508 + 762) * 1600 - 2 * 8 * 64000)


def test_round_bars_are_never_thicker_than_asked_and_at_most_two_hundredths_thinner() -> None:
    for diameter in (1, 3, 8, 25.4, 35, 300):
        sides = round_sides(diameter)
        assert sides % 4 == 0
        assert diameter / 2 * (1 - math.cos(math.pi / sides)) <= 0.02
        low, high = cylinder(diameter, 10).bounds
        assert high == pytest.approx((diameter / 2, diameter / 2, 10), abs=1e-12)
        assert low == pytest.approx((-diameter / 2, -diameter / 2, 0), abs=1e-12)


def test_a_turned_bore_and_its_countersink_weigh_what_school_says() -> None:
    bore = revolved(((2.5, 0), (2.5, 15.5), (5, 18)))
    true = math.pi * 6.25 * 15.5 + math.pi * 2.5 / 3 * (6.25 + 12.5 + 25)
    assert bore.volume == pytest.approx(true * polygon_share(round_sides(10)), rel=1e-9)
    with pytest.raises(ValueError, match="rises"):
        revolved(((2.5, 5), (2.5, 0), (3, 18)))


def test_a_frame_of_round_tubes_fills_its_box_and_is_one_piece() -> None:
    frame = tube_frame(660, 508, 762, 40, is_round=True)
    assert len(pieces(frame)) == 1
    for corner, wanted in zip(frame.bounds, ((0, 0, 0), (660, 508, 762)), strict=True):
        assert corner == pytest.approx(wanted, abs=0.05)
    assert frame.centre == pytest.approx((330, 254, 381), abs=1e-6)
    with pytest.raises(ValueError, match="do not fit"):
        tube_frame(60, 508, 762, 40)


def test_a_prism_with_holes_weighs_what_the_outline_says() -> None:
    plate = prism(rounded_rectangle(100, 60, 10), 6, (circle(20, (30, 30)), rectangle(10, 10, (60, 20))))
    true = (6000 - (4 - math.pi) * 100 - math.pi * 100 - 100) * 6
    assert plate.volume == pytest.approx(true, rel=1e-3)
    assert plate.body.genus() == 2
    assert prism(circle(8), 20).volume == pytest.approx(cylinder(8, 20).volume)


def test_a_dado_takes_away_its_own_volume() -> None:
    side = minus(box(900, 300, 18), [box_between((200, -1, 12), (218, 301, 19))])
    assert side.volume == pytest.approx(900 * 300 * 18 - 300 * 18 * 6, rel=1e-12)
    assert minus(box(9, 9, 9), []) is box(9, 9, 9)


def test_one_prototype_serves_every_hole_of_its_size() -> None:
    assert cylinder(5, 18) is cylinder(5, 18)


MADE: dict[str, Callable[[], Solid]] = {
    "bookcase side": bookcase_side,
    "corner bracket": lambda: prism(polygon([(0, 0), (100, 0), (100, 20), (20, 20), (20, 80), (0, 80)]), 18),
    "cone": lambda: moved(cone(3, 20, 14), turned((1, 2, 3), 40, (5, 5, 5))),
    "mirrored frame": lambda: moved(tube_frame(100, 80, 60, 10, is_round=True), mirrored((1, 1, 0), (3, 4, 5))),
}


@pytest.mark.parametrize("name", MADE)
def test_volume_and_balance_agree_with_trimesh(name: str) -> None:
    solid = MADE[name]()
    outsider: Any = trimesh.Trimesh
    outside = outsider(solid.mesh.vertices, solid.mesh.triangles, process=False)
    assert outside.is_watertight
    assert outside.is_winding_consistent
    assert solid.volume == pytest.approx(outside.volume, rel=1e-9)
    assert solid.surface == pytest.approx(outside.area, rel=1e-9)
    assert solid.centre == pytest.approx(tuple(outside.center_mass), abs=1e-6)


@settings(deadline=None, max_examples=60)
@given(boxes, boxes)
def test_joined_and_shared_together_weigh_as_much_as_both(a: Solid, b: Solid) -> None:
    assert union([a, b]).volume + meet(a, b).volume == pytest.approx(a.volume + b.volume, rel=1e-9)
    assert minus(a, [b]).volume + meet(a, b).volume == pytest.approx(a.volume, rel=1e-9, abs=1e-6)


@settings(deadline=None, max_examples=40)
@given(poses)
def test_moving_changes_neither_volume_nor_where_it_balances_in_itself(pose: Pose) -> None:
    bracket = prism(polygon([(0, 0), (50, 0), (50, 10), (10, 10), (10, 30), (0, 30)]), 7)
    there = moved(bracket, pose)
    assert there.volume == pytest.approx(bracket.volume)
    flipped = moved(bracket, mirrored(X))
    assert flipped.volume == pytest.approx(bracket.volume)
    assert flipped.centre[0] == pytest.approx(-bracket.centre[0])


def test_a_square_pose_moves_corners_exactly() -> None:
    pose = Pose(((0, 0, 1), (1, 0, 0), (0, 1, 0)), (0.1, 0.2, 0.3))
    assert moved(box(18.3, 600, 400), pose).bounds == ((0.1, 0.2, 0.3), (400.1, 18.5, 600.3))


def test_what_cannot_be_made_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        box(10, 0, 10)
    with pytest.raises(ValueError, match="below 0"):
        cone(-1, 5, 3)
    with pytest.raises(ValueError, match="no bounds"):
        assert nothing().bounds
    with pytest.raises(ValueError, match="does not close"):
        from_mesh(np.eye(3), np.array([[0, 1, 2]]))
    assert union([]).is_empty


def test_pieces_come_in_the_same_order_whatever_order_they_were_joined_in() -> None:
    three = [moved(box(5, 5, 5), shifted((x, 0, 0))) for x in (0.0, 20.0, 40.0)]
    places = [[piece.bounds for piece in pieces(union(order))] for order in (three, three[::-1])]
    assert places[0] == places[1] == [solid.bounds for solid in three]


def test_the_same_body_has_the_same_bytes_whatever_was_made_before() -> None:
    first = bookcase_side().digest
    for prototypes in (box, cylinder, revolved):
        prototypes.cache_clear()
    assert all(moved(cylinder(3 + i, 5), facing((1, 2, i))).mesh.triangles.size for i in range(5))
    assert bookcase_side().digest == first
    text = f"import sys; sys.path[:0] = {[str(SOURCE), str(Path(__file__).parent)]!r}; "
    text += "from test_solid import bookcase_side; print(bookcase_side().digest)"
    other = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert other.stdout.strip() == first
    assert other.stderr == ""
    assert first != moved(bookcase_side(), facing(X)).digest
