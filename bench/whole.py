"""How long the whole tool takes, and how that grows. Run it: .venv/bin/python bench/whole.py [--quick]

1. The main sample, as a person would ask: interpreter start included, each call a new process, several runs; least,
   middle and most seconds, and the most memory.
2. Growth: plans of 20 to 2,000 parts, each stage in one process; seconds and the ratio to the size before it.
3. Everything that moves: cases with drawers and a door, lidded chests, and things of the site that swing and slide, of
   60, 180 and 500 parts; `check` as a person would ask, and its stages with the power of the size that they grow by.

Times differ from machine to machine; the ratios within one run are what to compare.
"""

import argparse
import math
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "src"))

from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.ground.kept import forget  # noqa: E402

SAMPLE = ROOT / "samples" / "lathe-cabinet.yaml"


def cold(words: list[str], runs: int) -> tuple[list[float], float]:
    """Seconds of some runs of the command line, and the most memory of any of them [MB]."""
    seconds = []
    for _ in range(runs):
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "storystick", *words], cwd=ROOT, env={"PYTHONPATH": str(ROOT / "src"), "PATH": ""},
            check=False, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        seconds.append(time.perf_counter() - start)
    return seconds, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def spread(seconds: list[float]) -> str:
    """least / middle / most"""
    return f"{min(seconds):.2f} / {statistics.median(seconds):.2f} / {max(seconds):.2f} s"


def plan_of(parts: int) -> str:
    """A plan of about so many parts: open cases side by side, ten boards in each."""
    cases = max(1, parts // 10)
    entries = (
        "\n".join(
            f"  case {i}:\n"
            f"    case: {{wide: {600 + i % 7 * 20}, deep: 300, high: 900, stock: ply,"
        f" back: {{stock: thin, joint: groove}},"
            f" bays: {{columns: [[open, fixed shelf, open, fixed shelf, open], [open, fixed shelf, open]]}}}}\n"
            f"    sits: {{on: floor, left at: {i * 800}}}"
            for i in range(cases)
        )
        .replace("[[", "[{rows: [")
        .replace("], [", "]}, {rows: [")
        .replace("]]}", "]}]}")
    )
    return (
        "title: growth\nunits: mm\n"
        "stock:\n  ply: {sheet: birch plywood, readings: [17.8], sizes: {2440 x 1220: 90}}\n"
        "  thin: {sheet: birch plywood, readings: [5.7], sizes: {2440 x 1220: 40}}\n"
        f"build:\n{entries}\n"
    )


def moving_plan_of(parts: int) -> str:
    """A plan of about so many parts of which much moves, and much moves beside it."""
    cases = max(1, round(parts / 32))
    site, build = [], []
    for i in range(cases):
        x = i * 1400
        site.append(
            f"  flap {i}: {{box: [300, 20, 200], at: [{x + 80}, -60, 960], keep clear: 5,"
            f" swings: {{about: back bottom, by: 95 deg, toward: front}}}}\n"
            f"  pedal {i}: {{box: [100, 100, 30], at: [{x + 100}, -160, 40], keep clear: 10,"
            f" slides: {{way: down, by: 30}}}}"
        )
        build.append(
            f"  case {i}:\n    case:\n      wide: {600 + i % 7 * 20}\n      deep: 420\n      high: 900\n"
            f"      stock: ply\n"
            f"      back: {{stock: thin, joint: groove}}\n"
            f"      drawers: {{stock: ply, bottom stock: thin, front: inset, front stock: ply, runs on: slides}}\n"
            f"      bays: {{columns: [{{rows: [drawer 140, drawer 140, open, fixed shelf, open]}},"
            f" {{rows: [open, fixed shelf, open, loose shelf, open with door]}}]}}\n"
            f"    sits: {{on: floor, left at: {x}}}\n"
            f"  chest {i}:\n    box: {{wide: 500, deep: 400, high: {360 + i % 5 * 10}, stock: ply, joint: rabbet}}\n"
            f"    sits: {{on: floor, left at: {x + 800}}}\n"
            f"  lid {i}:\n    slab: {{stock: ply, covers: chest {i}, overhang: {{front: 15}},"
            f" held by: {{hinges: chest {i}}}}}\n"
            f"    sits: {{on: chest {i}, flush: {{left: chest {i}, back: chest {i}}}}}"
        )
    stock = (
        "  ply: {sheet: birch plywood, readings: [17.8], sizes: {2440 x 1220: 90}}\n"
        "  thin: {sheet: birch plywood, readings: [5.7], sizes: {2440 x 1220: 40}}"
    )
    lines = ["title: what moves", "units: mm", "site:", *site, "stock:", stock, "build:", *build, ""]
    return "\n".join(lines)


def moves(quick: bool, folder: str) -> None:
    """`check` on pieces of which much moves; then stage by stage, everything kept dropped before each size."""
    stages: list[tuple[str, Callable[[Job], object]]] = [
        ("resolve", lambda job: job.build),
        ("order", lambda job: job.sequence),
        ("findings", lambda job: job.findings),
        ("can be made", lambda job: job.proved),
    ]
    before: dict[str, tuple[int, float]] = {}
    print(f"{'parts':>6}  {'check, anew; of the processor':>30}  " + "  ".join(f"{name:>16}" for name, _ in stages))
    for size in (60, 180) if quick else (60, 180, 500):
        text = moving_plan_of(size)
        path = Path(folder) / f"moves-{size}.yaml"
        path.write_text(text, "utf-8")
        start, runs = os.times(), 1 if quick else 3
        seconds, _ = cold(["check", str(path)], runs)
        end = os.times()
        work = (end.children_user + end.children_system - start.children_user - start.children_system) / runs
        forget()
        job, cells = Job(Texts(text, "moves.yaml")), []
        for name, run in stages:
            start = time.process_time()
            run(job)
            took, parts = time.process_time() - start, len(job.build.parts)
            power = ""
            if name in before:
                fewer, less = before[name]
                power = f" n^{math.log(took / less) / math.log(parts / fewer):.1f}"
            before[name] = (parts, took)
            cells.append(f"{took:7.2f} s{power:>7}")
        check = f"{spread(seconds)}, {work:.2f} s"
        print(f"{parts:>6}  {check:>30}  " + "  ".join(f"{cell:>16}" for cell in cells), flush=True)


def grow(quick: bool) -> None:
    """Stages on plans of growing size."""
    stages: list[tuple[str, Callable[[Job], object]]] = [
        ("resolve", lambda job: job.build),
        ("solids", lambda job: job.scene.parts),
        ("checks", lambda job: job.findings),
        ("layout", lambda job: job.cuttings),
        ("work", lambda job: job.order),
    ]
    before: dict[str, float] = {}
    print(f"{'parts':>6}  " + "  ".join(f"{name:>16}" for name, _ in stages))
    for size in (20, 60, 200) if quick else (20, 60, 200, 600, 2000):
        job = Job(Texts(plan_of(size), "growth.yaml"))
        cells = []
        for name, run in stages:
            start = time.perf_counter()
            run(job)
            took = time.perf_counter() - start
            ratio = f" (x{took / before[name]:.1f})" if name in before else ""
            before[name] = took
            cells.append(f"{took:7.2f} s{ratio:>7}")
        print(f"{len(job.build.parts):>6}  " + "  ".join(f"{cell:>16}" for cell in cells), flush=True)


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="fewer runs, up to 200 parts")
    quick = parser.parse_args().quick
    runs = 3 if quick else 7
    with tempfile.TemporaryDirectory() as folder:
        for words in (["check", str(SAMPLE)], ["packet", str(SAMPLE), "--to", f"{folder}/p.pdf"], ["--help"]):
            seconds, memory = cold(words, runs)
            print(f"{words[0]:>8}: {spread(seconds)}  (so far at most {memory:.0f} MB)")
        moves(quick, folder)
    grow(quick)


if __name__ == "__main__":
    main()
