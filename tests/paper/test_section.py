"""A section shows a joint as it is: what is hatched is the parts' own wood, every number is the model's."""

import pytest

from storystick.paper.drawing.section import cut_face, draw_section, where_across
from storystick.paper.drawing.views import distances, three_views
from storystick.paper.pages.joints import kinds_of
from tests.paper import by_hand
from tests.paper.readback import faults, numbers
from tests.told import job, sample

FOLDER = by_hand.folder()
JOINTS = FOLDER.build.joints


@pytest.mark.parametrize("joint", JOINTS, ids=lambda joint: joint.name)
def test_a_section_shows_only_numbers_of_its_joint_and_none_lies_on_another(joint):
    drawn = draw_section(FOLDER, joint, 86.0, 62.0)
    assert drawn is not None
    host, guest = FOLDER.build.part(joint.host), FOLDER.build.part(joint.guest)
    own = {host.thickness.value, guest.thickness.value}
    for part in (host, guest):
        for cut in part.cuts:
            if getattr(cut, "joint", "") == joint.name and hasattr(cut, "runs"):
                own |= {cut.width.value, cut.depth.value}
    shown = [value for value, _, _ in numbers(drawn.svg)]
    assert shown
    assert set(shown) <= own
    assert faults(drawn) == []


@pytest.mark.parametrize("joint", JOINTS, ids=lambda joint: joint.name)
def test_the_guests_cut_face_is_as_thick_as_the_guest(joint):
    host, guest = FOLDER.build.part(joint.host), FOLDER.build.part(joint.guest)
    across = where_across(FOLDER, joint, host, guest)
    assert across is not None
    rings = cut_face(FOLDER.scene.own_solids[guest.name], across, guest.name)
    spots = [spot for ring in rings for spot in ring]
    spans = [max(spot[i] for spot in spots) - min(spot[i] for spot in spots) for i in range(2)]
    assert min(spans) <= float(guest.thickness) + 1e-6
    assert any(span == pytest.approx(float(guest.thickness), abs=1e-6) for span in spans)


def test_joints_that_are_alike_are_shown_once():
    kinds = kinds_of(FOLDER)
    assert sum(len(kind) for kind in kinds) == len(JOINTS)
    assert len(kinds) < len(JOINTS)


@pytest.mark.parametrize("words", ["american", "british"])
def test_the_views_show_distances_from_one_datum_and_nothing_overlaps(words):
    from dataclasses import replace

    drawn = three_views(replace(FOLDER, words=words), 178.9, 205.0)
    assert faults(drawn) == []
    own = {dim.value for row in distances(FOLDER.build)[0] for dim in row}
    assert {value for value, _, _ in numbers(drawn.svg)} <= own
    written = {box.says for box in drawn.lettering}
    assert ("third angle" in written) == (words == "american")
    assert ("ASME Y14.3" in written) == (words == "american")
    assert {"front", "top"} <= written


def test_a_number_stands_beside_the_part_that_it_is_of():
    # A drawer bottom 5.65 mm thick in a groove of 5.95 mm: what is made wider stands at the groove, left of the bottom.
    folder = job(sample("drawer-tower")).first_folder
    joint = next(one for one in folder.build.joints if one.name == "tower.drawer 1.bottom in left side")
    drawn = draw_section(folder, joint, 86.0, 62.0)
    assert drawn is not None
    at = {box.says: (box.left + box.right) / 2 for box in drawn.lettering}
    (groove,) = [x for says, x in at.items() if "5.95" in says]
    (bottom,) = [x for says, x in at.items() if "5.65" in says]
    assert groove < drawn.wide / 2 < bottom
