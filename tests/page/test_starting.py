"""A few answers make a plan that can be built."""

import itertools
from typing import Any

import pytest

from storystick.app.page.starting import PLACES, PURPOSES, plan_text, read_answers
from storystick.ground.finding import Grade
from tests.told import job

INCH: dict[str, Any] = {
    "title": "Bench cabinet", "purpose": "drawers", "units": "inch", "place": "gap", "under": "yes",
    "wide": ["30 1/4", "30 5/16", "30 1/4"], "high": ["33 1/2", "33 7/16", ""], "deep": "18", "count": "3",
    "load": "40 lb", "sheet": "birch plywood", "sold as": "3/4", "thick": ["17.6 mm", "", ""], "stands": "feet",
}  # fmt: skip
METRIC = {
    **INCH, "units": "mm", "wide": ["760", "762", ""], "high": ["850"], "deep": "450", "load": "20 kg", "sold as": "18",
    "thick": ["17.6", "17.7"],
}  # fmt: skip


@pytest.mark.parametrize(("purpose", "place", "metric"), list(itertools.product(PURPOSES, PLACES, (False, True))))
def test_every_purpose_in_every_place_gives_a_piece_that_stands(purpose: str, place: str, metric: bool):
    for under, stands in (("yes", "castors"), ("", "plinth")):
        answers = {**(METRIC if metric else INCH), "purpose": purpose, "place": place, "under": under, "stands": stands}
        asked, wrong = read_answers(answers)
        assert wrong == {}
        assert asked is not None
        made = job(plan_text(asked))
        assert [f.says for f in made.resolved.findings if f.grade is Grade.STOP] == []
        if under and metric:  # the checks take their time
            assert [f.says for f in made.findings if f.grade is Grade.STOP] == []


def test_the_smallest_reading_of_a_gap_counts_and_all_are_kept():
    asked, _ = read_answers({**INCH, "stands": "feet"})
    assert asked is not None
    text = plan_text(asked)
    assert "readings: [30 1/4, 30 5/16, 30 1/4]" in text
    build = job(text).build
    assert float(build.pages["carcass.wide"].value) == pytest.approx((30.25 - 0.5) * 25.4)


def test_a_piece_between_walls_leaves_room_at_both_sides():
    asked, _ = read_answers(METRIC)
    assert asked is not None
    build = job(plan_text(asked)).build
    case = build.assembly("carcass")
    assert float(case.at[0]) == pytest.approx(6)
    assert float(case.at[0].value + case.size[0].value) == pytest.approx(760 - 6)


def test_a_top_to_work_on_bears_the_load_and_is_screwed_to_its_case_from_below():
    asked, _ = read_answers({**METRIC, "purpose": "worktop", "place": "free", "under": ""})
    assert asked is not None
    build = job(plan_text(asked)).build
    assert [load.on for load in build.loads] == ["worktop"]
    screws = [one for one in build.fasteners if one.through == "carcass.top" and one.into.startswith("worktop.")]
    assert 4 <= len(screws) <= 12  # a 760 x 450 top: one in each corner, and none farther than 300 from the next
    rows = sorted({round(float(one.at[0])) for one in screws})
    assert max(b - a for a, b in itertools.pairwise(rows)) <= 300


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("wide", ["", "", ""]), ("wide", ["30 1/x"]), ("wide", ["-4"]), ("wide", ["1e9"]), ("wide", 7),
        ("deep", ""),
        ("high", ["tall"]),
        ("count", "0"), ("count", "many"), ("count", "99"), ("purpose", "boat"), ("stands", "wheels"),
        ("load", "heavy"),
        ("thick", ["thick"]), ("sold as", ""), ("place", "sky"),
    ],
)  # fmt: skip
def test_an_answer_that_cannot_be_read_is_told_by_its_name(name: str, value: object):
    asked, wrong = read_answers({**INCH, name: value})
    assert asked is None
    assert name in wrong
    assert wrong[name].endswith(".")


def test_all_wrong_answers_are_told_together():
    _, wrong = read_answers({**INCH, "wide": ["x"], "deep": "y", "load": "z"})
    assert set(wrong) == {"wide", "deep", "load"}


@pytest.mark.parametrize("title", ["", "a: b # c", "'quoted'", "Ünïcode – ½", "x\ny", "{brace}"])
def test_any_title_is_kept(title: str):
    asked, _ = read_answers({**INCH, "title": title})
    assert asked is not None
    assert job(plan_text(asked)).build.title == (" ".join(title.split()) or "New piece")
