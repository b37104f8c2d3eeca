"""What hangs together, and what does not."""

from dataclasses import replace

from storystick.ground.finding import Grade
from storystick.model.joining import Item
from tests.checks.by_hand import DOWN, assembly, board, carcass, joined, piece, screw, told, troubles


def test_a_glued_carcass_is_held():
    (found,) = told("not-held", carcass())
    assert found.grade == Grade.FINE


def test_a_shelf_without_a_joint_is_not_held():
    whole = carcass()
    build = replace(whole, joints=tuple(j for j in whole.joints if j.guest != "case.shelf"))
    (found,) = troubles("not-held", build)
    assert (found.grade, found.about) == (Grade.STOP, ("case.shelf",))


def test_a_part_given_a_joint_as_advised_is_held():
    whole = carcass()
    bare = replace(whole, joints=tuple(j for j in whole.joints if j.guest != "case.shelf"))
    (found,) = troubles("not-held", bare)
    mended = replace(bare, joints=(*bare.joints, joined(found.about[0], "case.left side", "glue")))
    assert not troubles("not-held", mended)


def test_screws_hold_and_a_joint_that_holds_nothing_does_not():
    parts = (board("case.base", (0, 0, 0), (300, 300, 18)), board("case.post", (100, 100, 18), (90, 90, 300), "zxy"))
    assert troubles("not-held", piece(*parts, joints=(joined("case.post", "case.base"),)))
    held = piece(*parts, fasteners=(screw("s", "case.base", "case.post", (145, 145, 0), DOWN),))
    assert not troubles("not-held", held)


def test_a_loose_shelf_may_rest_on_its_pins():
    whole = carcass()
    joints = tuple(j for j in whole.joints if j.guest != "case.shelf")
    rests = (joined("case.shelf", "case.left side", "rests"), joined("case.shelf", "case.right side", "rests"))
    found = told("not-held", replace(whole, joints=(*joints, *rests)))
    assert {one.grade for one in found} == {Grade.NOTE, Grade.FINE}


def test_a_box_hung_on_the_side_of_a_case_must_be_screwed_there():
    shelf = board("box.bottom", (0, 0, 0), (200, 150, 12), assembly="box")
    hung = assembly("box", (600, 0, 400), (200, 150, 12), stands_on="case")
    whole = carcass(assemblies=(assembly(), hung))
    build = replace(whole, parts=(*whole.parts, shelf))
    assert [one.about for one in troubles("not-held", build)] == [("box",)]
    held = replace(build, assemblies=(assembly(), replace(hung, held_by=("screws",))))
    assert not troubles("not-held", held)
    on_top = replace(build, assemblies=(assembly(), replace(hung, at=whole.assemblies[0].size)))
    assert not troubles("not-held", on_top)


def test_a_drawer_hangs_in_its_slides():
    front = board("case.drawer.front", (0, 0, 0), (500, 18, 120), "xzy", assembly="case.drawer")
    drawer = assembly("case.drawer", (50, 0, 400), (500, 18, 120), stands_on="", inside_of="case")
    whole = carcass(assemblies=(assembly(), drawer))
    build = replace(whole, parts=(*whole.parts, front))
    assert troubles("not-held", build)
    slides = Item("slides", "", "", 1, "case", on=("case.left side",), carries="case.drawer")
    assert not troubles("not-held", replace(build, items=(slides,)))


def test_what_stands_on_nothing_is_found():
    build = piece(board("case.base", (0, 0, 0), (300, 300, 18)), assemblies=(assembly(stands_on=""),))
    assert [one.grade for one in troubles("not-held", build)] == [Grade.STOP]
