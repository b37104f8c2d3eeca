"""The plan file: what is read of it, what is said of its mistakes, and that no damage to it ends in a crash."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.finding import Grade
from storystick.ground.length import inch
from storystick.ground.sums import Names
from storystick.plan import read_plan
from storystick.plan.names import why_not
from storystick.plan.readings import read_measure

PLAN = """\
# Planer stand: an example of what a plan may hold
title: Planer stand
about: Carries the bench planer beside the saw, and rolls under the bench.
by: the night shift
version: 3
licence: CC BY 4.0
changes: [wider top, castors that lock]
units: inch
fraction: 1/16
paper: letter
words: american
currency: $

measure:
  opening: {readings: [30 1/4, 30 5/16, 30 1/4], with: tape, takes: smallest, says: at the floor and under the top}
  saw height: 35 7/8
  top height: saw height - 1/16

site:
  bench: {plane: top, height: 34}
  wall: {box: [96, 4, 96], at: [0, 40, 0]}

stock:
  birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm, 17.7 mm], sizes: {4 ft x 8 ft: 92.00}}
  walnut: {board: black walnut, thickness: 3/4}

build:
  carcass:
    case: {wide: opening - 1/2, deep: 18, high: "top height - 3", stock: birch18}
    bays:
      - {wide: 1/2 of inside, rows: [drawer 4 in, open]}
      - rows: [open, fixed shelf, open]
  lid:
    slab: {stock: birch18, layers: 2, overhang: 1}

loads:
  carcass.shelf: 20 kg
accept:
  wide-gap: the dust hose goes there
"""


def told(text):
    return read_plan(text, "plan.yaml").findings


def test_a_good_plan_is_read_without_a_word():
    outcome = read_plan(PLAN, "plan.yaml")
    assert outcome.sound
    assert not outcome.findings
    plan = outcome.made
    assert (plan.title, plan.version, plan.licence) == ("Planer stand", "3", "CC BY 4.0")
    assert plan.changes == ("wider top", "castors that lock")
    assert (plan.units, plan.fraction, plan.paper, plan.words, plan.currency) == ("inch", 16, "letter", "american", "$")
    assert plan.finest == inch("1/16")
    assert plan.text == PLAN


def test_sections_keep_their_order_and_their_places():
    plan = read_plan(PLAN, "plan.yaml").made
    assert [entry.name for entry in plan.entries("measure")] == ["opening", "saw height", "top height"]
    assert [entry.name for entry in plan.entries("build")] == ["carcass", "lid"]
    assert [entry.place.line for entry in plan.entries("build")] == [28, 33]
    assert plan.section("stock").names() == ("birch18", "walnut")


def test_what_is_accepted_has_its_reason():
    (accepted,) = read_plan(PLAN).made.accepted
    assert (accepted.code, accepted.reason) == ("wide-gap", "the dust hose goes there")


@pytest.mark.parametrize(
    ("units", "paper", "words"), [("inch", "letter", "american"), ("mm", "a4", "british"), ("metric", "a4", "british")]
)
def test_paper_and_words_follow_the_units_unless_they_are_said(units, paper, words):
    plan = read_plan(f"units: {units}\nbuild:\n").made
    assert (plan.paper, plan.words) == (paper, words)


MISTAKES = """\
titel: Planer stand
units: inches
fraction: 1/20
paper: a5
measure:
  Bench: 24
  in: 2
  2 doors: 3
  a.b: 1
site:
  bench: {plane: top}
stock: [birch]
build: 7
loads:
accept: {wide-gap: yes}
tools: none
"""


def test_all_mistakes_of_heading_sections_and_names_are_told_at_once():
    findings = told(MISTAKES)
    assert sorted({f.place.line for f in findings}) == [1, 3, 4, 6, 7, 8, 9, 11, 12, 13, 15, 16]
    assert all(f.grade == Grade.STOP for f in findings)
    said = {f.place.line: f"{f.says} {f.advice}" for f in findings}
    assert "Write title." in said[1]
    assert "1/16, 1/32 or 1/64" in said[3]
    assert "Write a4." in said[4]
    assert "in line 11" in said[6]
    assert "in line 6" in said[11]
    assert "meaning of its own" in said[7]
    assert "Write doors." in said[8]


def test_a_plan_with_mistakes_is_still_handed_on_to_look_for_more():
    outcome = read_plan(MISTAKES)
    assert outcome.made is not None
    assert not outcome.sound


def test_units_are_asked_for_and_not_guessed():
    (finding,) = told("build:\n  carcass: {case: {wide: 24}}\n")
    assert "needs 'units'" in finding.says
    assert finding.place.line == 1


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "- a list\n", "24\n", "units: inch\n", "a: [\n"])
def test_what_is_no_plan_is_told_so(text):
    outcome = read_plan(text, "plan.yaml")
    assert not outcome.sound
    assert outcome.findings[0].place.line == 1 or "[" in text


GOOD_NAMES = [
    "bench",
    "bed height",
    "leg 2",
    "birch18",
    "t-track",
    "top",
    "left side",
    "Saw Table",
    "étagère",
    "drop down",
]
BAD_NAMES = [
    "", "in", "mm", "2 doors", "a.b", "half of", "x", "this and that", "a, b", "#8", "wide", "floor", "y" * 61, "up to",
    "1/2", "a+b", "the larger of", "smaller of",
]  # fmt: skip


@pytest.mark.parametrize("name", GOOD_NAMES)
def test_words_of_the_trade_can_be_names(name):
    assert why_not(name) is None


@pytest.mark.parametrize("name", BAD_NAMES)
def test_what_a_sum_could_not_read_cant_be_a_name_and_another_is_offered(name):
    trouble = why_not(name)
    assert trouble is not None
    assert why_not(trouble[1]) is None


@given(st.text(max_size=70))
def test_whatever_is_refused_as_a_name_gets_an_offer_that_is_not(name):
    trouble = why_not(name)
    assert trouble is None or why_not(trouble[1]) is None


class Tapes:
    """Tapes are half a millimetre off; nothing is known of any other tool, and nothing assumed."""

    def __call__(self, tool, length):
        return 0.5 if tool == "tape" else None

    def assumed(self, values):
        return ""


def read_one(entry, bare="inch", error=Tapes()):  # noqa: B008
    plan = read_plan(f"units: {bare}\nmeasure:\n  opening: {entry}\nbuild:\n").made
    (one,) = plan.entries("measure")
    mistakes = []
    return read_measure(one.name, one.node, Names(bare), error, mistakes), mistakes


def test_the_smallest_of_the_readings_counts_for_what_must_go_in():
    dim, _ = read_one("{readings: [30 1/4, 30 5/16, 30 3/16], with: tape, takes: smallest}")
    assert dim.value == inch("30 3/16")
    assert dim.node.kind == "reading"
    assert "3 readings, the smallest with tape" in dim.node.says


def test_readings_scatter_and_the_tape_is_off_by_itself():
    # 10, 11, 12 mm: standard deviation 1, of the mean 1/sqrt(3) (GUM 4.2.3); with a tape of 0.5 mm their squares add
    dim, _ = read_one("{readings: [10, 11, 12], with: tape}", "mm")
    assert dim.value == 11
    assert dim.node.spread.sd == pytest.approx((1 / 3 + 0.25) ** 0.5)
    single, _ = read_one("{readings: 11}", "mm")
    assert single.node.spread is None


def test_a_measured_length_can_be_a_sum():
    dim, _ = read_one("30 1/4 - 1/8")
    assert dim.value == inch("30 1/8")


def test_a_reading_that_cant_be_read_is_told_with_its_line():
    dim, mistakes = read_one("{readings: [30 1/4, thirty]}")
    assert dim is None
    assert mistakes[0].place.line == 3


# ---- damage ----

SIGNS = ":-[]{}#&*!|>'\"%@`?,\t\n .x0/½"


def damaged(seed):
    """The good plan with one to three slips of the keyboard."""
    chance = random.Random(seed)
    text = PLAN
    for _ in range(chance.randint(1, 3)):
        at = chance.randrange(len(text))
        match chance.randrange(7):
            case 0:
                text = text[:at] + text[at + 1 :]
            case 1:
                text = text[:at] + chance.choice(SIGNS) + text[at:]
            case 2:
                text = text[:at] + chance.choice(SIGNS) + text[at + 1 :]
            case 3:
                lines = text.splitlines(keepends=True)
                del lines[chance.randrange(len(lines))]
                text = "".join(lines)
            case 4:
                lines = text.splitlines(keepends=True)
                lines.insert(chance.randrange(len(lines)), chance.choice(lines))
                text = "".join(lines)
            case 5:
                text = text[:at] + text[at : at + 8][::-1] + text[at + 8 :]
            case _:
                lines = text.splitlines(keepends=True)
                spot = chance.randrange(len(lines))
                lines[spot] = " " * chance.randint(1, 5) + lines[spot]
                text = "".join(lines)
    return text


@pytest.mark.parametrize("batch", range(8))
def test_five_hundred_slips_of_the_keyboard_are_told_with_a_line_and_never_crash(batch):
    found = 0
    for seed in range(batch * 64, batch * 64 + 64):
        text = damaged(seed)
        outcome = read_plan(text, "plan.yaml")
        lines = text.count("\n") + 1
        for finding in outcome.findings:
            assert 1 <= finding.place.line <= lines, (seed, finding)
            assert finding.place.file == "plan.yaml"
            assert len(finding.says) > 10
        assert outcome.made is not None or outcome.findings
        found += bool(outcome.findings)
    assert found > 16  # a slip in a word or a number is none that this reading can see


@pytest.mark.parametrize("cut", range(0, len(PLAN), 16))
def test_a_plan_broken_off_anywhere_never_crashes(cut):
    outcome = read_plan(PLAN[:cut], "plan.yaml")
    assert outcome.made is not None or outcome.findings
    assert all(f.place.line >= 1 for f in outcome.findings)


def test_findings_come_with_the_first_line_first():
    lines = [f.place.line for f in told(MISTAKES)]
    assert lines == sorted(lines)
