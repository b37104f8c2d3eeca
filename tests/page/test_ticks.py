"""What is ticked and read on the page, as entries of the one log beside the plan."""

import os
import time
from pathlib import Path

import pytest

from storystick.app.log import add, log_at, log_text
from storystick.app.page import bench_answers, ticks, whys
from storystick.plan.log import Entry, read_log, written
from tests.told import job
from tests.truth.plans import CASE

TICK = {"id": "abcdef0123456789", "what": "tick", "key": "step:1", "done": True, "at": "2026-01-05T10:00:00"}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text("title: x", "utf-8")
    return path


def tick(plan: Path, **more: object) -> int:
    return add(plan, ticks.ticked(ticks.fit({**TICK, **more})))


def test_a_tick_is_kept_and_found_again(plan: Path):
    assert ticks.entries(plan) == []
    assert tick(plan)
    assert [(one["key"], one["done"]) for one in ticks.entries(plan)] == [("step:1", True)]
    assert plan.read_text("utf-8") == "title: x"


def test_a_tick_sent_twice_counts_once(plan: Path):
    assert (tick(plan), tick(plan)) == (1, 0)
    assert len(ticks.entries(plan)) == 1


def test_what_is_ticked_on_the_page_is_done_at_the_command_line_too_and_the_other_way_round(plan: Path):
    tick(plan)
    add(plan, Entry("2026-01-05 10:01", "done", "step:2", says="step 2: Saw"))
    add(plan, Entry("2026-01-05 10:02", "read", "gap", (595,)))  # type: ignore[arg-type]
    assert log_at(plan).done == ("step:1", "step:2")
    assert [one["key"] for one in ticks.entries(plan)] == ["step:1", "step:2", "gap"]
    assert ticks.entries(plan)[2]["mm"] == "595 mm"


@pytest.mark.parametrize(
    "entry",
    [
        None, [], "x", {}, {**TICK, "id": "short"}, {**TICK, "id": "../../etc/x"}, {**TICK, "what": "order"},
        {**TICK, "key": ""}, {**TICK, "key": "x" * 400}, {**TICK, "at": 5}, {**TICK, "cuts": "all"},
        {**TICK, "cuts": [["a.length"]]}, {**TICK, "cuts": [["a.length", "wide"]]}, {**TICK, "cuts": [["a;b", "3 mm"]]},
        {"id": "abcdef0123", "what": "reading", "key": "gap"},
    ],
)  # fmt: skip
def test_what_is_no_entry_is_refused(entry: object):
    with pytest.raises(ticks.Unfit):
        ticks.fit(entry)


def test_words_that_mean_nothing_are_not_kept():
    kept = ticks.fit({**TICK, "colour": "red", "done": "yes"})
    assert "colour" not in kept
    assert kept["done"] is False


def test_no_sign_in_a_tick_can_end_its_line_or_pass_for_another_field(plan: Path):
    says = "done\n2026-01-05 10:00  cut  a\n=b.length 3 mm  #zzzzzzzz"
    tick(plan, key="step:1\nnote", says=says)
    (one,) = log_at(plan).entries
    assert (one.act, one.about, one.tag, one.numbers) == ("done", "step:1 note", TICK["id"], ())


def test_what_a_step_cut_is_held_as_it_was_printed_and_free_again_when_the_tick_is_taken_back(plan: Path):
    cuts = [["case.bottom.length", "734.7375 mm"], ["case.bottom.width", "406.4 mm"]]
    tick(plan, cuts=cuts)
    log = log_at(plan)
    assert {name: float(value) for name, (value, _) in log.held.items()} == {cuts[0][0]: 734.7375, cuts[1][0]: 406.4}
    assert "case.bottom" in log.cut
    tick(plan, id="abcdef0123456780", done=False)
    assert dict(log_at(plan).held) == {}


def test_a_step_that_is_called_otherwise_by_now_can_still_be_taken_back(plan: Path):
    cuts = [["case.bottom.length", "734.7375 mm"]]
    tick(plan, cuts=cuts)
    tick(plan, id="abcdef0123456780", key="step:another", done=False, cuts=cuts)
    assert dict(log_at(plan).held) == {}


def test_what_was_kept_out_of_reach_and_sent_later_counts_from_its_own_time(plan: Path):
    add(plan, Entry("2026-01-05 10:30", "undone", "step:1"))
    tick(plan)
    assert [one["done"] for one in ticks.entries(plan)] == [True, False]
    assert log_at(plan).done == ()


def test_many_sent_together_keep_their_order_within_a_minute(plan: Path):
    sent = [ticks.ticked(ticks.fit({**TICK, "id": f"hand-tick-{n}", "key": f"step:{n}"})) for n in (3, 1, 2)]
    assert add(plan, *sent) == 3
    assert add(plan, *sent) == 0
    assert log_at(plan).done == ("step:3", "step:1", "step:2")


def test_a_clock_that_is_fast_or_no_clock_at_all_counts_as_now():
    latest = time.strftime("%Y-%m-%d %H:%M")
    for at in ("2999-01-01T00:00:00Z", "yesterday", "", "0001-01-01T00:00:00+14:00"):
        assert ticks.when({"at": at}) in (latest, time.strftime("%Y-%m-%d %H:%M"))


def test_the_makers_own_time_is_told_in_the_time_of_this_place(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("TZ", "UTC-2")
    time.tzset()
    try:
        assert ticks.when({"at": "2026-01-05T10:00:00.123Z"}) == "2026-01-05 12:00"
    finally:
        monkeypatch.undo()
        time.tzset()
    assert os.environ.get("TZ") != "UTC-2"


def test_ticks_leave_the_numbers_as_they_are_and_readings_do_not():
    lines = [
        Entry("2026-01-05 10:00", "done", "step:1", numbers=(("a.length", 3),)),  # type: ignore[arg-type]
        Entry("2026-01-05 10:01", "read", "gap", (595,)),  # type: ignore[arg-type]
    ]
    first, both = (read_log("".join(written(one) for one in lines[:n])).made for n in (1, 2))
    assert first
    assert both
    assert ticks.changing(first) == ""
    assert "gap" in ticks.changing(both)


def test_the_log_of_the_page_is_the_text_beside_the_plan(plan: Path):
    tick(plan, says="Cut the dadoes")
    assert "2026-01-05 10:00  done  step:1  Cut the dadoes  #abcdef0123456789\n" in (log_text(plan) or "")


def test_a_dry_fit_asks_for_the_gaps_that_may_well_be_wrong_and_they_can_be_written_down():
    work = job(CASE)
    (dry,) = [one for one in bench_answers.steps(work)["steps"] if one["stage"] == "dry fit"]
    names = [one["name"] for one in dry["reads"]]
    assert 1 <= len(names) <= 4
    assert all(name.startswith("gap of ") for name in names)
    entry = bench_answers.reading(work, names[0], "0.1 mm", "feeler gauge")["entry"]
    assert entry.about == names[0]
    assert whys.why(work, dry["reads"][0]["ask"])["lines"]
