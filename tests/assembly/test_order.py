"""Plans that can be put together: the order is the trade's, and replays on the solids without a clash."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from storystick.assembly import put_together
from storystick.assembly.together import RESTS_ON
from storystick.ground.kept import forget
from storystick.model.scene import Scene
from storystick.model.sequence import AssemblyOrder, Coming
from storystick.shop.shop import Driver
from tests.assembly.replay import faults
from tests.craft.plans import samples
from tests.told import job, sample

PLANS = samples() | {name: sample(name) for name in ("lathe-cabinet", "drawer-tower", "alcove-bookcase")}
JOBS = {name: job(text) for name, text in PLANS.items()}
UP, DOWN, TO_BACK, TO_FRONT, TO_LEFT = (0, 0, 1), (0, 0, -1), (0, 1, 0), (0, -1, 0), (-1, 0, 0)


def order_of(name: str) -> AssemblyOrder:
    return JOBS[name].sequence


def when(order: AssemblyOrder, name: str) -> int:
    """The number of the coming by which a part is there."""
    return next(n for n, one in enumerate(order.comings) if name in one.moves or name in one.meets)


def meets(order: AssemblyOrder, name: str, other: str) -> int:
    """The number of the coming by which a part comes to another."""
    (number,) = [n for n, one in enumerate(order.comings) if name in one.moves and other in one.meets]
    return number


def coming_of(order: AssemblyOrder, name: str) -> Coming:
    return next(one for one in order.comings if name in one.moves)


@pytest.mark.parametrize("name", list(PLANS))
def test_the_order_replays_on_the_solids_step_by_step(name: str):
    order = order_of(name)
    assert order.can_be, order.stuck or order.unreached
    assert list(faults(JOBS[name].scene, JOBS[name].shop, order)) == []


@pytest.mark.parametrize("name", list(PLANS))
def test_the_same_plan_gives_the_same_order(name: str):
    assert job(PLANS[name]).sequence == order_of(name)


def test_a_case_is_glued_up_from_the_inside_out():
    order = order_of("lathe-cabinet")
    inside = [when(order, f"cabinet.{name}") for name in ("divider 1", "top", "bottom")]
    sides = [when(order, f"cabinet.{name} side") for name in ("left", "right")]
    assert max(inside) < max(sides)
    assert coming_of(order, "cabinet.left side").way == (1, 0, 0)


def test_what_is_caught_in_troughs_on_both_sides_is_one_glue_up_and_the_back_another():
    order = order_of("lathe-cabinet")
    names = ("divider 1", "top", "left side", "right side", "shelf 1")
    case = {coming_of(order, f"cabinet.{name}").go for name in names}
    back = coming_of(order, "cabinet.back")
    assert len(case) == 1
    assert back.go not in case
    assert back.glued
    assert back.way == TO_FRONT


def test_a_bottom_in_four_grooves_is_there_before_the_last_side_closes_it_in():
    order = order_of("lathe-cabinet")
    box = [f"cabinet.drawer 1.{name}" for name in ("left side", "right side", "box front", "box back")]
    assert when(order, "cabinet.drawer 1.bottom") < max(when(order, name) for name in box)
    assert len({coming_of(order, name).go for name in (*box, "cabinet.drawer 1.bottom")}) == 1


def test_castors_go_on_while_the_case_can_be_tipped_and_drawers_come_last():
    order = order_of("lathe-cabinet")
    castors = [when(order, f"cabinet.castor {n}") for n in (1, 2, 3, 4)]
    drawers = [meets(order, "cabinet.drawer 1.front", "cabinet.left side")]
    assert max(castors) < min(drawers)
    assert coming_of(order, "cabinet.castor 1").way == UP
    assert order.comings[drawers[0]].way == TO_BACK


def test_slides_are_screwed_on_before_their_drawer_goes_in():
    order = order_of("drawer-tower")
    driven = {name: n for n, one in enumerate(order.comings) for each in one.then for name in each.names}
    goes_in = meets(order, "tower.drawer 1.front", "tower.left side")
    assert driven["tower.drawer 1 slides screw 1 in left side"] < goes_in
    assert driven["tower.drawer 1.slide screw 1 in left side"] < goes_in


def test_a_box_that_hides_its_own_screws_is_closed_after_it_is_hung():
    order = order_of("lathe-cabinet")
    assert [(one.part, one.assembly, one.met) for one in order.late] == [("gouge box.back", "gouge box", "cabinet")]
    hung = meets(order, "gouge box.front", "cabinet.back")
    assert when(order, "gouge box.back") > hung


def test_a_loose_shelf_slides_in_from_the_front_when_the_glue_has_set():
    order = order_of("alcove-bookcase")
    shelf = coming_of(order, "bookcase.shelf 1")
    assert shelf.way == TO_BACK
    assert not shelf.joints
    assert when(order, "bookcase.shelf 1") > when(order, "bookcase.back")


def test_a_plinth_is_made_by_itself_and_then_screwed_under_the_case():
    order = order_of("alcove-bookcase")
    (under,) = [one for one in order.comings if "bookcase.plinth front" in one.moves and "bookcase.bottom" in one.meets]
    assert len(under.moves) == 4
    assert under.way == UP
    assert sum(len(each.names) for each in under.then) == 12


def test_it_stops_when_told_and_says_so():
    forget()
    one = JOBS["kind case"]
    order = put_together(one.build, one.scene, one.shop, stop=lambda: True)
    assert not order.whole
    assert not order.can_be


def test_it_tells_how_far_it_has_come():
    from storystick.assembly import put_together

    one, heard = JOBS["kind case"], []
    put_together(one.build, one.scene, one.shop, tell=lambda what, share: heard.append(share))
    assert heard == sorted(heard)
    assert heard


def test_a_face_whose_screws_the_bottom_would_hide_goes_on_while_the_box_is_open():
    one = job(sample("drawer-tower").replace("bays: [drawer 3,", "bays: [drawer 2,"))  # a box 1 in high
    order = put_together(one.build, one.scene, one.shop)
    hurried = {one.part: one.by for one in order.hurried}
    assert hurried["tower.drawer 1.front"] == ("tower.drawer 1.bottom",)
    assert when(order, "tower.drawer 1.front") < when(order, "tower.drawer 1.bottom")
    assert "tower.drawer 5.front" not in hurried


def test_a_front_s_screws_stand_above_the_bottom_where_a_driver_gets_at_them():
    assert not order_of("drawer-tower").hurried  # its lowest box is 2 in high


class Watched:
    """A thing, and which of its words were asked for."""

    def __init__(self, one: object) -> None:
        self.one, self.asked = one, set[str]()

    def __getattr__(self, word: str) -> Any:
        self.asked.add(word)
        return getattr(self.one, word)


@pytest.mark.parametrize("name", ["lathe-cabinet", "alcove-bookcase"])
def test_an_order_rests_on_nothing_but_what_it_is_kept_under(name: str):
    forget()
    one = JOBS[name]
    build, shop = Watched(one.build), Watched(one.shop)
    assert put_together(build, Scene(build), shop) == order_of(name)  # type: ignore[arg-type]
    assert build.asked - {"part", "assemblies_by_name"} == {*RESTS_ON, "site"}  # the two are looked up in these
    assert shop.asked == {"drivers", "door"}


def test_an_order_that_was_broken_off_is_not_taken_for_the_answer():
    forget()
    one = JOBS["kind case"]
    assert not put_together(one.build, one.scene, one.shop, stop=lambda: True).whole
    assert put_together(one.build, one.scene, one.shop) == order_of("kind case")


def test_boards_with_another_drill_are_put_together_anew():
    one = JOBS["kind case"]
    long = replace(one.shop, drivers=(Driver("drill", Fraction(900), Fraction(75)),))
    assert put_together(one.build, one.scene, long) != order_of("kind case")
    assert put_together(one.build, one.scene, one.shop) is put_together(one.build, one.scene, one.shop)
