"""What holds between two bodies is one and the same wherever in the room the two stand together."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.ground.kept import forget
from storystick.shapes.near import gap, overlap
from storystick.shapes.pose import Pose, Vector, compose, shifted, turned
from storystick.shapes.relation import apart, relation
from storystick.shapes.solid import Solid, box, cylinder, minus, moved
from storystick.shapes.triangles import beyond, distances

SPOTS = st.tuples(*[st.integers(-40, 40).map(lambda n: n / 4)] * 3)
FAR = st.tuples(*[st.floats(-3000, 3000).map(lambda v: round(v, 3))] * 3)
TURNS = st.tuples(st.sampled_from([(1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 2.0, 3.0)]), st.integers(-12, 12))


def board() -> Solid:
    """A board with a groove and a hole in it."""
    groove, hole = moved(box(42, 6, 4), shifted((-1, 12, -1))), moved(cylinder(8, 20), shifted((30, 6, -2)))
    return minus(box(40, 30, 10), [groove, hole])


def turn_of(turn: tuple[Vector, int]) -> Pose:
    return turned(turn[0], turn[1] * 15.0)


@settings(max_examples=60, deadline=None)
@given(SPOTS, TURNS, FAR)
def test_two_boards_moved_together_share_what_they_shared_before(off: Vector, turn: tuple[Vector, int], by: Vector):
    one, other = board(), box(20, 20, 20)
    a, b = moved(one, turn_of(turn)), moved(other, shifted(off))
    far_a, far_b = moved(a, shifted(by)), moved(b, shifted(by))
    here = overlap(a, b)
    forget()
    there = overlap(far_a, far_b)
    assert (here is None) == (there is None)
    if here and there:
        assert (here.volume, here.thickness) == (there.volume, there.thickness)
        assert np.allclose(np.subtract(there.at, here.at), by, atol=1e-6)


@settings(max_examples=60, deadline=None)
@given(SPOTS, TURNS, FAR)
def test_two_boards_moved_together_are_as_near_as_before_to_the_last_bit(
    off: Vector, turn: tuple[Vector, int], by: Vector
):
    beside = compose(shifted((off[0] + 60, *off[1:])), turn_of(turn))
    a, b = moved(board(), turn_of(turn)), moved(box(20, 20, 20), beside)
    here = gap(a, b)
    forget()
    there = gap(moved(a, shifted(by)), moved(b, shifted(by)))
    assert here is not None
    assert there is not None
    assert here.distance == there.distance


def test_how_two_bodies_stand_to_one_another_is_free_of_the_dust_of_floats():
    body = box(1, 1, 1)
    near = relation(moved(body, shifted((0.1, 0.2, 0.3))), moved(body, shifted((0.4, 0.4, 0.4))))
    far = relation(moved(body, shifted((1000.1, 0.2, -0.3))), moved(body, shifted((1000.4, 0.4, -0.2))))
    assert near == far
    assert apart(Pose(), shifted((1e-12, 0.0, 0.0))) == (0.0, 0.0, 0.0)


def test_a_body_knows_what_it_was_made_as_however_often_it_was_moved():
    body = box(10, 20, 30)
    once = moved(body, turned((0.0, 0.0, 1.0), 90))
    twice = moved(once, shifted((5.0, 6.0, 7.0)))
    assert twice.own is body
    assert twice.pose == compose(shifted((5.0, 6.0, 7.0)), turned((0.0, 0.0, 1.0), 90))
    assert twice.volume == body.volume
    assert np.allclose(twice.centre, [-5, 11, 22])


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000))
def test_no_two_triangles_are_nearer_than_one_is_beyond_the_plane_of_the_other(seed: int):
    draw = np.random.default_rng(seed)
    one, other = draw.normal(size=(30, 3, 3)), draw.normal(size=(30, 3, 3)) + draw.normal(size=(30, 1, 3)) * 3
    one[0] = one[0, :1]  # a point
    one[1, 2] = one[1, 1]  # a needle
    assert (beyond(one, other) <= distances(one, other)[0] + 1e-9).all()
