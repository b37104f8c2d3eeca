"""Laws that hold for any sizes: distances as geometry has them, and nothing better for being longer or thinner."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.checks.bearing import Shelf
from storystick.checks.driven import Drive, apart
from storystick.checks.shelf_sag import sag_mm
from storystick.model.build import Load
from storystick.model.judged import odds_of
from storystick.shapes.pose import Vector, plus, times, unit
from tests.checks.by_hand import DOWN, board, box, piece, screw, told

SIZES = st.integers(1, 400)
SPOTS = st.tuples(*[st.integers(-300, 300)] * 3)


@settings(max_examples=60)
@given(at=SPOTS, size=st.tuples(SIZES, SIZES, SIZES))
def test_the_gap_between_two_boxes_is_that_of_their_corners(at: tuple[int, int, int], size: tuple[int, int, int]):
    part = board("case.block", (0, 0, 0), (100, 100, 100))
    found = told("site-clearance", piece(part, site=(box("thing", at, size),)))
    away = math.hypot(*(max(0, at[a] - 100, -at[a] - size[a]) for a in range(3)))
    inside = all(-size[a] < at[a] < 100 for a in range(3))
    if away > 100:
        assert found == []
    elif inside:
        assert found[0].number < 0  # type: ignore[operator]
    else:
        assert found[0].number == pytest.approx(away, abs=1e-6)


def line(head: Vector, way: Vector, long: int) -> Drive:
    return Drive(screw("s", "a", "b", (0, 0, 0), DOWN, long), head, unit(way), None)


WAYS = st.tuples(*[st.integers(-3, 3)] * 3).filter(any)


@settings(max_examples=80)
@given(a=SPOTS, u=WAYS, b=SPOTS, v=WAYS, long=st.integers(10, 200))
def test_two_screws_are_as_far_apart_as_their_nearest_points(a: Vector, u: Vector, b: Vector, v: Vector, long: int):
    one, other = line(a, u, long), line(b, v, long)
    found = apart(one, other)
    assert found == pytest.approx(apart(other, one), abs=1e-6)
    steps = [long * i / 40 for i in range(41)]
    tried = min(math.dist(plus(a, times(one.way, s)), plus(b, times(other.way, t))) for s in steps for t in steps)
    assert found <= tried + 1e-6
    assert tried <= found + long / 40 * 1.5


@given(
    clear=st.floats(200, 2000), thick=st.floats(5, 60), weight=st.floats(1, 200), more=st.floats(1.01, 2),
    how=st.sampled_from(["evenly", "in the middle"]),
)  # fmt: skip
def test_longer_sags_more_and_thicker_less(clear: float, thick: float, weight: float, more: float, how: str):
    def sag(long: float, deep: float) -> float:
        load = Load("shelf", weight, how)  # type: ignore[arg-type]
        return sag_mm(Shelf(long, 300, deep, 7500, "rests", 680, None, 0.8, (load,), clear))[1]

    assert sag(clear * more, thick) > sag(clear, thick)
    assert sag(clear, thick * more) < sag(clear, thick)


@given(gap=st.integers(-20, 60), low=st.integers(-5, 10), room=st.integers(1, 30), sd=st.floats(0, 2))
def test_the_odds_of_a_fit_add_up(gap: int, low: int, room: int, sd: float):
    values = [Fraction(n, 20) for n in (gap, low, low + room)]
    tight, loose = odds_of(values[0], values[1], values[2], sd)
    assert 0 <= tight <= 1
    assert 0 <= loose <= 1
    assert tight + loose <= 1 + 1e-9
    wider_tight, wider_loose = odds_of(values[0] + 1, values[1], values[2], sd)
    assert wider_tight <= tight
    assert wider_loose >= loose
