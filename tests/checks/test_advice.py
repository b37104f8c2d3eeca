"""Advice followed clears the finding: where it is one number of the plan, it is written there, and asked again."""

import re
from pathlib import Path
from typing import NamedTuple

import pytest

from storystick.checks import shelf
from storystick.ground.finding import Grade
from storystick.shop.tables import castors
from tests.checks.test_shelf import found_in, text_of, worst_of


class Follow(NamedTuple):
    """How the advice of a check is followed: what to look for in it, what to replace in the plan by what."""

    code: str
    says: str
    instead_of: str
    write: str


READ = "readings: [{}]"
FOLLOWED = (
    Follow("castor-turns", r"Set it ([\d.]+ mm) or more", "at: [20, 30,", "at: [20, 30 - {},"),
    Follow("gaps-close", r"Make it ([\d.]+ mm) narrower", "reveal: 2 mm", "reveal: 2 mm + {}"),
    Follow("channel-depth", r"Cut it ([\d.]+ mm) deep or less", "depth: 13", "depth: {}"),
    Follow("channel-depth", r"stock of ([\d.]+ mm) or more", READ.format("18 mm"), READ),
    Follow("channel-lip", r"a lip of ([\d.]+ mm) or more", "in by: 3", "in by: {} + 0.3"),
    Follow("drawer-bottom", r"a bottom ([\d.]+ mm) thick or more", READ.format("6 mm"), READ),
    Follow("drawer-runs", r"box ([\d.]+ mm) high or less", "{high: 107}", "{{high: {}}}"),
    Follow("joint-load", r"([\d.]+ mm) apart or less", "shelf joint: nails", "shelf joint: {{nails: {{spacing: {}}}}}"),
    Follow("leg-racking", r"make its rails ([\d.]+ mm) high", "rails: 100", "rails: {}"),
    Follow("part-too-large", r"no more than ([\d.]+ mm) long", "high: 2600", "high: {}"),
    Follow("parts-collide", r"by ([\d.]+ mm) or more", "at: [500,", "at: [500 + {},"),
    Follow("pin-load", r"Put ([\d.]+ kg) on it or less", "shelf 1: 80 kg", "shelf 1: {}"),
    Follow("screw-length", r"Take one ([\d.]+ mm) long", "4 mm x 40 mm", "4 mm x {}"),
    Follow("screw-place", r"no thicker than ([\d.]+ mm)", "{screws: 5 mm}", "{{screws: {}}}"),
    Follow("shelf-sag", r"a clear span of ([\d.]+ mm) or less", "wide: 1200", "wide: {} + 36"),
    Follow("shelf-sag", r"a board ([\d.]+ mm) thick or more", READ.format("18 mm"), READ),
    Follow("shelf-strength", r"a board ([\d.]+ mm) thick or more", READ.format("18 mm"), READ),
    Follow("shelf-strength", r"([\d.]+ kg) on it or less", "weight: 130 kg", "weight: {}"),
    Follow("shop-door", r"make it ([\d.]+ mm) or less one way", "deep: 850", "deep: {}"),
    Follow("site-clearance", r"([\d.]+ mm) or more away", "wide: 600", "wide: 600 - {}"),
    Follow("thin-web", r"Cut each ([\d.]+ mm) deep or less", "depth: 7", "depth: {}"),
)


ELSEWHERE = {
    "blind-holes": ("checks/test_wood.py", "test_a_hole_as_deep_as_advised"),
    "can-be-assembled": ("checks/test_carried.py", "test_where_no_straight_way_leads_in"),
    "castor-load": ("checks/test_advice.py", "test_castors_as_strong_as_advised"),
    "drawer-path": ("app/test_mends.py", "test_one_value_is_changed"),
    "heavy-sheet": ("checks/test_standing.py", "test_a_sheet_of_mdf_is_broken_down"),
    "hung-load": ("checks/test_advice.py", "test_a_box_as_light_as_advised"),
    "magnets-hold": ("app/test_mends.py", "test_one_value_is_changed"),
    "not-held": ("checks/test_not_held.py", "test_a_part_given_a_joint_as_advised"),
    "nothing-left": ("app/test_mends.py", "test_one_value_is_changed"),
    "racking": ("checks/test_standing.py", "test_a_back_as_advised"),
    "screws-meet": ("checks/test_screws.py", "test_screws_moved_as_advised"),
    "short-grain": ("app/test_mends.py", "test_one_value_is_changed"),
    "tipping": ("checks/test_standing.py", "test_weight_at_the_foot_as_advised"),
    "too-heavy": ("checks/test_too_heavy.py", "test_a_top_in_two_pieces_as_advised"),
    "tool-sizes": ("app/test_mends.py", "test_one_value_is_changed"),
    "two-at-once": ("checks/test_drawers.py", "test_a_drawer_stopped_as_advised"),
    "wall-load": ("checks/test_hanging.py", "test_what_hangs_on_a_wall_is_referred"),
    "width-fit": ("checks/test_width_fit.py", "test_a_fit_set_as_advised"),
    "wood-movement": ("checks/test_wood.py", "test_glue_over_a_short_stretch_as_advised"),
}
"""Checks whose advice is followed by another test."""


def test_the_advice_of_every_check_is_followed_somewhere():
    assert sorted({one.code for one in FOLLOWED} | set(ELSEWHERE)) == list(shelf())
    for file, begins in ELSEWHERE.values():
        assert f"def {begins}" in (Path(__file__).parents[1] / file).read_text("utf-8"), begins


def plain(code: str) -> str:
    """The plan that trips a check, without the words on how it is mended."""
    return re.sub(r" +# instead: .*", "", text_of(code))


def advice_of(code: str, says: str) -> str:
    """The number that the worst finding advises."""
    worst = max(found_in(code, plain(code)), key=lambda one: one.grade)
    found = re.search(says, worst.advice)
    assert found, worst.advice
    return found.group(1)


@pytest.mark.parametrize("one", FOLLOWED, ids=lambda one: f"{one.code}: {one.write}")
def test_the_number_of_the_advice_written_into_the_plan_clears_the_finding(one: Follow):
    text = plain(one.code)
    assert text.count(one.instead_of) == 1, f"{one.instead_of} is not once in the plan"
    assert worst_of(one.code, text) >= Grade.NOTE
    mended = text.replace(one.instead_of, one.write.format(advice_of(one.code, one.says)))
    assert worst_of(one.code, mended) == Grade.FINE, [f.says for f in found_in(one.code, mended)]


def test_castors_as_strong_as_advised_carry_the_case():
    least = float(advice_of("castor-load", r"good for ([\d.]+) kg").split(" ")[0])
    strong = min((row for row in castors().values() if row.rating_kg >= least), key=lambda row: row.rating_kg)
    size = " ".join(strong.name.split(" ")[:2])
    assert worst_of("castor-load", plain("castor-load").replace("castors: 50 mm", f"castors: {size}")) == Grade.FINE


def test_a_box_as_light_as_advised_hangs_on_its_screws():
    (worst,) = [one for one in found_in("hung-load", plain("hung-load")) if one.grade > Grade.NOTE]
    (hangs,) = re.findall(r"hangs with ([\d.]+) kg", worst.says)
    in_all = advice_of("hung-load", r"hang ([\d.]+) kg on it or less in all")
    load = float(in_all) - (float(hangs) - 150)
    assert load > 5
    assert worst_of("hung-load", plain("hung-load").replace("bin: 150 kg", f"bin: {load:.1f} kg")) == Grade.FINE
