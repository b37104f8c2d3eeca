"""The log on the disk: nothing is lost, whoever writes and whenever the lights go out."""

import os
import random
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from storystick.app.log import add, log_at, log_of, log_text
from storystick.plan.log import TORN, read_log
from tests.house.floors import ROOT
from tests.truth.plans import entry, read

WRITER = """
import sys
from pathlib import Path
from storystick.app.log import add
from storystick.plan.log import Entry
plan, who, many = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
for number in range(many):
    add(plan, Entry("2026-11-25 14:03", "note", says=f"{who} {number} " + "x" * 300))
    print(number, flush=True)
"""


def writer(plan: Path, who: str, many: int) -> subprocess.Popen[str]:
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    words = [sys.executable, "-c", WRITER, str(plan), who, str(many)]
    return subprocess.Popen(words, env=env, stdout=subprocess.PIPE, text=True)


def test_two_who_write_at_once_lose_nothing(tmp_path: Path):
    plan = tmp_path / "case.yaml"
    hands = [writer(plan, who, 60) for who in ("anna", "ben")]
    for hand in hands:
        hand.communicate(timeout=120)
        assert hand.returncode == 0
    outcome = read_log(log_text(plan) or "")
    assert outcome.findings == ()
    assert outcome.made
    said = [" ".join(one.says.split()[:2]) for one in outcome.made.entries]
    assert sorted(said) == sorted(f"{who} {n}" for who in ("anna", "ben") for n in range(60))
    for who in ("anna", "ben"):
        assert [one for one in said if one.startswith(who)] == [f"{who} {n}" for n in range(60)]


@pytest.mark.parametrize("wait", [0.0, 0.01, 0.03])
def test_what_was_written_is_there_after_the_writer_was_killed(tmp_path: Path, wait: float):
    plan = tmp_path / "case.yaml"
    hand = writer(plan, "anna", 100_000)
    assert hand.stdout
    for _ in range(5):
        hand.stdout.readline()
    time.sleep(wait)
    hand.send_signal(signal.SIGKILL)
    told = 4 + len(hand.stdout.read().split())
    hand.wait()
    kept = log_at(plan).entries
    assert len(kept) >= told
    assert [int(one.says.split()[1]) for one in kept] == list(range(len(kept)))


def test_two_who_write_at_once_and_one_is_killed_again_and_again_lose_nothing(tmp_path: Path):
    """At eight random moments; what was acknowledged is there, in order, and the other one loses nothing either."""
    plan, chance = tmp_path / "case.yaml", random.Random(8)
    steady = writer(plan, "ben", 120)
    told: dict[str, int] = {}
    for turn in range(8):
        hand = writer(plan, f"anna{turn}", 100_000)
        assert hand.stdout
        hand.stdout.readline()
        time.sleep(chance.uniform(0, 0.05))
        hand.send_signal(signal.SIGKILL)
        told[f"anna{turn}"] = 1 + len(hand.stdout.read().split())
        hand.wait()
    steady.communicate(timeout=120)
    assert steady.returncode == 0
    outcome = read_log(log_text(plan) or "")
    assert {one.code for one in outcome.findings} <= {"log-torn"}
    said = [one.says.split()[:2] for one in log_at(plan).entries]
    assert [int(number) for who, number in said if who == "ben"] == list(range(120))
    for who, least in told.items():
        kept = [int(number) for name, number in said if name == who]
        assert kept == list(range(len(kept)))
        assert len(kept) >= least


def test_two_pages_that_send_the_same_ticks_at_once_write_each_once(tmp_path: Path):
    plan = tmp_path / "case.yaml"
    ticks = [entry("done", f"step:{n}", tag=f"a1b2c3d4-{n}") for n in range(40)]
    with ThreadPoolExecutor(4) as hands:
        fresh = list(hands.map(lambda some: add(plan, *some), [ticks[:25], ticks[10:], ticks, ticks[::-1]]))
    assert sum(fresh) == 40
    assert sorted(log_at(plan).done) == sorted(one.about for one in ticks)


def test_a_line_that_broke_off_is_closed_off_by_the_next_entry_and_told(tmp_path: Path):
    plan = tmp_path / "case.yaml"
    add(plan, read("ply.thick", "17.6"))
    with log_of(plan).open("ab") as file:
        file.write(b"2026-11-25 14:04  read  ply.thick  1")
    assert len(log_at(plan).entries) == 1
    add(plan, entry("note", "", says="after the lights went out"))
    outcome = read_log(log_text(plan) or "")
    assert outcome.made
    assert [one.act for one in outcome.made.entries] == ["read", "note"]
    assert [one.code for one in outcome.findings] == ["log-torn"]
    assert TORN in (log_text(plan) or "")


def test_an_entry_with_its_mark_is_written_once(tmp_path: Path):
    plan = tmp_path / "case.yaml"
    one = entry("done", "step 3", tag="a1b2c3d4")
    assert (add(plan, one), add(plan, one)) == (1, 0)
    assert len(log_at(plan).entries) == 1


def test_what_stood_in_the_log_stays_as_it_was_to_the_byte(tmp_path: Path):
    plan = tmp_path / "case.yaml"
    add(plan, read("ply.thick", "17.6"))
    before = log_of(plan).read_bytes()
    add(plan, entry("note", "", says="more"))
    assert log_of(plan).read_bytes().startswith(before)
