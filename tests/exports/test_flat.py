"""The flat sides of parts: never mirrored, everything where the solid has it, outlines as they are sawn."""

import math

import numpy as np
import pytest

from storystick.exports.flat import BOARD, Closed, Flat, Line, Round, flats, turned_over
from storystick.exports.lying import bodies, lying
from storystick.model.cut import Bevel, Bore, Side
from storystick.model.part import Part
from storystick.shapes.outline import Outline, rectangle
from storystick.shapes.pose import Vector, apply, shifted
from storystick.shapes.solid import Solid, box_between, cylinder, meet, minus, moved, prism, union
from tests.exports.pieces import ALL, piece

SKIN = 0.05  # a slice of the solid just under the side [mm]


def own_point(flat: Flat, x: float, y: float, down: float) -> Vector:
    """A point of the drawing, so deep under the side, in the part's own coordinates."""
    a, b = flat.side.axes
    size = [float(one) for one in flat.part.size]
    point = [0.0, 0.0, 0.0]
    point[a] = x
    point[b] = flat.size[1] - y if turned_over(flat.part, flat.side) else y
    n = flat.side.normal
    point[n] = size[n] - down if flat.side.is_far else down
    return (point[0], point[1], point[2])


def on_bench(flat: Flat, x: float, y: float, down: float) -> np.ndarray:
    """The same on the bench, where nothing is mirrored."""
    return np.array(apply(lying(flat.part), own_point(flat, x, y, down)))


@pytest.mark.parametrize("of", ALL)
def test_no_side_is_drawn_mirrored(of: str):
    seen = 0
    for part in piece(of).build.parts:
        for flat in flats(part):
            zero = on_bench(flat, 0, 0, 0)
            right, up = on_bench(flat, 1, 0, 0) - zero, on_bench(flat, 0, 1, 0) - zero
            toward_the_eye = zero - on_bench(flat, 0, 0, 1)
            assert np.cross(right, up) == pytest.approx(toward_the_eye)
            seen += flat.side is not Side.FACE
    assert seen or of == "boards"


@pytest.mark.parametrize("of", ALL)
def test_parts_lie_on_the_bench_as_they_are_and_stand_where_the_piece_has_them(of: str):
    scene = piece(of).scene
    for body in bodies(scene):
        assert body.solid.bounds[0] == pytest.approx((0, 0, 0), abs=1e-9 if of != "boards" else 10)
        for part, pose in zip(body.parts, body.placed, strict=True):
            assert not pose.is_mirrored
            stands, there = moved(body.solid, pose), scene.parts[part.name]
            assert np.array(stands.bounds) == pytest.approx(np.array(there.bounds), abs=1e-6)
            assert minus(stands, [there]).volume == pytest.approx(0, abs=0.5)


def slice_drawn(flat: Flat) -> Solid:
    """What the drawing says is wood just under the side, drawn out over the depth of the skin."""
    boards = union(
        [prism(mark.outline, SKIN) for mark in flat.marks if isinstance(mark, Closed) and mark.layer == BOARD]
    )
    cuts: list[Solid] = []
    for mark in flat.marks:
        if isinstance(mark, Closed) and mark.layer != BOARD:
            cuts.append(moved(prism(mark.outline, SKIN + 2), shifted((0, 0, -1))))
        if isinstance(mark, Round):
            cuts.append(moved(cylinder(mark.diameter, SKIN + 2), shifted((*mark.centre, -1))))
    return minus(boards, cuts)


def slice_there(flat: Flat, solid: Solid) -> Solid:
    """The skin of the solid under the side, brought into the drawing's coordinates by points alone."""
    corners = [on_bench(flat, x, y, d) for x, y, d in ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1))]
    zero, frame = corners[0], np.array([corner - corners[0] for corner in corners[1:]])
    low, high = np.array([0, 0, 0.0]), np.array([*flat.size, SKIN])
    ends = np.array([zero + frame.T @ low, zero + frame.T @ high])
    skin = meet(solid, box_between(tuple(ends.min(axis=0)), tuple(ends.max(axis=0))))  # type: ignore[arg-type]
    mesh = skin.mesh
    from storystick.shapes.solid import from_mesh

    return from_mesh((mesh.vertices - zero) @ frame.T * [1, 1, 1], mesh.triangles[:, ::-1])


def plainly_there(part: Part, side: Side) -> bool:
    """Slanting cuts and cuts from other sides leave more in the skin than the drawing of one side shows."""
    for cut in part.cuts:
        if isinstance(cut, Bevel) or (isinstance(cut, Bore) and (cut.lean or cut.sink)):
            return False
        if getattr(cut, "side", side) is not side and not (isinstance(cut, Bore) and cut.depth is not None):
            return False
    return side in (Side.FACE, Side.BACK) or not any(hasattr(cut, "corners") for cut in part.cuts)


@pytest.mark.parametrize("of", ALL)
def test_what_is_drawn_is_what_the_solid_has_under_that_side(of: str):
    compared = 0
    for body in bodies(piece(of).scene):
        for flat in flats(body.parts[0]):
            if not plainly_there(flat.part, flat.side):
                continue
            drawn, there = slice_drawn(flat), slice_there(flat, body.solid)
            area = flat.size[0] * flat.size[1]
            assert minus(drawn, [there]).volume / SKIN < 2e-4 * area + 0.5, (flat.part.name, flat.side)
            assert minus(there, [drawn]).volume / SKIN < 2e-4 * area + 0.5, (flat.part.name, flat.side)
            compared += 1
    assert compared


def board(name: str, part: str) -> tuple[Outline, ...]:
    """The outlines of a board's face."""
    flat = next(flats(piece(name).build.part(part)))
    return tuple(mark.outline for mark in flat.marks if isinstance(mark, Closed) and mark.layer == BOARD)


def test_rounded_corners_stay_true_arcs():
    (outline,) = board("boards", "shelf.board")
    assert sorted(abs(b) for b in outline.bulges if b) == pytest.approx([math.tan(math.pi / 8)] * 2, abs=1e-5)
    corners_lost = (1 - math.pi / 4) * (40**2 + 25**2)
    assert outline.area == pytest.approx(600 * 300 - corners_lost, abs=0.05)


def test_a_notch_with_rounded_corners_is_sawn_to_its_size():
    (outline,) = board("boards", "ring.board")
    notch = 100 * 50 - 2 * (1 - math.pi / 4) * 20**2
    assert outline.area == pytest.approx(500 * 200 - notch, abs=0.05)
    assert sum(1 for b in outline.bulges if b) == 2


def test_a_sloped_board_keeps_its_two_widths():
    (outline,) = board("boards", "slope.board")
    assert outline.is_straight
    assert outline.area == pytest.approx(800 * (300 + 120) / 2 - 30 * 30 / 2, rel=0.01)


def test_a_plain_board_is_its_rectangle():
    assert board("plain", "cabinet.top") == (rectangle(564 + 2 * 6, 300),) or len(board("plain", "cabinet.top")) == 1


def test_layers_tell_operation_and_depth():
    layers = {layer for part in piece("plain").build.parts for flat in flats(part) for layer in flat.layers}
    assert BOARD in layers
    assert any(layer.startswith("CHANNEL-DEEP-") for layer in layers)
    assert any(layer.startswith("BORE-") and layer.endswith("-THROUGH") for layer in layers)
    slanting = {layer for part in piece("pockets").build.parts for flat in flats(part) for layer in flat.layers}
    assert any("-LEANS-" in layer for layer in slanting)


def test_a_bevel_is_drawn_where_the_board_keeps_its_full_size():
    lines = [m for p in piece("lathe-cabinet").build.parts for f in flats(p) for m in f.marks if isinstance(m, Line)]
    assert {line.layer for line in lines} == {"BEVEL-45-DEG"}
