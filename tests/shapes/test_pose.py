"""Poses: where a body is and how it is turned."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.shapes.pose import (
    HERE,
    UNTURNED,
    Pose,
    Vector,
    X,
    Y,
    Z,
    apply,
    compose,
    cross,
    direct,
    dot,
    facing,
    framed,
    invert,
    length,
    less,
    mirrored,
    shifted,
    turned,
    unit,
)

numbers = st.floats(-2000, 2000).map(lambda v: round(v, 4))
points = st.tuples(numbers, numbers, numbers)
directions = points.filter(lambda v: length(v) > 1)
angles = st.floats(-720, 720)
poses = st.builds(turned, directions, angles, points)


def square_poses() -> list[Pose]:
    found = []
    for order in itertools.permutations(range(3)):
        for signs in itertools.product((1.0, -1.0), repeat=3):
            rows = tuple(tuple(signs[i] if order[i] == j else 0.0 for j in range(3)) for i in range(3))
            found.append(Pose(rows, (600.1, 18.3, -0.7)))  # type: ignore[arg-type]
    return found


def close(a: Vector, b: Vector) -> bool:
    return length(less(a, b)) < 1e-7


@given(poses, points)
def test_putting_back_undoes_putting_there(pose: Pose, point: Vector) -> None:
    assert close(apply(invert(pose), apply(pose, point)), point)
    assert close(apply(compose(pose, invert(pose)), point), point)


@given(poses, poses, points)
def test_a_thing_in_a_thing_is_placed_by_both(outer: Pose, inner: Pose, point: Vector) -> None:
    assert close(apply(compose(outer, inner), point), apply(outer, apply(inner, point)))


@given(poses, points, points)
def test_turning_keeps_every_distance(pose: Pose, a: Vector, b: Vector) -> None:
    assert length(less(apply(pose, a), apply(pose, b))) == pytest.approx(length(less(a, b)), abs=1e-7)


@given(directions, angles, points)
def test_the_axis_itself_stays_where_it_is(axis: Vector, angle: float, about: Vector) -> None:
    assert close(apply(turned(axis, angle, about), about), about)
    assert close(direct(turned(axis, angle), unit(axis)), unit(axis))


def test_square_poses_are_exact_to_the_last_digit() -> None:
    point = (0.1, 0.2, 0.7)
    for a, b in itertools.product(square_poses(), repeat=2):
        both = compose(a, b)
        assert set(itertools.chain(*both.turn)) <= {-1.0, 0.0, 1.0}
        assert both.turn == Pose(both.turn).turn
        assert compose(invert(a), a).turn == UNTURNED
        assert direct(invert(a), direct(a, point)) == point
    assert all(invert(invert(Pose(p.turn))) == Pose(p.turn) for p in square_poses())


def test_half_of_the_square_poses_are_left_handed() -> None:
    assert sum(pose.is_mirrored for pose in square_poses()) == 24
    assert mirrored(X).is_mirrored
    assert not compose(mirrored(X), mirrored(Y)).is_mirrored


def test_a_quarter_turn_takes_x_to_y_exactly() -> None:
    assert direct(turned(Z, 90), X) == Y
    assert direct(turned(Z, -90), X) == (0, -1, 0)
    assert direct(turned(Z, 450), X) == Y
    assert turned(Y, 360) == HERE
    assert apply(turned(Z, 90, about=(10, 0, 0)), (0, 0, 0)) == (10, -10, 0)


def test_a_sixth_of_a_turn_by_hand() -> None:
    assert close(direct(turned(Z, 60), X), (0.5, math.sqrt(3) / 2, 0))


def test_a_mirror_in_the_middle_swaps_left_and_right() -> None:
    assert apply(mirrored(X, through=(300, 0, 0)), (18, 5, 7)) == (582, 5, 7)


@given(directions)
def test_facing_is_right_handed_and_looks_where_it_should(z: Vector) -> None:
    pose = facing(z)
    assert close(pose.axes[2], unit(z))
    assert not pose.is_mirrored
    assert facing(z) == pose


def test_a_sheared_frame_is_refused() -> None:
    with pytest.raises(ValueError, match="not a turn"):
        framed(X, (1, 1, 0), Z)
    with pytest.raises(ValueError, match="no direction"):
        turned((0, 0, 0), 10)


def test_equal_poses_have_equal_hashes_and_print_alike() -> None:
    a, b = compose(turned(Z, 180), turned(Z, 180)), HERE
    assert a == b
    assert hash(a) == hash(b)
    assert repr(a) == repr(b)
    assert shifted((-0.0, 0, 0)) == HERE


@given(poses, poses)
def test_many_turns_after_each_other_stay_square(a: Pose, b: Pose) -> None:
    pose = HERE
    for _ in range(50):
        pose = compose(compose(a, b), pose)
        pose = Pose(pose.turn)
    assert abs(dot(cross(pose.turn[0], pose.turn[1]), pose.turn[2]) - 1) < 1e-9
