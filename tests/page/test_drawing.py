"""The drawing in a real browser: what meets, what moves, what is hidden; and what can be stopped and undone."""

from pathlib import Path
from typing import Any

import pytest

from tests.page.door import SMALL
from tests.page.looks import DESK, PHONE
from tests.page.test_meeting import PLAN

pytestmark = pytest.mark.browser
SMALL_ONE, LATHE, IN_THE_WAY = "/plan/small.yaml", "/plan/lathe-cabinet.yaml", "/plan/in-the-way.yaml"
A_SPOT = """() => {
  const { board } = storystick, { clientWidth: wide, clientHeight: high } = board.stage;
  for (let y = 4; y < high; y += 6) for (let x = 4; x < wide; x += 6) {
    if (board.at(x, y) && board.at(x + 5, y + 5)) return [x + 3, y + 3];
  }
}"""
SIZES = pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])


def drawn(page: Any) -> None:
    page.wait_for_selector("[data-shown]:not([data-shown='0'])")


@pytest.fixture
def in_the_way(plans: Path) -> None:
    (plans / "in-the-way.yaml").write_text(PLAN, "utf-8")


@SIZES
def test_a_clash_is_shown_where_it_is(look: Any, in_the_way: None, size: dict[str, Any]):
    page = look(f"{IN_THE_WAY}#sound", size)
    row = page.locator(".findings .stop", has_text="two.left side are in one place")
    row.get_by_role("button", name="show where").click()
    page.locator(".board-note", has_text="run into each other here").wait_for()
    drawing = "storystick.board.drawn.filter((one) => one.kind === 'meeting').length"
    page.wait_for_function(f"() => {drawing} === 1")
    page.locator(".findings .stop", has_text="pedal").get_by_role("button", name="show where").first.click()
    page.locator(".board-note", has_text="along the way of pedal").wait_for()
    page.wait_for_function("() => Object.values(storystick.board.meeting?.moves ?? {})[0] > 0.3")
    moved = page.evaluate("storystick.board.things().find((one) => one.name === 'pedal').at[14]")
    assert moved < -30  # drawn on its way, where it runs in
    page.get_by_role("link", name="Piece").click()
    page.wait_for_function(f"() => {drawing} === 0")


@SIZES
def test_drawers_doors_and_lids_open_only_where_the_piece_has_them(look: Any, in_the_way: None, size: dict[str, Any]):
    page = look(SMALL_ONE, size)
    drawn(page)
    assert not page.locator("#board-opened").is_visible()
    assert not page.locator("#board-swung").is_visible()
    page.goto(IN_THE_WAY)
    page.locator("h1", has_text="Things in the way").wait_for()
    drawn(page)
    shut = page.evaluate("storystick.board.things().find((one) => one.name === 'lid.top').at.join()")
    page.locator("#board-opened").fill("100")
    opened = page.evaluate("storystick.board.things().find((one) => one.name === 'lid.top').at.join()")
    assert opened != shut
    cart = page.evaluate("storystick.board.things().find((one) => one.name === 'chest.front').at[12]")
    page.locator("#board-swung").fill("100")
    assert page.evaluate("storystick.board.things().find((one) => one.name === 'chest.front').at[12]") == cart + 300


@SIZES
def test_a_part_is_hidden_and_shown_again(look: Any, size: dict[str, Any]):
    page = look(SMALL_ONE, size)
    drawn(page)
    count = page.evaluate("storystick.board.things().length")
    page.get_by_role("button", name="Show A,").click()
    page.get_by_role("button", name="hide in the drawing").click()
    assert page.evaluate("storystick.board.things().length") < count
    page.get_by_role("button", name="show all").click()
    assert page.evaluate("storystick.board.things().length") == count


@SIZES
def test_a_tap_on_a_part_names_it_and_brings_up_its_line(look: Any, size: dict[str, Any]):
    page = look(SMALL_ONE, size)
    drawn(page)
    page.locator(".stage canvas").first.scroll_into_view_if_needed()
    box = page.locator(".stage").bounding_box()
    tap = page.touchscreen.tap if size is PHONE else page.mouse.click
    page.wait_for_function("() => storystick.board.drawn")
    x, y = page.evaluate(A_SPOT)
    tap(box["x"] + x, box["y"] + y)
    page.locator(".board-note", has_text="case one.").wait_for()
    assert page.locator(".parts .tapped").count() == 1


@SIZES
def test_what_takes_its_time_can_be_stopped_and_gone_on_with(look: Any, plans: Path, size: dict[str, Any]):
    text = (plans / "lathe-cabinet.yaml").read_text("utf-8")
    (plans / "long.yaml").write_text(
        text.replace("deep: 16", f"deep: 15 {size['viewport']['width'] % 7 + 1}/8"), "utf-8"
    )
    page = look("/plan/long.yaml#build", size)
    page.get_by_role("button", name="Stop what is being worked out").click()
    page.get_by_text("Stopped.").wait_for()
    page.get_by_role("button", name="Go on with what was stopped").click()
    page.locator(".waiting, .step").first.wait_for()
    page.get_by_role("link", name="Piece").click()
    drawn(page)  # all that is cheap goes on meanwhile


@SIZES
def test_inch_or_millimetre_at_any_time(look: Any, plans: Path, size: dict[str, Any]):
    page = look(SMALL_ONE, size)
    drawn(page)
    if size is PHONE:
        page.locator("summary[data-held=take]").click()
    page.get_by_role("button", name="mm", exact=True).click()
    page.locator(".threes", has_text="304.8 mm").wait_for()
    page.get_by_role("button", name="inch", exact=True).click()
    page.locator(".threes", has_text='12"').wait_for()
    assert (plans / "small.yaml").read_text("utf-8") == SMALL


@SIZES
def test_a_change_is_undone_and_done_again_by_keys_and_by_taps(look: Any, plans: Path, size: dict[str, Any]):
    page = look(SMALL_ONE, size)
    drawn(page)
    page.locator("summary", has_text="Case one").click()
    page.get_by_label("deep", exact=True).fill("13")
    page.get_by_label("deep", exact=True).press("Enter")
    page.locator(".threes", has_text='13"').wait_for()
    if size is PHONE:
        page.get_by_role("button", name="Undo").click()
    else:
        page.locator(".stage canvas").first.focus()
        page.keyboard.press("Control+z")
    page.locator(".threes", has_text='12"').wait_for()
    assert (plans / "small.yaml").read_text("utf-8") == SMALL
    if size is PHONE:
        page.locator("summary[data-held=take]").click()
        page.get_by_role("button", name="Redo").click()
    else:
        page.keyboard.press("Control+Shift+z")
    page.locator(".threes", has_text='13"').wait_for()
