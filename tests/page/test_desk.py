"""The page at work: edits answered, clashes told, undo, ticks, why, the packet. The hands are real processes."""

import asyncio
import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from storystick.app.log import add
from storystick.app.page.crew import Hand
from storystick.app.page.desk import Desk
from storystick.app.page.folder import Folder
from storystick.app.page.guard import Guard
from storystick.app.pipeline import Job, Texts
from storystick.ground.length import read_length
from storystick.plan.log import Entry
from tests.conftest import ROOT
from tests.page.door import SMALL, Browser, let_in, plans_in

API = "/api/small.yaml"


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Browser, Path]]:
    plans = plans_in(tmp_path_factory.mktemp("desk"))
    client = let_in(plans)
    yield client, plans
    client.close()


@pytest.fixture
def desk(shared: tuple[Browser, Path]) -> tuple[Browser, Path]:
    """A page with its hands, and its folder with the plans as they were."""
    (shared[1] / "small.yaml").write_text(SMALL, "utf-8")
    (shared[1] / "small.log").unlink(missing_ok=True)
    page: Any = shared[0].page
    assert isinstance(page, Guard)
    page.page.state.desk.stories.clear()  # type: ignore[attr-defined]
    return shared


def seen(client: Browser) -> dict[str, Any]:
    return client.get(API).json()  # type: ignore[no-any-return]


def test_a_plan_is_shown_with_its_piece(desk: tuple[Browser, Path]):
    told = seen(desk[0])
    assert told["text"] == SMALL
    assert told["built"]["sound"]
    assert told["built"]["counts"]["parts"] == 5


def test_an_edit_is_answered_with_the_piece_as_it_is_then_and_comments_stay(desk: tuple[Browser, Path]):
    client, plans = desk
    before = seen(client)
    edit = {"do": "put", "version": before["version"], "path": ["build", "case one", "case", "deep"], "value": "14 1/2"}
    told = client.post(f"{API}/edit", json=edit).json()
    assert told["built"]["sizes"][0]["size"][1]["text"] == '14 1/2"'
    assert (plans / "small.yaml").read_text("utf-8") == SMALL.replace("deep: 12", "deep: 14 1/2")
    back = client.post(f"{API}/edit", json={"do": "undo", "version": told["version"]}).json()
    assert back["text"] == SMALL
    assert back["redo"] == 1
    again = client.post(f"{API}/edit", json={"do": "redo", "version": back["version"]}).json()
    assert "14 1/2" in again["text"]


def test_lines_come_and_go(desk: tuple[Browser, Path]):
    client, _ = desk
    told = seen(client)
    for edit, inside in (
        ({"do": "add", "path": ["measure"], "key": "door", "value": "30"}, "door: 30"),
        ({"do": "add", "path": ["build", "case one", "case", "bays"], "key": "3", "value": "open"}, "open, open]"),
        ({"do": "take", "path": ["measure", "door"]}, ""),
    ):
        told = client.post(f"{API}/edit", json={**edit, "version": told["version"]}).json()
        assert inside in told["text"]
    assert "door" not in told["text"]


def test_a_mistake_is_kept_and_told_with_its_line(desk: tuple[Browser, Path]):
    client, _ = desk
    wrong = SMALL.replace("deep: 12", "deep: 12 x")
    told = client.put(API, json={"text": wrong, "version": seen(client)["version"]}).json()
    assert not told["built"]["sound"]
    assert {f["line"] for f in told["built"]["findings"] if f["grade"] == "stop"} == {9}
    tried = client.get(f"{API}/answer/mended").json()["mended"]
    assert [f["line"] for f in tried["mistakes"]] == [9]


def test_two_pages_do_not_write_over_one_another(desk: tuple[Browser, Path]):
    client, plans = desk
    first = seen(client)["version"]
    client.put(API, json={"text": SMALL + "# mine\n", "version": first})
    clash = client.put(API, json={"text": SMALL + "# yours\n", "version": first})
    assert clash.status_code == 409
    assert clash.json()["text"].endswith("# mine\n")
    edit = {"do": "put", "version": first, "path": ["title"], "value": "Other"}
    assert client.post(f"{API}/edit", json=edit).status_code == 409
    assert (plans / "small.yaml").read_text("utf-8").endswith("# mine\n")


def test_both_units_at_any_time(desk: tuple[Browser, Path]):
    client, _ = desk
    assert client.get(f"{API}?units=mm").json()["built"]["sizes"][0]["size"][1]["text"] == "304.8 mm"
    assert client.get(f"{API}?units=inch").json()["built"]["sizes"][0]["size"][1]["text"] == '12"'


def test_a_number_says_why_down_to_its_line(desk: tuple[Browser, Path]):
    client, _ = desk
    part = next(p for p in seen(client)["built"]["parts"] if "case one.bottom" in p["names"])
    lines = client.get(f"{API}/why", params={"of": part["size"][0]["ask"]}).json()["lines"]
    assert any(one["line"] == 4 and one["kind"] == "reading" for one in lines)


def test_checks_sheets_steps_and_what_to_buy(desk: tuple[Browser, Path]):
    client, _ = desk
    found = client.get(f"{API}/answer/checked").json()["checked"]["findings"]
    assert found
    sheets = client.get(f"{API}/answer/cut").json()["cut"]["sheets"]
    parts = {p["part"] for sheet in sheets for p in sheet["pieces"] if p["part"]}
    assert len(parts) == 5
    bought = client.get(f"{API}/answer/bought").json()["bought"]
    assert "lines" in bought, bought
    assert any("birch plywood" in one["what"] for one in bought["lines"])
    steps = client.get(f"{API}/answer/steps").json()["steps"]["steps"]
    assert steps[0]["stage"] == "measure"
    assert client.get(f"{API}/answer/everything").status_code == 404


def test_after_a_reading_the_page_is_told_what_changed_and_after_a_tick_that_nothing_did(desk: tuple[Browser, Path]):
    client, plans = desk
    before = seen(client)
    tick = {"id": "cccccccc0001", "what": "tick", "key": "step:1", "done": True, "cuts": []}
    client.post(f"{API}/log", json={"entries": [tick]})
    ticked = seen(client)
    assert ticked["log"] == before["log"]
    assert ticked["log_long"] > before["log_long"]
    entry = {"id": "cccccccc0002", "what": "reading", "key": "opening", "text": "23 1/2", "with": "tape"}
    client.post(f"{API}/log", json={"entries": [entry]})
    found = client.get(f"{API}/changed?since={ticked['log_long']}").json()
    assert found["sizes"]
    assert all({"part", "number", "old", "new", "why", "letter"} <= set(one) for one in found["sizes"])
    assert any("measured with tape" in one["why"] for one in found["sizes"])
    assert found["stale cards"]
    assert client.get(f"{API}/changed?since={seen(client)['log_long']}").json()["sizes"] == []
    assert client.get(f"{API}/changed?since=x").status_code == 400
    assert "with tape  #cccccccc0002" in (plans / "small.log").read_text("utf-8")


def test_what_a_step_on_the_page_cut_stays_when_something_is_read_after(desk: tuple[Browser, Path]):
    client, plans = desk
    steps = client.get(f"{API}/answer/steps").json()["steps"]["steps"]
    sawn = next(one for one in steps if one["cuts"])
    tick = {"id": "dddddddd0001", "what": "tick", "key": sawn["key"], "done": True, "cuts": sawn["cuts"]}
    reading = {"id": "dddddddd0002", "what": "reading", "key": "opening", "text": "23 1/2"}
    client.post(f"{API}/log", json={"entries": [tick, reading]})
    then = dict(sawn["cuts"])
    job = Job(Texts(SMALL, "small.yaml", None, "", (plans / "small.log").read_text("utf-8")))
    for name, length in then.items():
        assert abs(job.build.pages[name].value - read_length(length, "mm")) < 1e-5
    again = client.get(f"{API}/answer/steps").json()["steps"]["steps"]
    assert any(one["made"] for one in again)


def test_what_is_written_at_the_command_line_is_news_on_the_page(desk: tuple[Browser, Path]):
    client, plans = desk

    async def listening() -> list[str]:
        news = client.page.page.state.desk.news("small.yaml")  # type: ignore[attr-defined]
        heard = [(await anext(news))["news"]]
        add(plans / "small.yaml", Entry("2026-01-05 10:00", "read", "opening", (Fraction(590),)))
        while len(heard) < 3:
            if one := await anext(news):
                heard.append(one["news"])
        await news.aclose()
        return heard

    assert client.loop.run(listening()) == ["version", "log", "measured"]


def test_the_packet_and_the_plan_can_be_taken_along(desk: tuple[Browser, Path]):
    client, _ = desk
    packet = client.get(f"{API}/packet.pdf")
    assert packet.status_code == 200
    assert packet.content.startswith(b"%PDF")
    assert 'filename="small.pdf"' in packet.headers["content-disposition"]
    assert client.get(f"{API}/plan").text == SMALL


def test_ticks_are_kept_once_and_bad_ones_told(desk: tuple[Browser, Path]):
    client, _ = desk
    tick = {"id": "aaaaaaaa0001", "what": "tick", "key": "buy:1", "done": True, "at": "2026-01-01T00:00:00Z"}
    sent = client.post(f"{API}/log", json={"entries": [tick, tick, {"id": "x"}]}).json()
    assert [one["id"] for one in sent["entries"]] == ["aaaaaaaa0001"]
    assert len(sent["refused"]) == 1
    assert client.get(f"{API}/log").json()["entries"] == sent["entries"]


def test_a_new_piece_and_a_copy_of_a_sample_lie_in_the_folder(desk: tuple[Browser, Path]):
    client, plans = desk
    answers = {
        "title": "Bench cabinet", "purpose": "shelves", "units": "inch", "place": "free",
        "wide": ["24"],
        "high": ["30"], "deep": "12", "count": "2", "sheet": "birch plywood", "sold as": "3/4", "thick": [],
        "stands": "feet",
    }  # fmt: skip
    made = client.post("/new", json=answers)
    assert made.status_code == 201
    assert (plans / "bench-cabinet.yaml").is_file()
    assert client.get(made.json()["go"]).status_code == 200
    again = client.post("/new", json=answers).json()
    assert again["plan"] == "bench-cabinet-2.yaml"
    wrong = client.post("/new", json={**answers, "deep": "x"})
    assert wrong.status_code == 422
    assert set(wrong.json()["wrong"]) == {"deep"}
    copied = client.post("/copy", json={"sample": "drawer-tower.yaml"}).json()
    assert (plans / copied["plan"]).is_file()
    given = client.post("/copy", json={"name": "../../what is this?.yaml", "text": SMALL}).json()
    assert re.fullmatch(r"[\w-]+\.yaml", given["plan"])
    assert client.post("/copy", json={"sample": "../README.md"}).status_code == 404


BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
)


@pytest.mark.parametrize(
    "text",
    [BOMB, "[" * 100_000, "x: " + "y" * 900_000, "a: !!python/object/apply:os.system [id]", "\x00\x01\x02",
     "{" * 30 + "}" * 30,
     "units: inch\nmeasure:\n  a: " + "(" * 5000 + "1" + ")" * 5000,
     "units: mm\nmeasure:\n  a: b\n  b: a\n", "\u202e: \ufeff"],
    ids=["aliases", "brackets", "long", "tag", "bytes", "braces", "sum", "circle", "odd letters"],
)  # fmt: skip
def test_a_hostile_plan_is_told_and_nothing_falls_over(desk: tuple[Browser, Path], text: str):
    client, _ = desk
    told = client.put(API, json={"text": text, "version": seen(client)["version"]})
    assert told.status_code == 200
    built = told.json()["built"]
    assert built.get("broken") or not built["sound"] or built["counts"]["parts"] == 0
    assert client.get("/plan/small.yaml").status_code == 200
    assert client.get("/").status_code == 200


@pytest.mark.parametrize(
    "data",
    [None, [], "x", {"do": "put"}, {"do": "format"}, {"do": "put", "path": "title"}, {"do": "put", "path": [1]},
     {"do": "mend", "at": [0, 0]}, {"do": "put", "path": ["title"], "value": 7}, {"do": "put", "path": ["a"] * 50}],
)  # fmt: skip
def test_a_request_that_says_nothing_is_refused_plainly(desk: tuple[Browser, Path], data: object):
    client, plans = desk
    if isinstance(data, dict):
        data = {"version": seen(client)["version"], **data}
    answer = client.post(f"{API}/edit", json=data) if data is not None else client.post(f"{API}/edit", content=b"{")
    assert answer.status_code in (400, 422)
    assert (plans / "small.yaml").read_text("utf-8") == SMALL


def test_work_that_is_not_wanted_any_more_is_put_down():
    async def tried() -> tuple[dict[str, Any], dict[str, Any]]:
        hand = Hand()
        from tests.told import sample

        work = asyncio.create_task(hand.ask("checked", Texts(sample("lathe-cabinet"), "x"), looks="bodies"))
        await asyncio.sleep(0.05)
        await hand.stop()
        stopped = await work
        after = await hand.ask("built", Texts(SMALL, "x"))
        hand.end()
        return stopped, after

    stopped, after = asyncio.run(tried())
    assert stopped == {"stopped": True}
    assert after["sound"]


def test_a_plan_that_takes_too_long_is_put_down_by_both_hands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    done: list[str] = []

    class Slow:
        async def ask(self, *words: object, **more: object) -> dict[str, Any]:
            await asyncio.sleep(60)
            return {}

        async def stop(self) -> None:
            done.append("stopped")

        def end(self) -> None:
            done.append("sent home")

    async def tried() -> dict[str, Any]:
        desk = Desk(Folder(plans_in(tmp_path)))
        desk.crew.quick, desk.crew.slow = Slow(), Slow()  # type: ignore[assignment]
        return await desk.quick("built", desk.folder.read("small.yaml"), "")

    monkeypatch.setattr("storystick.app.page.desk.TOO_LONG", 0.01)
    assert "takes too long" in asyncio.run(tried())["says"]
    assert done == ["sent home", "stopped"]


def test_nobody_waits_for_a_hand_that_was_sent_home_and_replaced():
    async def tried() -> dict[str, Any]:
        hand = Hand()
        work = asyncio.create_task(hand.ask("checked", Texts(SMALL, "x"), looks="bodies"))
        while len(hand.waiting) < 2:  # warming up, and the question
            await asyncio.sleep(0.005)
        with hand.lock:  # the old one is not heard of before the new one is there
            hand.end()
            hand.start()
        answer = await asyncio.wait_for(work, 30)
        hand.end()
        return answer

    assert asyncio.run(tried()) == {"stopped": True}


def test_checking_gives_way_to_whoever_changed_a_size():
    async def tried() -> tuple[bool, dict[str, Any], dict[str, Any]]:
        hand = Hand()
        from tests.told import sample

        checking = asyncio.create_task(hand.ask("checked", Texts(sample("lathe-cabinet"), "x"), looks="numbers"))
        while len(hand.waiting) < 2:  # warming up, and the question
            await asyncio.sleep(0.005)
        built = await hand.ask("built", Texts(SMALL, "x"))
        first = not checking.done()
        found = await checking
        hand.end()
        return first, built, found

    first, built, found = asyncio.run(tried())
    assert first
    assert built["sound"]
    assert found["findings"]


def test_a_hand_that_is_killed_is_replaced():
    async def tried() -> dict[str, Any]:
        hand = Hand()
        await hand.ask("built", Texts(SMALL, "x"))
        assert hand.process is not None
        hand.process.kill()
        hand.process.join()
        for _ in range(100):
            if hand.process is None:
                break
            await asyncio.sleep(0.02)
        answer = await hand.ask("built", Texts(SMALL, "x"))
        hand.end()
        return answer

    assert asyncio.run(tried())["sound"]


ORPHAN = """
import asyncio, os, sys
from storystick.app.page.crew import Hand
from storystick.app.pipeline import Texts

if __name__ == "__main__":
    hand = Hand()
    asyncio.run(hand.ask("built", Texts("units: mm", "x")))
    print(hand.process.pid, flush=True)
    os._exit(1)  # as if it were killed: nothing is put away
"""


def test_a_hand_goes_home_when_its_server_is_killed(tmp_path: Path):
    (tmp_path / "orphan.py").write_text(ORPHAN, "utf-8")
    around = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run(
        [sys.executable, tmp_path / "orphan.py"], env=around, stdout=subprocess.PIPE, text=True, timeout=60
    )
    pid = int(done.stdout)
    for _ in range(200):
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return
        if Path(f"/proc/{pid}/stat").is_file() and ") Z " in Path(f"/proc/{pid}/stat").read_text("utf-8"):
            return  # gone, and only waiting to be counted
        time.sleep(0.05)
    pytest.fail("the hand stayed when its server was gone")


def test_those_who_have_a_plan_open_hear_of_changes(desk: tuple[Browser, Path]):
    client, plans = desk
    the_desk = client.page.page.state.desk  # type: ignore[attr-defined]
    sheet = the_desk.folder.read("small.yaml")

    async def listening() -> list[dict[str, Any]]:
        heard: list[dict[str, Any]] = []
        news = the_desk.news("small.yaml")
        heard.append(await anext(news))
        await the_desk.write("small.yaml", SMALL + "# more\n", sheet.version, by="me")
        heard.append(await anext(news))
        (plans / "small.yaml").write_text(SMALL + "# by another program\n", "utf-8")
        while (one := await anext(news)) == {}:
            pass
        heard.append(one)
        await news.aclose()
        return heard

    heard = client.loop.run(listening())
    assert [one["news"] for one in heard] == ["version"] * 3
    assert len({one["version"] for one in heard}) == 3
    assert heard[1]["by"] == "me"


def test_a_reading_overrules_what_was_reckoned_and_is_kept_once(desk: tuple[Browser, Path]):
    client, plans = desk
    before = seen(client)
    entry = {"id": "bbbbbbbb0001", "what": "reading", "key": "opening", "text": "23 1/2"}
    sent = client.post(f"{API}/log", json={"entries": [entry, entry]}).json()
    assert sent["refused"] == []
    after = seen(client)
    assert after["log"] != before["log"]
    assert after["built"]["sizes"][0]["size"][0]["text"] == '23"'
    assert (plans / "small.log").read_text("utf-8").count("opening") == 1
    wrong = [{**entry, "id": "bbbbbbbb0002", "key": "nothing"}, {**entry, "id": "bbbbbbbb0003", "text": "wide"}]
    assert len(client.post(f"{API}/log", json={"entries": wrong}).json()["refused"]) == 2
    assert seen(client)["log"] == after["log"]
