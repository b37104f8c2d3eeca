"""Motion, and the least gap all along it."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.shapes.motion import (
    Carried,
    Motion,
    Path,
    Shares,
    Slide,
    Still,
    Swing,
    breaks,
    moment,
    moments,
    pose_at,
    rates,
    tilt,
)
from storystick.shapes.near import gap
from storystick.shapes.outline import polygon
from storystick.shapes.pose import HERE, Pose, Vector, X, Y, Z, apply, length, less, mirrored, shifted, turned
from storystick.shapes.solid import Solid, box, box_between, cylinder, minus, moved, prism, tube_frame
from storystick.shapes.stretch import Side, boxes_on_the_way, least_between, placed_at
from storystick.shapes.strikes import strikes
from storystick.shapes.sweep import TOLERANCE, Least, least_gap
from storystick.shapes.triangles import distances

numbers = st.floats(-80, 80).map(lambda v: round(v, 2))
places = st.tuples(numbers, numbers, numbers)
axes = places.filter(lambda v: math.hypot(*v) > 1)
angles = st.floats(-120, 120)
poses = st.builds(turned, axes, angles, places)
drives = st.sampled_from([0, 1])
simple = st.one_of(
    st.builds(Swing, axes, places, angles, angles, drives),
    st.builds(Slide, places, drives),
    st.builds(lambda list_, drive: Path(tuple(list_), drive), st.lists(poses, min_size=2, max_size=4), drives),
)
motions = st.one_of(simple, st.builds(Carried, simple, simple))
shares = st.tuples(st.floats(0, 1), st.floats(0, 1))


def least(moving: list[Solid], others: list[Solid], motion: Motion, others_motion: Motion | None = None) -> Least:
    found = least_gap(moving, others, motion, others_motion=others_motion or Still())
    assert found is not None
    assert found.is_sure
    return found


def test_a_door_swings_from_shut_to_open() -> None:
    door = Swing(Z, (0, 0, 0), 0, 90)
    assert pose_at(door, (0, 0)) == HERE
    assert apply(pose_at(door, (1, 0)), (600, 0, 0)) == (0, 600, 0)
    assert apply(pose_at(tilt(X, (0, 0, 0), 90), (1, 0)), (0, 10, 0)) == (0, 0, 10)


def test_a_drawer_in_a_tipped_cart_goes_along_with_it() -> None:
    both = Carried(tilt(X, (0, 0, 0), 90), Slide((0, -400, 0), drive=1))
    assert apply(pose_at(both, (1, 1)), (50, 0, 100)) == (50, -100, -400)
    assert apply(pose_at(both, (0, 1)), (50, 0, 100)) == (50, -400, 100)


def test_a_path_passes_through_all_its_poses() -> None:
    path = Path((HERE, shifted((0, -500, 0)), turned(Z, 90, (300, -500, 0)), turned(Z, 270, (300, -500, 0))))
    for leg, pose in enumerate(path.poses):
        there = pose_at(path, (leg / 3, 0))
        for point in ((0.0, 0.0, 0.0), (100.0, 20.0, 3.0)):
            assert apply(there, point) == pytest.approx(apply(pose, point), abs=1e-9)
    assert breaks(Carried(path, Path((HERE, HERE, HERE))), 0) == (0, 1 / 3, 0.5, 2 / 3, 1)
    assert breaks(path, 1) == (0, 1)


def test_paths_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="two poses"):
        Path((HERE,))
    with pytest.raises(ValueError, match="mirror"):
        Path((HERE, mirrored(X)))


@settings(deadline=None)
@given(motions, st.tuples(st.floats(0.01, 0.99), st.floats(0.01, 0.99)), places)
def test_speeds_are_those_of_small_steps(motion: Motion, at: Shares, point: Vector) -> None:
    now, p = moment(motion, at), np.array(point)
    assert now.turn @ p + now.at == pytest.approx(np.array(apply(pose_at(motion, at), point)), abs=1e-6)
    for drive in (0, 1):
        if min(abs(at[drive] - mark) for mark in breaks(motion, drive)) < 1e-4:
            continue
        step = [0.0, 0.0]
        step[drive] = 1e-6
        on, back = (apply(pose_at(motion, (at[0] + w * step[0], at[1] + w * step[1])), point) for w in (1, -1))
        speed = now.turn_rates[drive] @ p + now.at_rates[drive]
        assert speed == pytest.approx((np.array(on) - np.array(back)) / 2e-6, abs=1e-2)


@settings(deadline=None)
@given(motions, st.lists(shares, min_size=1, max_size=4))
def test_many_moments_at_once_are_those_of_one_after_another(motion: Motion, when: list[Shares]) -> None:
    every = moments(motion, np.array(when))
    for row, at in enumerate(when):
        one = moment(motion, at)
        assert every.turn[row] == pytest.approx(one.turn, abs=1e-9)
        assert every.at[row] == pytest.approx(one.at, abs=1e-6)
        for drive in (0, 1):
            assert every.turn_rates[drive, row] == pytest.approx(one.turn_rates[drive], abs=1e-8)
            assert every.at_rates[drive, row] == pytest.approx(one.at_rates[drive], abs=1e-5)


@settings(deadline=None)
@given(motions, shares, shares, places)
def test_nothing_goes_faster_or_bends_more_than_its_bounds(motion: Motion, one: Shares, two: Shares, p: Vector) -> None:
    bounds = rates(motion, np.array([p]))
    way = length(less(apply(pose_at(motion, one), p), apply(pose_at(motion, two), p)))
    steps = np.abs(np.array(one) - np.array(two))
    assert way <= steps @ bounds.speed[:, 0] + 1e-6
    same_leg = all(
        not any(min(one[d], two[d]) < mark < max(one[d], two[d]) for mark in breaks(motion, d)) for d in (0, 1)
    )
    if same_leg and all(abs(v - mark) > 1e-9 for d in (0, 1) for v in (one[d],) for mark in breaks(motion, d)):
        now = moment(motion, one)
        changes = np.array(two) - np.array(one)
        straight = np.array(apply(pose_at(motion, one), p))
        for drive in (0, 1):
            straight = straight + changes[drive] * (now.turn_rates[drive] @ np.array(p) + now.at_rates[drive])
        off = np.linalg.norm(np.array(apply(pose_at(motion, two), p)) - straight)
        assert off <= steps @ bounds.bend[:, :, 0] @ steps / 2 + 1e-6


def test_the_corner_of_a_lid_passes_a_wall_by_pythagoras() -> None:
    # a lid 400 deep and 18 thick turns about its lower rear edge; its upper front corner is farthest from the axis
    lid = box_between((0, -400, 0), (600, 0, 18))
    ceiling = box_between((-50, -700, 420), (650, 100, 440))
    found = least([lid], [ceiling], Swing(X, (0, 0, 0), 0, -110))
    true = 420 - math.hypot(400, 18)
    assert true - TOLERANCE <= found.gap <= true
    assert found.when[0] * 110 == pytest.approx(90 - math.degrees(math.atan2(18, 400)), abs=1)
    assert found.at[2] == pytest.approx(math.hypot(400, 18), abs=0.02)


def test_the_corner_of_a_door_passes_a_round_post() -> None:
    door = box(600, 20, 700)
    post = moved(cylinder(50, 900), shifted((400, 420, -100)))
    assert least([door], [post], Swing(Z, (0, 0, 0), 0, 60)).gap == 0
    clear = moved(cylinder(50, 900), shifted((500, 480, -100)))
    found = least([door], [clear], Swing(Z, (0, 0, 0), 0, 90))
    true = math.hypot(500, 480) - 25 - math.hypot(600, 20)
    assert found.gap == pytest.approx(true, abs=0.02 + TOLERANCE)  # the post is many-sided, 0.02 mm at most


def test_a_drawer_between_its_sides_has_the_same_gap_all_the_way() -> None:
    drawer = box_between((13, 0, 0), (387, 500, 100))
    sides = [box_between((-18, 0, -20), (0, 500, 300)), box_between((400.5, 0, -20), (418, 500, 300))]
    found = least([drawer], sides, Slide((0, -450, 0)))
    assert 13 - TOLERANCE <= found.gap <= 13
    assert found.bodies == (0, 0)


def test_a_thin_fin_in_the_way_is_never_stepped_over() -> None:
    for at in (123.4567, 77.7, 250.0001):
        fin = box_between((at, 120, -5), (at + 0.05, 160, 5))
        assert least([box(0.05, 130, 1)], [fin], Slide((300, 0, 0))).gap == 0
        past = least([box(0.05, 119, 1)], [fin], Slide((300, 0, 0)))
        assert 1 - TOLERANCE <= past.gap <= 1
        blade = box_between((100, 0, 0), (130, 0.05, 1))
        turning = box_between((129.5, -0.01, -5), (129.6, 0.01, 5))
        place = turned(Z, at)
        assert least([blade], [moved(turning, place)], Swing(Z, (0, 0, 0), 5, 300)).gap == 0


def test_a_wheel_turning_in_its_arch_keeps_its_distance() -> None:
    wheel = moved(cylinder(100, 20), shifted((0, 0, 0)))
    arch = minus(box_between((-80, -80, 0), (80, 80, 20)), [moved(cylinder(110, 40), shifted((0, 0, -10)))])
    found = least([wheel], [arch], Swing(Z, (0, 0, 0), 0, 12))
    assert 4.96 <= found.gap <= 5


def test_a_body_inside_another_from_the_start_has_no_gap() -> None:
    assert least([box_between((40, 40, 40), (50, 50, 50))], [box(100, 100, 100)], Slide((10, 0, 0))).gap == 0


def test_a_crate_is_brought_in_over_a_rail_and_set_down() -> None:
    stand = tube_frame(660, 508, 762, 40)
    crate = box(400, 300, 200)
    over = Path((shifted((100, 100, 1000)), shifted((100, 100, 300)), shifted((100, 55, 300)), shifted((100, 55, 43))))
    found = least([crate], [stand], over)
    true = math.hypot(15, 3)  # from the front lower tube, once it is down
    assert true - TOLERANCE <= found.gap <= true
    assert found.when[0] == pytest.approx(1, abs=0.01)


def test_a_drawer_pulled_in_a_tipping_cart_clears_the_floor_by_trigonometry() -> None:
    # tipped by up to 20 degrees about x at the origin, the drawer out by up to 300: both free
    drawer, floor = box_between((0, 0, 50), (100, 200, 90)), box_between((-500, -900, -300), (500, 900, -200))
    both = Carried(tilt(X, (0, 0, 0), 20), Slide((0, -300, 0), drive=1))
    found = least([drawer], [floor], both)
    sink = 50 * math.cos(math.radians(20)) - 300 * math.sin(math.radians(20))
    assert 200 + sink - TOLERANCE <= found.gap <= 200 + sink
    assert found.when == pytest.approx((1, 1), abs=0.01)


def test_two_doors_that_meet_in_a_corner_are_tried_at_all_angles() -> None:
    # each 100 long, pivots 150 apart in x and level: both at 0 and 180 degrees they overlap; limited, they keep clear
    one, two = box_between((0, -1, 0), (100, 1, 50)), box_between((-100, -1, 0), (0, 1, 50))
    there = moved(two, shifted((150, 0, 0)))
    free = least([one], [there], Swing(Z, (0, 0, 0), -90, 0), Swing(Z, (150, 0, 0), 90, 0, drive=1))
    assert free.gap == 0
    held = least([one], [there], Swing(Z, (0, 0, 0), -90, -60), Swing(Z, (150, 0, 0), 90, 60, drive=1))
    reach = 100 * math.cos(math.radians(60)) + 1 * math.sin(math.radians(60))
    assert held.gap == pytest.approx(150 - 2 * reach, abs=2 * TOLERANCE)
    # on one drive they go together and never meet: the one is always behind by as much as the other
    lag = least([one], [there], Swing(Z, (0, 0, 0), -90, 0), Swing(Z, (150, 0, 0), 0, -90))
    assert lag.gap > 20


def test_pairs_that_rest_on_one_another_can_be_left_out() -> None:
    runner, drawer = box_between((0, 0, -10), (20, 500, 0)), box_between((0, 0, 0), (300, 500, 80))
    wall = box_between((305, -500, 0), (320, 500, 100))
    assert least([drawer], [runner, wall], Slide((0, -400, 0))).gap == 0
    found = least_gap([drawer], [runner, wall], Slide((0, -400, 0)), apart=[(0, 0)])
    assert found is not None
    assert found.gap == pytest.approx(5, abs=TOLERANCE)
    assert found.bodies == (0, 1)
    assert strikes([drawer], [runner, wall], Slide((0, -400, 0)), step=20) == ()
    (hit,) = strikes([drawer], [runner, wall], Slide((50, 0, 0)), step=1)
    assert hit.bodies == (0, 1)
    assert hit.when[0] * 50 == pytest.approx(5.5, abs=0.6)


def test_what_is_too_far_off_to_matter_is_none() -> None:
    far = box_between((1000, 0, 0), (1010, 10, 10))
    assert least_gap([box(10, 10, 10)], [far], Slide((100, 0, 0)), within=50) is None
    assert least_gap([], [far], Slide((1, 0, 0))) is None
    near = least_gap([box(10, 10, 10)], [far], Slide((960, 0, 0)), within=50)
    assert near is not None
    assert near.gap == pytest.approx(30, abs=TOLERANCE)


BRACKET = polygon([(0, 0), (50, 0), (50, 10), (10, 10), (10, 30), (0, 30)])
makers = st.sampled_from([lambda: box(10, 20, 30), lambda: cylinder(12, 40), lambda: prism(BRACKET, 7)])
bodies = st.builds(lambda make, pose: moved(make(), pose), makers, poses)


def sampled(moving: Solid, other: Solid, motion: Motion, each: int) -> float:
    """The least gap at evenly spread moments: what a simulation with steps would say."""
    marks = [np.linspace(0, 1, each) if rates(motion, np.ones((1, 3))).speed[d, 0] > 0 else [0.0] for d in (0, 1)]
    best = math.inf
    for when in itertools.product(*marks):
        found = gap(moved(moving, pose_at(motion, (float(when[0]), float(when[1])))), other)
        assert found is not None
        best = min(best, found.distance)
    return best


@settings(deadline=None, max_examples=25)
@given(bodies, bodies, simple)
def test_never_more_room_than_a_simulation_finds(moving: Solid, other: Solid, motion: Motion) -> None:
    found = least([moving], [other], motion)
    seen = sampled(moving, other, motion, each=41)
    assert found.gap <= seen + 1e-7
    steps = rates(motion, moving.mesh.vertices).speed.max(axis=1).sum() / 40 / 2
    assert found.gap >= seen - steps - TOLERANCE - 1e-7
    if found.gap > 0:
        there = moved(moving, pose_at(motion, found.when))
        shown = gap(there, other)
        assert shown is not None
        assert found.gap <= shown.distance + 1e-7 <= found.gap + TOLERANCE + 1e-6


@settings(deadline=None, max_examples=5)
@given(bodies, bodies, simple, simple)
def test_never_more_room_than_a_simulation_finds_when_carried(a: Solid, b: Solid, by: Motion, own: Motion) -> None:
    motion = Carried(by, own)
    found = least_gap([a], [b], motion, tolerance=0.5)
    assert found is not None
    assert found.gap <= sampled(a, b, motion, each=9) + 1e-7


corners = st.tuples(*[places] * 3).filter(lambda t: min(length(less(t[i], t[i - 1])) for i in range(3)) > 1)
halves = st.floats(0.01, 0.5)


@settings(deadline=None, max_examples=100)
@given(corners, corners, motions, st.tuples(halves, halves), shares, st.lists(shares, min_size=8, max_size=8))
def test_within_a_stretch_nothing_comes_nearer_than_its_bound(
    one: tuple[Vector, ...], two: tuple[Vector, ...], motion: Motion, half: Shares, at: Shares, when: list[Shares]
) -> None:
    # a stretch within one leg of the motion, and two triangles that face each other there
    spans = []
    for drive in (0, 1):
        low, high = next(span for span in itertools.pairwise(breaks(motion, drive)) if at[drive] <= span[1])
        spans.append(((low + high) / 2, min(half[drive], (high - low) / 2) * 0.999))
    middle, wide = (spans[0][0], spans[1][0]), (spans[0][1], spans[1][1])
    rest, other = np.array([one]), np.array([two])
    bounds = rates(motion, rest.reshape(-1, 3))
    side = Side(rest, np.zeros(1, np.int64), motion, bounds)
    a = placed_at(side, middle)
    b = placed_at(Side(other, side.owners, Still(), rates(Still(), other.reshape(-1, 3))), middle)
    first = np.zeros(1, np.int64)
    _, p, q = distances(a.corners, b.corners)
    (bound,) = least_between(a, b, first, first, p, q, wide)
    least_corner, most_corner = boxes_on_the_way(a, wide)
    for x, y in (*when, (0, 0), (0, 1), (1, 0), (1, 1)):
        shares_then = (middle[0] + (2 * x - 1) * wide[0], middle[1] + (2 * y - 1) * wide[1])
        pose = pose_at(motion, shares_then)
        there = np.array([[apply(pose, corner) for corner in one]])
        assert distances(there, other)[0][0] >= bound - 1e-6
        assert (there[0].min(axis=0) >= least_corner[0] - 1e-6).all()
        assert (there[0].max(axis=0) <= most_corner[0] + 1e-6).all()


def test_the_same_question_has_the_same_answer_to_the_last_digit() -> None:
    lid, post = box(600, 400, 18), box_between((700, 0, 100), (800, 400, 500))
    answers = {repr(least([lid], [post], Swing(Y, (0, 0, 0), 0, -90))) for _ in range(2)}
    assert len(answers) == 1


@given(poses, poses, st.floats(0, 1))
def test_between_two_poses_the_way_is_the_short_one(one: Pose, two: Pose, share: float) -> None:
    def turn(a: Pose, b: Pose) -> float:
        trace = sum(a.turn[i][j] * b.turn[i][j] for i in range(3) for j in range(3))
        return math.degrees(math.acos(max(-1.0, min(1.0, (trace - 1) / 2))))

    middle = pose_at(Path((one, two)), (share, 0))
    assert turn(one, middle) == pytest.approx(share * turn(one, two), abs=1e-3)
    assert turn(middle, two) == pytest.approx((1 - share) * turn(one, two), abs=1e-3)
