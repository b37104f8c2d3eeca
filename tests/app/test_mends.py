"""A mend that is offered clears what it is offered for, and brings nothing new."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.app.mends import only_proven, proven
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


@pytest.mark.parametrize("code", ["channel-depth", "channel-lip", "drawer-runs", "screw-length"])
def test_one_value_is_changed_and_the_finding_is_gone(code: str):
    text = text_of(code)
    (found,) = offered(text, code)
    assert not bad(mended(text, found), code)
    changed = [(a, b) for a, b in zip(text.splitlines(), mended(text, found).splitlines(), strict=True) if a != b]
    assert len(changed) == 1


@pytest.mark.parametrize("code", ["shelf-sag", "part-too-large", "tipping", "blind-holes", "width-fit"])
def test_what_no_one_value_is_to_blame_for_has_no_mend(code: str):
    assert offered(text_of(code), code) == []


@settings(max_examples=25)
@given(deep=st.integers(91, 179), unit=st.sampled_from(["mm", "inch"]), kind=st.sampled_from(["dado", "rabbet"]))
def test_a_depth_that_is_stated_is_mended_whatever_it_is(deep: int, unit: str, kind: str):
    text = CASE.replace("UNITS", unit).replace("JOINT", f"joint: {{{kind}: {{depth: {deep / 10} mm}}}}")
    for found in offered(text, "channel-depth"):
        assert not bad(mended(text, found), "channel-depth")
    if kind == "dado":
        assert offered(text, "channel-depth")


@settings(max_examples=15)
@given(high=st.integers(106, 108), bay=st.integers(119, 121))
def test_a_drawer_box_that_is_too_high_is_made_lower(high: int, bay: int):
    text = text_of("drawer-runs").replace("high: 107", f"high: {high}").replace("high: 120", f"high: {bay}")
    work = job(text)
    if work.resolved.sound:
        for found in only_proven(work, work.findings):
            if found.mend is not None:
                assert len(bad(mended(text, found), found.code)) < len(bad(text, found.code))


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
    assert not proven(job(text), replace(found, mend=replace(found.mend, text="12 mm")))
    assert not proven(job(text), replace(found, mend=replace(found.mend, text="nothing")))
    assert not proven(job(text), replace(found, mend=replace(found.mend, text="-3 mm")))
