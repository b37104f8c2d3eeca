"""By their hulls bodies are never told to be farther apart than they are."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from storystick.shapes.hulls import all_but, apart, hulls_of, in_question
from storystick.shapes.motion import Motion, Slide, Still, Swing, breaks, pose_at
from storystick.shapes.near import gap
from storystick.shapes.pose import Z, shifted
from storystick.shapes.solid import Solid, box, moved
from tests.shapes.test_motion import bodies, simple


@settings(deadline=None, max_examples=60)
@given(st.lists(bodies, min_size=1, max_size=3), bodies, simple, st.floats(0.05, 0.95), st.floats(0.01, 0.05))
def test_hulls_never_tell_more_room_than_there_is(
    moving: list[Solid], other: Solid, motion: Motion, middle: float, half: float
) -> None:
    along, now = apart(
        hulls_of(moving, motion), hulls_of([other], Still()), np.array([[middle, middle]]), np.array([[half, half]])
    )
    assume(not any(abs(middle - at) < half + 1e-6 for drive in (0, 1) for at in breaks(motion, drive)))
    for row, solid in enumerate(moving):
        for share in (-1.0, -0.4, 0.0, 0.7, 1.0):
            at = middle + share * half
            found = gap(moved(solid, pose_at(motion, (at, at))), other)
            assert found is not None
            assert along[0, row, 0] <= found.distance + 1e-6
            if share == 0:
                assert now[0, row, 0] <= found.distance + 1e-6
    assert (along <= now + 1e-9).all()


def test_boxes_are_told_as_far_apart_as_they_are_face_to_face_and_edge_to_edge():
    still, cube = np.zeros((1, 2)), box(10, 10, 10)
    for off, distance in (((13, 0, 0), 3.0), ((13, 14, 0), 5.0), ((13, 14, 22), 13.0)):
        along, now = apart(hulls_of([cube], Still()), hulls_of([moved(cube, shifted(off))], Still()), still, still)
        assert along[0, 0, 0] == now[0, 0, 0] == pytest.approx(distance, abs=1e-6)


def test_bodies_in_one_place_have_less_than_no_room_between_them():
    along, _ = apart(
        hulls_of([box(10, 20, 30)], Still()), hulls_of([box(4, 4, 4)], Still()), np.zeros((1, 2)), np.zeros((1, 2))
    )
    assert along[0, 0, 0] == pytest.approx(-4, abs=1e-6)


def test_only_what_a_drawer_passes_and_where_is_left_in_question():
    drawer, post, far = box(400, 300, 100), moved(box(20, 20, 900), shifted((420, -250, 0))), box(5, 5, 5)
    far = moved(far, shifted((0, 0, 500)))
    stretches, meet = in_question([drawer], [post, far], (Slide((0, -400, 0)), Still()), 25, all_but((), 1, 2))
    assert np.argwhere(meet).tolist() == [[0, 0]]
    assert 0 < len(stretches) <= 8
    left, _ = in_question([drawer], [post, far], (Swing(Z, (400, 0, 0), 0, 20), Still()), 25, all_but(((0, 0),), 1, 2))
    assert left == []
