"""What can't be put together: each set is found, is as small as can be, and is told with what bars it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.assembly import put_together
from storystick.ground.finding import Finding, Grade
from storystick.model.build import Build
from storystick.model.cut import Corner, Notch
from storystick.model.part import Part
from storystick.model.scene import Scene
from storystick.model.sequence import AssemblyOrder
from storystick.shapes.clash import clashes
from storystick.shop.shop import Driver, Shop
from tests.assembly.replay import faults
from tests.checks.by_hand import LEFT, RIGHT, SHOP, UP, Three, asked, assembly, board, channel, joined, mm, piece, screw
from tests.told import job

HAIR = Fraction("0.1")
DRIVERS = (Driver("drill", Fraction(230), Fraction(75)), Driver("screwdriver", Fraction(255), Fraction(38)))
TOOLED: Shop = replace(SHOP, drivers=DRIVERS)
H = """title: t
units: mm
stock:
  ply18: {sheet: birch plywood, thickness: 18 mm}
  ply6: {sheet: birch plywood, thickness: 6 mm}
"""


def ordered(build: Build) -> AssemblyOrder:
    return put_together(build, Scene(build), TOOLED)


def findings(build: Build) -> list[Finding]:
    from storystick.checks import run_one, shelf

    told = replace(asked(build), shop=TOOLED, sequence=ordered(build))
    return list(run_one(shelf()["can-be-assembled"], told))


def stuck_sets(build: Build) -> list[tuple[str, ...]]:
    return [one.names for one in ordered(build).stuck]


def grooved_box(bottom_in: str = "case", **bottom: bool) -> Build:
    """Four sides 12 mm thick round a bottom 6 mm thick, in a groove 5 deep in each."""

    def side(name: str, at: Three, size: Three, lies: str, across: int, datum: tuple[int, int, int]) -> Part:
        groove = channel("groove", (0, 20), (across, Fraction("6.2")), 5)
        return board(name, at, size, lies, cuts=[groove], datum=datum)

    sides = [
        side("case.front", (0, 0, 0), (300, 12, 80), "xzy", 300, (1, 1, 1)),
        side("case.back", (0, 188, 0), (300, 12, 80), "xzy", 300, (1, 1, -1)),
        side("case.left", (0, 12, 0), (12, 176, 80), "yzx", 176, (1, 1, 1)),
        side("case.right", (288, 12, 0), (12, 176, 80), "yzx", 176, (1, 1, -1)),
    ]
    name = f"{bottom_in}.bottom"
    flat = board(name, (8, 8, 20), (284, 184, 6), assembly=bottom_in)
    ends = [("front", 1, -1), ("back", 1, 1), ("left", 0, -1), ("right", 0, 1)]
    joints = [joined(name, f"case.{host}", "captured", axis=a, sign=s) for host, a, s in ends]
    for side_word in ("left", "right"):
        joints += [joined(f"case.{side_word}", f"case.{host}", "glue", axis=1, sign=s) for host, _, s in ends[:2]]
    others = (assembly(bottom_in, (0, 0, 0), stands_on="case", **bottom),) if bottom_in != "case" else ()
    return piece(*sides, flat, joints=tuple(joints), assemblies=(assembly(size=(300, 200, 80)), *others))


def test_a_bottom_in_four_grooves_goes_in_before_the_last_side():
    build = grooved_box()
    order = ordered(build)
    assert order.can_be
    assert list(faults(Scene(build), TOOLED, order)) == []


def test_a_bottom_that_is_to_lift_out_of_four_grooves_never_got_in():
    build = grooved_box("plate", removable=True)
    (one,) = ordered(build).stuck
    assert one.caught == "plate"
    assert len(one.names) == 5  # each side bars one way, and any one of them the ways up and down
    (found,) = [one for one in findings(build) if one.grade is Grade.STOP]
    assert found.says.startswith("plate is to come out of the finished piece, but can't: ")


def tongued(name: str, at: Three, size: Three, lies: str, face: int, tongue: int, groove: int, wide: int) -> Part:
    """A board with a tongue 6 long at one end, and a blind trough for the next one's; along and across from its corner.

    tongue  where along its length that begins (0, or 6 less than the length); groove  where the trough begins
    wide    how wide the board is; tongue and trough are let in from both its edges
    """
    low, high = wide // 2 - 20, wide // 2 + 20
    nips = [
        Notch("nip", tuple(Corner(mm(u), mm(v)) for u, v in _square(tongue, tongue + 6, *edges)), "nip")
        for edges in ((0, low), (high, wide))
    ]
    blind = channel("trough", (groove - HAIR, low - HAIR), (20 + 2 * HAIR, 40 + 2 * HAIR), 6)
    return board(name, at, size, lies, cuts=[*nips, blind], datum=(1, 1, face))


def _square(u0: int, u1: int, v0: int, v1: int) -> tuple[tuple[int, int], ...]:
    return (u0, v0), (u1, v0), (u1, v1), (u0, v1)


def ring() -> Build:
    """Four boards round a square, 20 thick: the tongue of each sits in the face of the next."""
    return piece(
        tongued("case.front", (-30, 0, 0), (216, 20, 100), "xzy", 1, 210, 30, 100),
        tongued("case.right", (180, -30, 0), (20, 216, 100), "yzx", -1, 210, 30, 100),
        tongued("case.back", (14, 180, 0), (216, 20, 100), "xzy", -1, 0, 166, 100),
        tongued("case.left", (0, 14, 0), (20, 216, 100), "yzx", 1, 0, 166, 100),
    )


def corner(left: int = 0, name: str = "case") -> Build:
    """Three boards that meet in a corner, each with a tongue in the face of the next: none can be the last."""

    def one(word: str, axes: tuple[int, int, int]) -> Part:
        at, size = [0, 0, 0], [0, 0, 0]
        for axis, low, long in zip(axes, (14, -30, 0), (126, 170, 20), strict=True):
            at[axis], size[axis] = low, long
        trough = channel("trough", (36 - HAIR, 30 - HAIR), (40 + 2 * HAIR, 20 + 2 * HAIR), 6)
        nips = [
            Notch("nip", tuple(Corner(mm(u), mm(v)) for u, v in _square(0, 6, *edges)), "nip")
            for edges in ((0, 80), (120, 170))
        ]
        lies = "".join("xyz"[axis] for axis in axes)
        where: Three = (left + at[0], at[1], at[2])
        return board(f"{name}.{word}", where, (size[0], size[1], size[2]), lies, cuts=[*nips, trough], datum=(1, 1, 1))

    return piece(one("side", (2, 1, 0)), one("front", (0, 2, 1)), one("bottom", (1, 0, 2)))


def test_a_screw_behind_a_divider_is_found_from_a_plan():
    columns = "{columns: [{rows: [open, fixed shelf, open]}, {rows: [open, fixed shelf, open]}]}"
    text = H + "build:\n  cabinet:\n    case: {wide: 800, deep: 400, high: 700, stock: ply18, "
    text += f'joint: {{dado: {{screws: "4 x 40"}}}}, bays: {columns}}}\n'
    (one,) = job(text).sequence.stuck
    assert one.names == ("cabinet.divider 1", "cabinet.shelf 1", "cabinet.shelf 2")
    locked = {(each.fastener.rpartition(" screw")[0], each.by) for each in one.because if each.kind == "driver"}
    assert locked == {
        ("cabinet.shelf 1 in divider 1", ("cabinet.shelf 2",)),
        ("cabinet.shelf 2 in divider 1", ("cabinet.shelf 1",)),
    }
    assert job(text.replace("open, fixed shelf, open]}]", "open 150, fixed shelf, open]}]")).sequence.can_be


def slit(wide: int) -> Build:
    """Two posts so far apart, screwed from the slit between them outward, each to a cheek on its other side."""
    one = board("case.post", (0, 0, 0), (18, 100, 300), "zyx")
    two = board("case.other post", (18 + wide, 0, 0), (18, 100, 300), "zyx")
    cheek = board("case.cheek", (-18, 0, 0), (18, 100, 300), "zyx")
    other = board("case.other cheek", (36 + wide, 0, 0), (18, 100, 300), "zyx")
    rail = board("case.rail", (18, 0, 0), (wide, 18, 300), "xzy")
    screws = (
        screw("left", "case.post", "case.cheek", (18, 60, 150), LEFT, long=30),
        screw("right", "case.other post", "case.other cheek", (18 + wide, 60, 150), RIGHT, long=30),
        screw("rail", "case.cheek", "case.rail", (-18, 9, 150), RIGHT, long=60),
        screw("other rail", "case.other cheek", "case.rail", (54 + wide, 9, 150), LEFT, long=60),
    )
    return piece(one, two, cheek, other, rail, fasteners=screws)


@pytest.mark.parametrize("wide", [60, 400])
def test_screws_in_a_narrow_slit_are_driven_before_it_closes(wide: int):
    build = slit(wide)
    order = ordered(build)
    assert order.can_be
    assert list(faults(Scene(build), TOOLED, order)) == []


def test_posts_glued_to_the_rail_between_them_first_leave_no_room_for_the_driver():
    """The same, but the posts and the rail are one part: a U that is 60 wide inside."""
    opening = channel("slit", (0, 18), (300, 60), 82)
    u = board("case.u", (0, 0, 0), (96, 100, 300), "zxy", cuts=[opening], datum=(1, 1, 1))
    cheek = board("case.cheek", (-18, 0, 0), (18, 100, 300), "zyx")
    hold = screw("left", "case.u", "case.cheek", (18, 60, 150), LEFT, long=30)
    build = piece(u, cheek, fasteners=(hold,))
    (one,) = ordered(build).stuck
    assert set(one.names) == {"case.u", "case.cheek"}
    assert [(each.fastener, each.by) for each in one.because if each.kind == "driver"] == [("left", ("case.u",))]
    (found,) = findings(build)
    assert "no driver gets at left while case.u is there" in found.says


def test_a_screw_that_another_board_covers_is_driven_before_that_comes():
    flat = board("case.flat", (0, 0, 18), (300, 300, 18))
    leg = board("case.leg", (100, 100, 36), (100, 18, 200), "zxy")
    under = board("case.under", (0, 0, 0), (300, 300, 18))
    up = screw("up", "case.flat", "case.leg", (150, 109, 18), UP, long=50)
    tie = screw("tie", "case.under", "case.flat", (20, 20, 0), UP, long=30)
    order = ordered(piece(flat, leg, under, fasteners=(up, tie)))
    driven = [name for one in order.comings for each in one.then for name in each.names]
    assert order.can_be
    assert driven == ["up", "tie"]


def test_a_slide_that_no_driver_reaches_in_its_own_trough():
    """The screw of a thing without a body, at the bottom of a slot narrower and deeper than any driver."""
    slot = channel("slot", (140, 0), (20, 300), 280)
    post = board("case.post", (0, 0, 0), (300, 300, 300), cuts=[slot], datum=(1, 1, 1))
    build = piece(post, fasteners=(screw("s", "slide", "case.post", (150, 150, 20), (0.0, 0.0, -1.0)),))
    (missed,) = ordered(build).unreached
    assert missed.fasteners == ("s",)
    (found,) = [one for one in findings(build) if one.grade is Grade.STOP]
    assert "no driver" in found.says.lower()


def test_a_ring_of_four_boards_each_in_the_next_goes_together_in_two_halves():
    build = ring()
    order = ordered(build)
    assert order.can_be
    assert [len(one.moves) for one in order.comings if one.meets and len(one.meets) + len(one.moves) == 4] == [2]
    assert list(faults(Scene(build), TOOLED, order)) == []


def test_three_boards_of_a_corner_each_in_a_trough_of_the_next_have_no_last_one():
    build = corner()
    assert not clashes(list(Scene(build).parts.items()))
    (one,) = ordered(build).stuck
    assert set(one.names) == {part.name for part in build.parts}
    assert {each.kind for each in one.because} == {"way"}
    (found,) = findings(build)
    assert found.grade is Grade.STOP
    assert found.about == one.names
    assert "can't be put together" in found.says


@pytest.mark.parametrize("gone", ["case.side", "case.front", "case.bottom"])
def test_without_any_one_of_a_stuck_set_the_others_go_together(gone: str):
    left = piece(*(part for part in corner().parts if part.name != gone))
    order = ordered(left)
    assert order.can_be
    assert list(faults(Scene(left), TOOLED, order)) == []


def test_what_has_nothing_to_do_with_a_stuck_set_is_not_named():
    more = board("case.shelf", (300, 0, 0), (400, 200, 18))
    (names,) = stuck_sets(piece(more, *corner().parts))
    assert "case.shelf" not in names


def test_two_sets_that_have_nothing_to_do_with_each_other_are_both_found():
    found = stuck_sets(piece(*corner().parts, *corner(1000, "case.other").parts))
    assert len(found) == 2
    assert not set(found[0]) & set(found[1])


def test_every_pair_of_shelves_that_hide_each_others_screws_is_found():
    rows = "{rows: [open, fixed shelf, open, fixed shelf, open]}"
    text = H + "build:\n  cabinet:\n    case: {wide: 800, deep: 400, high: 1200, stock: ply18, "
    text += f'joint: {{dado: {{screws: "4 x 40"}}}}, bays: {{columns: [{rows}, {rows}]}}}}\n'
    found = {one.names for one in job(text).sequence.stuck}
    assert found == {
        ("cabinet.divider 1", "cabinet.shelf 1", "cabinet.shelf 3"),
        ("cabinet.divider 1", "cabinet.shelf 2", "cabinet.shelf 4"),
    }
