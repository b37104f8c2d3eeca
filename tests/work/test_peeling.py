"""In what order assemblies go together."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from storystick.work.peeling import closings
from tests.work.by_hand import joined

CASE = ["left", "right", "bottom", "top", "divider", "shelf", "back"]
JOINTS = [
    joined("bottom", "left", 0, -1),
    joined("bottom", "right", 0, 1),
    joined("top", "left", 0, -1),
    joined("top", "right", 0, 1),
    joined("divider", "bottom", 2, -1),
    joined("divider", "top", 2, 1),
    joined("shelf", "left", 0, -1),
    joined("shelf", "divider", 0, 1),
]
CAPTURED = [joined("back", side, 0, sign, glued=False) for side, sign in (("left", -1), ("right", 1))] + [
    joined("back", flat, 2, sign, glued=False) for flat, sign in (("bottom", -1), ("top", 1))
]
SCREWED_ON = [joined("back", host, 1, -1, glued=False) for host in ("left", "right", "bottom", "top")]


def goes(joints: list) -> list[set[str]]:
    return [set(one.parts) for one in closings(CASE, joints)]


def test_the_divider_goes_between_bottom_and_top_before_the_sides_close_it():
    order = goes(JOINTS)
    assert order[-1] == {"left", "right"}
    assert next(i for i, go in enumerate(order) if "divider" in go) < len(order) - 1


def test_a_back_in_grooves_goes_in_before_the_case_is_closed():
    order = goes(JOINTS + CAPTURED)
    back = next(i for i, go in enumerate(order) if "back" in go)
    assert back < next(i for i, go in enumerate(order) if "left" in go)


def test_a_back_that_is_screwed_on_goes_on_last():
    assert goes(JOINTS + SCREWED_ON)[-1] == {"back"}


def test_a_back_that_drops_into_open_rabbets_goes_in_last_from_the_rear():
    glued = [replace(joint, glued=True) for joint in CAPTURED]
    out = {joint.name: frozenset({(1, 1)}) for joint in glued}
    order = [set(one.parts) for one in closings(CASE, JOINTS + glued, out)]
    assert order[-1] == {"back"}
    assert {"left", "right"} <= order[-2]


def test_bottoms_flush_with_the_ends_of_the_sides_do_not_count_as_let_in_from_outside():
    out = {joint.name: frozenset({(2, -1)}) for joint in JOINTS if "bottom in" in joint.name}
    assert [set(one.parts) for one in closings(CASE, JOINTS, out)] == goes(JOINTS)


def test_a_lip_goes_on_with_the_board_that_it_is_glued_to():
    order = [set(one.parts) for one in closings([*CASE, "lip"], [*JOINTS, joined("lip", "bottom", 1, 1)])]
    assert any({"lip", "bottom"} <= go for go in order)


def test_a_drawer_box_closes_with_its_sides_last():
    parts = ["left", "right", "front", "back", "bottom"]
    joints = [joined(end, side, 0, sign) for end in ("front", "back") for side, sign in (("left", -1), ("right", 1))]
    joints += [joined("bottom", side, 0, sign, glued=False) for side, sign in (("left", -1), ("right", 1))]
    joints += [joined("bottom", "front", 1, -1, glued=False), joined("bottom", "back", 1, 1, glued=False)]
    order = [set(one.parts) for one in closings(parts, joints)]
    assert order[-1] == {"left", "right"}
    assert set().union(*order) == set(parts)


def test_a_part_that_no_joint_holds_is_left_out():
    assert all("loose" not in one.parts for one in closings([*CASE, "loose"], JOINTS))


ENDS = st.tuples(st.integers(0, 6), st.integers(0, 6), st.integers(0, 2), st.sampled_from((-1, 1)), st.booleans())


@given(st.lists(ENDS, max_size=14))
def test_every_part_goes_on_once_and_every_joint_closes_once(ends: list[tuple[int, int, int, int, bool]]):
    seen: dict[frozenset[int], tuple] = {}
    for host, guest, axis, sign, glued in ends:
        if host != guest:
            seen.setdefault(frozenset((host, guest)), (host, guest, axis, sign, glued))
    joints = [joined(CASE[g], CASE[h], axis, sign, glued) for h, g, axis, sign, glued in seen.values()]
    found = closings(CASE, joints)
    held = {name for j in joints for name in (j.host, j.guest)}
    on = [name for one in found for name in one.parts]
    assert sorted(on) == sorted(held)
    assert sorted(j.name for one in found for j in one.joints) == sorted(j.name for j in joints)
    done: set[str] = set()
    for one in found:  # a joint closes when the later of its two parts goes on
        done |= set(one.parts)
        assert all(j.host in done and j.guest in done for j in one.joints)
