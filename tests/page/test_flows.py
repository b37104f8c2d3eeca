"""The page in a real browser: at the desk, on a phone, with the network cut."""

import tempfile
from pathlib import Path
from typing import Any

import pytest

from tests.page.door import SMALL
from tests.page.looks import ACROSS, DESK, PHONE, engine, flaws

pytestmark = pytest.mark.browser
LEAVES = {
    "there": ".entry-card", "piece": ".parts", "sound": ".findings", "buy": ".ticks", "cut": ".now", "build": ".step",
    "writing": "textarea",
}  # fmt: skip
LATHE, SMALL_ONE = "/plan/lathe-cabinet.yaml", "/plan/small.yaml"
TOO_DEEP = SMALL.replace("bays:", "joint: {dado: {depth: 3/4}}, bays:").replace("17.6 mm", "19 mm")


def drawn(page: Any) -> None:
    page.wait_for_selector("[data-shown]:not([data-shown='0'])")


def on(page: Any) -> None:
    """On to the next question; it is there."""
    asked = page.locator("#asking h1").inner_text()
    page.get_by_role("button", name="Go on", exact=True).click()
    page.wait_for_function("(was) => document.querySelector('#asking h1').textContent !== was", arg=asked)


def test_entries_that_were_told_before_stay_in_the_form_and_are_told_anew_where_the_page_has_lost_them(look: Any):
    page = look(SMALL_ONE, DESK)
    drawn(page)
    counted = "() => storystick.job.built.form.map((section) => section.entries.filter((one) => one.kind).length)"
    before = page.evaluate(counted)
    sent = "(deep) => storystick.job.edit({ do: 'put', path: ['build', 'case one', 'case', 'deep'], value: deep })"
    page.evaluate(sent, "12 1/4")
    assert page.evaluate(counted) == before
    lose = f"(deep) => {{ const sent = ({sent})(deep); storystick.job.entries.clear(); return sent; }}"
    page.evaluate(lose, "12 1/2")
    page.wait_for_function("() => storystick.job.text.includes('deep: 12 1/2')")
    assert page.evaluate(counted) == before


@pytest.mark.parametrize("size", [DESK, PHONE, ACROSS], ids=["desk", "phone", "across"])
def test_a_new_piece_from_a_few_questions(look: Any, plans: Path, size: dict[str, Any]):
    page = look("/new", size)
    page.get_by_role("button", name="Hold things on shelves").click()
    page.get_by_role("button", name="Inches").click()
    page.get_by_role("button", name="Between two things").click()
    on(page)
    for label, value in (("At the floor", "30 1/4"), ("Half way up", "30 5/16"), ("At the top", "30 1/x")):
        page.get_by_label(label).fill(value)
    page.get_by_role("button", name="Go on", exact=True).click()
    assert "30 1/x" in page.get_by_role("alert").inner_text()  # told at once, at its question
    page.get_by_label("At the top").fill("30 1/8")
    on(page)
    page.get_by_label("From the floor to its top").fill("40")
    on(page)
    page.get_by_label("Front to back").fill("12")
    page.keyboard.press("Enter")
    page.get_by_label("From top to bottom").wait_for()
    on(page)
    page.get_by_label("On its worst day").fill("30 lb")
    on(page)
    page.get_by_role("button", name="A plinth").click()
    on(page)
    page.get_by_label("Its name").fill("Gap shelves")
    page.get_by_role("button", name="Put it up").click()
    drawn(page)
    assert page.locator("h1").inner_text() == "Gap shelves"
    [made] = plans.glob("gap-shelves*.yaml")
    assert "30 1/8" in made.read_text("utf-8")
    made.unlink()


def test_enter_goes_from_one_reading_to_the_next_and_a_double_tap_skips_no_question(look: Any):
    page = look("/new", PHONE)
    page.get_by_role("button", name="Keep small things in drawers").click()
    page.get_by_role("button", name="Millimetres").click()
    page.get_by_role("button", name="Between two things").click()
    on(page)
    page.get_by_label("At the floor").fill("600")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.labels[0].textContent") == "Half way up"
    page.get_by_role("button", name="Go on", exact=True).dblclick()
    page.get_by_label("From the floor to its top").wait_for()
    page.wait_for_timeout(300)
    assert page.locator("#asking h1").inner_text() == "How high shall it be?"


def test_a_code_on_a_label_opens_its_part(look: Any):
    page = look("/part?plan=small.yaml&part=A", PHONE)
    page.locator(".parts .tapped").wait_for()
    assert page.locator(".parts .tapped .letter").inner_text() == "A"
    assert page.locator(".board-note").inner_text().startswith("A ")
    page.goto("/part?plan=small.yaml&part=case%20one.bottom")
    page.locator(".parts .tapped", has_text="bottom").wait_for()
    page.goto("/part?plan=small.yaml&part=ZZ")
    page.locator(".board-note", has_text="There is no part ZZ").wait_for()
    page.goto("/part?plan=gone.yaml&part=A")
    page.get_by_role("heading", name="There is no plan called gone.yaml").wait_for()


def test_an_edit_on_the_form_reaches_the_file_and_the_drawing_and_can_be_undone(look: Any, plans: Path):
    page = look(SMALL_ONE)
    drawn(page)
    page.locator("summary", has_text="Case one").click()
    deep = page.get_by_label("deep", exact=True)
    deep.fill("14 1/2")
    deep.press("Enter")
    page.locator(".title-block", has_text="14 1/2").wait_for()
    assert "deep: 14 1/2" in (plans / "small.yaml").read_text("utf-8")
    assert "# at the bench" in (plans / "small.yaml").read_text("utf-8")
    page.get_by_role("button", name="Undo").click()
    page.locator(".title-block", has_text='× 12"').wait_for()
    assert (plans / "small.yaml").read_text("utf-8") == SMALL


def test_what_a_change_leaves_alone_stays_where_it_is_and_so_does_the_hand_on_it(look: Any, plans: Path):
    page = look(SMALL_ONE)
    drawn(page)
    page.locator("summary", has_text="Case one").click()
    deep, high = (page.get_by_label(word, exact=True) for word in ("deep", "high"))
    deep.wait_for()
    page.wait_for_function("() => storystick.job.answers.steps")
    page.evaluate("document.querySelectorAll('#leaf *').forEach((one) => { one.there = true; })")
    deep.fill("13")
    deep.press("Tab")
    page.wait_for_function("() => storystick.job.text.includes('deep: 13')")
    page.wait_for_function("() => document.querySelector('.sizes').textContent.includes('13')")
    assert deep.evaluate("(one) => !one.there"), "its line was made anew"
    assert high.evaluate("(one) => one.there"), "its neighbour's was not"
    assert page.evaluate("document.activeElement.dataset.why"), "the hand was on the reason of that number"
    assert page.evaluate("[...document.querySelectorAll('#leaf *')].filter((one) => one.there).length") > 100


def test_a_value_that_cannot_be_put_in_gives_way_to_what_the_plan_says(look: Any, plans: Path):
    page = look(SMALL_ONE)
    drawn(page)
    page.locator("summary", has_text="Case one").click()
    page.route("**/edit", lambda route: route.fulfill(status=422, json={"error": "It can't be put here."}))
    deep = page.get_by_label("deep", exact=True)
    deep.fill("14")
    deep.press("Enter")
    page.locator("#state", has_text="It can't be put here.").wait_for()
    assert deep.input_value() == "12"
    assert (plans / "small.yaml").read_text("utf-8") == SMALL


def test_more_can_be_said_about_a_thing_by_what_its_lines_offer(look: Any, plans: Path):
    page = look(SMALL_ONE)
    drawn(page)
    page.locator("summary", has_text="Case one").click()
    more = page.locator("summary", has_text="Say more").first
    assert page.locator("[id^='add-']").count() == 0
    more.click()
    joint = page.locator("[id^='add-build-case-one-case-joint']").first
    joint.wait_for()
    assert joint.evaluate("(one) => one.labels.length") == 1


def test_a_form_that_was_put_in_is_shut_and_empty_and_one_that_was_refused_is_not(look: Any, plans: Path):
    page = look(SMALL_ONE)
    drawn(page)
    page.locator("summary", has_text="One more stock").click()
    name, said = page.get_by_label("What do you call it?"), page.get_by_label("Which sheet, and how thick?")
    name.fill("thin")
    said.fill("birch plywood, 6 mm")
    page.route("**/edit", lambda route: route.fulfill(status=422, json={"error": "Not now."}))
    said.press("Enter")
    page.locator("#state", has_text="Not now.").wait_for()
    assert (name.input_value(), said.input_value()) == ("thin", "birch plywood, 6 mm")
    page.unroute("**/edit")
    said.press("Enter")
    page.wait_for_function("() => storystick.job.text.includes('thin:')")
    name.wait_for(state="hidden")
    page.locator("summary", has_text="One more stock").click()
    assert (name.input_value(), said.input_value()) == ("", "")


def test_the_text_and_the_form_never_disagree(look: Any, plans: Path):
    page = look(f"{SMALL_ONE}#writing")
    area = page.get_by_label("The plan", exact=True)
    page.wait_for_function("() => document.querySelector('textarea')?.value.length > 10")
    area.fill(SMALL.replace("high: 30", "high: 3x"))
    page.locator(".gutter .stop").first.wait_for()
    assert page.locator(".gutter .stop").first.inner_text() == "9"
    assert "3x" in page.locator(".said-lines").inner_text()
    area.fill(SMALL.replace("high: 30", "high: 36"))
    page.wait_for_function("() => !document.querySelector('.gutter .stop')")
    page.get_by_role("link", name="Piece").click()
    page.locator("summary", has_text="Case one").click()
    assert page.get_by_label("high", exact=True).input_value() == "36"


def test_two_pages_see_one_another_and_neither_writes_over_the_other(look: Any, plans: Path):
    one, other = look(f"{SMALL_ONE}#writing"), look(SMALL_ONE)
    drawn(other)
    one.wait_for_function("() => document.querySelector('textarea')?.value.length > 10")
    one.get_by_label("The plan", exact=True).fill(SMALL.replace("Small case", "Renamed"))
    other.locator("h1", has_text="Renamed").wait_for()


def test_every_number_says_why_and_leads_to_its_line(look: Any):
    page = look(SMALL_ONE)
    drawn(page)
    page.locator(".parts li", has_text="bottom").locator(".number").first.click()
    slip = page.get_by_role("dialog")
    slip.get_by_text("It rests on").wait_for()
    slip.get_by_role("link", name="line 4 of the plan").first.click()
    page.wait_for_function("() => document.activeElement.tagName === 'TEXTAREA'")
    chosen = page.evaluate(
        "() => { const t = document.activeElement; return t.value.slice(t.selectionStart, t.selectionEnd); }"
    )
    assert "opening" in chosen


def test_findings_lead_to_the_part_and_the_line(look: Any):
    page = look(f"{SMALL_ONE}#sound")
    page.locator(".findings").first.wait_for()
    page.locator("summary", has_text="found good").click()
    page.get_by_role("button", name="show where").first.click()
    page.locator(".findings a").first.click()
    page.wait_for_function("() => location.hash.startsWith('#writing/')")


def test_a_mend_is_applied_by_one_tap_and_undone_by_another(look: Any, plans: Path):
    (plans / "small.yaml").write_text(TOO_DEEP, "utf-8")
    page = look(f"{SMALL_ONE}#sound")
    page.locator(".mend").first.click()
    page.locator(".lead", has_text="found good").wait_for()
    page.wait_for_function("() => !document.querySelector('.mend')")
    assert "depth: 11/32" in (plans / "small.yaml").read_text("utf-8")
    page.get_by_role("button", name="Undo").click()
    page.locator(".mend").first.wait_for()
    assert (plans / "small.yaml").read_text("utf-8") == TOO_DEEP


def test_what_was_found_stays_in_sight_while_it_is_looked_at_anew_but_mends_nothing(look: Any, plans: Path):
    (plans / "small.yaml").write_text(TOO_DEEP, "utf-8")
    page = look(f"{SMALL_ONE}#sound")
    page.locator(".mend").first.wait_for()
    before, between = page.evaluate("""() => new Promise((done) => {
      const { job } = storystick, seen = () => ({
        found: document.querySelectorAll('.findings li').length, mark: document.querySelector('b.dot')?.textContent,
        lead: document.querySelector('.lead')?.textContent,
        open: document.querySelectorAll('.mend:not([aria-disabled])').length });
      const before = seen(), real = window.fetch, late = () => new Promise((on) => setTimeout(on, 500));
      window.fetch = async (path, ...more) => {
        if (path.includes('/answer/checked')) await late();
        return real(path, ...more);
      };
      job.addEventListener('change', () => setTimeout(() => {
        done([before, { ...seen(), deep: Boolean(job.answers.last.last) }]);
      }, 100), { once: true });
      job.write(`# a line above all others\n${job.text}`);
    })""")
    assert before["open"]
    assert between == {**before, "open": 0, "deep": False}
    page.locator(".mend:not([aria-disabled])").first.wait_for()


def test_a_misspelt_word_is_put_right_by_one_tap(look: Any, plans: Path):
    (plans / "small.yaml").write_text(SMALL.replace("stock: ply,", "stock: plyy,"), "utf-8")
    page = look(SMALL_ONE, PHONE)
    page.locator(".mistakes .mend").click()
    drawn(page)
    assert (plans / "small.yaml").read_text("utf-8") == SMALL


def test_the_drawing_is_turned_pointed_at_and_pulled_apart(look: Any):
    page = look(LATHE)
    drawn(page)
    page.wait_for_timeout(300)
    box = page.locator(".stage").bounding_box()
    named = ""
    for dx, dy in ((0.5, 0.5), (0.45, 0.6), (0.6, 0.4)):
        page.mouse.click(box["x"] + box["width"] * dx, box["y"] + box["height"] * dy)
        named = page.locator(".board-note").inner_text()
        if "cabinet" in named:
            break
    assert "cabinet" in named
    page.locator(".parts .tapped").wait_for()
    page.evaluate("document.querySelector('.stage canvas').focus()")
    before = page.evaluate("storystick.board.eye.yaw")
    page.keyboard.press("ArrowLeft")
    assert page.evaluate("storystick.board.eye.yaw") != before
    for name in ("apart", "opened", "swung"):
        page.locator(f"#board-{name}").fill("80")
        assert page.evaluate(f"storystick.board.{name}") == 0.8
    moved = page.evaluate("storystick.board.things().filter(t => t.name === 'cabinet.drawer 1.front')[0].by[1]")
    assert moved < -100


def test_the_piece_is_placed_anew_many_times_a_second(look: Any):
    page = look(LATHE)
    drawn(page)
    spent = page.evaluate("""() => { const b = storystick.board; const t = performance.now();
        for (let i = 0; i < 10; i++) { b.eye.turn(0.1, 0); b.things(); } return performance.now() - t; }""")
    assert spent < 1000


def test_ticks_made_out_of_reach_are_kept_and_sent_later(look: Any, plans: Path):
    page = look(f"{SMALL_ONE}#build", PHONE)
    page.locator(".step").wait_for()
    first = page.locator(".step-title").inner_text()
    page.context.set_offline(True)
    page.get_by_role("button", name="Done, next").click()
    page.wait_for_function("() => document.getElementById('state').textContent.match(/kept here|to send/)")
    assert page.locator(".step-title").inner_text() != first
    assert not (plans / "small.log").exists()
    assert len(page.evaluate("JSON.parse(localStorage['storystick log small.yaml'])")) == 1
    page.context.set_offline(False)
    page.wait_for_function("() => JSON.parse(localStorage['storystick log small.yaml']).length === 0")
    assert first[:20] in (plans / "small.log").read_text("utf-8")
    other = look(f"{SMALL_ONE}#build")
    other.locator(".step").wait_for()
    assert other.locator(".step-title").inner_text() != first


def test_a_reading_is_kept(look: Any, plans: Path):
    page = look(f"{SMALL_ONE}#build", PHONE)
    page.locator(".step").wait_for()
    for _ in range(60):
        if page.locator(".reading").count():
            break
        page.get_by_role("button", name="The step after").click()
    if not page.locator(".reading").count():
        pytest.skip("no step of this plan asks for a reading")
    page.locator(".reading input").first.fill("23 7/16")
    page.get_by_role("button", name="Keep", exact=True).first.click()
    page.wait_for_function("() => JSON.parse(localStorage['storystick log small.yaml']).length === 0")
    assert "595.3125 mm" in (plans / "small.log").read_text("utf-8")
    page.locator(".moved").wait_for()
    told = page.locator(".moved").inner_text()
    assert "becomes" in told or "changes no part" in told


def test_the_next_cut_is_large_and_goes_on_when_it_is_made(look: Any):
    page = look(f"{SMALL_ONE}#cut", PHONE)
    page.locator(".now .big").wait_for()
    assert "1 of" in page.locator(".now .eyebrow").inner_text()
    assert page.locator(".map .next").count() == 1
    page.get_by_role("button", name="It is cut").click()
    page.locator(".now .eyebrow", has_text="2 of").wait_for()
    assert page.evaluate("parseFloat(getComputedStyle(document.querySelector('.giant')).fontSize)") > 38


def test_what_is_bought_is_ticked(look: Any, plans: Path):
    page = look(f"{SMALL_ONE}#buy", PHONE)
    page.locator(".ticks input:not(:disabled)").first.check()
    page.locator(".ticks .done").first.wait_for()
    page.wait_for_function("() => JSON.parse(localStorage['storystick log small.yaml']).length === 0")
    assert "  buy:" in (plans / "small.log").read_text("utf-8")


@pytest.mark.parametrize("size", [DESK, PHONE, ACROSS], ids=["desk", "phone", "across"])
def test_every_screen_can_be_used_by_everyone(look: Any, size: dict[str, Any]):
    page = look("/", size)
    found = [f"shelf: {flaw}" for flaw in flaws(page)]
    page.goto("/new")
    page.locator(".choice").first.wait_for()
    found += [f"new: {flaw}" for flaw in flaws(page)]
    for leaf, ready in LEAVES.items():
        page.goto(f"{LATHE}#{leaf}")
        page.locator(ready).first.wait_for()
        page.evaluate("for (const one of document.querySelectorAll('details.entry-card')) one.open = true")
        found += [f"{leaf}: {flaw}" for flaw in flaws(page)]
    assert found == []


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_an_accessibility_engine_finds_nothing_serious(look: Any, size: dict[str, Any]):
    script = engine(Path(tempfile.gettempdir()) / "storystick-axe")
    page = look("/", size)
    found = []
    for path, ready in (
        ("/", ".card"),
        ("/new", ".choice"),
        *((f"{LATHE}#{leaf}", one) for leaf, one in LEAVES.items()),
    ):
        page.goto(path)
        page.locator(ready).first.wait_for()
        page.evaluate("for (const one of document.querySelectorAll('details:not(.take)')) one.open = true")
        if path.endswith("#piece"):
            page.locator(".sizes .number").first.click()
            page.get_by_text("It rests on").wait_for()
        page.evaluate(script)
        wrong = "axe.run().then((r) => r.violations.map((v) => `${v.impact} ${v.id} ${v.nodes[0].html.slice(0, 120)}`))"
        found += [f"{path}: {one}" for one in page.evaluate(wrong)]
        page.keyboard.press("Escape")
    assert found == []


def test_the_whole_notebook_can_be_reached_with_the_keyboard(look: Any):
    page = look(SMALL_ONE)
    drawn(page)
    page.evaluate("document.activeElement.blur()")
    seen: set[str] = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.add(page.evaluate("(e => e.dataset.held || e.id || e.tagName)(document.activeElement)"))
    assert {"CANVAS", "units mm", "take", "index cut", "board-apart", "entry/build/case one"} <= seen


def test_text_at_twice_its_size_loses_nothing(look: Any):
    page = look(f"{SMALL_ONE}#build", {"viewport": {"width": 640, "height": 400}})
    page.locator(".step").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth + 1")
    assert page.get_by_role("button", name="Done, next").is_visible()


def test_the_page_can_be_used_within_a_moment(look: Any):
    page = look(LATHE)
    drawn(page)
    paints = "performance.getEntriesByType('paint').find(e => e.name === 'first-contentful-paint').startTime"
    assert page.evaluate(paints) < 5000  # said loosely: other work goes on beside the tests
