"""The page as a stranger meets it: served by a process of its own, and a browser to open it in."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
FLAGS = ["--enable-unsafe-swiftshader", "--no-sandbox"]
ALL_BY_GL = "--use-angle=swiftshader"
TRIES, PAUSE = 40, 0.25  # [s]


@contextmanager
def served(plans: Path, port: int) -> Iterator[tuple[str, str]]:
    """A page being served for a folder of plans: its address, and the link that lets the first browser in."""
    words = [sys.executable, "-P", "-m", "storystick", "page", str(plans), "--no-browser", "--port", str(port)]
    around = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    with subprocess.Popen(words, env=around, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        link = ""
        for line in server.stdout:
            if found := re.search(r"http://127\S+key=\S+", line):
                link = found[0]
            if "Ctrl-C" in line:
                break
        try:
            yield link.partition("/?")[0], link
        finally:
            server.terminate()
            server.wait(10)


@contextmanager
def browser(program: Path, *, all_by_gl: bool = True) -> Iterator[Any]:
    """Chromium, drawing without a graphics card; the page around the drawing by the same means, or as it likes best."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=str(program), args=[*FLAGS, ALL_BY_GL] if all_by_gl else FLAGS)
        try:
            yield opened
        finally:
            opened.close()


def let_in(page: Any, link: str) -> None:
    """Go to a link as soon as the server answers."""
    for _ in range(TRIES):
        try:
            page.goto(link)
            return
        except Exception:
            time.sleep(PAUSE)
