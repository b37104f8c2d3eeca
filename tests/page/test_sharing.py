"""What is handed on: files for other programs, one file for anybody, and the way back onto a shelf."""

import json
import re
import zipfile
from collections.abc import Iterator
from html import unescape
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from storystick.app.page.shared import in_script, shared
from storystick.exports import shelf
from tests.page.door import SMALL, Browser, let_in, plans_in
from tests.page.looks import DESK, PHONE, flaws
from tests.told import job, sample

HOSTILE = SMALL.replace("title: Small case", "title: </script><script>alert(1)</script><img src=x onerror=alert(2)>")
SMALL_ONE = "/plan/small.yaml"


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    client = let_in(plans_in(tmp_path_factory.mktemp("sharing")))
    yield client
    client.close()


@pytest.fixture(scope="module")
def handed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One file for anybody, of a sample."""
    file = tmp_path_factory.mktemp("handed") / "lathe cabinet.html"
    file.write_text(shared(job(sample("lathe-cabinet"))), "utf-8")
    return file


def test_the_page_offers_every_format_that_there_is(door: Browser):
    told = door.get("/api/small.yaml/formats").json()["formats"]
    assert [one["name"] for one in told] == list(shelf())
    assert all(one["says"] for one in told)


@pytest.mark.parametrize("form", ["csv", "dxf", "gltf", "json", "svg", "xlsx"])
def test_each_format_comes_as_a_file_to_keep(door: Browser, form: str):
    reply = door.get(f"/api/small.yaml/export/{form}")
    assert reply.status_code == 200
    assert reply.headers["content-disposition"].startswith('attachment; filename="small-')
    made = list(shelf()[form].make(job(SMALL)))
    if len(made) == 1:
        assert reply.content
    else:
        with zipfile.ZipFile(BytesIO(reply.content)) as box:
            assert box.namelist() == [one.name for one in made]


def test_a_format_that_there_is_not_is_refused(door: Browser):
    assert door.get("/api/small.yaml/export/cards").status_code == 404
    assert door.get("/api/none.yaml/export/dxf").status_code == 404
    assert door.get("/api/none.yaml/shared.html").status_code == 404


def test_one_file_for_anybody_is_the_same_each_time_and_asks_for_nothing(door: Browser):
    reply = door.get("/api/small.yaml/shared.html")
    assert reply.headers["content-disposition"] == 'attachment; filename="small.html"'
    assert reply.text == shared(job(SMALL)).replace("plan.yaml", "small.yaml")
    text = unescape(reply.text)
    for address in re.findall(r"""(?:src|href|action)\s*=\s*["']?([^"'\s>]+)""", text.replace('"src"', "")):
        assert address.startswith(("#", "data:"))
    assert "default-src 'none'" in text
    assert "connect-src" not in text  # what is not named falls under default-src: nothing


def test_what_is_handed_on_holds_the_plan_as_it_was_written():
    text = shared(job(HOSTILE))
    assert "<script>alert" not in text
    assert "<img src=x" not in text
    inside = re.search(r'id="storystick-plan">(.*?)</script>', text, re.DOTALL)
    assert inside is not None
    assert json.loads(inside[1]) == {"file": "plan.yaml", "text": HOSTILE}


def test_no_sign_in_what_is_put_into_a_script_can_end_it():
    data = {"text": "</script><!--<script>\u2028\u2029&amp;"}
    assert not set(in_script(data)) & set("<>&\u2028\u2029")
    assert json.loads(in_script(data)) == data


def test_a_plan_with_mistakes_is_not_handed_on_and_says_why(door: Browser):
    door.post("/copy", {"name": "wrong.yaml", "text": SMALL.replace("high: 30", "high: 3x")})
    reply = door.get("/api/wrong.yaml/shared.html")
    assert reply.status_code == 409
    assert "3x" in reply.json()["error"]


@pytest.mark.browser
@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_one_file_opens_anywhere_with_the_network_cut(browser: Any, handed: Path, size: dict[str, Any]):
    context = browser.new_context(offline=True, **size)
    page = context.new_page()
    said: list[str] = []
    page.on("pageerror", lambda fault: said.append(str(fault)))
    page.on("console", lambda m: said.append(m.text))
    page.on("request", lambda r: said.append(r.url) if not r.url.startswith(("file:", "data:")) else None)
    page.goto(handed.as_uri())
    page.locator("[data-shown='33']").wait_for()  # the piece is drawn, part by part
    canvas = page.locator(".stage canvas").first
    before = canvas.screenshot()
    canvas.focus()
    page.keyboard.press("ArrowLeft")
    page.wait_for_timeout(200)
    assert canvas.screenshot() != before  # and turned
    page.get_by_role("button", name="Show A,").click()
    assert page.locator(".board-note").inner_text().startswith("cabinet.")
    page.get_by_role("button", name="turn it").nth(9).click()
    for words in ("What to buy?", "How to cut?", "How to build?", "Will it work?"):
        assert page.get_by_role("heading", name=words).count() == 1
    assert page.evaluate("document.fonts.check('600 16px \"Source Sans\"')")  # its letters came along
    assert page.evaluate("[...document.fonts].map((one) => one.status)") == ["loaded", "loaded"]
    assert page.locator("img").evaluate_all("all => all.every((one) => one.complete && one.naturalWidth > 0)")
    assert page.evaluate("fetch('https://example.org').then(() => 'out', () => 'kept in')") == "kept in"
    said = [one for one in said if "example.org" not in one]
    assert flaws(page) == []
    assert said == []
    context.close()


@pytest.mark.browser
def test_everything_can_be_taken_along_from_the_page(look: Any, tmp_path: Path):
    page = look(SMALL_ONE)
    page.locator("summary", has_text="Take along").click()
    page.get_by_role("button", name="DXF, inches").wait_for()
    assert flaws(page) == []
    for name, file in (
        ("One file for anybody", "small.html"),
        ("The plan’s own file", "small.yaml"),
        ("CSV", "small-csv.zip"),
    ):
        with page.expect_download() as coming:
            page.get_by_role("button", name=name).click()
        assert coming.value.suggested_filename == file
        coming.value.save_as(tmp_path / file)
    assert (tmp_path / "small.yaml").read_text("utf-8") == SMALL
    assert "storystick-plan" in (tmp_path / "small.html").read_text("utf-8")


@pytest.mark.browser
def test_a_plan_somebody_gave_comes_onto_the_shelf_and_never_over_another(look: Any, plans: Path, tmp_path: Path):
    given = tmp_path / "small.html"
    given.write_text(shared(job(SMALL)).replace("plan.yaml", "small.yaml"), "utf-8")
    page = look("/", PHONE)
    page.locator("#given").set_input_files(given)
    page.wait_for_url("**/plan/small-2.yaml")
    assert (plans / "small-2.yaml").read_text("utf-8") == (plans / "small.yaml").read_text("utf-8") == SMALL
    page.goto("/")
    page.get_by_text("Or paste its text").click()
    page.get_by_label("The plan’s text").fill(SMALL)
    page.get_by_role("button", name="Put it on the shelf").click()
    page.wait_for_url("**/plan/small-case.yaml")
    assert (plans / "small-case.yaml").read_text("utf-8") == SMALL
    page.goto("/")
    page.evaluate(
        """(text) => { const data = new DataTransfer(); data.items.add(new File([text], 'small.yaml'));
        const fallen = new DragEvent('drop', { bubbles: true, dataTransfer: data });
        document.getElementById('drop').dispatchEvent(fallen); }""",
        SMALL,
    )
    page.wait_for_url("**/plan/small-3.yaml")
    page.goto("/")
    page.locator("#given").set_input_files({"name": "x.html", "mimeType": "text/html", "buffer": b"<p>nothing"})
    page.get_by_text("There is no plan in this file").wait_for()
    for one in ("small-2", "small-3", "small-case"):
        (plans / f"{one}.yaml").unlink()


def test_labels_printed_from_the_page_lead_back_to_it(monkeypatch: pytest.MonkeyPatch):
    import storystick.paper
    from storystick.app.page.bench_answers import packet
    from storystick.paper.pages.labels import code_of

    printed: list[Any] = []
    monkeypatch.setattr(storystick.paper, "packet", lambda folder, **_: printed.append(folder) or b"")
    packet(job(SMALL), page="http://192.0.2.7:4863")
    packet(job(SMALL))
    name = printed[0].build.parts[0].name
    assert code_of(printed[0], name) == "http://192.0.2.7:4863/part?plan=plan.yaml&part=A"
    assert "http" not in code_of(printed[1], name)
