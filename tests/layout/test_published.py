"""Published instances, read where they lie beside the checkout: best known values are reached."""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from storystick.layout.sheets import SheetProblem, lay_out_sheets
from storystick.layout.sheets.refute import refute
from storystick.layout.strips import StripProblem, lay_out_strips
from storystick.model.cutting import Blank, Sheet

DATA = Path(__file__).resolve().parents[3] / "shared" / "data" / "cutting"
ABSENT = pytest.mark.skipif(not DATA.is_dir(), reason=f"the published cutting instances are not at {DATA}")


def instance(file: str, name: str) -> dict[str, Any]:
    found = json.loads((DATA / f"{file}.json").read_text(encoding="utf-8"))["instances"]
    return next(one for one in found if one["name"] == name)


def blanks(parts: list[dict[str, Any]], turning: bool) -> tuple[Blank, ...]:
    return tuple(
        Blank(f"{n}.{copy}", Fraction(p["w"]), Fraction(p["h"] or 1), None if turning and p["rotatable"] else True)
        for n, p in enumerate(parts)
        for copy in range(p["copies"])
    )


def sheets(given: list[dict[str, Any]]) -> tuple[Sheet, ...]:
    return tuple(
        Sheet(f"sheet {n}", Fraction(s["w"]), Fraction(s["h"] or 1), Fraction(str(s["cost"])), s["copies"])
        for n, s in enumerate(given)
    )


# Best known values of the 3-stage guillotine variants (3NHO without turning, 3NHR with), as the data's notes give them.
@ABSENT
@pytest.mark.parametrize("turning", [False, True])
@pytest.mark.parametrize("name", [f"C{c:02}_n020_i01" for c in range(1, 11)])
def test_small_bin_packing_instances_reach_the_best_known_number_of_sheets(name: str, turning: bool):
    given = instance("bp500", name)
    known = next(v["best_known"] for v in given["known"] if ("|R" in v["variant"]) == turning and "G" in v["variant"])
    problem = SheetProblem(blanks(given["parts"], turning), sheets(given["sheets"]), Fraction(given["kerf"]))
    answer = lay_out_sheets(problem)
    assert list(refute(answer.layout, problem)) == []
    assert answer.layout.unplaced == ()
    assert len(answer.layout.trees) <= known
    assert answer.least_cost <= known * problem.sheets[0].price


@ABSENT
@pytest.mark.parametrize("number", range(0, 15, 5))
def test_one_dimensional_instances_reach_the_best_known_and_show_that_none_takes_fewer(number: int):
    given = json.loads((DATA / "oned.json").read_text(encoding="utf-8"))["instances"][number]
    known = given["known"][0]["best_known"] or given["known"][0]["lower_bound"]
    problem = StripProblem(blanks(given["parts"], False), sheets(given["sheets"]), Fraction(given["kerf"]))
    answer = lay_out_strips(problem)
    assert answer.layout.unplaced == ()
    assert answer.least_cost == known == len(answer.layout.trees)


# A 2-stage value of Cintra et al. (2008) with turning, as the data's notes give it; ours may be of any stages.
@ABSENT
def test_demands_by_the_hundred_cost_no_more_than_the_best_known():
    given = instance("multisize", "ms_cintra2008_gcut1d")
    known = next(v["best_known"] for v in given["known"] if "|R" in v["variant"])
    problem = SheetProblem(blanks(given["parts"], True), sheets(given["sheets"]), Fraction(given["kerf"]))
    answer = lay_out_sheets(problem)
    assert list(refute(answer.layout, problem)) == []
    assert answer.least_cost <= answer.layout.cost <= known


# What the library gives for the same question when it is asked plainly: three stages, fifteen seconds, in our own run.
@ABSENT
def test_plates_of_five_sizes_cost_no_more_than_the_library_asked_plainly():
    given = instance("furniture", "MA_1_div500")
    problem = SheetProblem(blanks(given["parts"], True), sheets(given["sheets"]), Fraction(given["kerf"]))
    answer = lay_out_sheets(problem)
    assert list(refute(answer.layout, problem)) == []
    assert answer.least_cost <= answer.layout.cost <= 522077
