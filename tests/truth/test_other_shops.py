"""The same plan in another shop, over sheets that may be had, and in both systems of units."""

from fractions import Fraction

import pytest

from storystick.app.elsewhere import elsewhere, sweep, thicknesses, with_reading
from storystick.app.pipeline import Job
from storystick.ground.finding import Grade
from tests.told import job
from tests.truth.plans import CASE, DRAWER

BARE = """
units: mm
name: a bare shop
saws: {circular saw: {rip: 2400, crosscut: 600, depth: 60, kerf: 2.4}}
router: no
bits: none
"""


def test_a_shop_that_has_everything_makes_the_same_piece():
    found = elsewhere(job(CASE), job(CASE))
    assert found.works
    assert (found.sizes, found.ways, found.cant, found.worse) == ((), (), (), ())


def test_a_shop_without_a_router_says_what_it_cannot_make_and_what_to_get():
    found = elsewhere(job(CASE), job(CASE, BARE))
    assert not found.works
    assert any(one.code == "no-way" and one.advice.startswith("Get ") for one in found.cant)


THIN = CASE.replace("18 mm, readings: [17.6, 17.7, 17.5]", "15 mm, readings: [14.7]")
SHOPS = {
    "no table saw": "saws: {circular saw: {rip: 2440, crosscut: 1220, depth: 60, kerf: 2}}\nrouter: yes\n"
    "bits: {straight: [6, 8, 12]}\nbushings: [17]\n",
    "metric bits only": "bits: {straight: [6, 8, 10, 12, 16]}\n",
    "two bits and a hand saw": "saws: {hand saw: {kind: panel saw}}\nbits: {straight: [12]}\n",
}


@pytest.mark.parametrize("name", [*SHOPS])
@pytest.mark.parametrize("plan", [CASE, DRAWER, THIN], ids=["case", "drawer", "15 mm"])
def test_an_odd_shop_says_of_each_cut_how_it_is_made_there_or_what_to_get(name: str, plan: str):
    here, there = job(plan), job(plan, f"units: mm\nname: {name}\n{SHOPS[name]}")
    if there.resolved.made is None or there.shop_read.findings:
        assert all(one.says and one.place.line for one in (*there.shop_read.findings,))
        return
    found = elsewhere(here, there)
    for one in found.cant:
        assert one.advice.startswith("Get "), one.says
    made = {(way.part, way.cut) for way in there.order.ways}
    missing = [one for one in found.cant if one.grade is Grade.STOP]
    assert bool(missing) or made >= {(way.part, way.cut) for way in here.order.ways}
    assert found.works is not bool(missing)


def test_another_sheet_there_is_another_piece():
    here = job(CASE)
    there = Job(with_reading(here.texts, "ply.thick", Fraction(18)))
    sizes = {name: (one, two) for name, one, two in elsewhere(here, there).sizes}
    assert sizes["case.shelf 1"][1][2] == 18
    assert sizes["case.shelf 1"][0][0] - sizes["case.shelf 1"][1][0] == Fraction("0.8")


def test_a_sweep_tells_for_which_sheets_and_units_the_plan_works():
    work = job(CASE)
    over = thicknesses(work.build)
    assert set(over) == {"ply.thick", "thin.thick"}
    found = tuple(sweep(work, {"ply.thick": over["ply.thick"][:1], "case.wide": (Fraction(20),)}))
    assert [one.works for one in found[:3]] == [True, True, True]
    assert not found[-1].works  # a case 20 mm wide between two sides of 18
    assert found[-1].stops


def test_a_shop_in_inches_works_a_plan_in_millimetres_in_its_own_round_numbers():
    from dataclasses import replace

    work = job(CASE)
    there = Job(replace(work.texts, units="inch"))
    assert there.build.manner.unit == "inch"
    assert there.build.part("case.left side").length.value == work.build.part("case.left side").length.value
