"""What is resolved again is what would be resolved afresh; the very same boards, where nothing about them changed."""

import random
import re

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.ground.kept import forget
from storystick.model.build import Build
from storystick.model.part import Part

PLAN = """
title: {title}
units: mm
{above}measure:
  niche: {{readings: [{niche}], with: tape}}
  play: {play}
site:
  wall: {{box: [40, 900, 1200], at: [niche, 0, 0], keep clear: {clear}}}
  shelf above: {{box: [300, 200, 20], {where}}}
  pipe: {{cylinder: {{across: 50, long: 900, along: high}}, at: [niche - 50, 800, 0]}}
stock:
  ply: {{sheet: {wood}, readings: [{thick}], sizes: {{2440 x 1220: 90}}}}
  thin: {{sheet: birch plywood, readings: [5.7], sizes: {{2440 x 1220: 40}}}}
build:
  stand:
    case:
      wide: {wide}
      deep: 400
      high: 700
      stock: ply
      back: {{stock: thin, joint: groove}}
      joint: {{dado: {{screws: yes}}}}
      bays: {{rows: [open, fixed shelf, open]}}
    sits: {{on: floor, left at: play}}
  {name}:
    box: {{wide: 200, deep: 90, high: 300, stock: ply, open: top, screwed to: stand}}
    sits: {{hung on: back of stand, flush: {{left: stand}}, bottom at: {hung}}}
  chest:
    box: {{wide: 300, deep: 250, high: {chest}, stock: {of}, open: top}}
    sits: {{on: floor, {at}}}
loads:
  stand.shelf 1: {load}
"""
CHOICES = {
    "title": ("Stand", "A stand"), "above": ("", "# a word\n", "about: for tools\n"), "niche": (900, 880, "880, 884"),
    "play": ("12", "niche / 64", "nonsense", "cabbage + 1"), "clear": (10, 4), "wood": ("birch plywood", "marzipan"),
    "where": ("at: [80, 0, 1300]", "sits: {on: stand}", "at: [80, 0, stand.high + 20]", "sits: {on: nothing}"),
    "thick": ("17.8", "18, 18.2", "x"), "wide": (600, 612.5, "niche - 250", "0"), "name": ("tray", "box", "play"),
    "chest": (200, 212.5, "ply.thick * 12", "plank", "0"), "of": ("ply", "thin", "oak"),
    "at": ("left at: 2000", "left at: niche + 400", "left of: {stand: 30}"),
    "hung": (60, "stand.high / 8"), "load": ("10 kg", "25 kg"),
}  # fmt: skip


def resolved(text: str) -> str:
    """All that the plan gives, told to the last digit, without where it lies in memory."""
    found = Job(Texts(text, "plan.yaml")).resolved
    return re.sub(r" at 0x[0-9a-f]+", "", f"{found.findings!r}\n{found.made!r}")


@pytest.mark.parametrize("seed", range(3))
def test_a_chain_of_edits_and_slips_gives_what_each_plan_gives_afresh(seed: int):
    dice, chosen, warm = random.Random(seed), {word: some[0] for word, some in CHOICES.items()}, {}
    forget()
    for _ in range(12):
        text = PLAN.format(**chosen)
        if text in warm:
            assert resolved(text) == warm[text]
        warm[text] = resolved(text)
        word = dice.choice(sorted(CHOICES))
        chosen[word] = dice.choice(CHOICES[word])
    for text, before in warm.items():
        forget()
        assert resolved(text) == before


def build_of(**other: object) -> Build:
    return Job(Texts(PLAN.format(**{word: some[0] for word, some in CHOICES.items()} | other), "plan.yaml")).build


def test_after_a_change_of_title_or_load_the_very_same_boards_are_there():
    one, other = build_of(), build_of(title="A stand", load="25 kg")
    assert other.parts is one.parts
    assert other.joints is one.joints
    assert other.fasteners is one.fasteners
    assert (one.title, other.title) == ("Stand", "A stand")
    assert [load.kilograms for load in (*one.loads, *other.loads)] == [10.0, 25.0]


def boards(build: Build, *entries: str) -> list[Part]:
    return [part for part in build.parts if part.assembly.split(".")[0] in entries]


def test_a_changed_chest_leaves_the_boards_of_the_stand_and_its_tray_the_very_same():
    one, other = build_of(), build_of(chest=212.5)
    assert len(boards(one, "stand", "tray")) > 8
    assert all(a is b for a, b in zip(boards(one, "stand", "tray"), boards(other, "stand", "tray"), strict=True))
    assert not any(a is b for a, b in zip(boards(one, "chest"), boards(other, "chest"), strict=True))
    again = build_of(hung="stand.high / 8")
    assert all(a is b for a, b in zip(boards(one, "chest"), boards(again, "chest"), strict=True))
    assert not any(a is b for a, b in zip(boards(one, "stand"), boards(again, "stand"), strict=True))


def test_a_chest_that_stands_beside_the_stand_is_laid_anew_with_it():
    beside = {"at": "left of: {stand: 30}", "play": "400"}
    one, other = build_of(**beside), build_of(**beside, wide=612.5)
    assert not any(a is b for a, b in zip(boards(one, "chest"), boards(other, "chest"), strict=True))


def test_a_slip_in_the_chest_is_told_as_it_is_afresh_though_the_stand_is_known():
    build_of()
    text = PLAN.format(**{word: some[0] for word, some in CHOICES.items()} | {"chest": "standd.high"})
    warm = resolved(text)
    forget()
    assert resolved(text) == warm
    assert "stand.high" in warm


def test_what_stands_around_stays_the_same_thing_while_the_piece_changes():
    one, other = build_of(), build_of(wide=612.5)
    assert other.parts is not one.parts
    assert all(now is before for now, before in zip(other.site, one.site, strict=True))
    assert all(now is before for now, before in zip(other.stock, one.stock, strict=True))


def test_a_thing_is_read_anew_when_what_it_hangs_on_changed():
    one, other = build_of(), build_of(niche=880)
    assert float(other.site[0].at[0]) == 880 != float(one.site[0].at[0])
    assert other.stock[0] is one.stock[0]


def test_a_line_above_moves_every_place_so_all_is_read_anew():
    one, other = build_of(), build_of(above="# a word\n")
    assert other.parts[0].place.line == one.parts[0].place.line + 1


def test_readings_in_the_log_are_not_mixed_up_with_the_plan_without_them():
    text = PLAN.format(**{word: some[0] for word, some in CHOICES.items()})
    log = "2026-01-02 10:00  read  stand.wide  601 mm\n"
    plain = Job(Texts(text, "plan.yaml")).resolved.made
    read = Job(Texts(text, "plan.yaml", log=log, log_file="plan.log.yaml")).resolved.made
    assert plain is not None
    assert read is not None
    assert (float(plain.pages["stand.wide"]), float(read.pages["stand.wide"])) == (600, 601)
    again = Job(Texts(text, "plan.yaml")).resolved.made
    assert again is not None
    assert again.parts is plain.parts


def test_a_shop_file_is_read_once_however_often_the_plan_changes():
    shop = "units: mm\n"
    texts = [PLAN.format(**{word: some[0] for word, some in CHOICES.items()} | {"title": title}) for title in "AB"]
    one, other = (Job(Texts(text, "plan.yaml", shop=shop, shop_file="shop.yaml")) for text in texts)
    assert one.shop is other.shop
    assert one.build.parts is other.build.parts
    assert Job(Texts(texts[0], "plan.yaml", shop=f"{shop}#\n", shop_file="shop.yaml")).shop is not one.shop
