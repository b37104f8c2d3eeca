"""A card shows every cut of its part, each number the model's own, measured from one end and one edge."""

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.ground.dim import given as length
from storystick.ground.length import Manner, inch, read_length
from storystick.model.body import own_pose
from storystick.model.cut import Bore, Channel, Cut, Notch, Side
from storystick.model.part import Part
from storystick.paper import packet
from storystick.paper.card import arranged, on_pages
from storystick.paper.drawing.families import families, places
from storystick.paper.drawing.side import draw_side
from storystick.paper.drawing.sight import Sight, runs_rightward, sides_to_draw
from storystick.paper.lettering import bit, lines_in, said, set_width, word_widths
from storystick.paper.pages.cards import CELL, POINTS, card, first_of, laid_out_cards, shares_for, task_of
from storystick.paper.press import PAPERS
from storystick.paper.remarks import standing, twin_of
from storystick.shapes.pose import cross, direct, dot, times
from tests.paper import by_hand
from tests.paper.readback import faults, numbers, opened
from tests.paper.test_any_plan import folder_of as by_chance

INCHES, MILLIMETRES = Manner("inch", 32), Manner("mm")
PARTS = {part.name: part for part in by_hand.parts()}
ROOM = PAPERS["letter"].room
POINT = 25.4 / 72
WHOLE = 165.0  # of a table, to share out [mm]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_lettering_of_a_card_lies_on_another_or_off_the_paper(paper: str):
    folder = by_hand.folder()
    drawn = [(letter, side, d) for letter in folder.letters for side, d in card(folder, letter, PAPERS[paper]).drawings]
    assert len(drawn) == 9
    assert {f"{letter} {side}": faults(d) for letter, side, d in drawn if faults(d)} == {}


@pytest.mark.parametrize("name", sorted(PARTS))
@pytest.mark.parametrize("manner", [INCHES, MILLIMETRES], ids=["inch", "mm"])
def test_every_number_on_a_card_is_one_of_the_parts_own(name: str, manner: Manner):
    part = PARTS[name]
    own = {size.value for size in part.size}
    for cut in part.cuts:
        match cut:
            case Channel() | Bore():
                own |= {at.value for at in cut.at}
            case Notch():
                own |= {value for corner in cut.corners for value in (corner.u.value, corner.v.value)}
        if isinstance(cut, Channel):
            own |= {size.value for size in cut.size}
    for side in sides_to_draw(part):
        for value, _, printed in numbers(draw_side(part, side, manner, ROOM, 100).svg):
            assert value in own
            assert printed in (said(value, manner), said(value, manner, bare=True))


def test_the_side_of_the_cabinet_shows_where_each_of_its_cuts_begins():
    shown = list(numbers(draw_side(PARTS["cabinet.right side"], Side.FACE, INCHES, ROOM, 110).svg))
    level = {value for value, along, _ in shown if along == "level"}
    upright = {value for value, along, _ in shown if along == "upright"}
    assert level == {inch(text) for text in ("3 1/2", "4", *by_hand.PINS, "27", "29 9/32", "30")}
    assert upright == {inch(text) for text in ("1 1/2", "2 1/2", "11 1/2", "12 1/4", "13 1/2", "14")}


def test_what_is_printed_reads_as_the_length_it_stands_for():
    for value, _, printed in numbers(draw_side(PARTS["cabinet.left side"], Side.FACE, INCHES, ROOM, 110).svg):
        assert read_length(printed.rstrip('"'), "inch") == value


@pytest.mark.parametrize("name", ["cabinet.left side", "cabinet.right side", "cabinet.bottom", "cabinet.back"])
@pytest.mark.parametrize("side", list(Side))
def test_a_side_is_drawn_as_it_is_seen_from_outside_the_wood(name: str, side: Side):
    part = PARTS[name]
    pose = own_pose(part)
    axes = [direct(pose, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))[axis]) for axis in range(3)]
    first, up = (axes[axis] for axis in side.axes)
    toward_the_eye = times(axes[side.normal], 1.0 if side.is_far else -1.0)
    right = cross(up, toward_the_eye)
    assert runs_rightward(part, side) == (dot(first, right) > 0)


def test_left_and_right_side_are_mirror_images_on_paper():
    left, right = (PARTS[f"cabinet.{hand} side"] for hand in ("left", "right"))
    assert runs_rightward(left, Side.FACE) != runs_rightward(right, Side.FACE)
    a, b = (Sight(p, Side.FACE, 5.0, 0.0, 0.0, runs_rightward(p, Side.FACE)) for p in (left, right))
    assert a.spot(100.0, 50.0)[0] == pytest.approx(a.wide - b.spot(100.0, 50.0)[0])
    assert a.spot(100.0, 50.0)[1] == b.spot(100.0, 50.0)[1]


def test_a_card_tells_which_part_is_its_mirror_image():
    folder = by_hand.folder()
    assert (twin_of(folder, "A"), twin_of(folder, "B"), twin_of(folder, "C")) == ("B", "A", "")


def test_alike_cuts_share_a_number_and_a_row():
    rows = {family.called: family for family in families(PARTS["cabinet.left side"], INCHES)}
    pins = rows["shelf pin hole"]
    assert len(pins.cuts) == 20
    ((first, second),) = places(pins)
    assert [said(d, INCHES, bare=True) for d in first] == list(by_hand.PINS)
    assert [said(d, INCHES, bare=True) for d in second] == ["1 1/2", "11 1/2"]
    assert (rows["cable hole"].depth, rows["cross channel"].depth) == ("through", '1/4"')


def test_a_side_without_cuts_is_not_drawn_but_a_bare_part_shows_its_face():
    assert sides_to_draw(PARTS["cabinet.shelf"]) == (Side.FACE,)
    assert sides_to_draw(PARTS["cabinet.bottom"]) == (Side.BACK, Side.END)
    assert sides_to_draw(PARTS["cabinet.left side"]) == (Side.FACE, Side.BACK)


TENTHS = st.integers(1, 9)


@st.composite
def boards(draw: st.DrawFn) -> Part:
    """A board of any shape with cuts anywhere."""
    size = tuple(
        length(word, Fraction(draw(st.integers(low, high))), "")
        for word, low, high in (("l", 80, 2400), ("w", 30, 900), ("t", 6, 40))
    )
    cuts: list[Cut] = []
    for number in range(draw(st.integers(0, 9))):
        side = draw(st.sampled_from(list(Side)))
        at = tuple(
            length("at", size[axis].value * draw(TENTHS) / 10 + Fraction(draw(st.integers(0, 9)), 10), "")
            for axis in side.axes
        )
        if draw(st.booleans()):
            cuts.append(Bore(f"b{number}", side, (at[0], at[1]), length("d", 5, ""), length("deep", 3, ""), "hole"))
        else:
            big = tuple(
                length("s", (size[axis].value - a.value) * Fraction(4, 5), "")
                for axis, a in zip(side.axes, at, strict=True)
            )
            cuts.append(
                Channel(f"c{number}", side, (at[0], at[1]), (big[0], big[1]), length("deep", 2, ""), 0, "channel")
            )
    zero = length("zero", 0, "")
    hand = draw(st.sampled_from([1, -1]))
    return Part(
        "x.y",
        "board",
        "x",
        by_hand.PLY,
        (size[0], size[1], size[2]),
        (0, 1, 2),
        (zero, zero, zero),
        (1, 1, hand),
        tuple(cuts),
        letter="A",
    )


@settings(max_examples=100)
@given(boards(), st.sampled_from([INCHES, MILLIMETRES]))
def test_no_board_makes_numbers_overlap_or_hang_over_the_edge(part: Part, manner: Manner):
    for side in sides_to_draw(part):
        assert faults(draw_side(part, side, manner, ROOM, 100)) == []


DIRECTIONS = {
    (1, 0, 0): ("to the right", "right"), (-1, 0, 0): ("to the left", "left"), (0, 1, 0): ("to the back", "back"),
    (0, -1, 0): ("to the front", "front"), (0, 0, 1): ("up", "top"), (0, 0, -1): ("down", "bottom"),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(PARTS))
def test_a_card_says_which_way_round_its_part_stands_in_the_piece(name: str):
    part = PARTS[name]
    pose = own_pose(part)
    into = [direct(pose, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))[axis]) for axis in range(3)]
    end, edge, face = (DIRECTIONS[round(-x), round(-y), round(-z)] for x, y, z in into)
    told = f"In the piece: face {face[0]}, reference end at the {end[1]}, reference edge at the {edge[1]}."
    assert standing(by_hand.folder(), (part,)) == told


def test_two_sides_on_one_card_are_told_apart_by_how_they_stand():
    left, right = PARTS["cabinet.left side"], PARTS["cabinet.right side"]
    told = standing(by_hand.folder(), (left, right))
    assert "left side: face to the right" in told
    assert "right side: face to the left" in told


@pytest.mark.parametrize(
    ("size", "printed"),
    [("7/64", '7/64"'), ("11/64", '11/64"'), ("1/4", '1/4"'), ("1", '1"')],
)
def test_a_hole_is_told_by_the_bit_that_is_sold_for_it_and_not_by_the_rules_marks(size: str, printed: str):
    assert bit(inch(size), INCHES) == printed


def test_a_metric_hole_in_an_inch_plan_stays_metric():
    assert bit(Fraction(5), INCHES) == "5 mm"
    assert bit(Fraction(35), MILLIMETRES) == "35 mm"


CELLS = st.lists(st.text("abcde 12,", max_size=40), min_size=4, max_size=4)


@given(st.lists(CELLS, min_size=1, max_size=6))
@settings(max_examples=60, deadline=None)
def test_a_table_of_cuts_fits_the_page_and_breaks_no_word(rows: list[list[str]]):
    heads = ["cut", "from end", "wide x long", "step"]
    widths = shares_for([heads, *rows], WHOLE)
    longest = [max((word for row in rows for word in word_widths(row[n], POINTS)), default=0.0) for n in range(4)]
    least = [max(a, set_width(b, POINTS)) + CELL for a, b in zip(longest, heads, strict=True)]
    assert sum(widths) <= max(WHOLE, sum(least)) + 0.5
    assert all(width >= enough - 0.1 for width, enough in zip(widths, least, strict=True))


def test_words_are_broken_between_lines_as_the_page_breaks_them():
    wide = set_width("8 x countersunk", POINTS) + 0.1
    assert lines_in("8 x countersunk clearance hole, back", POINTS, wide) == 3
    assert lines_in("8 x countersunk clearance hole, back", POINTS, 500) == 1


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("seed", [7, 18, 51])
def test_a_card_comes_out_as_high_as_was_reckoned(seed: int, paper: str):
    folder, size = by_chance(seed), PAPERS[paper]
    tasks = [task_of(folder, letter, size) for letter in folder.letters]
    cards = laid_out_cards(tasks, first_of(size, folder.build.manner))
    with opened(packet(folder, paper=paper, pages=["cards"])) as book:
        printed = [high for page in book.pages for high in cards_on(page)]
    assert len(printed) == len(cards)
    whole = size.high - 34.0 - 14.5  # a card that is higher may go on overleaf
    for letter, one, high in zip(folder.letters, cards, printed, strict=True):
        if one.high < whole - (39.0 if letter == "A" else 0.0):
            assert -1.0 < one.high - high < 7.5, letter  # a line more than reckoned would push it off its page


def cards_on(page: Any) -> list[float]:
    """How high each card on a page is, from the line at its head to the foot of what is lowest on it [mm]."""
    lines = [(float(one["top"]) * POINT, float(one["width"]) * POINT, float(one["linewidth"])) for one in page.lines]
    heads = sorted(top for top, wide, pen in lines if abs(pen - 0.5) < 0.01 and wide > 90)
    foot = float(page.height) * POINT - 17.5
    found = []
    for head, end in zip(heads, [*heads[1:], foot] if heads else [], strict=True):
        chars = (float(char["bottom"]) * POINT for char in page.chars)
        low = [bottom for bottom in chars if head <= bottom < end - 0.5]
        low += [top for top, _, pen in lines if head < top < end and abs(pen - 0.4) < 0.01]
        found.append(max(low) - head)
    return found


@pytest.mark.parametrize("seed", [7, 18])
def test_cards_drawings_grow_where_their_page_has_room_and_never_shrink(seed: int):
    folder, size = by_chance(seed), PAPERS["letter"]
    tasks = [task_of(folder, letter, size) for letter in folder.letters]
    small = [arranged(task) for task in tasks]
    grown = on_pages(tasks, small, first_of(size, folder.build.manner))
    assert all(after.coarsest <= before.coarsest for before, after in zip(small, grown, strict=True))
    assert any(after.coarsest < before.coarsest for before, after in zip(small, grown, strict=True))
