"""Names in a finding are put the way they are said in the shop, each with its article where it takes one."""

import pytest

from storystick.paper.spoken import aloud, cut_said, fastener_said, in_full

PLAIN = ("tower", "tower.back", "tower.drawer 1", "tower.drawer 1.front", "tower.drawer 1 slides")
NAMES = {name: in_full(name) for name in PLAIN}
NAMES |= {
    "tower.drawer 1.front screw 2": fastener_said("tower.drawer 1.front screw 2", NAMES),
    "tower.left side.back in left side": cut_said("tower.left side.back in left side", "tower.left side", NAMES),
    "tower.left side.pin hole 3 in left side": cut_said(
        "tower.left side.pin hole 3 in left side", "tower.left side", NAMES
    ),
}


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("tower weighs 30 kg.", "The tower weighs 30 kg."),
        ("A push tips tower forward.", "A push tips the tower forward."),
        ("The tower weighs 30 kg.", "The tower weighs 30 kg."),
        ("A water tower is no case.", "A water tower is no case."),
        ("It is kept square by tower.back.", "It is kept square by the back of the tower."),
        ("the tower.back bends", "the back of the tower bends"),
        ("tower.back bends. tower.drawer 1 runs.", "The back of the tower bends. Drawer 1 of the tower runs."),
        ("6 screws from tower.drawer 1 slides", "6 screws from the drawer 1 slides of the tower"),
        ("it bars tower.drawer 1.front screw 2", "it bars screw 2 of the front of drawer 1 of the tower"),
        ("The rabbet tower.left side.back in left side is", "The rabbet in the left side of the tower for the back is"),
        ("The hole tower.left side.pin hole 3 in left side is deep", "The hole in the left side of the tower is deep"),
        ("tower.backing is not a name here", "tower.backing is not a name here"),
    ],
)  # fmt: skip
def test_a_name_is_said_with_its_article(written: str, said: str) -> None:
    assert aloud(written, NAMES) == said
