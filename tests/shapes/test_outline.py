"""Outlines of straight sides and arcs."""

import math
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point as Dot
from shapely.geometry import Polygon

from storystick.shapes.outline import (
    Outline,
    circle,
    distance,
    flipped,
    moved,
    offset,
    points,
    polygon,
    rectangle,
    rounded_rectangle,
    slot,
    where,
)

SOURCE = Path(__file__).parents[2] / "src"
sizes = st.floats(5, 2000).map(lambda v: round(v, 3))


@st.composite
def bowed(draw: st.DrawFn) -> Outline:
    """Star-shaped outlines with some sides bowed out and some bowed in."""
    count = draw(st.integers(3, 8))
    radii = [draw(st.floats(60, 100)) for _ in range(count)]
    bulges = [draw(st.sampled_from([0.0, 0.0, 0.2, -0.1, 0.9])) for _ in range(count)]
    corners = [(r * math.cos(math.tau * i / count), r * math.sin(math.tau * i / count)) for i, r in enumerate(radii)]
    return Outline(tuple(corners), tuple(bulges))


def test_areas_and_lengths_known_from_school() -> None:
    assert rectangle(600, 400).area == 240000
    assert circle(10).area == pytest.approx(math.pi * 25, rel=1e-14)
    assert circle(10).perimeter == pytest.approx(math.pi * 10, rel=1e-14)
    assert rounded_rectangle(100, 60, 10).area == pytest.approx(6000 - (4 - math.pi) * 100, rel=1e-14)
    assert rounded_rectangle(100, 60, 10).perimeter == pytest.approx(2 * 80 + 2 * 40 + math.pi * 20, rel=1e-14)
    assert slot((0, 0), (30, 40), 12).area == pytest.approx(50 * 12 + math.pi * 36, rel=1e-14)
    assert slot((0, 0), (30, 40), 12).perimeter == pytest.approx(100 + math.pi * 12, rel=1e-14)
    assert rounded_rectangle(40, 40, 20).area == pytest.approx(circle(40).area)


def test_bounds_are_those_of_the_true_arc() -> None:
    assert circle(25, (100, 50)).bounds == (87.5, 37.5, 112.5, 62.5)
    assert slot((0, 0), (50, 0), 10).bounds == pytest.approx((-5, -5, 55, 5), abs=1e-12)
    assert rounded_rectangle(100, 60, 10, (5, 7)).bounds == pytest.approx((5, 7, 105, 67), abs=1e-12)


def test_an_outline_drawn_clockwise_is_turned_round() -> None:
    clockwise = Outline(((0, 0), (0, 10), (10, 10), (10, 0)), (0.0, -1.0, 0.0, 0.0))
    assert clockwise.area == pytest.approx(100 + math.pi * 12.5)
    assert clockwise.bounds == pytest.approx((0, 0, 10, 15))
    assert polygon([(0, 0), (0, 5), (5, 0)]).area == 12.5


@given(bowed())
def test_the_many_sided_stand_in_is_as_close_as_asked(outline: Outline) -> None:
    for tolerance in (1.0, 0.02):
        stand_in = Polygon(points(outline, tolerance))
        assert abs(stand_in.area - outline.area) <= tolerance * outline.perimeter
        assert stand_in.length <= outline.perimeter + 1e-9
    assert stand_in.bounds == pytest.approx(outline.bounds, abs=0.02 + 1e-9)


@given(bowed(), st.floats(-130, 130), st.floats(-130, 130))
def test_inside_agrees_with_a_fine_polygon(outline: Outline, x: float, y: float) -> None:
    fine, dot = Polygon(points(outline, 0.001)), Dot(x, y)
    if fine.is_valid and fine.exterior.distance(dot) > 0.01:
        assert where(outline, (x, y)) == ("inside" if fine.contains(dot) else "outside")
        assert distance(outline, (x, y)) == pytest.approx(fine.exterior.distance(dot), abs=0.002)


@given(bowed())
def test_every_corner_is_on_the_line(outline: Outline) -> None:
    assert all(where(outline, p) == "on" for p in points(outline))


def test_the_middle_of_a_circle_is_inside() -> None:
    assert where(circle(35), (0, 0)) == "inside"
    assert where(circle(35), (17.5, 0)) == "on"
    assert where(circle(35), (0, -17.4)) == "inside"
    assert where(circle(35), (12.4, 12.4)) == "outside"


@given(sizes, sizes, st.floats(0.5, 50))
def test_a_rectangle_grown_and_shrunk_again_is_itself(wide: float, high: float, by: float) -> None:
    (grown,) = offset(rectangle(wide, high), by)
    assert grown.area == pytest.approx((wide + 2 * by) * (high + 2 * by))
    (back,) = offset(grown, -by)
    assert back.bounds == pytest.approx((0, 0, wide, high), abs=1e-9)


def test_round_outlines_grow_with_true_arcs() -> None:
    (guide,) = offset(slot((0, 0), (80, 0), 12.7), 3.175)
    assert guide.area == pytest.approx(slot((0, 0), (80, 0), 12.7 + 6.35).area, rel=1e-12)
    assert len(guide.corners) == 4
    (less,) = offset(rounded_rectangle(100, 60, 10), -4)
    assert less.area == pytest.approx(rounded_rectangle(92, 52, 6).area, rel=1e-12)
    (smaller,) = offset(circle(35), -2.5)
    assert smaller.area == pytest.approx(circle(30).area)


def test_shrinking_too_far_leaves_nothing_and_a_waist_falls_in_two() -> None:
    assert offset(rectangle(100, 20), -10.5) == ()
    assert offset(circle(20), -11) == ()
    waist = polygon(
        [
            (0, 0),
            (40, 0),
            (40, 18),
            (60, 18),
            (60, 0),
            (100, 0),
            (100, 40),
            (60, 40),
            (60, 22),
            (40, 22),
            (40, 40),
            (0, 40),
        ]
    )
    assert len(offset(waist, -3)) == 2


def test_a_rounded_corner_shrunk_past_its_radius_is_sharp() -> None:
    (sharp,) = offset(rounded_rectangle(100, 60, 5), -8, tolerance=0.001)
    assert sharp.bounds == pytest.approx((8, 8, 92, 52), abs=1e-6)
    assert sharp.area == pytest.approx(84 * 44, rel=1e-4)


@given(bowed())
def test_mirroring_and_moving_keep_the_area(outline: Outline) -> None:
    assert flipped(outline).area == pytest.approx(outline.area)
    assert flipped(flipped(outline)).area == pytest.approx(outline.area)
    assert moved(outline, (1000, -3)).area == pytest.approx(outline.area)


@pytest.mark.parametrize(
    ("corners", "bulges"),
    [([(0, 0)], []), ([(0, 0), (1, 0)], []), ([(0, 0), (0, 0), (1, 1)], []), ([(0, 0), (1, 0), (1, 1)], [1.0]),
     ([(0, 0), (math.nan, 0), (1, 1)], [])],
)  # fmt: skip
def test_what_is_no_outline_is_refused(corners: list[tuple[float, float]], bulges: list[float]) -> None:
    with pytest.raises(ValueError, match=r"outline|bulge"):
        Outline(tuple(corners), tuple(bulges))


def test_sizes_must_be_above_zero() -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        rectangle(0, 5)
    with pytest.raises(ValueError, match="must be above 0"):
        circle(-1)
    with pytest.raises(ValueError, match="must be above 0"):
        slot((0, 0), (1, 1), 0)
    with pytest.raises(ValueError, match="more than half"):
        rounded_rectangle(10, 10, 6)


def test_poses_and_outlines_are_read_without_anything_heavy() -> None:
    heavy = "{'numpy', 'shapely', 'manifold3d'} & set(sys.modules)"
    text = f"import sys, storystick.shapes.pose, storystick.shapes.outline; print({heavy})"
    done = subprocess.run(
        [sys.executable, "-c", text], capture_output=True, text=True, env={"PYTHONPATH": str(SOURCE)}, check=True
    )
    assert done.stdout.strip() == "set()"
