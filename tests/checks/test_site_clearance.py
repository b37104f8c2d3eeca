"""The piece and what is already there: at rest, with drawers open, with things of the site that move."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.checks.moving import Mover, motion_of
from storystick.ground.finding import Grade
from storystick.model.build import Build, Move, Shape, SiteBody, Slider
from storystick.model.joining import Item
from tests.checks.by_hand import METRIC, Number, assembly, board, bore, box, carcass, lengths, mm, three, told, troubles


def beside(gap: Number, keep: Number | None = 20) -> Build:
    """A wall to the right of a case 600 wide."""
    wall = box("wall", (600 + Fraction(gap), -500, 0), (100, 2000, 2400), keep=mm(keep) if keep is not None else None)
    return carcass(site=(wall,))


def test_far_enough_from_the_wall_is_fine_and_says_how_far():
    (found,) = told("site-clearance", beside(25))
    assert (found.grade, found.about) == (Grade.FINE, ("case.right side", "wall"))
    assert (found.number, found.limit) == (pytest.approx(25), 20)


def test_nearer_than_is_to_be_kept():
    (found,) = troubles("site-clearance", beside(12))
    assert (found.grade, found.number) == (Grade.CARE, pytest.approx(12))


def test_running_into_the_wall_stops_the_work():
    (found,) = troubles("site-clearance", beside(-5, None))
    assert (found.grade, found.number) == (Grade.STOP, pytest.approx(-5))


@pytest.mark.parametrize(("gap", "keep"), [(12, 20), (-5, None), (-5, 20), (0, 3)])
def test_a_piece_moved_as_advised_is_clear(gap: Number, keep: Number | None):
    (found,) = troubles("site-clearance", beside(gap, keep))
    by = lengths(found.advice)[0]
    assert not troubles("site-clearance", beside(Fraction(gap) + by, keep))


def test_touching_the_wall_is_fine_where_nothing_is_to_be_kept():
    (found,) = told("site-clearance", beside(0, None))
    assert (found.grade, found.number) == (Grade.FINE, 0)


def test_a_rod_before_a_wide_hole_is_as_far_as_its_rim_and_hides_nothing_that_is_nearer():
    # The rod's end is 3 mm before the side and in the middle of a hole of 60: its rim is 22.9 off. A post is 8 away.
    whole = carcass()
    side = next(part for part in whole.parts if part.name == "case.right side")
    holed = replace(side, cuts=(*side.cuts, bore("hole", (150, 200), 60, None)))
    parts = tuple(holed if part is side else part for part in whole.parts)
    rod, post = (
        Shape("box", three((603, 195, 145)), three((200, 10, 10))),
        Shape("box", three((608, 0, 600)), three((40, 400, 50))),
    )
    for shapes, nearest in (((rod, post), 8), ((rod,), math.hypot(3, 30 - math.hypot(5, 5)))):
        stand = SiteBody("stand", shapes, three((603, 0, 0)), three((200, 400, 700)))
        (found,) = told("site-clearance", replace(whole, parts=parts, site=(stand,)))
        assert (found.about, found.number) == (("case.right side", "stand"), pytest.approx(nearest, abs=0.1))


def test_what_it_stands_on_is_touched_and_what_is_beside_it_still_counts():
    # A stand with a plate at 100 under the case and a post 8 mm to its right.
    plate, post = (
        Shape("box", three((0, 0, 82)), three((700, 400, 18))),
        Shape("box", three((608, 0, 0)), three((40, 40, 900))),
    )
    stand = SiteBody("stand", (plate, post), three((0, 0, 0)), three((700, 400, 900)), keep=mm(10))
    build = carcass(assemblies=(assembly(at=(0, 0, 100), stands_on="stand"),), site=(stand,))
    (found,) = troubles("site-clearance", build)
    assert (found.about, found.number) == (("case.right side", "stand"), pytest.approx(8))
    assert not troubles("site-clearance", replace(build, site=(replace(stand, keep=mm(8)),)))


def test_what_is_low_in_the_piece_may_be_near_to_what_it_stands_on():
    # The shelf's underside is 300 mm up, the bottom board 18 mm thick; the bench asks for 400 mm all round.
    bench = box("bench", (-100, -100, 0), (900, 700, 100), keep=mm(400))
    build = carcass(assemblies=(assembly(at=(0, 0, 100), stands_on="bench"),), site=(bench,))
    assert not troubles("site-clearance", build)
    sunk = carcass(assemblies=(assembly(at=(0, 0, 95), stands_on="bench"),), site=(bench,))
    assert {one.grade for one in troubles("site-clearance", sunk)} == {Grade.STOP}


def test_a_part_that_touches_does_not_hide_another_that_runs_in():
    # The left side touches the wall; a nail strip behind it runs 10 mm into the wall.
    wall = box("wall", (-100, -100, 0), (100, 900, 2400))
    whole = carcass(site=(wall,))
    strip = board("case.strip", (-10, 420, 300), (600, 20, 60), "xzy")
    (found,) = troubles("site-clearance", replace(whole, parts=(*whole.parts, strip)))
    assert (found.about, found.number) == (("case.strip", "wall"), pytest.approx(-10))


def test_room_that_stays_free_may_be_touched_but_not_entered():
    free = box("hand's way", (100, 100, 700), (200, 200, 100), stays_free=True)
    assert not troubles("site-clearance", carcass(site=(free,)))
    (found,) = troubles("site-clearance", carcass(site=(box("way", (100, 100, 690), (9, 9, 100), stays_free=True),)))
    assert "enters the room to be left free" in found.says


def with_drawer(post_y: Number, out: Number = 280) -> Build:
    """A drawer 300 deep that comes out by 280 toward a post in front."""
    parts = [
        board("case.drawer.bottom", (0, 0, 0), (500, 300, 6), assembly="case.drawer"),
        board("case.drawer.front", (0, -18, 0), (500, 18, 120), "xzy", assembly="case.drawer"),
    ]
    drawer = assembly("case.drawer", (50, 20, 400), (500, 300, 120), stands_on="", inside_of="case")
    slider = Slider("drawer", "case.drawer", "case.bay", mm(out), mm(13), (mm("12.7"), mm("13.5")), "slides")
    post = box("post", (250, post_y, 0), (50, 50, 2000), keep=mm(15))
    whole = carcass(assemblies=(assembly(), drawer), sliders=(slider,), site=(post,))
    return replace(whole, parts=(*whole.parts, *parts))


def test_a_drawer_hits_what_stands_in_front_of_it_when_it_is_open():
    # The front's face is at 2; out by 280 it is at -278. The post's back at -250 is 28 too near.
    (found,) = troubles("site-clearance", with_drawer(-300))
    assert found.grade == Grade.STOP
    assert found.about == ("case.drawer.front", "post")
    assert "drawer after" in found.says
    assert not troubles("site-clearance", with_drawer(-300, lengths(found.advice)[0]))


def test_the_pull_of_a_drawer_comes_out_with_it():
    build = with_drawer(-350)
    knob = Item("knob", "", "knob", 1, "case.drawer", box=(three((225, -48, 50)), three((50, 30, 30))))
    # The knob stands out 30 mm: 22 mm less 30, it hits the post.
    (found,) = troubles("site-clearance", replace(build, items=(knob,)))
    assert (found.grade, found.about) == (Grade.STOP, ("knob", "post"))


def test_a_drawer_that_stops_short_of_the_post_is_fine():
    # The post's back at -300: 22 mm to the open drawer, 15 to be kept.
    (found,) = told("site-clearance", with_drawer(-350))
    assert found.grade == Grade.FINE
    assert found.number == pytest.approx(22, abs=0.11)


def lid(high: Number, keep: Number | None = None) -> Build:
    """A lid 300 long, hinged along x at the case's front edge just above its top, swinging right back over it."""
    swing = Move("opens", "swing", ("lid",), about=three((0, -10, high)), axis=0, degrees=(0, -180))
    body = box("lid", (0, -310, high), (600, 300, 1), keep=mm(keep) if keep else None, move=swing)
    return carcass(site=(body,))


def test_a_lid_that_swings_over_the_case_needs_its_room():
    # Turned right over, its upper face lies 1 mm below the line it swings about.
    (found,) = troubles("site-clearance", lid("700.5"))
    assert found.grade == Grade.STOP
    (found,) = told("site-clearance", lid(705))
    assert (found.grade, found.number) == (Grade.FINE, pytest.approx(4, abs=0.11))


def test_a_cart_that_slides_in_beside_the_case_is_followed_all_the_way():
    slide = Move("comes in", "slide", ("cart",), way=(0.0, 1.0, 0.0), far=mm(1000))
    passing = box("cart", (604, -900, 0), (300, 400, 800), keep=mm(10), move=slide)
    (found,) = troubles("site-clearance", carcass(site=(passing,)))
    assert found.number == pytest.approx(4, abs=0.11)


def test_an_angle_is_said_without_a_sign():
    swing = Move("opens", "swing", ("lid",), about=three((0, 0, 0)), axis=0, degrees=(0, -110))
    mover = Mover("lid", (), motion_of(swing), 110.0)
    assert mover.after(1.0, METRIC) == "at 110 degrees"
