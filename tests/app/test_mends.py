"""A mend that is offered clears what it is offered for, and brings nothing new."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.app.mends import is_worse, only_proven, proven
from storystick.checks import shelf
from storystick.ground.finding import Finding, Grade
from storystick.ground.marked import read_marked, scalars
from storystick.plan.splice import splice
from tests.checks.test_shelf import text_of
from tests.told import STOCK, job, sample

CASE = f"""\
units: UNITS
{STOCK}
build:
  case:
    case: {{wide: 600 mm, deep: 400 mm, high: 700 mm, stock: ply, JOINT}}
"""


def mended(text: str, found: Finding) -> str:
    assert found.mend is not None
    made = splice(text, found.mend.place, found.mend.text).made
    assert made is not None
    return made


def offered(text: str, code: str) -> list[Finding]:
    work = job(text)
    return [one for one in only_proven(work, work.findings) if one.code == code and one.mend is not None]


def bad(text: str, code: str) -> list[Finding]:
    return [one for one in job(text).findings if one.code == code and one.grade >= Grade.CARE]


NO_ONE_VALUE = {
    "can-be-assembled": "the order is sought anew for each change: too long to try",
    "heavy-sheet": "worth knowing: the sheet is as it is sold",
    "not-held": "a line has to be added: what holds it",
    "racking": "a line has to be added: a back",
    "width-fit": "the sheet of the sample is not measured yet: a reading has to be added",
}
INSTEAD_OF_THE_SAMPLE = {
    "tipping": """\
units: mm
stock:
  ply: {sheet: birch plywood, sold as: 18 mm, readings: [18 mm, 18 mm, 18 mm], sizes: {2440 x 1220: 90}}
  thin: {sheet: birch plywood, sold as: 6 mm, readings: [6 mm, 6 mm, 6 mm], sizes: {2440 x 1220: 90}}
build:
  case:
    case:
      wide: 300 mm
      deep: 350 mm
      high: 500 mm
      stock: ply
      drawers: {stock: ply, bottom stock: thin, front: inset, front stock: ply, runs on: slides}
      back: {stock: thin}
      bays: [drawer 120, open]
loads:
  case.drawer 1: 14 kg
""",
}


@pytest.mark.parametrize("code", [code for code in shelf() if code not in NO_ONE_VALUE])
def test_one_value_is_changed_and_the_finding_is_gone(code: str):
    text = INSTEAD_OF_THE_SAMPLE.get(code) or text_of(code)
    found = offered(text, code)
    assert found, [f.says for f in bad(text, code)]
    after = mended(text, found[0])
    assert len(bad(after, code)) < len(bad(text, code))
    changed = [(a, b) for a, b in zip(text.splitlines(), after.splitlines(), strict=True) if a != b]
    assert len(changed) == 1


@pytest.mark.parametrize("code", NO_ONE_VALUE)
def test_what_no_one_value_is_to_blame_for_has_no_mend(code: str):
    assert offered(text_of(code), code) == []


def test_a_piece_too_wide_for_its_gap_is_made_narrower_by_one_number():
    text = f"""\
units: mm
{STOCK}
site:
  left: {{box: [50, 500, 900], at: [0, 0, 0]}}
  right: {{box: [50, 500, 900], at: [650, 0, 0]}}
build:
  case:
    case: {{wide: 605 mm, deep: 300 mm, high: 500 mm, stock: ply, back: {{stock: ply}}}}
    sits: {{on: floor, centred between: [left, right]}}
"""
    assert bad(text, "width-fit")
    (found,) = offered(text, "width-fit")
    assert found.mend is not None
    assert "wide" in found.mend.says
    assert 590 < float(found.mend.text.split(" ")[0]) < 600
    assert len(bad(mended(text, found), "width-fit")) < len(bad(text, "width-fit"))


def test_one_number_of_a_sum_is_changed_and_the_rest_of_it_stands():
    text = text_of("shelf-sag").replace("wide: 1200 ", "wide: 1300 - 100 ")
    found = offered(text, "shelf-sag")
    assert found
    after = mended(text, found[0])
    assert "1300 - " in after or " - 100" in after
    assert not bad(after, "shelf-sag")


def test_a_load_that_is_too_much_is_brought_down_on_the_safe_side():
    # 1164 mm clear: the case is 1200 by what stands around it, so the number to change is the load.
    text = text_of("shelf-strength")
    found = offered(text, "shelf-strength")
    assert [f.mend.text for f in found if f.mend] == [f"{float(found[0].mend.text.split()[0]):g} kg"]  # type: ignore[union-attr]
    assert not bad(mended(text, found[0]), "shelf-strength")


def test_a_mend_that_trades_one_stop_for_a_care_is_better():
    before, after = Counter({("tipping", Grade.STOP): 1}), Counter({("tipping", Grade.CARE): 1})
    assert not is_worse(before, after)
    assert is_worse(after, before)
    assert is_worse(Counter(), after)


@settings(max_examples=25)
@given(deep=st.integers(121, 179), unit=st.sampled_from(["mm", "inch"]), kind=st.sampled_from(["dado", "rabbet"]))
def test_a_depth_that_is_stated_is_mended_whatever_it_is(deep: int, unit: str, kind: str):
    text = CASE.replace("UNITS", unit).replace("JOINT", f"joint: {{{kind}: {{depth: {deep / 10} mm}}}}")
    for found in offered(text, "channel-depth"):
        assert not bad(mended(text, found), "channel-depth")
    if kind == "dado":
        assert offered(text, "channel-depth")


@settings(max_examples=6)
@given(high=st.integers(106, 108), bay=st.integers(119, 121))
def test_a_drawer_box_that_is_too_high_is_made_lower(high: int, bay: int):
    text = text_of("drawer-runs").replace("high: 107", f"high: {high}").replace("high: 120", f"high: {bay}")
    work = job(text)
    if work.resolved.sound:
        for found in only_proven(work, work.findings):
            if found.mend is not None:
                assert len(bad(mended(text, found), found.code)) < len(bad(text, found.code))


PLANS = Path(__file__).parents[1] / "craft" / "plans"
LATHE = sample("drawer-tower")
WORDS = [one for one in scalars(read_marked(LATHE).made) if one.text.isalpha() and len(one.text) > 4]  # type: ignore[arg-type]


@settings(max_examples=30)
@given(word=st.sampled_from(WORDS), at=st.integers(1, 3))
def test_a_misspelt_word_is_put_right_by_one_tap(word: object, at: int):
    one = next(w for w in WORDS if w is word)
    wrong = one.text[:at] + one.text[at + 1 :]
    text = splice(LATHE, one.place, wrong).made
    assert text is not None
    work = job(text)
    for found in only_proven(work, work.resolved.findings):
        if found.mend is not None:
            after = job(mended(text, found)).resolved.findings
            assert (found.code, found.says) not in [(f.code, f.says) for f in after]
            assert sum(f.grade is Grade.STOP for f in after) < sum(
                f.grade is Grade.STOP for f in work.resolved.findings
            )


def test_a_misspelt_stock_has_a_mend():
    work = job(sample("drawer-tower").replace("runs on: slides", "runs on: slidse", 1))
    mends = [f.mend for f in only_proven(work, work.resolved.findings) if f.mend]
    assert mends or work.resolved.sound


def test_a_mend_that_does_not_help_is_not_offered():
    text = text_of("channel-depth")
    (found,) = offered(text, "channel-depth")
    assert found.mend is not None
    assert not proven(job(text), replace(found, mend=replace(found.mend, text="14 mm")))
    assert not proven(job(text), replace(found, mend=replace(found.mend, text="nothing")))
    assert not proven(job(text), replace(found, mend=replace(found.mend, text="-3 mm")))


@pytest.mark.parametrize("name", ["charging-station", "under-stairs"])
def test_in_whole_plans_each_mend_that_is_offered_is_one_change_that_clears_its_finding(name: str):
    text = (PLANS / f"{name}.yaml").read_text("utf-8")
    work = job(text)
    shown = [one for one in only_proven(work, work.findings) if one.mend is not None]
    for found in shown:
        after = mended(text, found)
        assert sum(a != b for a, b in zip(text.splitlines(), after.splitlines(), strict=True)) == 1
        assert len(bad(after, found.code)) < len(bad(text, found.code)), found.mend
    assert all(one.tries == () for one in shown)
