"""What is known of a bored board without boring it is what the bored one shows."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from storystick.model.body import solid_of
from storystick.model.cut import Bore, Channel, Corner, Cut, Notch, Side
from storystick.shapes.bored import creased
from storystick.shapes.edges import drawn_edges
from storystick.shapes.near import gap
from storystick.shapes.pose import compose, shifted, turned
from storystick.shapes.solid import Counts, Mesh, Solid, box, cylinder, from_mesh, moved
from tests.model.test_body import LONG, THICK, WIDE, board, mm

SIZE = {Side.FACE: (LONG, WIDE), Side.BACK: (LONG, WIDE), Side.EDGE: (LONG, THICK), Side.FAR_END: (WIDE, THICK)}


@st.composite
def bores(draw: st.DrawFn) -> Bore:
    side = draw(st.sampled_from(sorted(SIZE, key=lambda one: one.value)))
    at = [far / 2 if far == THICK else draw(st.integers(0, 24)) * far / 24 for far in SIZE[side]]
    wide, deep = draw(st.sampled_from((2.5, 5, 8))), draw(st.sampled_from((None, 4, 11, 30)))
    sink = draw(st.sampled_from((None, 12)))
    step = draw(st.sampled_from((None, (14, 3)))) if sink is None else None
    lean, toward = draw(st.sampled_from(((0.0, (0, 0)), (0.0, (0, 0)), (15.0, (1, 0)))))
    return Bore(
        "b", side, (mm(at[0]), mm(at[1])), mm(wide), None if deep is None else mm(deep), "hole", lean, toward,
        None if sink is None else mm(sink), None if step is None else (mm(step[0]), mm(step[1])),
    )  # fmt: skip


TROUGH = Channel("c", Side.FACE, (mm(50), mm(0)), (mm(18), mm(WIDE)), mm(6), 1, "channel")
ALONG = Channel("c", Side.EDGE, (mm(0), mm(6)), (mm(LONG), mm(6)), mm(10), 0, "channel")
CORNER = Notch("n", (Corner(mm(0), mm(0)), Corner(mm(40), mm(0)), Corner(mm(40), mm(30)), Corner(mm(0), mm(30))), "n")
cuts = st.lists(st.one_of(bores(), st.sampled_from((TROUGH, ALONG, CORNER))), min_size=1, max_size=5)


def bored(some: list[Cut]) -> tuple[Solid, Solid]:
    """The part as it comes, and its mesh alone, of which nothing else is known."""
    made = solid_of(board(*some))
    return made, replace(made, around=None, drilled=None)


@settings(max_examples=120, deadline=None)
@given(cuts)
def test_weight_balance_and_size_of_a_board_are_known_before_it_is_bored(some: list[Cut]):
    made, mesh = bored(some)
    event("known" if made.drilled and made.drilled.volume is not None else "left to the mesh")
    assert made.volume == pytest.approx(mesh.volume, rel=1e-9)
    assert made.centre == pytest.approx(mesh.centre, abs=1e-6)
    assert made.bounds == mesh.bounds
    assert made.in_one_piece == mesh.in_one_piece
    assert made.is_empty == mesh.is_empty


def test_holes_with_whole_wood_about_them_are_known_and_others_left_to_the_mesh():
    def hole(u: float, v: float, side: Side = Side.FACE, deep: float | None = None) -> Bore:
        return Bore("b", side, (mm(u), mm(v)), mm(8), None if deep is None else mm(deep), "hole")

    def known(*some: Cut) -> bool:
        found = solid_of(board(*some)).drilled
        return found is not None and found.volume is not None

    assert known(hole(20, 60), hole(40, 60), hole(60, 9, Side.EDGE, 20))
    assert known(TROUGH, hole(59, 60))  # in the middle of the floor of a trough wider than itself
    assert not known(TROUGH, hole(52, 60))  # half in its wall
    assert not known(hole(20, 60), hole(26, 60))  # one into another
    assert not known(hole(3, 60))  # out at the end
    assert not known(CORNER, hole(38, 32))
    assert not known(hole(20, 8), hole(20, 9, Side.EDGE, 20))  # from two sides into one another


@settings(max_examples=60, deadline=None)
@given(cuts, st.tuples(*[st.integers(-40, 40)] * 3), st.sampled_from((0, 30, 90)), st.booleans())
def test_a_bored_board_is_as_far_from_its_neighbour_as_its_mesh_is(
    some: list[Cut], off: tuple[int, int, int], degrees: float, is_bar: bool
):
    made, mesh = bored(some)
    other = moved(cylinder(3, 60) if is_bar else box(30, 40, 50), shifted((off[0] * 7.5, off[1] * 3.1, off[2] * 1.7)))
    placed = compose(shifted((1.5, -2, 3)), turned((0, 0, 1), degrees))
    mine, whole = (gap(moved(one, placed), other, 60) for one in (made, mesh))
    assert (mine is None) == (whole is None)
    if mine is not None and whole is not None:
        assert mine.distance == pytest.approx(whole.distance, abs=1e-6)


square = st.lists(
    st.one_of(bores().filter(lambda one: not one.lean and one.at[0].value > 12), st.sampled_from((TROUGH, ALONG))),
    min_size=1,
    max_size=4,
)


@settings(max_examples=300, deadline=None)
@given(square)
def test_its_faces_put_together_without_cutting_are_those_of_the_cut_one(some: list[Cut]):
    """Compared with the mesh library's own cutting: volume, faces, holes through it, and the length of all creases."""
    known, cut = bored(some)
    if known.drilled is None or not known.drilled.shafts:
        event("left to the mesh")
        return
    mesh, creases = creased(known)
    assert "mesh" not in known.__dict__, "it was cut"
    whole = from_mesh(mesh.vertices, mesh.triangles)  # it closes, or this would not be made
    assert whole.volume == pytest.approx(cut.volume, rel=1e-9)
    assert whole.surface == pytest.approx(cut.surface, rel=1e-9)
    assert whole.body.genus() == cut.body.genus()
    by_cutting, _ = drawn_edges(cut.mesh, np.zeros(3))
    assert length(mesh, creases) == pytest.approx(length(cut.mesh, by_cutting), rel=1e-6)


def length(mesh: Mesh, edges: Counts) -> float:
    """Of some edges together [mm]."""
    return float(np.linalg.norm(mesh.vertices[edges[:, 0]] - mesh.vertices[edges[:, 1]], axis=1).sum())
