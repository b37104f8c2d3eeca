"""A page that is served, and a browser that was let in."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import ROOT
from tests.page.door import SMALL, plans_in
from tests.page.looks import DESK


@pytest.fixture(scope="module")
def plans(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return plans_in(tmp_path_factory.mktemp("flows"))


@pytest.fixture(scope="module")
def served(plans: Path) -> Iterator[tuple[str, str]]:
    """A page being served: its address, and the link that lets the first browser in."""
    words = [sys.executable, "-P", "-m", "storystick", "page", str(plans), "--no-browser", "--port", "4970"]
    around = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    with subprocess.Popen(words, env=around, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        link = ""
        for line in server.stdout:
            if found := re.search(r"http://127\S+key=\S+", line):
                link = found[0]
            if "Ctrl-C" in line:
                break
        yield link.partition("/?")[0], link
        server.terminate()
        server.wait(10)


@pytest.fixture(scope="module")
def browser(chromium: Path) -> Iterator[Any]:
    sync = pytest.importorskip("playwright.sync_api")
    with sync.sync_playwright() as play:
        words = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--no-sandbox"]
        opened = play.chromium.launch(executable_path=str(chromium), args=words)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def pass_word(browser: Any, served: tuple[str, str]) -> Any:
    """What a browser keeps that was let in."""
    context = browser.new_context()
    page = context.new_page()
    for _ in range(40):
        try:
            page.goto(served[1])
            break
        except Exception:
            time.sleep(0.25)
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
