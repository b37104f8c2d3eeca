"""A page that is served, and a browser that was let in."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.page.door import SMALL, plans_in
from tests.page.looks import DESK
from tools import served as a_page


@pytest.fixture(scope="module")
def plans(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return plans_in(tmp_path_factory.mktemp("flows"))


@pytest.fixture(scope="module")
def served(plans: Path) -> Iterator[tuple[str, str]]:
    """A page being served: its address, and the link that lets the first browser in."""
    with a_page.served(plans, 4970) as both:
        yield both


@pytest.fixture(scope="module")
def browser(chromium: Path) -> Iterator[Any]:
    pytest.importorskip("playwright.sync_api")
    with a_page.browser(chromium) as opened:
        yield opened


@pytest.fixture(scope="module")
def pass_word(browser: Any, served: tuple[str, str]) -> Any:
    """What a browser keeps that was let in."""
    context = browser.new_context()
    page = context.new_page()
    a_page.let_in(page, served[1])
    assert page.title() == "Plans – storystick"
    state = context.storage_state()
    context.close()
    return state


@pytest.fixture
def look(browser: Any, served: tuple[str, str], pass_word: Any, plans: Path) -> Iterator[Any]:
    """Open a page at some size; at the end nothing was said on the console and nothing asked of anybody else."""
    (plans / "small.yaml").write_text(SMALL, "utf-8")
    (plans / "small.log").unlink(missing_ok=True)
    contexts: list[Any] = []
    said: list[str] = []

    def opened(path: str, size: dict[str, Any] = DESK) -> Any:
        context = browser.new_context(storage_state=pass_word, base_url=served[0], **size)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(15_000)
        page.on("pageerror", lambda fault: said.append(str(fault)))
        page.on("console", lambda m: said.append(m.text) if "Content Security" in m.text else None)
        page.on("request", lambda r: said.append(r.url) if not r.url.startswith((served[0], "data:")) else None)
        page.goto(path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert said == []
