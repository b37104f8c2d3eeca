"""How far bodies are apart, how far they run into one another, and every clash in a set."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from storystick.shapes.clash import clashes, clashes_between, near
from storystick.shapes.near import gap, overlap
from storystick.shapes.outline import polygon
from storystick.shapes.pose import Pose, Vector, apply, compose, length, less, shifted, turned
from storystick.shapes.solid import Floats, Solid, box, box_between, cylinder, minus, moved, prism, tube_frame, union
from storystick.shapes.triangles import boxes as boxes_of
from storystick.shapes.triangles import distances, near_pairs

numbers = st.floats(-60, 60).map(lambda v: round(v, 2))
places = st.tuples(numbers, numbers, numbers)
poses = st.builds(turned, places.filter(lambda v: math.hypot(*v) > 1), st.floats(-180, 180), places)
BRACKET = polygon([(0, 0), (50, 0), (50, 10), (10, 10), (10, 30), (0, 30)])
makers = st.sampled_from([lambda: box(10, 20, 30), lambda: cylinder(12, 40), lambda: prism(BRACKET, 7)])
bodies = st.builds(lambda make, pose: moved(make(), pose), makers, poses)


def test_the_gap_between_two_boxes_by_pythagoras() -> None:
    other = moved(box(10, 10, 10), shifted((13, 14, 22)))
    found = gap(box(10, 10, 10), other)
    assert found is not None
    assert found.distance == pytest.approx(13.0)  # 3, 4, 12
    assert (found.at, found.other) == ((10, 10, 10), (13, 14, 22))


def test_a_gap_wider_than_asked_is_not_reported() -> None:
    other = moved(box(10, 10, 10), shifted((15, 0, 0)))
    assert gap(box(10, 10, 10), other, within=4.9) is None
    assert gap(box(10, 10, 10), other, within=5.1) is not None


def test_a_bar_beside_a_post_by_hand() -> None:
    post = moved(cylinder(20, 100), shifted((0, 0, -50)))
    bar = moved(box(200, 10, 10), shifted((-100, 17, 0)))
    found = gap(post, bar)
    assert found is not None
    assert found.distance == pytest.approx(7)
    assert found.at[0] == pytest.approx(0, abs=1e-9)
    assert found.at[1] == pytest.approx(10)


def test_faces_that_touch_are_no_overlap_at_any_angle() -> None:
    for degrees in range(0, 90, 7):
        turn = turned((1, 2, 3), degrees, (400, -3, 7))
        a = moved(box(600, 18, 400), turn)
        b = moved(box(18, 300, 400), compose(turn, shifted((120, 18, 0))))
        assert overlap(a, b) is None
        found = gap(a, b)
        assert found is not None
        assert found.distance == pytest.approx(0, abs=1e-9)


def test_a_tenth_of_a_millimetre_too_deep_is_found_and_measured() -> None:
    side = minus(box(18, 400, 700), [box_between((12, -1, 300), (19, 401, 318))])
    for turn in (shifted((0, 0, 0)), turned((1, 2, 3), 30)):
        shelf = box_between((11.9, 0, 300), (500, 400, 318))
        found = overlap(moved(side, turn), moved(shelf, turn))
        assert found is not None
        assert found.volume == pytest.approx(0.1 * 400 * 18, rel=1e-6)
        assert found.thickness == pytest.approx(0.1, abs=0.002)
        assert found.at == pytest.approx(apply(turn, (11.95, 200, 309)), abs=1e-6)
        snug = box_between((12, 0, 300), (500, 400, 318))
        assert overlap(moved(side, turn), moved(snug, turn)) is None


def test_a_hundredth_of_a_millimetre_is_a_touch_however_wide_and_a_speck_beside_it_is_not() -> None:
    for turn in (shifted((0, 0, 0)), turned((1, 2, 3), 30)):
        top = moved(box(600, 400, 18), turn)
        pressed = box_between((100, 50, 17.995), (500, 350, 40))
        assert overlap(top, moved(pressed, turn)) is None
        proud = minus(pressed, [box_between((90, 40, 17.9), (510, 360, 18))])  # flush, but for a screw head
        speck = box_between((300, 200, 17.5), (306, 206, 20))
        found = overlap(top, moved(union([proud, speck]), turn))
        assert found is not None
        assert found.volume == pytest.approx(18, rel=1e-6)
        assert found.thickness == pytest.approx(0.5, abs=0.01)


def test_a_body_inside_another_overlaps_it() -> None:
    inner = moved(box(2, 2, 2), shifted((4, 4, 4)))
    found = gap(box(10, 10, 10), inner)
    assert found is not None
    assert found.distance == 0
    shared = overlap(box(10, 10, 10), inner)
    assert shared is not None
    assert shared.volume == pytest.approx(8)
    assert shared.thickness == pytest.approx(2)


def brute(a: Solid, b: Solid) -> float:
    """Every triangle against every other."""
    first, other = (solid.mesh.vertices[solid.mesh.triangles] for solid in (a, b))
    i, j = np.divmod(np.arange(len(first) * len(other)), len(other))
    return float(distances(first[i], other[j])[0].min())


@settings(deadline=None, max_examples=60)
@given(bodies, bodies)
def test_the_gap_is_the_same_seen_from_either_body_and_by_brute_force(a: Solid, b: Solid) -> None:
    one, other = gap(a, b), gap(b, a)
    assert one is not None
    assert other is not None
    assert one.distance == pytest.approx(other.distance, abs=1e-9)
    assert length(less(one.at, one.other)) == pytest.approx(one.distance, abs=1e-9)
    if overlap(a, b) is None:
        assert one.distance == pytest.approx(brute(a, b), abs=1e-7)


@settings(deadline=None, max_examples=60)
@given(bodies, poses, st.floats(0.01, 40))
def test_moving_away_widens_the_gap_by_no_more_than_the_way_gone(a: Solid, pose: Pose, way: float) -> None:
    b = moved(box(10, 20, 30), pose)
    before, after = gap(a, b), gap(a, moved(b, shifted((way, 0, 0))))
    assert before is not None
    assert after is not None
    assert abs(after.distance - before.distance) <= way + 1e-9


corners = st.tuples(*[places] * 3)


def by_every_face(one: Floats, two: Floats) -> float:
    """Least distance of two triangles by least squares over every corner, edge and face of each: slow and plain."""
    faces = [c for size in (1, 2, 3) for c in itertools.combinations(range(3), size)]
    best = math.inf
    for a, b in itertools.product(faces, faces):
        p, q = one[list(a)], two[list(b)]
        ways = np.concatenate([p[1:] - p[0], q[0] - q[1:]]).T
        shares = np.linalg.lstsq(ways, q[0] - p[0], rcond=None)[0] if ways.size else np.zeros(0)
        first, other = shares[: len(a) - 1], shares[len(a) - 1 :]
        if min([*shares, 1 - first.sum(), 1 - other.sum()]) >= -1e-9:
            best = min(best, float(np.linalg.norm(ways @ shares + p[0] - q[0])))
    return best


@settings(deadline=None, max_examples=60)
@given(corners, corners)
def test_two_triangles_are_as_far_apart_as_their_nearest_points(
    one: tuple[Vector, ...], two: tuple[Vector, ...]
) -> None:
    a, b = np.array(one), np.array(two)
    assume(min(np.linalg.norm(np.cross(t[1] - t[0], t[2] - t[0])) for t in (a, b)) > 5)
    (found,), (p,), (q,) = distances(a[None], b[None])
    assert found == pytest.approx(by_every_face(a, b), abs=1e-6)
    assert np.linalg.norm(p - q) == pytest.approx(found, abs=1e-9)


@settings(deadline=None, max_examples=40)
@given(st.lists(corners, min_size=1, max_size=8), st.lists(corners, min_size=1, max_size=8), st.floats(0, 40))
def test_no_near_pair_is_left_out(one: list[tuple[Vector, ...]], two: list[tuple[Vector, ...]], reach: float) -> None:
    a, b = np.array(one), np.array(two)
    kept = set(zip(*(side.tolist() for side in near_pairs(boxes_of(a), boxes_of(b), reach)), strict=True))
    for i, j in itertools.product(range(len(a)), range(len(b))):
        if distances(a[i : i + 1], b[j : j + 1])[0][0] <= reach:
            assert (i, j) in kept


def test_every_clash_is_found_in_the_order_of_the_parts() -> None:
    parts = [(f"slat {i}", box_between((i * 20.0, 0, 0), (i * 20.0 + 20, 10, 10))) for i in range(8)]
    assert clashes(parts) == ()
    pin = ("pin", box_between((-5, 4, 4), (45, 6, 6)))
    assert [(c.first, c.other) for c in clashes([pin, *parts])] == [
        ("pin", "slat 0"),
        ("pin", "slat 1"),
        ("pin", "slat 2"),
    ]
    assert [c.volume for c in clashes([pin, *parts])] == pytest.approx([80, 80, 20])
    found = clashes_between(parts, [pin], apart=[("pin", "slat 1")])
    assert [(c.first, c.other) for c in found] == [("slat 0", "pin"), ("slat 2", "pin")]
    assert clashes([*parts, pin]) == clashes([*parts, pin])


def test_near_parts_are_those_whose_boxes_come_near() -> None:
    a = [("a", box(10, 10, 10))]
    b = [("b", box_between((12, 0, 0), (20, 5, 5))), ("c", box_between((40, 0, 0), (50, 5, 5)))]
    assert near(a, b, within=1.9) == ()
    assert near(a, b, within=2) == (("a", "b"),)


def test_a_cabinet_that_fits_in_its_stand_clears_the_tubes() -> None:
    stand = tube_frame(660, 508, 762, 40)
    cabinet = box_between((43, 36, 45), (617, 472, 600))
    found = gap(stand, cabinet)
    assert found is not None
    assert found.distance == 3
    assert clashes([("stand", stand), ("cabinet", cabinet)]) == ()
    snug = box_between((40, 40, 40), (620, 468, 722))
    assert clashes([("stand", stand), ("cabinet", snug)]) == ()
    wide = box_between((39, 36, 45), (617, 472, 600))
    (clash,) = clashes([("stand", stand), ("cabinet", wide)])
    assert clash.thickness == pytest.approx(1, abs=1e-6)
