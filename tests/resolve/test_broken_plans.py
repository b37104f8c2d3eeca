"""Plans broken in every way that a hand can break them: always findings with a line, never a traceback."""

import random
from collections.abc import Iterator

import pytest

from storystick.ground.finding import Grade
from tests.told import job, sample

PLAN = """\
title: a small cabinet
units: inch
fraction: 1/32
measure:
  opening: {readings: [30 1/4, 30 5/16], with: tape, takes: smallest}
site:
  post: {box: [2, 2, 80], at: [40, 0, 0], keep clear: 1/2}
  flap: {box: [10, 1, 8], at: [0, -2, 30], swings: {about: back top, by: 90 deg, toward: front}}
stock:
  ply: {sheet: birch plywood, readings: [17.6 mm, 17.7 mm], with: calliper, sizes: {4 ft x 8 ft: $92.00}}
  thin: {sheet: birch plywood, sold as: 6 mm}
  oak: {board: white oak, thickness: 3/4}
build:
  cabinet:
    case:
      wide: opening - 1/4
      deep: 16
      high: 28
      stock: ply
      joint: {dado: {depth: 3/16, screws: "#8 x 1 1/4"}}
      back: {stock: thin, joint: groove, in by: 3/8}
      stands on: {castors: 2 inch}
      lip: {stock: oak, high: 1 1/4}
      drawers: {stock: thin, bottom stock: thin, front: inset, runs on: slides, pull: knob}
      bays:
        columns:
          - {wide: 1/2 of opening - 2, rows: [drawer 4, fixed shelf, open with lip]}
          - {rows: [open, loose shelf, open 8]}
    sits: {on: floor, left of: {post: 1/2}, front at: 1}
loads:
  cabinet.shelf 1: 20 kg
accept:
  too-heavy: two people carry it
"""
JUNK = [
    "x",
    "-",
    "0",
    "1/0",
    "''",
    "[",
    "{}",
    "~",
    "#",
    "9" * 30,
    "½",
    "mm",
    "of",
    "yes",
    "no",
    ":",
    "cabinet",
    "&a",
    "*a",
    "!!int 3",
    "\t",
    "é",
]


def mutations(text: str, count: int, seed: int) -> Iterator[str]:
    """The text with one thing spoilt: a letter, a word or a line gone, doubled, changed or moved."""
    chance = random.Random(seed)
    lines = text.splitlines(keepends=True)
    for _ in range(count):
        at, line = chance.randrange(len(text)), chance.randrange(len(lines))
        words = lines[line].split(" ")
        word = chance.randrange(len(words))
        match chance.randrange(8):
            case 0:
                yield text[:at] + text[at + 1 :]
            case 1:
                yield text[:at] + chance.choice(JUNK) + text[at:]
            case 2:
                yield text[:at] + chance.choice(JUNK) + text[at + 1 :]
            case 3:
                yield "".join(lines[:line] + lines[line + 1 :])
            case 4:
                yield "".join(lines[: line + 1] + lines[line:])
            case 5:
                yield "".join([*lines[:line], "  " + lines[line], *lines[line + 1 :]])
            case 6:
                words[word] = chance.choice(JUNK)
                yield "".join([*lines[:line], " ".join(words), *lines[line + 1 :]])
            case _:
                yield text[:at]


def must_be_told(text: str) -> None:
    outcome = job(text).resolved
    for finding in outcome.findings:
        if finding.grade is Grade.STOP:
            assert finding.place.line >= 1, finding
            assert finding.place.line <= text.count("\n") + 1, finding
            assert finding.says, finding


def test_the_plan_itself_is_sound() -> None:
    assert [f for f in job(PLAN).resolved.findings if f.grade is Grade.STOP] == []


@pytest.mark.parametrize("seed", range(8))
def test_a_plan_with_one_thing_spoilt_is_told_with_its_line(seed: int) -> None:
    for broken in mutations(PLAN, 60, seed):
        must_be_told(broken)


@pytest.mark.parametrize("name", ["lathe-cabinet", "alcove-bookcase", "drawer-tower"])
def test_a_spoilt_sample_is_told_with_its_line(name: str) -> None:
    for broken in mutations(sample(name), 12, 99):
        must_be_told(broken)


def test_the_mistakes_of_the_sample_are_told_in_one_run() -> None:
    found = [f for f in job(sample("mistakes")).resolved.findings if f.grade is Grade.STOP]
    assert len({f.place.line for f in found}) >= 15
    nearest = " ".join(f.advice for f in found)
    for word in ("fraction", "good", "case", "dado", "drawer", "bookcase"):
        assert word in nearest
