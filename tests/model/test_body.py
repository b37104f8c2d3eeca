"""Parts as solids: what is left of a board after its cuts, against volumes reckoned by hand."""

import math
from fractions import Fraction

import pytest

from storystick.ground.dim import Dim, given
from storystick.model.body import own_pose, solid_of
from storystick.model.cut import Bevel, Bore, Channel, Corner, Cut, Notch, Side
from storystick.model.part import Part
from storystick.model.stock import Stock
from storystick.shapes.pose import apply

LONG, WIDE, THICK = 300.0, 120.0, 18.0


def mm(value: float) -> Dim:
    return given(str(value), Fraction(value), "by hand")


def board(*cuts: Cut, lies: tuple[int, int, int] = (0, 1, 2), datum: tuple[int, int, int] = (1, 1, 1)) -> Part:
    stock = Stock("ply", "sheet", "birch plywood", mm(THICK), mm(THICK), density=700)
    size = (mm(LONG), mm(WIDE), mm(THICK))
    return Part("board", "board", "piece", stock, size, lies, (mm(10), mm(20), mm(30)), datum, cuts)


def taken(*cuts: Cut) -> float:
    return LONG * WIDE * THICK - solid_of(board(*cuts)).volume


def channel(side: Side, at: tuple[float, float], size: tuple[float, float], depth: float) -> Channel:
    return Channel("c", side, (mm(at[0]), mm(at[1])), (mm(size[0]), mm(size[1])), mm(depth), 0, "channel")


@pytest.mark.parametrize(
    ("cut", "volume"),
    [
        (channel(Side.FACE, (50, 0), (18, WIDE), 6), 18 * WIDE * 6),  # right across
        (channel(Side.BACK, (50, 20), (100, 10), 5), 100 * 10 * 5),  # stopped at both ends
        (channel(Side.EDGE, (0, 6), (LONG, 6), 10), LONG * 6 * 10),  # along an edge
        (channel(Side.FAR_END, (0, 6), (WIDE, 6), 12), WIDE * 6 * 12),
        (channel(Side.FACE, (0, 0), (LONG, 9), 9), LONG * 9 * 9),  # a step along the edge
    ],
)
def test_a_channel_takes_its_length_times_width_times_depth(cut: Channel, volume: float) -> None:
    assert taken(cut) == pytest.approx(volume, rel=1e-9)


def bore(diameter: float, depth: float | None, **more: object) -> Bore:
    deep = None if depth is None else mm(depth)
    return Bore("b", Side.FACE, (mm(60), mm(60)), mm(diameter), deep, "hole", **more)  # type: ignore[arg-type]


def test_a_hole_takes_a_cylinder() -> None:
    assert taken(bore(20, 10)) == pytest.approx(
        math.pi * 100 * 10, rel=0.006
    )  # a many-sided cylinder is a little small
    assert taken(bore(20, None)) == pytest.approx(math.pi * 100 * THICK, rel=0.006)


def test_a_countersink_takes_a_cone_of_ninety_degrees_as_well() -> None:
    small, wide = 2.5, 5.0
    cone = math.pi / 3 * (wide - small) * (wide**2 + wide * small + small**2)
    straight = math.pi * small**2 * (THICK - (wide - small))
    assert taken(bore(2 * small, None, sink=mm(2 * wide))) == pytest.approx(cone + straight, rel=0.02)


def test_a_counterbore_takes_two_cylinders() -> None:
    step = (mm(16), mm(6))
    assert taken(bore(6, None, step=step)) == pytest.approx(math.pi * (64 * 6 + 9 * (THICK - 6)), rel=0.01)


def test_a_countersink_wider_than_the_hole_is_deep_stays_in_the_hole() -> None:
    assert taken(bore(2, 1, sink=mm(12))) > 0


def test_a_notch_goes_right_through_and_may_have_round_corners() -> None:
    corners = [(0, 0), (40, 0), (40, 30), (0, 30)]
    sharp = Notch("n", tuple(Corner(mm(u), mm(v)) for u, v in corners), "notch")
    assert taken(sharp) == pytest.approx(40 * 30 * THICK)
    rounded = Notch("n", (*sharp.corners[:2], Corner(mm(40), mm(30), mm(10)), sharp.corners[3]), "notch")
    assert taken(rounded) == pytest.approx((40 * 30 - 100 + math.pi * 25) * THICK, rel=1e-3)


@pytest.mark.parametrize("from_back", [False, True])
def test_a_mitred_end_takes_half_a_square_bar(from_back: bool) -> None:
    cut = Bevel("m", Side.FAR_END, 45, "mitre", from_back)
    assert taken(cut) == pytest.approx(THICK * THICK / 2 * WIDE, rel=1e-9)


def test_the_datum_corner_of_a_board_lies_where_its_marks_say() -> None:
    upright = board(lies=(2, 1, 0), datum=(1, 1, 1))  # length up, width to the rear, face looking right
    pose = own_pose(upright)
    assert apply(pose, (0, 0, 0)) == (10 + THICK, 20, 30)
    assert apply(pose, (LONG, 0, 0)) == (10 + THICK, 20, 30 + LONG)
    assert apply(pose, (0, WIDE, THICK)) == (10, 20 + WIDE, 30)


def test_a_board_and_its_mirror_twin_have_opposite_hands() -> None:
    left, right = board(lies=(2, 1, 0), datum=(1, 1, 1)), board(lies=(2, 1, 0), datum=(1, 1, -1))
    assert left.is_left_handed != right.is_left_handed
    assert own_pose(left).is_mirrored != own_pose(right).is_mirrored
