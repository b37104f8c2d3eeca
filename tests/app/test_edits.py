"""After an edit everything is as if the plan had been read for the first time, whatever is kept from before."""

import random

import pytest

from storystick.app.pipeline import CantGoOn, Job, Texts
from storystick.ground.kept import forget

PLAN = """
title: Tool stand
units: mm
measure:
  niche: {{readings: [{niche}], with: tape}}
site:
  wall: {{box: [40, 900, 1200], at: [niche, 0, 0], keep clear: 10}}
  flap: {{box: [300, 20, 200], at: [80, -{off}, 760], swings: {{about: back bottom, by: 95 deg, toward: front}}}}
stock:
  ply: {{sheet: birch plywood, readings: [{thick}], sizes: {{2440 x 1220: 90}}}}
  thin: {{sheet: birch plywood, readings: [5.7], sizes: {{2440 x 1220: 40}}}}
build:
  {name}:
    case:
      wide: {wide}
      deep: {deep}
      high: {high}
      stock: ply
      back: {{stock: thin, joint: groove}}
      joint: {{dado: {{screws: yes}}}}
      drawers: {{stock: ply, bottom stock: thin, front: inset, front stock: ply, runs on: slides}}
      bays: {{columns: [{{rows: [drawer {drawer}, open, fixed shelf, open]}}, {{rows: [open, loose shelf, open]}}]}}
    sits: {{on: floor, left at: {left}}}
loads:
  {name}.shelf 1: {load} kg
"""
CHOICES = {
    "niche": (720, 690, 760), "off": (60, 40, 200), "thick": ("17.8", "18, 18.2"), "name": ("stand", "bench stand"),
    "wide": (600, 612.5, 640), "deep": (400, 420), "high": (700, 715, 745), "drawer": (100, 120, 133.3),
    "left": (0, 12.7, 35), "load": (10, 25),
}  # fmt: skip


def told(text: str) -> str:
    """All that is found and reckoned, to the last digit."""
    job = Job(Texts(text, "plan.yaml"))
    try:
        judged = [(one.fit.name, one.gap.value, one.sd, one.causes()) for one in job.judged]
        return "\n".join([*map(repr, job.proved), repr(job.sequence), repr(judged)])
    except CantGoOn as trouble:
        return repr(trouble.findings)


@pytest.mark.parametrize("seed", [1, 2])
def test_a_chain_of_edits_gives_what_each_plan_gives_from_a_fresh_start(seed: int):
    dice, chosen, warm = random.Random(seed), {word: some[0] for word, some in CHOICES.items()}, {}
    forget()
    for _ in range(7):
        text = PLAN.format(**chosen)
        warm[text] = told(text)
        word = dice.choice(sorted(CHOICES))
        chosen[word] = dice.choice(CHOICES[word])
    assert any("site-clearance" in one for one in warm.values())
    for text, before in warm.items():
        forget()
        assert told(text) == before
