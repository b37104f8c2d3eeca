"""A fit that broke is put right on the page as at the command line: the remedies are told there, one tap takes one."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from storystick.app.command import main
from storystick.app.entries import cut
from storystick.app.log import add, log_at
from storystick.app.page import putting
from storystick.plan.log import Entry
from tests.page.door import SMALL, Browser, let_in, plans_in
from tests.page.looks import PHONE, flaws
from tests.told import job
from tests.truth.plans import CASE, after, entry, put, read

API = "/api/small.yaml"
SIDES = ("case one.left side", "case one.right side")
FIT = "case one.shelf 1 in left side.width"


def sawn_then_read(plans: Path, thick: str = "18.05") -> None:
    """Both sides are cut for a sheet of 17.6 mm; what the shelf is cut from turns out thicker."""
    (plans / "small.yaml").write_text(SMALL, "utf-8")
    (plans / "small.log").unlink(missing_ok=True)
    made = job(SMALL)
    read_so = [Entry("2026-11-25 10:00", "read", "ply.thick", (Fraction(thick),), tool="calliper")] if thick else []
    add(plans / "small.yaml", *(cut(made, side) for side in SIDES), *read_so)


@pytest.fixture(scope="module")
def served_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Browser, Path]]:
    folder = plans_in(tmp_path_factory.mktemp("putting"))
    client = let_in(folder)
    yield client, folder
    client.close()


@pytest.fixture
def desk(served_desk: tuple[Browser, Path]) -> tuple[Browser, Path]:
    sawn_then_read(served_desk[1])
    return served_desk


def broken(client: Browser) -> list[dict[str, Any]]:
    return client.get(f"{API}/answer/broken").json()["broken"]["fits"]  # type: ignore[no-any-return]


def take(client: Browser, mark: str, fit: str = FIT, made_by: str = "put-right-0001") -> dict[str, Any]:
    one = {"id": made_by, "what": "remedy", "key": fit, "text": mark, "at": "2026-11-25T10:05:00"}
    return client.post(f"{API}/log", json={"entries": [one]}).json()  # type: ignore[no-any-return]


def test_remedies_come_with_numbers_and_consequences_the_cheapest_first(desk: tuple[Browser, Path]):
    found = {one["name"]: one for one in broken(desk[0])}
    one = found[FIT]
    assert one["tight"]
    assert one["gap"]["mm"] == pytest.approx(-0.3)
    open_to = [each for each in one["remedies"] if each["enough"]]
    assert open_to[0]["says"].startswith(("widen", "plane"))
    harmless = [each["minutes"] for each in open_to if not any(other["spoilt"] for other in each["also"])]
    assert harmless == sorted(harmless)
    assert any(each["also"] for each in one["remedies"])  # the shelf's thickness is in both its dadoes


def test_taking_one_writes_what_the_command_line_writes_and_clears_the_fit(desk: tuple[Browser, Path], tmp_path: Path):
    client, plans = desk
    first = next(one for one in broken(client) if one["name"] == FIT)["remedies"][0]
    other = tmp_path / "small.yaml"
    other.write_text(SMALL, "utf-8")
    (tmp_path / "small.log").write_bytes((plans / "small.log").read_bytes())
    assert take(client, first["mark"])["refused"] == []
    assert main(["mend", str(other), FIT, "1"]) == 0
    ours, theirs = (log_at(path).entries[-1] for path in (plans / "small.yaml", other))
    assert (ours.act, ours.about, ours.numbers, ours.says) == (theirs.act, theirs.about, theirs.numbers, theirs.says)
    assert ours.act == "chose"
    assert FIT not in {one["name"] for one in broken(client)}


def test_one_that_is_sent_twice_is_done_once(desk: tuple[Browser, Path]):
    client, plans = desk
    mark = next(one for one in broken(client) if one["name"] == FIT)["remedies"][0]["mark"]
    assert take(client, mark)["refused"] == []
    assert take(client, mark)["refused"] == []
    assert sum(one.act == "chose" for one in log_at(plans / "small.yaml").entries) == 1


def test_a_remedy_that_was_offered_for_another_gap_is_refused_and_nothing_is_written(desk: tuple[Browser, Path]):
    client, plans = desk
    mark = next(one for one in broken(client) if one["name"] == FIT)["remedies"][0]["mark"]
    add(plans / "small.yaml", Entry("2026-11-25 10:02", "read", "ply.thick", (Fraction("18.3"),), tool="calliper"))
    before = (plans / "small.log").read_bytes()
    assert "look at it once more" in take(client, mark)["refused"][0]["says"]
    assert "no fit is called" in take(client, mark, "a fit of nothing", "put-right-0002")["refused"][0]["says"]
    assert (plans / "small.log").read_bytes() == before


def test_cutting_another_and_living_with_it_are_written_too_and_the_fit_tells_what_was_taken():
    made = job(CASE)
    everything = [cut(made, part.name) for part in made.build.parts]
    short = float(made.build.pages["case.shelf 1.length"].value) - 6
    now = after(CASE, *everything, read("case.shelf 1.length", short, tool="steel rule"))
    one = next(each for each in putting.broken(now)["fits"] if each["name"] == "case.shelf 1.length")
    marks = {each["way"]: each["mark"] for each in one["remedies"]}
    anew = putting.taken(now, one["name"], marks["anew"])["entries"]
    assert [each.act for each in anew] == ["chose", "anew"]
    lived = after(CASE, *everything, read("case.shelf 1.length", short, tool="steel rule"),
                  *putting.taken(now, one["name"], marks["live"])["entries"])  # fmt: skip
    assert all(each["chosen"] for each in putting.broken(lived)["fits"] if each["name"] == one["name"])


def test_a_fit_that_was_dealt_with_comes_after_those_that_were_not():
    made = job(CASE)
    everything = [cut(made, part.name) for part in made.build.parts]
    wide = [put(f"case.left side.shelf {n} in left side.wide", "16") for n in (2, 3)]
    now = after(CASE, *everything, *wide)
    names = [one["name"] for one in putting.broken(now)["fits"]]
    assert len(names) > 1
    dealt = after(CASE, *everything, *wide, entry("chose", names[0], says="live with it"))
    assert putting.broken(dealt)["fits"][-1]["name"] == names[0]


@pytest.mark.browser
def test_a_broken_fit_is_put_right_by_one_tap_on_a_phone(look: Any, plans: Path):
    sawn_then_read(plans, "")
    page = look("/plan/small.yaml#build", PHONE)
    page.locator(".step").wait_for()
    assert not page.locator(".putting").count()
    while page.locator(".thumb button[aria-label='The step before']:not(:disabled)").count():
        page.get_by_role("button", name="The step before").click()
    page.locator(".reading", has_text="ply.thick").locator("input").fill("18.05 mm")
    page.locator(".reading", has_text="ply.thick").get_by_role("button", name="Keep").click()
    page.locator(".putting .broken").first.wait_for()
    told = page.locator(".putting .broken", has_text=f"{FIT}: too")
    assert "too tight" in told.inner_text()
    assert "min" in told.locator(".remedy").first.inner_text()
    assert flaws(page) == []
    told.locator(".take").first.click()
    gone = "(said) => !document.querySelector('.putting')?.textContent.includes(said)"
    page.wait_for_function(gone, arg=f"{FIT}: too")
    assert f"chose  {FIT}" in (plans / "small.log").read_text("utf-8")
