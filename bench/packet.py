"""How long the packet takes, from the plan's text to the PDF.  Run it: .venv/bin/python bench/packet.py [--big --pages]

In processor seconds, which hold on a busy machine too: each leg of the way, what the second process (app/beside.py)
takes meanwhile, and the longest way through both: that is how long the whole takes where two processors are free. With
--pages also each page by itself; with --big also a piece of about 200 parts.
"""

import argparse
import gc
import os
import sys
import time
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # as the command line does, so that the process can be split
ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "bench")]

from whole import SAMPLE, plan_of  # noqa: E402

from storystick.app.beside import can_split, order_beside  # noqa: E402
from storystick.app.command import SELDOM  # noqa: E402
from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.paper import draw_pages, packet, wait_for_nothing  # noqa: E402
from storystick.paper.blocks import Block  # noqa: E402
from storystick.paper.press import Forme, press  # noqa: E402

clock = time.process_time
type Steps = tuple[dict[str, tuple[Block, ...]], float, float]


def steps(job: Job) -> Steps:
    """The pictures of the steps, and when they were begun and done by the clock of the process that draws them."""
    begun = clock()
    return draw_pages(job.work_folder, pages=("steps",)), begun, clock()


def measure(texts: Texts, start: float) -> None:
    """Print the seconds of each leg, and of the longest way; `start` are those until the tool is there."""
    job = Job(texts)
    _ = job.build
    built, ends = clock(), [0.0, 0.0]
    with order_beside(job, steps) as beside:
        ordered = clock()
        _ = job.findings
        checked = clock()
        first = draw_pages(job.first_folder, pages=wait_for_nothing())
        drawn = clock()
        beside.order_into(job)
        found: Steps = beside.next()

        def printed(forme: Forme) -> bytes:
            ends[0] = clock()
            pdf = press(forme)
            ends[1] = clock()
            return pdf

        size = len(packet(job.folder, drawn={**first, **found[0]}.get, printed=printed))
    order, pictures = (built + moment for moment in found[1:])
    rest = ends[0] - drawn
    whole = max(max(drawn, order) + rest, pictures) + ends[1] - ends[0]
    print(f"{len(job.build.parts)} parts, {size / 1024:.0f} KB")
    print(f"  start {start:.2f} s, build {built:.2f}")
    print(f"  putting together {ordered - built:.2f}, checks {checked - ordered:.2f}")
    print(f"  pages that wait for nothing {drawn - checked:.2f}, the others {rest:.2f}")
    print(f"  meanwhile: layouts and order {found[1]:.2f}, pictures of the steps {found[2] - found[1]:.2f}")
    print(f"  press {ends[1] - ends[0]:.2f}")
    print(f"  the longest way {start + whole:.2f} s", flush=True)


def by_page(texts: Texts) -> None:
    """Print the seconds of each page, all else being known."""
    folder = Job(texts).folder
    moments: list[tuple[str, float]] = []
    packet(folder, tell=lambda name, share: moments.append((name, clock())))
    moments.append(("", clock()))
    for (name, begun), (_, end) in pairwise(moments):
        print(f"  {name:<28} {end - begun:6.2f} s")


def main(words: Sequence[str] | None = None) -> None:
    """The main sample, and a big piece where asked for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--big", action="store_true", help="a piece of about 200 parts too")
    parser.add_argument("--pages", action="store_true", help="each page by itself too")
    asked = parser.parse_args(words)
    gc.set_threshold(*SELDOM)
    if not can_split():
        sys.exit("one processor only, or a system that does not list its threads: nothing runs beside")
    pieces = [Texts(SAMPLE.read_text("utf-8"), SAMPLE.name)]
    pieces += [Texts(plan_of(200), "growth.yaml")] * asked.big
    start = clock()
    for texts in pieces:
        if (child := os.fork()) == 0:  # each in a process of its own, as from the command line
            measure(texts, start)
            if asked.pages:
                by_page(texts)
            os._exit(0)
        os.waitpid(child, 0)


if __name__ == "__main__":
    main()
