"""At the bench and by everybody: the network cut, the keyboard alone, twice the size, with nothing moving."""

from pathlib import Path
from typing import Any

import pytest

from tests.page.door import SMALL
from tests.page.looks import ACROSS, PHONE, flaws

pytestmark = pytest.mark.browser
SMALL_ONE = "/plan/small.yaml"
READY = {
    "there": ".entry-card", "piece": ".parts", "sound": ".findings", "buy": ".ticks", "cut": ".now", "build": ".step",
    "writing": "textarea",
}  # fmt: skip
WAITING = "JSON.parse(localStorage['storystick log small.yaml']).length"
MARKUP = "<img src=x onerror=alert(1)><script>document.title='in'</script>"
HOSTILE = SMALL.replace("title: Small case", f'title: "{MARKUP}"\nabout: "{MARKUP}"')


def turn_to(page: Any, leaf: str) -> None:
    page.evaluate("(word) => { location.hash = word; }", leaf)
    page.locator(READY[leaf]).first.wait_for()


@pytest.mark.parametrize("size", [PHONE, ACROSS], ids=["upright", "across"])
def test_a_whole_day_out_of_reach_is_kept_and_sent_later(look: Any, plans: Path, size: dict[str, Any]):
    page = look(f"{SMALL_ONE}#build", size)
    page.wait_for_function("() => storystick.job.answers.steps")  # all of it was here once
    page.context.set_offline(True)
    page.locator(".step").wait_for()
    page.get_by_role("button", name="Done, next").click()
    page.wait_for_function(f"() => {WAITING} === 1")
    turn_to(page, "cut")
    page.get_by_role("button", name="It is cut").click()
    page.locator(".now .eyebrow", has_text="2 of").wait_for()
    turn_to(page, "buy")
    page.locator(".ticks input:not(:disabled)").first.check()
    page.wait_for_function(f"() => {WAITING} === 3")
    page.locator("#state", has_text="3 kept here").wait_for()
    turn_to(page, "piece")
    page.locator("summary", has_text="Case one").click()
    page.get_by_label("deep", exact=True).fill("13")
    page.get_by_label("deep", exact=True).press("Enter")  # a change needs the computer, and is not lost quietly
    page.get_by_text("This waits here").wait_for()
    page.locator("#state", has_text="4 kept here").wait_for()
    assert page.get_by_label("deep", exact=True).input_value() == "13"
    assert not (plans / "small.log").exists()
    page.context.set_offline(False)
    page.wait_for_function(f"() => {WAITING} === 0")
    page.wait_for_function("() => storystick.job.text.includes('deep: 13')")
    told = (plans / "small.log").read_text("utf-8")
    assert "Measure first" in told
    assert (plans / "small.yaml").read_text("utf-8") == SMALL.replace("deep: 12", "deep: 13")


def test_the_whole_job_with_the_keyboard_alone(look: Any, plans: Path):
    page = look("/new")
    page.locator(".choice").first.wait_for()

    def to(held: str, most: int = 80) -> None:
        for _ in range(most):
            if page.evaluate("(word) => (document.activeElement.dataset.held ?? '').startsWith(word)", held):
                return
            page.keyboard.press("Tab")
        pytest.fail(f"no way to {held} with the Tab key")

    def asks(words: str) -> None:
        page.locator("#asking h1", has_text=words).wait_for()

    to("choose purpose shelves")
    page.keyboard.press("Enter")
    asks("Which rule")
    to("choose units mm")
    page.keyboard.press("Enter")
    asks("Where will it")
    page.keyboard.press("Tab")
    to("choose place free")
    page.keyboard.press("Enter")
    page.locator("[data-held='choose place free'][aria-pressed=true]").wait_for()
    to("under")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # back stands before going on
    for words, typed in (
        ("How wide", "600"),
        ("How high", "800"),
        ("How deep", "300"),
        ("How many", ""),
        ("carry", ""),
    ):
        asks(words)
        page.keyboard.type(typed)
        page.keyboard.press("Enter")
    asks("stand on")
    to("choose stands floor")
    page.keyboard.press("Enter")
    asks("How thick")
    page.keyboard.press("Enter")  # the sheet's name stands there: on to the first reading, which is left empty
    page.keyboard.press("Enter")
    asks("What do you call it")
    page.keyboard.type("Keys alone")
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-shown]:not([data-shown='0'])")
    to("index sound")
    page.keyboard.press("Enter")
    page.locator(".findings").first.wait_for()
    to("look ")
    page.keyboard.press("Enter")
    page.wait_for_function("() => storystick.board.wrong.size > 0")
    [made] = plans.glob("keys-alone*.yaml")
    made.unlink()


@pytest.mark.parametrize("leaf", READY)
def test_at_twice_the_size_every_screen_is_whole(look: Any, leaf: str):
    page = look(f"{SMALL_ONE}#{leaf}", {"viewport": {"width": 720, "height": 450}})
    page.locator(READY[leaf]).first.wait_for()
    assert flaws(page) == []


def test_nothing_glides_where_that_is_not_wanted(look: Any):
    page = look(SMALL_ONE, {"viewport": {"width": 1280, "height": 800}, "reduced_motion": "reduce"})
    page.wait_for_selector("[data-shown]:not([data-shown='0'])")
    page.get_by_label("Look from").select_option("front")
    assert page.evaluate("[storystick.board.eye.yaw, storystick.board.eye.pitch]") == [0, 0]


def test_a_plan_full_of_markup_is_text_and_nothing_else(look: Any, plans: Path):
    (plans / "hostile.yaml").write_text(HOSTILE, "utf-8")
    page = look("/plan/hostile.yaml")
    page.locator(".parts").first.wait_for()
    for leaf, ready in READY.items():
        turn_to(page, leaf)
        page.locator(ready).first.wait_for()
        assert page.evaluate("document.querySelectorAll('img, script:not([src])').length") == 0
    assert page.locator("h1").inner_text() == MARKUP
    page.goto("/")
    page.get_by_text(MARKUP).first.wait_for()
    assert page.title() == "Plans – storystick"
    (plans / "hostile.yaml").write_text(HOSTILE.replace("case one:", f"{MARKUP.partition('<script')[0]}:"), "utf-8")
    page.goto("/plan/hostile.yaml")
    page.locator(".mistakes", has_text="onerror").wait_for()
    assert page.evaluate("document.querySelectorAll('img, script:not([src])').length") == 0
    (plans / "hostile.yaml").unlink()
