"""Sound wood tells at once what the solids would: never more than they do, and as a rule all of it."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.assembly.blocking import hits
from storystick.assembly.bodies import bodies_of, site_of
from storystick.assembly.sound import boxes_in, stands_in
from storystick.model.body import solid_of_shape
from storystick.model.build import Shape, SiteBody
from storystick.model.cut import Corner, Notch
from storystick.model.eased import eased_solid
from storystick.model.part import Part
from storystick.model.scene import Scene
from storystick.shapes.near import overlap
from storystick.shapes.outline import polygon, smeared
from storystick.shapes.pose import facing, less, unit
from storystick.shapes.solid import box_between, cylinder, meet, moved, prism, union
from tests.checks.by_hand import board, bore, mm, piece, three

SPLAYED = ((0, 0), (80, 0), (160, 850), (80, 850))
BENT = ((0, 0), (100, 0), (100, 200), (60, 200), (60, 40), (0, 40))
NOTCHED = ((120, 60), (120, 40), (180, 40), (180, 60))

spots = st.tuples(*(st.floats(-60, top) for top in (360, 120, 80)))


def front(*, holes: bool) -> Part:
    """A board on edge with a rounded notch at its top, and screw holes beside it."""
    corners = tuple(Corner(mm(u), mm(v), mm(12) if v == 40 else None) for u, v in NOTCHED)
    notch = Notch("case.front notch", corners, "finger notch")
    some = [(u, v) for u in (30, 60, 240, 270) for v in (20, 40)] if holes else []
    bores = [bore(f"case.front {spot}", spot, 5, None) for spot in some]
    return board("case.front", (0, 0, 0), (300, 60, 12), cuts=[notch, *bores])


def prismatic(outline: tuple[tuple[int, int], ...], axis: int) -> Shape:
    at, size = [0, 0, 0], [430, 430, 430]
    for own, index in zip([i for i in range(3) if i != axis], (0, 1), strict=True):
        low, high = min(c[index] for c in outline), max(c[index] for c in outline)
        at[own], size[own] = low, high - low
    corners = tuple((mm(p), mm(q)) for p, q in outline)
    return Shape("prism", three((at[0], at[1], at[2])), three((size[0], size[1], size[2])), axis, corners)


def shift(shape: Shape, by: int) -> Shape:
    """Farther to the right."""
    at = (shape.at[0] + mm(by), shape.at[1], shape.at[2])
    return replace(shape, at=at, outline=tuple((p + mm(by), q) for p, q in shape.outline))


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("outline", [SPLAYED, BENT])
def test_the_boxes_in_a_slanting_thing_lie_in_it_and_fill_most_of_it(outline: tuple[tuple[int, int], ...], axis: int):
    shape = prismatic(outline, axis)
    solid, boxes = solid_of_shape(shape), [box_between(*one) for one in boxes_in(shape)]
    assert union([*boxes, solid]).volume == pytest.approx(solid.volume, rel=1e-9)
    assert union(boxes).volume > 0.85 * solid.volume
    assert sum(box.volume for box in boxes) == pytest.approx(union(boxes).volume, rel=1e-9)


def test_there_are_no_boxes_in_a_round_thing():
    assert boxes_in(Shape("cylinder", three((0, 0, 0)), three((50, 50, 300)), 2)) == ()


@settings(max_examples=150, deadline=None)
@given(spots, spots, st.sampled_from([4.5, 12.0, 37.0]), st.booleans(), st.booleans())
def test_where_sound_wood_stands_in_a_drivers_room_the_board_does(one, other, half: float, square: bool, holes: bool):
    if square:
        other = (other[0], one[1], one[2])
    if math.dist(one, other) < 5:
        return
    part = front(holes=holes)
    scene = Scene(piece(part))
    (body,) = bodies_of(scene)
    if stands_in(body.sound, part, one, other, half):
        bar = moved(cylinder(2 * half, math.dist(one, other)), facing(unit(less(other, one)), one))
        assert overlap(bar, scene.parts[part.name]) is not None


def test_sound_wood_tells_of_a_drill_that_lies_through_a_board_or_along_it_beside_its_notch():
    part = front(holes=True)
    (body,) = bodies_of(Scene(piece(part)))
    assert stands_in(body.sound, part, (60, 30, -80), (60, 30, 120), 37)
    assert stands_in(body.sound, part, (-50, 30, 45), (250, 30, 45), 37)
    assert not stands_in(body.sound, part, (20, 20, -40), (60, 30, 60), 37)  # it may be all holes there
    assert stands_in(body.sound, front(holes=False), (20, 20, -40), (60, 30, 60), 37)
    assert not stands_in(body.sound, part, (150, 90, -80), (150, 90, 120), 40)  # in the notch


def test_boards_with_sound_wood_ahead_are_hit_whatever_their_faces_are_like():
    """A notched front before a splayed leg: with their sound wood and without, the same is in the way of each."""
    parts = [front(holes=False), board("case.other", (40, 300, 0), (150, 60, 12))]
    leg = SiteBody("leg", (shift(prismatic(SPLAYED, 1), 330),), three((330, 0, 0)), three((160, 430, 850)))
    scene = Scene(piece(*parts, site=(leg,)))
    bodies = (*bodies_of(scene), *site_of(scene))
    assert all(len(body.sound) for body in bodies)
    ways = tuple((s * (a == 0), s * (a == 1), s * (a == 2)) for a in range(3) for s in (1.0, -1.0))
    found = hits(bodies, ways)
    for body in bodies:
        object.__setattr__(body, "sound", np.zeros((0, 2, 3)))
    assert hits(bodies, ways) == found
    assert any(any(row) for row in found)


def test_a_notch_a_hair_wider_to_four_sides_is_cut_in_one():
    corners = polygon(NOTCHED)
    (one,) = smeared(corners, 0.05)
    x, y = zip(*one.corners, strict=True)
    assert (min(x), max(x), min(y), max(y)) == pytest.approx((119.95, 180.05, 39.95, 60.05))
    shifts = [(dx, dy) for dx in (-0.05, 0.05) for dy in (-0.05, 0.05)]
    four = [prism(polygon([(u + dx, v + dy) for u, v in NOTCHED]), 10.0) for dx, dy in shifts]
    assert meet(prism(one, 10.0), union(four)).volume == pytest.approx(union(four).volume, rel=1e-9)


def test_what_a_notch_leaves_of_a_board_is_all_of_it_but_the_notch_a_hair_wider():
    part = front(holes=False)
    notch = box_between((0.05, 0.05, 0.05), (299.95, 59.95, 11.95)).volume - eased_solid(part).volume
    assert 60 * 20 * 11.9 * 0.85 < notch < 60.1 * 20 * 11.9
