"""The log of ticks and readings beside a plan."""

import json
import threading
from pathlib import Path

import pytest

from storystick.app.page import ticks

TICK = {"id": "abcdef0123456789", "what": "tick", "key": "step:1", "done": True, "at": "2026-01-05T10:00:00Z"}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text("title: x", "utf-8")
    return path


def test_a_tick_is_kept_and_found_again(plan: Path):
    assert ticks.entries(plan) == ()
    assert ticks.add(plan, TICK)
    assert [one["key"] for one in ticks.entries(plan)] == ["step:1"]
    assert plan.read_text("utf-8") == "title: x"


def test_a_tick_sent_twice_counts_once(plan: Path):
    assert ticks.add(plan, TICK)
    assert not ticks.add(plan, TICK)
    assert len(ticks.entries(plan)) == 1


@pytest.mark.parametrize(
    "entry",
    [
        None, [], "x", {}, {**TICK, "id": "short"}, {**TICK, "id": "../../etc/x"}, {**TICK, "what": "order"},
        {**TICK, "key": ""}, {**TICK, "key": "x" * 400}, {**TICK, "at": 5},
        {"id": "abcdef0123", "what": "reading", "key": "gap"},
    ],
)  # fmt: skip
def test_what_is_no_entry_is_refused(plan: Path, entry: object):
    with pytest.raises(ticks.Unfit):
        ticks.add(plan, entry)
    assert not ticks.log_of(plan).exists()


def test_words_that_mean_nothing_are_not_kept(plan: Path):
    ticks.add(plan, {**TICK, "colour": "red", "done": "yes"})
    kept = json.loads(ticks.log_of(plan).read_text("utf-8"))
    assert "colour" not in kept
    assert kept["done"] is False


def test_a_torn_line_costs_that_line_only(plan: Path):
    ticks.add(plan, TICK)
    with ticks.log_of(plan).open("a", encoding="utf-8") as file:
        file.write('{"id": "broken\n')
    ticks.add(plan, {**TICK, "id": "another-one-1"})
    assert [one["id"] for one in ticks.entries(plan)] == [TICK["id"], "another-one-1"]


def test_many_hands_at_once_lose_nothing(plan: Path):
    def tick(hand: int) -> None:
        for number in range(15):
            ticks.add(plan, {**TICK, "id": f"hand-{hand}-tick-{number}"})

    hands = [threading.Thread(target=tick, args=(n,)) for n in range(4)]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()
    assert len({one["id"] for one in ticks.entries(plan)}) == 60
