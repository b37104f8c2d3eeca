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

from bench.edits import EDITS  # noqa: E402
from bench.whole import SAMPLE, plan_of  # noqa: E402
from tools import programs  # noqa: E402
from tools.served import browser, let_in, served  # noqa: E402

WATCH = """(text) => {
  const { job, board } = storystick, was = board.picture, built = job.built, checked = job.answers.checked;
  const start = performance.now(), times = {}, seen = new Set();
  const there = {
    numbers: () => job.built !== built,
    drawing: () => board.picture !== was && board.drawnPicture === board.picture,
    findings: () => job.answers.checked && job.answers.checked !== checked,
  };
  return new Promise((done) => {
    const look = () => {
      for (const what in there) if (!seen.has(what) && there[what]()) {
        seen.add(what);
        const told = () => { times[what] = performance.now() - start; };
        if (what === 'drawing') told(); // it was drawn for a picture that was handed over before we could look
        else requestAnimationFrame(() => setTimeout(told)); // it is on the screen with the next picture
      }
      if (Object.keys(times).length === 3 || performance.now() - start > 30000) done(times); else setTimeout(look, 2);
    };
    if (text) job.write(text);
    else document.activeElement.dispatchEvent(new Event('change', { bubbles: true }));
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
    with served(plans, 4940) as (home, link), browser(program, all_by_gl=False) as opened:
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


def edits(page: Any, home: str, plan: str, entry: str, label: str, values: list[str], resting: bool) -> None:
    """Change one size some times: when nothing is being worked out any more, or on the heels of the change before."""
    page.goto(f"{home}/plan/{plan}")
    drawn(page)
    page.wait_for_function("() => storystick.job.answers.checked", timeout=60_000)
    page.locator("summary", has_text=entry).first.click()
    times: dict[str, list[float]] = {"numbers": [], "drawing": [], "findings": [], "answer": []}
    for value in values:
        if resting:
            at_rest(page)
        page.get_by_label(label, exact=True).first.focus()
        page.evaluate("(v) => { document.activeElement.value = v; performance.clearResourceTimings(); }", value)
        for what, spent in page.evaluate(WATCH).items():
            times[what].append(spent)
        spent = page.evaluate(SENT)
        times["answer"] += [one[0] for one in spent]
        size = spent[0][1] if spent else 0
    for what, found in times.items():
        print(f"edit of {plan:22} {'at rest' if resting else 'at once':8} {what:9} {spread(found)}")
    print(f"edit of {plan:22} the answer is {size / 1024:.0f} kB")


def every_sort(page: Any, home: str, plan: str, sample: str) -> None:
    """The sorts of changes that bench/edits.py knows, each of the plan as it was, when nothing is being worked out."""
    page.goto(f"{home}/plan/{plan}")
    drawn(page)
    found: dict[str, list[float]] = {"numbers": [], "drawing": [], "findings": []}
    for number, (name, (old, new)) in enumerate(EDITS.items()):
        at_rest(page)
        times = page.evaluate(WATCH, sample.replace(old, new))
        for what, spent in times.items():
            found[what].append(spent)
        print(f"{name:30} " + "  ".join(f"{what} {times[what]:4.0f}" for what in found), flush=True)
        at_rest(page)
        page.evaluate("(text) => storystick.job.write(text)", f"{sample}# {number}\n")  # never seen before
    for what, spent in found.items():
        print(f"{len(spent)} sorts of edits of {plan:22} {what:9} {spread(spent)}")


def at_rest(page: Any) -> None:
    """Wait until nothing is being worked out any more."""
    page.wait_for_function("() => storystick.job.answers.steps && !storystick.job.progress", timeout=60_000)
    page.wait_for_timeout(1000)


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
        (Path(place) / "sixty.yaml").write_text(plan_of(60), "utf-8")
        with page_of(Path(place)) as (page, home):
            opening(page, home, "lathe-cabinet.yaml")
            for resting in (True, False):
                deep = [str(16 + (i % 8 + 1) / 8 - resting / 16) for i in range(many)]
                edits(page, home, "lathe-cabinet.yaml", "Cabinet", "deep", deep, resting)
            every_sort(page, home, "handed.yaml", SAMPLE.read_text("utf-8"))
            turning(page, home, "sixty.yaml")
            mistake(page, home, "lathe-cabinet.yaml")
            one_file(page, home, "handed.yaml")


if __name__ == "__main__":
    main()
