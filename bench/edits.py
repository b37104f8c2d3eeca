"""How long an answer takes after an edit, in one process:  .venv/bin/python bench/edits.py [rounds]

The main sample with one size changed, read after the plan as it was: everything but layout and the order of work.
Milliseconds of the processor's time, each the least of some rounds; all that is kept from earlier rounds is dropped
before each, so every edit is a new one. Rings of dead things are swept between answers, as the page's hands do it.
"""

import gc
import statistics
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from bench.whole import SAMPLE  # noqa: E402
from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.ground.kept import forget  # noqa: E402

EDITS = {
    "wider by 1/4": ("gap at top - 1 1/4", "gap at top - 1 1/2"),
    "less deep": ("deep: 16\n", "deep: 15 3/4\n"),
    "less high": ("high: 27\n", "high: 26 1/2\n"),
    "shelf raised": ("drawer 4, drawer 6", "drawer 4, drawer 5 1/2"),
    "sheet read again": ("17.6 mm, 17.7 mm, 17.6 mm, 17.5 mm", "17.9 mm, 17.8 mm, 17.7 mm"),
    "thin sheet read again": ("[5.6 mm, 5.7 mm, 5.7 mm]", "[5.8 mm]"),
    "another title": ("title: Lathe cabinet", "title: My lathe cabinet"),
    "another name": ("gouge box:", "long box:"),
    "another load": ("cabinet.shelf 2: 40 lb", "cabinet.shelf 2: 45 lb"),
    "lip less proud": ("proud: 1/2", "proud: 3/8"),
    "board narrower": ("wide: 26\n", "wide: 25\n"),
    "box lower": ("bottom at: 6}", "bottom at: 5}"),
    "gap of fronts": ("pull: finger notch}", "pull: finger notch, reveal: 3/32}"),
    "farther in": ("front at: 3/4", "front at: 1"),
}  # fmt: skip
STAGES: dict[str, Callable[[Job], object]] = {
    "build": lambda job: job.build,
    "solids": lambda job: (job.scene.parts, job.scene.site),
    "sequence": lambda job: job.sequence,
    "findings": lambda job: job.findings,
    "judged": lambda job: job.judged,
    "can be made": lambda job: job.proved,
}


def timed(text: str) -> list[float]:
    """Milliseconds of each stage."""
    job, taken = Job(Texts(text, "plan.yaml")), []
    for ask in STAGES.values():
        start = process_time()
        ask(job)
        taken.append(1000 * (process_time() - start))
    return taken


def main(rounds: int) -> None:
    """Print a line for each edit, and the median."""
    gc.disable()
    text = SAMPLE.read_text("utf-8")
    timed(text)
    print(f"{'':22}" + "".join(f"{name:>12}" for name in (*STAGES, "together")))
    every = []
    for name, (old, new) in EDITS.items():
        if text.count(old) != 1:
            raise SystemExit(f"{name}: the sample has {old!r} {text.count(old)} times")
        found = []
        for _ in range(rounds):
            forget()
            timed(text)
            gc.collect()
            found.append(timed(text.replace(old, new)))
        best = min(found, key=sum)
        every.append(sum(best))
        print(f"{name:22}" + "".join(f"{value:12.0f}" for value in (*best, sum(best))), flush=True)
    print(f"{'median':22}{statistics.median(every):{12 * (len(STAGES) + 1)}.0f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
