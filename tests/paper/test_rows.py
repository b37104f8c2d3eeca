"""Numbers along a stick keep their order, never overlap, and move no farther than they must."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.paper.drawing.canvas import Canvas
from storystick.paper.drawing.labels import Pointer, place_labels
from storystick.paper.drawing.rows import spread_out

SPOTS = st.lists(st.tuples(st.floats(0, 180), st.floats(2, 9)), min_size=1, max_size=15)


@given(SPOTS)
def test_things_in_a_row_keep_apart_and_in_order(things: list[tuple[float, float]]):
    things = sorted(things)
    wanted, sizes = [spot for spot, _ in things], [size for _, size in things]
    placed = spread_out(wanted, sizes, -5.0, 185.0)
    assert placed is not None
    edges = [(at - size / 2, at + size / 2) for at, size in zip(placed, sizes, strict=True)]
    assert all(one[1] <= other[0] + 1e-6 for one, other in pairwise(edges))
    assert edges[0][0] >= -5.0 - 1e-6
    assert edges[-1][1] <= 185.0 + 1e-6


def test_what_has_room_stays_where_it_is():
    assert spread_out([10.0, 30.0, 60.0], [8.0, 8.0, 8.0], 0.0, 100.0) == pytest.approx([10.0, 30.0, 60.0])


def test_two_on_one_spot_share_the_way():
    assert spread_out([50.0, 50.0], [10.0, 10.0], 0.0, 100.0) == pytest.approx([45.0, 55.0])


def test_too_much_for_the_row_is_said():
    assert spread_out([1.0, 2.0, 3.0], [5.0, 5.0, 5.0], 0.0, 12.0) is None


@given(st.lists(st.tuples(st.floats(40, 140), st.floats(10, 90)), min_size=2, max_size=9, unique=True))
def test_the_lines_to_the_letters_do_not_cross(spots: list[tuple[float, float]]):
    from storystick.paper.drawing import labels

    canvas = Canvas(180.0, 100.0)
    drawn: list[tuple[tuple[float, float], tuple[float, float]]] = []
    canvas_line = Canvas.line

    class Watched(Canvas):
        def line(self, a, b, pen="edge"):  # type: ignore[no-untyped-def]
            drawn.append((a, b))
            canvas_line(self, a, b, pen)

    watched = Watched(canvas.wide, canvas.high)
    place_labels(watched, [Pointer(chr(65 + i), spot) for i, spot in enumerate(spots)], 13.0, (30.0, 150.0))
    left = [line for line in drawn if line[0][0] < 90]
    right = [line for line in drawn if line[0][0] >= 90]
    for side in (left, right):
        assert not any(labels._cross(a, b, c, d) for i, (a, b) in enumerate(side) for c, d in side[:i])
