"""Why holes come before the glue: what stands in front of them afterwards, found from where parts lie."""

from storystick.model.cut import Side
from storystick.work.hiding import hidden, in_front
from tests.work.by_hand import assembly, board, bore, piece


def narrow(gap: int):
    """Two uprights facing one another across a gap; the left one has a hole in the side that looks across it."""
    hole = bore("hole", (100, 50), 5, 10, Side.FACE)
    # lying along z, wide along y, thick along x; datum +1 for the thickness: the face looks up the x axis
    left = board("c.left", (0, 0, 0), (18, 300, 700), "zyx", [hole], assembly="c", datum=(1, 1, 1))
    divider = board("c.divider", (18 + gap, 0, 0), (18, 300, 700), "zyx", assembly="c")
    return piece(left, divider, assemblies=(assembly("c"),)), left, hole


def test_a_hole_is_behind_what_stands_close_in_front_of_it():
    build, left, hole = narrow(120)
    found = in_front(left, hole, build)
    assert found is not None
    assert found.name == "c.divider"
    assert "divider afterwards" in hidden([(left, hole)], build)


def test_a_hole_with_room_for_a_drill_is_behind_nothing():
    build, left, hole = narrow(450)
    assert in_front(left, hole, build) is None
    assert hidden([(left, hole)], build) == ""


def test_a_hole_that_looks_the_other_way_is_behind_nothing():
    build, left, _ = narrow(120)
    assert in_front(left, bore("out", (100, 50), 5, 10, Side.BACK), build) is None


def test_a_hole_beside_what_stands_in_front_is_free():
    hole = bore("hole", (650, 50), 5, 10, Side.FACE)
    left = board("c.left", (0, 0, 0), (18, 300, 700), "zyx", [hole], assembly="c", datum=(1, 1, 1))
    low = board("c.low", (100, 0, 0), (18, 300, 400), "zyx", assembly="c")
    assert in_front(left, hole, piece(left, low, assemblies=(assembly("c"),))) is None
