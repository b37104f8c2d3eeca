"""From plan to plan by the command line: what is left goes to the rack, the next plan takes it, two write at once."""

import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pytest

from storystick.app import rack

SOURCE = str(Path(__file__).parents[2] / "src")
FIRST = """
title: Tool box
units: mm
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [17.7 mm], sizes: {2440 x 1220: 80.00}}
build:
  tool box:
    case: {wide: 500, deep: 250, high: 400, stock: ply18}
"""
NEXT = FIRST.replace("Tool box", "Shelf box").replace("tool box", "shelf box").replace("wide: 500", "wide: 300")
L_SHAPED = ("birch plywood", "1500", "900", "--thick", "18", "--units", "mm", "--spoilt", "600 x 400 at far right")


@dataclass
class Shed:
    """A folder with plans and a rack of its own, worked in by processes of their own."""

    folder: Path

    def begin(self, *words: str) -> "subprocess.Popen[str]":
        return subprocess.Popen(
            [sys.executable, "-m", "storystick", *words],
            cwd=self.folder,
            env={**os.environ, "STORYSTICK_DATA": str(self.folder / "data"), "PYTHONPATH": SOURCE},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )

    def run(self, *words: str) -> tuple[int, str]:
        done = self.begin(*words)
        out, wrong = done.communicate(timeout=300)
        return done.returncode, out + wrong

    def at_once(self, calls: Sequence[Sequence[str]]) -> list[tuple[int, str]]:
        begun = [self.begin(*words) for words in calls]
        ended = [one.communicate(timeout=300) for one in begun]
        return [(one.returncode, out + wrong) for one, (out, wrong) in zip(begun, ended, strict=True)]

    def rack(self) -> tuple[rack.Kept, ...]:
        return rack.on_rack(self.folder / "data" / "rack.sqlite")


@pytest.fixture
def shed(tmp_path: Path) -> Shed:
    (tmp_path / "first.yaml").write_text(FIRST, "utf-8")
    (tmp_path / "next.yaml").write_text(NEXT, "utf-8")
    return Shed(tmp_path)


def area(kept: rack.Kept) -> Fraction:
    thing = kept.thing
    return thing.count * thing.long * (thing.wide or 0) - sum(one.long * one.wide for one in thing.spoilt)


def test_an_l_on_the_rack_gives_the_first_plan_and_what_is_left_of_it_the_next(shed: Shed) -> None:
    assert shed.run("rack", "add", *L_SHAPED)[0] == 0
    (whole,) = shed.rack()
    assert area(whole) == 1500 * 900 - 600 * 400
    code, told = shed.run("sawn", "first.yaml")
    assert code == 0, told
    assert "taken from the rack: 1" in told
    left = shed.rack()
    assert left
    assert whole.number not in [one.number for one in left]
    # two sides 400 x 250, bottom and top about 476 x 250: what is left is no more than the L without them
    assert sum(map(area, left)) < area(whole) - 2 * 400 * 250
    assert all(one.thing.thickness == Fraction("17.7") for one in left)
    code, told = shed.run("sheets", "next.yaml", "--rack")
    assert code == 0
    assert "on the rack" in told
    assert "nothing is to be bought" in told
    code, told = shed.run("buy", "next.yaml", "--rack", "--json")
    assert code == 0
    code, told = shed.run("sawn", "next.yaml")
    assert code == 0, told
    assert sum(map(area, shed.rack())) < sum(map(area, left))


def test_a_leftover_that_keeps_part_of_a_spoilt_place_says_so_on_the_rack(shed: Shed) -> None:
    assert shed.run("rack", "add", *L_SHAPED)[0] == 0
    assert shed.run("sawn", "next.yaml")[0] == 0
    spoilt = sum(one.long * one.wide for kept in shed.rack() for one in kept.thing.spoilt)
    good = sum(map(area, shed.rack()))
    assert good + 4 * 250 * 250 <= 1500 * 900 - 600 * 400
    assert spoilt <= 600 * 400


def test_many_who_add_at_once_lose_nothing(shed: Shed) -> None:
    calls = [("rack", "add", "birch plywood", "600", "300", "--thick", "18", "--units", "mm")] * 6
    ended = shed.at_once(calls)
    assert [code for code, _ in ended] == [0] * 6, ended
    (kept,) = shed.rack()
    assert kept.thing.count == 6


def test_two_plans_sawn_at_once_never_take_the_same_piece(shed: Shed) -> None:
    assert shed.run("rack", "add", "birch plywood", "1300", "600", "--thick", "18", "--units", "mm")[0] == 0
    (piece,) = shed.rack()
    ended = shed.at_once([("sawn", "first.yaml"), ("sawn", "next.yaml")])
    took = [told for code, told in ended if code == 0 and "taken from the rack: 1" in told]
    refused = [told for code, told in ended if code == 1]
    assert len(took) == 1 or (len(took) == 2 and not refused), ended
    assert all("nothing was changed" in told for told in refused)
    assert piece.number not in [one.number for one in shed.rack() if one.thing == piece.thing]


def test_what_is_left_on_a_roll_of_band_goes_to_the_rack_and_the_next_door_takes_it(shed: Shed) -> None:
    band = "  veneer: {band: veneer edge band, thickness: 1, width: 22, sizes: {5000: 8.00}}\nbuild:"
    plan = FIRST.replace("build:", band).replace("stock: ply18}", "stock: ply18, doors: {stock: ply18, banded: yes}}")
    (shed.folder / "door.yaml").write_text(plan, "utf-8")
    assert shed.run("sawn", "door.yaml")[0] == 0
    (roll,) = [one for one in shed.rack() if one.thing.form == "band"]
    # one leaf of about 500 x 400: two strips of each, 50 longer
    assert 5000 - 2 * (550 + 450) <= roll.thing.long < 5000 - 2 * (400 + 300)
    assert shed.run("sawn", "door.yaml")[0] == 0
    (rest,) = [one for one in shed.rack() if one.thing.form == "band"]
    assert rest.thing.long == 2 * roll.thing.long - 5000
