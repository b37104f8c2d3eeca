"""Screws: how long, how near an edge, and whether two of them meet. All sizes by hand beside each number."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.checks.driven import counted
from storystick.ground.finding import Grade
from storystick.model.build import Build
from storystick.model.cut import Side
from storystick.physics.screws import thread_in_receiver_mm
from storystick.shop.tables import find, nails, screws
from tests.checks.by_hand import BACK, DOWN, RIGHT, Number, board, bore, lengths, piece, ply, screw, told, troubles


def two_boards(long: Number, *, thick: Number = "4", row: str = "4 mm wood screw", lower: Number = 18) -> Build:
    """A board 18 thick lying on another, a screw straight down through it."""
    parts = (
        board("case.upper", (0, 0, lower), (300, 300, 18)),
        board("case.lower", (0, 0, 0), (300, 300, lower), stock=ply(lower)),
    )
    one = screw("s", "case.upper", "case.lower", (150, 150, Fraction(lower) + 18), DOWN, long, row, thick)
    return piece(*parts, fasteners=(one,))


def test_a_screw_longer_than_the_two_boards_comes_through():
    # 18 and 18 are 36; 40 comes out by 4.
    (found,) = troubles("screw-length", two_boards(40))
    assert (found.grade, found.number) == (Grade.STOP, -4)


def test_a_point_just_under_the_far_face_is_not_left_alone():
    (found,) = troubles("screw-length", two_boards(35))
    assert (found.grade, found.number, found.limit) == (Grade.CARE, 1, 3)


def test_too_little_thread_in_the_lower_board_does_not_hold():
    # Sources: National Design Specification: six diameters at least. 16 mm into the lower board, 6 x 4 = 24.
    (found,) = troubles("screw-length", two_boards(34, lower=40))
    assert (found.number, found.limit) == (16, 24)


def test_a_screw_of_the_right_length_is_fine():
    (found,) = told("screw-length", two_boards(45, lower=40))
    assert (found.grade, found.number, found.limit) == (Grade.FINE, 27, 24)
    assert found.number == thread_in_receiver_mm(45, 18, 30)


def test_a_screw_that_does_not_reach_or_points_past_the_board_is_no_use():
    assert troubles("screw-length", two_boards(18))[0].grade == Grade.STOP
    build = two_boards(30)
    past = replace(build.fasteners[0], way=BACK)
    assert troubles("screw-length", replace(build, fasteners=(past,)))[0].grade == Grade.STOP


@pytest.mark.parametrize(("long", "lower"), [(60, 40), (25, 40), (57, 40), (120, 60), (30, 60)])
def test_a_screw_as_long_as_advised_holds_and_stays_inside(long: Number, lower: Number):
    (found,) = troubles("screw-length", two_boards(long, lower=lower))
    for better in lengths(found.advice):
        assert not troubles("screw-length", two_boards(better, lower=lower))


def test_in_a_thin_board_six_tenths_of_it_will_do():
    # 36 mm altogether, 3 short of the far side: 33 long at most. 6 x 4 is 24, six tenths of 18 is 10.8.
    (found,) = told("screw-length", two_boards(30))
    assert (found.grade, found.limit) == (Grade.FINE, pytest.approx(10.8))


def test_a_board_too_thin_for_any_screw_is_to_be_made_thicker():
    (found,) = troubles("screw-length", two_boards(25, lower=6))
    thick, long = lengths(found.advice)  # so thick, for a length that is sold
    row = find(screws(), "4 mm wood screw")
    assert row is not None
    assert long in row.lengths_mm
    assert not troubles("screw-length", two_boards(long, lower=thick))


def test_where_no_length_sold_does_both_the_longest_that_stays_inside_will_do():
    # 18 mm into 16 mm: six tenths of 16 are 9.6, so from 27.6 to 31 long. Sold are 25.4 (7.4 of it in) and 31.75,
    # whose point would be 2.25 from the far side. 45 hundredths of 16 are 7.2.
    row, thick = "#10 pan head screw", "4.826"
    assert not [long for long in screws()[row].lengths_mm if 27.6 <= long <= 31]
    (found,) = told("screw-length", two_boards("25.4", thick=thick, row=row, lower=16))
    assert (found.grade, found.limit) == (Grade.FINE, pytest.approx(7.2))
    (found,) = troubles("screw-length", two_boards("31.75", thick=thick, row=row, lower=16))
    assert lengths(found.advice) == [Fraction("25.4")]


def into_the_edge(
    in_by: Number = 9, from_end: Number = 60, thick: Number = "4", *, solid: bool = False, bored: bool = True
) -> Build:
    """A side 18 thick, a shelf 18 thick standing off it to the right; a screw through the side into the shelf's end."""
    stock = ply(18, solid=solid)
    cuts = [bore("j", (9, 60), "2.5", 30)] if bored else []
    shelf = board("case.shelf", (18, 0, 100), (500, 300, 18), cuts=cuts, stock=stock)
    side = board("case.side", (0, 0, 0), (18, 300, 300), "zyx", stock=stock)
    one = screw(
        "s",
        "case.side",
        "case.shelf",
        (0, from_end, 100 + Fraction(in_by)),
        RIGHT,
        50,
        thick=thick,
        joint="j",
        grain="end",
    )
    return piece(side, shelf, fasteners=(one,))


def test_a_screw_in_the_middle_of_an_edge_has_wood_on_both_sides():
    # 9 mm each way; two diameters of a 4 mm screw are 8.
    (found,) = told("screw-place", into_the_edge())
    assert (found.grade, found.number, found.limit) == (Grade.FINE, 9, 8)


def test_a_screw_out_of_the_middle_may_split_the_edge():
    (found,) = troubles("screw-place", into_the_edge(in_by=6))
    assert (found.number, found.limit) == (6, 8)
    (moved,) = lengths(found.advice)
    assert not troubles("screw-place", into_the_edge(in_by=moved))


def test_a_thick_screw_swells_an_18_mm_edge():
    # In 18 mm board a screw thicker than No. 8 (4.2 mm) starts to swell the face: common practice.
    assert not troubles("screw-place", into_the_edge(thick="4.2"))
    (found,) = troubles("screw-place", into_the_edge(thick="4.83"))
    assert "such as a 4.5 mm chipboard screw" in found.advice
    assert not troubles("screw-place", into_the_edge(thick=lengths(found.advice)[0]))


def flat_on_flat(edge: Number, end: Number, *, solid: bool = True, bored: bool = True) -> Build:
    """A cleat 40 wide screwed down on a long board, near the lower board's end and edge."""
    stock = ply(30, solid=solid)
    cuts = [bore("j", (60, 60), "2.5", 25)] if bored else []
    lower = board("case.lower", (0, 0, 0), (400, 200, 30), cuts=cuts, stock=stock)
    upper = board("case.upper", (-100, -100, 30), (300, 300, 18))
    one = screw("s", "case.upper", "case.lower", (end, edge, 48), DOWN, 45, joint="j")
    return piece(lower, upper, fasteners=(one,))


@pytest.mark.parametrize(
    ("edge", "end", "bored", "good"),
    [
        (10, 20, True, True),
        ("9.9", 60, True, False),
        (60, "19.9", True, False),
        (60, 39, False, False),
        (60, 40, False, True),
    ],
)
def test_edge_and_end_distances_are_those_of_the_table(edge: Number, end: Number, bored: bool, good: bool):
    # National Design Specification, commentary: edge 2.5 D, end (pushed) 5 D bored, 10 D not bored; D is 4 mm.
    assert (not troubles("screw-place", flat_on_flat(edge, end, bored=bored))) is good


def test_a_screw_moved_as_advised_is_far_enough_from_the_end():
    (found,) = troubles("screw-place", flat_on_flat(60, 12))
    (end,) = lengths(found.advice)
    assert not troubles("screw-place", flat_on_flat(60, end))


def corner(shift: Number) -> Build:
    """Two screws in one corner: one through the side, one down through the top, both into one post."""
    post = board("case.post", (18, 0, 0), (60, 60, 282), "zxy")
    side = board("case.side", (0, 0, 0), (18, 300, 282), "zyx")
    top = board("case.top", (0, 0, 282), (300, 300, 18))
    across = screw("across", "case.side", "case.post", (0, 30, 262), RIGHT, 50)
    down = screw("down", "case.top", "case.post", (40, 30 + Fraction(shift), 300), DOWN, 50)
    return piece(post, side, top, fasteners=(across, down))


@pytest.mark.parametrize(("shift", "grade"), [(0, Grade.STOP), ("3.9", Grade.STOP), (5, Grade.CARE), (6, Grade.FINE)])
def test_two_screws_in_one_corner_must_pass_one_another(shift: Number, grade: Grade):
    # Both 4 mm thick: their middles 4 mm apart they touch, 6 mm apart they leave 2 mm of wood.
    (found,) = told("screws-meet", corner(shift))
    assert found.grade == grade


@pytest.mark.parametrize("shift", [0, 2, 5])
def test_screws_moved_as_advised_pass(shift: Number):
    (found,) = troubles("screws-meet", corner(shift))
    (by,) = lengths(found.advice)
    assert not troubles("screws-meet", corner(Fraction(shift) + by))


def test_screws_far_apart_are_no_news():
    assert told("screws-meet", corner(200)) == []


def test_screws_one_behind_the_other_in_line_touch_only_if_their_points_meet():
    build = corner(0)
    one = screw("left", "case.side", "case.post", (0, 30, 100), RIGHT, 40)
    other = screw("right", "case.side", "case.post", (90, 30, 100), (-1.0, 0.0, 0.0), 40)
    (found,) = told("screws-meet", replace(build, fasteners=(one, other)))
    assert found.number == pytest.approx(10 - 4)


def with_hole(away: int, side: Side = Side.FACE, deep: int = 12) -> Build:
    """A screw 40 long down into a board's face, in its middle; a hole of 8 mm in an edge or a face beside it."""
    size = (300, 200, 60)
    at = (150 + away, 30) if side is Side.EDGE else (150 + away, 100)
    hole = bore("pin", at, 8, deep if side is Side.FACE else 150, side)
    hole = replace(hole, called="shelf pin hole", joint="")
    lower = board("case.post", (0, 0, 0), size, "xyz", cuts=[hole])
    upper = board("case.flap", (0, 0, 60), (300, 200, 18), "xyz")
    row = screw("s", "case.flap", "case.post", (150, 100, 78), (0.0, 0.0, -1.0), 50, thick=4)
    return piece(lower, upper, fasteners=(row,))


@pytest.mark.parametrize(("away", "grade"), [(0, Grade.STOP), (7, Grade.CARE), (9, None), (30, None)])
def test_a_screw_does_not_run_into_the_hole_of_something_else(away: int, grade: Grade | None):
    # An 8 mm hole from the edge, 30 down, under a screw of 4 mm that reaches 32 mm in: 7 apart leaves 1 mm of wood.
    found = troubles("screws-meet", with_hole(away, Side.EDGE))
    assert ([one.grade for one in found] or [None]) == [grade]
    if found and grade == Grade.CARE:
        assert found[0].number == pytest.approx(1)


def test_a_screw_moved_off_the_hole_as_advised_passes_it():
    (found,) = troubles("screws-meet", with_hole(3, Side.EDGE))
    by = lengths(found.advice)[0]
    assert not troubles("screws-meet", with_hole(3 + int(by) + 1, Side.EDGE))


@pytest.mark.parametrize(
    ("penny", "board_thick", "splits"), [(8, "25.4", False), (8, "19.05", True), (6, "19.05", False)]
)
def test_a_nail_of_a_penny_for_each_eighth_does_not_split_the_first_board(penny: int, board_thick: str, splits: bool):
    # A carpenter's handbook: 3/4 in of medium wood stands a 6d box nail, 1 in an 8d one.
    thick = Fraction(board_thick)
    parts = (
        board("case.upper", (0, 0, 60), (300, 300, thick), stock=ply(thick)),
        board("case.lower", (0, 0, 0), (300, 300, 60), stock=ply(60)),
    )
    nail = screw(
        "n", "case.upper", "case.lower", (150, 150, 60 + thick), DOWN, 60, f"{penny}d common nail", "3", kind="nail"
    )
    found = [one for one in told("screw-place", piece(*parts, fasteners=(nail,))) if "unsplit" in one.says]
    assert bool(found) is splits
    if splits:
        assert "6d common nail" in found[0].advice


@pytest.mark.parametrize(
    ("called", "told"),
    [
        ("#8 wood screw", "4 #8 wood screws"),
        ("4.0 mm chipboard screw", "4 chipboard screws of 4.0 mm"),
        ("1/4 in lag screw", "4 lag screws of 1/4 in"),
        ("18 gauge brad", "4 brads of 18 gauge"),
        ("6d common nail", "4 common nails of 6d"),
        ("panel pin", "4 panel pins"),
    ],
)
def test_a_count_never_runs_into_the_size_of_what_is_counted(called: str, told: str):
    assert counted(4, called) == told


def test_no_row_of_the_tables_begins_with_a_figure_after_its_count():
    for name in (*screws(), *nails()):
        assert not counted(4, name)[2:3].isdigit(), name
