"""How long the page takes in a real browser. Run it: .venv/bin/python bench/page.py [--edits N]

1. Opening: from the address to the first words and to the drawn piece, the server warm.
2. Edit to screen: from the key that ends an entry to the new numbers, the new drawing and the new findings; least,
   middle and most of some edits of the main sample, and how much of it was the server's answer.
3. Turning: frames a second while a piece of sixty parts and more is turned, drawn by the processor (no graphics card).
4. Mistakes: from the last letter of a text that can't be read to the marked line.
5. The one file for anybody: seconds until it is there, and its bytes.

Times differ from machine to machine; Chromium is needed, and nothing else may go on beside it.
"""

import argparse
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))
sys.path.insert(0, str(ROOT / "src"))

from tools import programs  # noqa: E402
from tools.served import browser, let_in, served  # noqa: E402

WATCH = """() => {
  const { job, board } = storystick, was = board.picture, block = document.querySelector('.title-block');
  const said = block.textContent, checked = job.answers.checked, start = performance.now();
  const times = {};
  return new Promise((done) => {
    const look = () => {
      const now = performance.now() - start;
      if (!('numbers' in times) && block.textContent !== said) times.numbers = now;
      if (!('drawing' in times) && board.picture !== was && board.drawnPicture === board.picture) times.drawing = now;
      if (!('findings' in times) && job.answers.checked && job.answers.checked !== checked) times.findings = now;
      if (Object.keys(times).length === 3 || now > 30000) done(times); else setTimeout(look, 2);
    };
    const input = document.activeElement;
    input.dispatchEvent(new Event('change', { bubbles: true }));
    look();
  });
}"""
SENT = """performance.getEntriesByType('resource').filter((e) => e.name.includes('/edit'))
  .map((e) => [e.duration, e.encodedBodySize])"""
WRITE = """(n) => new Promise((done) => {
  const area = document.querySelector('textarea'), before = storystick.job.version, start = performance.now();
  area.value = area.value.replace(/units: \\w+/, `units: in${'x'.repeat(n + 1)}`);
  area.dispatchEvent(new Event('input', { bubbles: true }));
  const told = () => storystick.job.version !== before && document.querySelector('.gutter .stop');
  const look = () => (told() ? done(performance.now() - start) : setTimeout(look, 2));
  look();
})"""
TURN = """() => new Promise((done) => {
  const { board } = storystick, times = [];
  let before = 0;
  const step = (now) => {
    if (before) times.push(now - before);
    before = now;
    board.eye.turn(0.03, 0.002);
    board.redraw();
    if (times.length < 60) requestAnimationFrame(step); else done(times);
  };
  requestAnimationFrame(step);
})"""


@contextmanager
def page_of(plans: Path) -> Iterator[tuple[Any, str]]:
    """A browser's page that was let in, and the page's address."""
    program = programs.find(programs.CHROMIUM)
    assert program is not None, "no Chromium"
    with served(plans, 4940) as (home, link), browser(program) as opened:
        page = opened.new_page(viewport={"width": 1440, "height": 900})
        let_in(page, link)
        yield page, home


def drawn(page: Any) -> None:
    """Wait until the piece is drawn."""
    page.wait_for_selector("[data-shown]:not([data-shown='0'])", timeout=60_000)


def spread(values: list[float]) -> str:
    """least / middle / most"""
    return f"{min(values):7.0f} / {statistics.median(values):7.0f} / {max(values):7.0f} ms" if values else "none"


def opening(page: Any, home: str, plan: str) -> None:
    """From the address to something to see."""
    words, seen = [], []
    for _ in range(5):
        start = time.perf_counter()
        page.goto(f"{home}/plan/{plan}")
        drawn(page)
        seen.append((time.perf_counter() - start) * 1000)
        paints = "performance.getEntriesByType('paint').find(e => e.name === 'first-contentful-paint').startTime"
        words.append(page.evaluate(paints))
    print(f"opening {plan:22} words {spread(words)}   drawn {spread(seen)}")


def edits(page: Any, home: str, plan: str, entry: str, label: str, values: list[str], at_rest: bool) -> None:
    """Change one size some times: when nothing is being worked out any more, or on the heels of the change before."""
    page.goto(f"{home}/plan/{plan}")
    drawn(page)
    page.wait_for_function("() => storystick.job.answers.checked", timeout=60_000)
    page.locator("summary", has_text=entry).first.click()
    times: dict[str, list[float]] = {"numbers": [], "drawing": [], "findings": [], "answer": []}
    for value in values:
        if at_rest:
            page.wait_for_function("() => storystick.job.answers.steps && !storystick.job.progress", timeout=60_000)
            page.wait_for_timeout(500)
        page.get_by_label(label, exact=True).first.focus()
        page.evaluate("(v) => { document.activeElement.value = v; performance.clearResourceTimings(); }", value)
        for what, spent in page.evaluate(WATCH).items():
            times[what].append(spent)
        spent = page.evaluate(SENT)
        times["answer"] += [one[0] for one in spent]
        size = spent[0][1] if spent else 0
    for what, found in times.items():
        print(f"edit of {plan:22} {'at rest' if at_rest else 'at once':8} {what:9} {spread(found)}")
    print(f"edit of {plan:22} the answer is {size / 1024:.0f} kB")


def turning(page: Any, home: str, plan: str) -> None:
    """Frames while it is turned."""
    page.goto(f"{home}/plan/{plan}")
    drawn(page)
    page.wait_for_function("() => storystick.job.answers.steps || storystick.job.stopped", timeout=120_000)
    times = page.evaluate(TURN)
    parts = page.evaluate("storystick.board.picture.parts.length")
    print(f"turning {plan:22} {parts} parts: {1000 / statistics.median(times):.0f} frames a second, {spread(times)}")


def mistake(page: Any, home: str, plan: str) -> None:
    """A text that can't be read."""
    page.goto(f"{home}/plan/{plan}#writing")
    page.wait_for_function("() => document.querySelector('textarea')?.value.length > 10")
    page.wait_for_timeout(3000)
    found = []
    for number in range(5):
        found.append(page.evaluate(WRITE, number))
    print(f"mistake in {plan:19} {spread(found)} with 220 ms of them waiting for the next letter")


def one_file(page: Any, home: str, plan: str) -> None:
    """The file for anybody."""
    page.goto(f"{home}/plan/{plan}")
    drawn(page)
    page.wait_for_function("() => storystick.job.answers.steps", timeout=120_000)
    start = time.perf_counter()
    size = page.evaluate(f"fetch('/api/{plan}/shared.html').then((r) => r.arrayBuffer()).then((all) => all.byteLength)")
    print(f"one file of {plan:18} {time.perf_counter() - start:.1f} s after the steps were there, {size / 1e6:.2f} MB")


def main() -> None:
    """All of it, one after the other."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--edits", type=int, default=9)
    many = asked.parse_args().edits
    with tempfile.TemporaryDirectory() as place:
        for one in (ROOT / "samples").glob("*.yaml"):
            shutil.copy(one, place)
        shutil.copy(ROOT / "samples" / "lathe-cabinet.yaml", Path(place) / "handed.yaml")
        from bench.whole import plan_of

        (Path(place) / "sixty.yaml").write_text(plan_of(60), "utf-8")
        with page_of(Path(place)) as (page, home):
            opening(page, home, "lathe-cabinet.yaml")
            for at_rest in (True, False):
                deep = [str(16 + (i % 8 + 1) / 8 - at_rest / 16) for i in range(many)]
                edits(page, home, "lathe-cabinet.yaml", "Cabinet", "deep", deep, at_rest)
            turning(page, home, "sixty.yaml")
            mistake(page, home, "lathe-cabinet.yaml")
            one_file(page, home, "handed.yaml")


if __name__ == "__main__":
    main()
