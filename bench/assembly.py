"""How long the order of putting together takes, and how that grows:  .venv/bin/python bench/assembly.py [--quick]

The main sample, and open cases side by side of 20 to 600 parts; solids already made. Seconds, least of some runs.
"""

import argparse
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from bench.whole import SAMPLE, plan_of  # noqa: E402
from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.assembly import put_together  # noqa: E402


def least(text: str, runs: int) -> tuple[int, int, int, float]:
    """Parts, fasteners, comings and seconds of one plan."""
    job = Job(Texts(text, "plan.yaml"))
    build, scene, shop = job.build, job.scene, job.shop
    seconds = []
    for _ in range(runs):
        scene.parts  # noqa: B018
        start = time.perf_counter()
        order = put_together(build, scene, shop)
        seconds.append(time.perf_counter() - start)
    return len(build.parts), len(build.fasteners), len(order.comings), min(seconds)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="fewer runs, up to 200 parts")
    quick = parser.parse_args().quick
    sizes = (20, 60, 200) if quick else (20, 60, 200, 600)
    plans = [SAMPLE.read_text("utf-8"), *(plan_of(size) for size in sizes)]
    print(f"{'parts':>6} {'fasteners':>10} {'comings':>8} {'seconds':>8}")
    for text in plans:
        parts, fasteners, comings, seconds = least(text, 1 if quick else 3)
        print(f"{parts:>6} {fasteners:>10} {comings:>8} {seconds:8.2f}", flush=True)


if __name__ == "__main__":
    main()
