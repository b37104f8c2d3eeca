"""Line drawings: what is seen, what is hidden, and what must not show at all."""

import math
import subprocess
import sys
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.shapes.hidden import Line, draw
from storystick.shapes.outline import polygon
from storystick.shapes.pose import Vector, X, Y, Z, apply, framed, plus, shifted, times, turned
from storystick.shapes.section import behind, section
from storystick.shapes.solid import Solid, box, box_between, cylinder, minus, moved, prism, revolved, tube_frame, union
from storystick.shapes.spots import spots
from storystick.shapes.view import (
    BACK,
    BOTTOM,
    FRONT,
    LEFT,
    RIGHT,
    TOP,
    View,
    isometric,
    nearness,
    on_paper,
    seen_from,
    shortened,
)

SOURCE = Path(__file__).parents[2] / "src"
Spot = tuple[float, float]


def counts(lines: Sequence[Line]) -> tuple[int, int]:
    """Seen and hidden."""
    return sum(line.is_seen for line in lines), sum(not line.is_seen for line in lines)


def ends(lines: Sequence[Line], is_seen: bool = True) -> set[tuple[Spot, Spot]]:
    return {(line.points[0], line.points[-1]) for line in lines if line.is_seen == is_seen}


def open_case() -> list[tuple[str, Solid]]:
    """Two sides with dados, a bottom and a shelf in them, and a back in front of which everything stands."""
    side = minus(box(18, 300, 600), [box_between((12, -1, z), (19, 301, z + 18)) for z in (60.0, 320.0)])
    bore = revolved(((2.5, -1), (2.5, 15.5), (5, 18), (5.1, 18.1)))
    drilled = minus(side, [moved(bore, framed(Y, Z, X, (0, 150, z))) for z in (69.0, 329.0)])
    shelves = [(f"shelf {z}", box_between((12, 0, z), (488, 300, z + 18))) for z in (60.0, 320.0)]
    right = moved(side, framed(times(X, -1), Y, Z, (500, 0, 0)))
    return [("left", drilled), ("right", right), *shelves, ("back", box_between((0, 300, 0), (500, 306, 600)))]


def test_a_cube_from_its_corner_shows_nine_edges_and_hides_three() -> None:
    lines = draw([("cube", box(100, 100, 100))], isometric())
    assert counts(lines) == (9, 3)
    for line in lines:
        # each edge is shortened by the root of 2/3
        assert math.dist(line.points[0], line.points[-1]) == pytest.approx(100 * math.sqrt(2 / 3), abs=1e-3)


def test_a_cube_from_the_front_is_a_square() -> None:
    square = {((0, 0), (0, 100)), ((0, 0), (100, 0)), ((0, 100), (100, 100)), ((100, 0), (100, 100))}
    lines = draw([("cube", box(100, 100, 100))], FRONT)
    assert ends(lines) == square
    assert counts(lines) == (4, 0)


def test_a_box_before_a_box_hides_what_is_behind_it() -> None:
    rear = box_between((0, 100, 0), (100, 150, 100))
    before = box_between((50, 0, -20), (130, 50, 60))
    lines = draw([("rear", rear), ("before", before)], FRONT)
    assert {line.owner for line in lines if not line.is_seen} == {"rear"}
    seen = [line for line in lines if line.owner == "rear" and line.is_seen]
    assert ends(seen) == {((0, 0), (0, 100)), ((0, 0), (50, 0)), ((0, 100), (100, 100)), ((100, 60), (100, 100))}
    assert ends(lines, is_seen=False) == {((50, 0), (100, 0)), ((100, 0), (100, 60))}


def test_a_bar_behind_a_post_is_cut_at_the_post() -> None:
    post, bar = box_between((40, 0, 0), (60, 10, 200)), box_between((0, 50, 90), (100, 60, 110))
    seen = [line for line in draw([("post", post), ("bar", bar)], FRONT, hidden=False) if line.owner == "bar"]
    assert all(line.is_seen for line in seen)
    assert ((0, 90), (40, 90)) in ends(seen)
    assert ((60, 110), (100, 110)) in ends(seen)
    assert len(seen) == 6


def test_parts_that_lie_flush_show_the_joint_between_them() -> None:
    boards = [("a", box(50, 100, 18)), ("b", box_between((50, 0, 0), (100, 100, 18)))]
    lines = draw(boards, TOP)
    assert ((50, 0), (50, 100)) in ends(lines)
    assert counts(lines)[1] == 0
    whole = draw([("one", union([solid for _, solid in boards]))], TOP)
    assert ((50, 0), (50, 100)) not in ends(whole)


def test_a_shared_line_is_drawn_once_unless_asked() -> None:
    boards = [("a", box(50, 100, 18)), ("b", box_between((50, 0, 0), (100, 100, 18)))]
    joint = ((50, 0), (50, 100))
    for once, owners in ((True, ["a"]), (False, ["a", "b"])):
        lines = draw(boards, TOP, once=once)
        assert [line.owner for line in lines if line.is_seen and (line.points[0], line.points[-1]) == joint] == owners


def test_a_dado_shows_in_the_end_of_the_board_and_is_dashed_along_it() -> None:
    board = minus(box(200, 100, 18), [box_between((90, -1, 12), (108, 101, 19))])
    front = draw([("board", board)], FRONT)
    assert ((90, 12), (108, 12)) in ends(front)
    below = draw([("board", board)], BOTTOM)
    assert ((90, -100), (90, 0)) in ends(below, is_seen=False)


def test_round_things_show_rims_and_silhouettes_and_no_facets() -> None:
    for diameter in (1, 3, 8, 35, 200):
        lines = draw([("bar", cylinder(diameter, 50))], isometric())
        assert counts(lines)[0] in (2, 3)
        assert counts(lines)[1] == 1  # the rear half of the lower rim
        upright = [a[0] for line in lines for a, b in pairwise(line.points) if abs(a[1] - b[1]) > 30]
        assert sorted(upright) == pytest.approx([-diameter / 2, diameter / 2], rel=0.02)
    assert counts(draw([("bar", cylinder(8, 50))], FRONT)) == (4, 0)
    (rim,) = draw([("bar", cylinder(8, 50))], TOP)
    assert rim.points[0] == rim.points[-1]
    assert len(rim.points) == 33


def test_a_bore_right_through_shows_the_light_behind() -> None:
    plate = minus(box(100, 18, 100), [moved(cylinder(40, 20), framed(X, times(Z, -1), Y, (50, -1, 50)))])
    stick = box_between((0, 60, 45), (100, 70, 55))
    lines = draw([("plate", plate), ("stick", stick)], FRONT)
    seen = [line for line in lines if line.owner == "stick" and line.is_seen]
    assert len(seen) == 2
    for line in seen:
        (ax, az), (bx, _) = line.points
        assert abs(az - 50) == pytest.approx(5)
        assert bx - ax == pytest.approx(2 * math.sqrt(20**2 - 5**2), abs=0.1)


def test_long_lines_come_whole_however_often_they_are_notched_behind() -> None:
    notches = [box_between((x, 10, -1), (x + 18, 41, 19)) for x in (20.0, 60.0, 100.0)]
    lines = draw([("board", minus(box(200, 40, 18), notches))], FRONT)
    assert ((0, 18), (200, 18)) in ends(lines)
    assert counts(lines)[0] == 4


def test_nothing_at_all_gives_no_lines() -> None:
    assert draw([], FRONT) == ()
    assert draw([("gone", minus(box(1, 1, 1), [box(2, 2, 2)]))], FRONT) == ()
    assert spots([], FRONT) == ()


def test_an_open_case_has_nothing_hidden_before_it_and_a_back_behind() -> None:
    lines = draw(open_case(), FRONT)
    assert {line.owner for line in lines if line.is_seen} == {"left", "right", "shelf 60.0", "shelf 320.0", "back"}
    back = [line for line in lines if line.owner == "back" and line.is_seen]
    assert ends(back) == {((18, 0), (482, 0)), ((18, 600), (482, 600))}
    assert ((18, 78), (482, 78)) in ends(lines)  # the rest of the shelf's edge is drawn with the dado that it fills
    whole = [line for line in draw(open_case(), FRONT, once=False) if line.owner == "shelf 60.0"]
    assert ((12, 78), (488, 78)) in ends(whole)


def test_the_same_parts_give_the_same_drawing_in_another_process() -> None:
    text = f"import sys; sys.path[:0] = {[str(SOURCE), str(Path(__file__).parent)]!r}; "
    text += "from test_hidden import *; print(draw(open_case(), isometric()))"
    other = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert other.stdout.strip() == str(draw(open_case(), isometric()))


places = st.tuples(*[st.integers(-8, 8).map(lambda n: n * 12.5)] * 3)
blocks = st.builds(
    lambda at, size, turn: moved(box(*size), turned((1, 2, 3), turn, at) if turn else shifted(at)),
    places, st.tuples(*[st.integers(1, 8).map(lambda n: n * 12.5)] * 3), st.sampled_from([0, 0, 0, 17, 40]),
)  # fmt: skip
views = st.sampled_from([FRONT, LEFT, TOP, isometric(), isometric(False, True, False), seen_from((3, -5, 2))])


def stands_behind(point: Vector, view: View, solids: Sequence[Solid]) -> bool:
    """By a ray from just before the point to the eye: an outside check by the mesh library."""
    start = plus(point, times(view.toward, 0.06))
    return any(solid.body.ray_cast(start, plus(start, times(view.toward, 5000.0))) for solid in solids)


def off_line(spot: Spot, lines: Sequence[Line]) -> float:
    best = math.inf
    for line in lines:
        for (ax, ay), (bx, by) in pairwise(line.points):
            share = ((spot[0] - ax) * (bx - ax) + (spot[1] - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
            share = min(1.0, max(0.0, share))
            best = min(best, math.dist(spot, (ax + share * (bx - ax), ay + share * (by - ay))))
    return best


@settings(deadline=None, max_examples=60)
@given(st.lists(blocks, min_size=2, max_size=5), views, st.floats(0.03, 0.97))
def test_seen_and_hidden_agree_with_a_look_along_a_ray(solids: list[Solid], view: View, share: float) -> None:
    lines = draw([(str(i), solid) for i, solid in enumerate(solids)], view, once=False)
    for number, solid in enumerate(solids):
        mine = [line for line in lines if line.owner == str(number)]
        for a, b in box_edges(solid):
            if math.dist(on_paper(view, a), on_paper(view, b)) < 1:
                continue
            point = plus(times(a, 1 - share), times(b, share))
            spot = on_paper(view, point)
            around = [
                plus(point, plus(times(view.right, x), times(view.up, y))) for x in (-0.2, 0.2) for y in (-0.2, 0.2)
            ]
            looks = {stands_behind(near, view, solids) for near in (point, *around)}
            if looks == {True}:
                assert off_line(spot, [line for line in mine if not line.is_seen]) < 0.2
            elif not stands_behind(point, view, solids) and not any(
                stands_behind(near, view, solids[:number] + solids[number + 1 :]) for near in around
            ):
                assert off_line(spot, [line for line in mine if line.is_seen]) < 0.2


def box_edges(solid: Solid) -> list[tuple[Vector, Vector]]:
    """The twelve edges of a turned box: corners joined where they differ along one of its own axes."""
    corners = sorted((float(x), float(y), float(z)) for x, y, z in solid.mesh.vertices)
    sides = sorted({round(math.dist(a, b), 6) for a in corners for b in corners if a != b})
    found = []
    for i, a in enumerate(corners):
        for b in corners[i + 1 :]:
            middle = times(plus(a, b), 0.5)
            if all(math.dist(middle, c) >= math.dist(a, b) / 2 - 1e-9 for c in corners) and sides:
                touching = [c for c in corners if abs(math.dist(middle, c) - math.dist(a, b) / 2) < 1e-6]
                if len(touching) == 2:
                    found.append((a, b))
    assert len(found) == 12
    return found


def test_views_by_their_axes() -> None:
    corner = (600.0, 400.0, 720.0)
    assert on_paper(FRONT, corner) == (600, 720)
    assert on_paper(BACK, corner) == (-600, 720)
    assert on_paper(LEFT, corner) == (-400, 720)
    assert on_paper(RIGHT, corner) == (400, 720)
    assert on_paper(TOP, corner) == (600, 400)
    assert on_paper(BOTTOM, corner) == (600, -400)
    assert nearness(FRONT, (0, 0, 0)) > nearness(FRONT, corner)
    for axis in (X, Y, Z):
        assert shortened(isometric(), axis) == pytest.approx(math.sqrt(2 / 3))
    x, y, z = apply(isometric().pose, corner)
    assert (x, y) == pytest.approx(on_paper(isometric(), corner))
    assert z == pytest.approx(nearness(isometric(), corner))


def test_looking_along_the_upright_is_refused() -> None:
    with pytest.raises(ValueError, match="no direction"):
        seen_from(Z)


def test_a_section_through_a_case_shows_its_boards() -> None:
    cut = section(open_case(), FRONT, (0, 100, 0))
    assert [one.owner for one in cut] == ["left", "right", "shelf 60.0", "shelf 320.0"]
    assert [one.area for one in cut] == pytest.approx([600 * 18 - 2 * 6 * 18] * 2 + [476 * 18] * 2)
    assert [list(ring) for ring in cut[2].rings] == [[(12, 60), (488, 60), (488, 78), (12, 78)]]
    assert [one.owner for one in section(open_case(), FRONT, (0, 302, 0))] == ["back"]
    assert not section(open_case(), FRONT, (0, -50, 0))


def test_a_section_through_a_tube_has_a_hole() -> None:
    tube = minus(cylinder(40, 100), [moved(cylinder(30, 110), shifted((0, 0, -5)))])
    (cut,) = section([("tube", tube)], TOP, (0, 0, 50))
    assert len(cut.rings) == 2
    assert cut.area == pytest.approx(math.pi * (400 - 225), rel=0.01)


def test_what_is_behind_a_section_is_what_is_left_to_draw() -> None:
    left = behind(open_case(), FRONT, (0, 100, 0))
    assert {owner for owner, _ in left} == {owner for owner, _ in open_case()}
    assert min(solid.bounds[0][1] for _, solid in left) == pytest.approx(100)
    assert {owner for owner, _ in behind(open_case(), FRONT, (0, 301, 0))} == {"back"}


def test_a_letter_stands_where_its_part_shows() -> None:
    parts = [("rear", box_between((0, 100, 0), (100, 150, 100))), ("before", box_between((40, 0, -20), (130, 50, 160)))]
    found = {seen.owner: seen for seen in spots(parts, FRONT)}
    x, z = found["rear"].at
    assert 0 < x < 40
    assert 0 < z < 100
    assert found["rear"].room == pytest.approx(20, abs=2)
    assert found["rear"].area == pytest.approx(4000, rel=0.05)
    assert found["before"].at == pytest.approx((85, 70), abs=2)


def test_a_part_behind_all_others_gets_no_letter() -> None:
    parts = [("inside", box_between((10, 10, 10), (20, 20, 20))), ("outside", box(100, 100, 100))]
    assert [seen.owner for seen in spots(parts, isometric())] == ["outside"]


@settings(deadline=None, max_examples=25)
@given(st.lists(blocks, min_size=1, max_size=4), views)
def test_no_letter_stands_on_another_part(solids: list[Solid], view: View) -> None:
    for seen in spots([(str(i), solid) for i, solid in enumerate(solids)], view, grid=60):
        x, y = seen.at
        eye = plus(plus(times(view.right, x), times(view.up, y)), times(view.toward, 3000.0))
        hits = {}
        for number, solid in enumerate(solids):
            if ray := solid.body.ray_cast(eye, plus(eye, times(view.toward, -6000.0))):
                hits[str(number)] = min(hit.distance for hit in ray)
        nearest = min(hits.values())
        assert hits[seen.owner] == pytest.approx(nearest, abs=0.01)


def test_a_frame_of_tubes_and_a_bracket_draw_without_stray_bits() -> None:
    bracket = prism(polygon([(0, 0), (50, 0), (50, 10), (10, 10), (10, 30), (0, 30)]), 7)
    for solid in (tube_frame(300, 200, 400, 30, is_round=True), bracket):
        for line in draw([("it", solid)], isometric()):
            length = sum(math.dist(a, b) for a, b in pairwise(line.points))
            assert length > 0.05
