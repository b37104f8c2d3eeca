"""Frames on legs: what their rails carry, what keeps them square, and how often one thing is told."""

import pytest

from storystick.ground.finding import Finding, Grade
from tests.told import job

STAND = """
title: A high stand
units: mm
stock:
  pine: {{board: scots pine, thickness: 45}}
  ply: {{sheet: birch plywood, sold as: 18 mm, readings: [18]}}
build:
  stand:
    frame: {{wide: 2080, deep: 980, high: {high}, stock: pine, legs: 95, rails: {rails}, low rails at: 300}}
    sits: {{on: floor}}
  deck:
    slab: {{stock: ply, covers: stand, held by: {{screws: stand}}}}
    sits: {{on: stand, centred: stand}}
loads:
  deck: {load} kg
"""


def found(code: str, high: int = 1700, rails: int = 145, load: int = 150) -> list[Finding]:
    """What one check says of the stand, the good with the bad."""
    return [f for f in job(STAND.format(high=high, rails=rails, load=load)).findings if f.code == code]


def test_a_rail_on_its_edge_is_as_stiff_as_it_is_high():
    # Half of 200 kg is on each rail, 1890 mm between the legs, 45 x 80 on edge: I = 45 x 80^3 / 12 mm4, E of the table.
    sags = [f for f in found("shelf-sag", rails=80, load=200) if "front rail" in f.about[0]]
    (one,) = [f for f in sags if f.number is not None] or [pytest.fail("the rail is not told")]
    at_once = 5 * (100 * 9.80665) * 1890**3 / (384 * 45 * 80**3 / 12)  # times 1 / E
    assert one.about == ("stand.top front rail",)
    assert one.grade is Grade.CARE
    assert "high or more" in one.advice
    assert "lip" not in one.advice
    assert 1 < float(one.number or 0) / (at_once / 10000) < 2.5  # its own weight and years come on top


def test_a_rail_that_nothing_lies_on_is_no_shelf():
    assert not [f for f in found("shelf-sag") if f.about and "low" in f.about[0] and f.grade > Grade.FINE]
    assert not [f for f in found("shelf-sag") if f.about and "rail" in f.about[0] and f.grade > Grade.FINE]


def test_a_rail_made_as_high_as_advised_stays_straight():
    def care(rails: int) -> list[Finding]:
        return [f for f in found("shelf-sag", rails=rails, load=200) if "rail" in f.about[0] and f.grade > Grade.FINE]

    (one, *_) = care(80)
    high = float(one.advice.split("a board ")[1].split(" mm high")[0])
    assert not care(int(high + 1))


def test_pocket_screws_chosen_by_the_tool_are_not_blamed_by_it():
    assert [f.grade for f in found("screw-length")] == [Grade.FINE] * len(found("screw-length"))


def test_eight_rails_held_alike_are_told_once():
    (one,) = (f for f in found("wood-movement") if f.grade > Grade.NOTE)
    assert "7 more" in one.says
    assert len([name for name in one.about if "rail" in name]) == 8


def test_a_high_frame_is_held_against_the_push_at_its_corners():
    # 200 N at 1700 mm, four corners each way with one set of rails, eight with two: 85 and 42.5 N m.
    told = {len(f.about): f for f in found("leg-racking")}
    assert [one.number for one in told.values()] == [pytest.approx(200 * 1.7 / 8)]
    bare = STAND.replace(", low rails at: 300", "").format(high=1700, rails=80, load=100)
    worst = [f for f in job(bare).findings if f.code == "leg-racking"]
    assert [one.number for one in worst] == [pytest.approx(200 * 1.7 / 4)] * 2
    assert {one.grade for one in worst} == {Grade.CARE}


def test_a_rail_glued_with_its_end_to_a_leg_keeps_nothing_square():
    bare = STAND.replace("low rails at: 300", "joint: butt").format(high=900, rails=100, load=10)
    worst = [f for f in job(bare).findings if f.code == "leg-racking"]
    assert {one.grade for one in worst} == {Grade.CARE}
    dowels = bare.replace("joint: butt", "joint: dowels")
    assert {f.grade for f in job(dowels).findings if f.code == "leg-racking"} == {Grade.FINE}


def test_a_low_stand_needs_no_proof():
    assert not [f for f in job(STAND.format(high=390, rails=80, load=10).replace("at: 300", "at: 100")).findings
                if f.code == "leg-racking"]  # fmt: skip


SOLID_TOP = """
title: A cabinet with a solid top
units: mm
stock:
  ply: {sheet: birch plywood, sold as: 18 mm, readings: [18]}
  maple: {board: hard maple, thickness: 25}
build:
  c:
    case: {wide: 900, deep: 560, high: 700, stock: ply, back: {stock: ply, joint: rabbet}}
    sits: {on: floor}
  top:
    slab: {stock: TOP, covers: c, overhang: 20, held by: {screws: c}}
    sits: {on: c, centred: c}
"""


def test_a_solid_top_screwed_fast_to_a_case_of_plywood_is_told():
    (one,) = [f for f in job(SOLID_TOP.replace("TOP", "maple")).findings if f.code == "wood-movement"]
    assert one.grade is Grade.CARE
    assert one.about[0] == "top.top"
    assert "slots" in one.advice
    assert not [f for f in job(SOLID_TOP.replace("TOP", "ply")).findings if f.code == "wood-movement"]


def test_ends_that_carry_alike_are_told_once():
    dowels = STAND.replace("low rails at: 300", "joint: dowels").format(high=900, rails=100, load=300)
    (one,) = [f for f in job(dowels).findings if f.code == "joint-load" and f.grade > Grade.FINE]
    assert "3 more ends" in one.says
