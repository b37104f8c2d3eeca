"""How good the order of work is: the samples against the plain grouping by stage, and how the search grows.

Run it: .venv/bin/python bench/order.py [--quick]

1. Each sample: minutes of setting machines (going from one to another left out) and the moment when it is done, of
   the order found and of the plain one: the earliest stage first, then as listed, glue time filled. Same tasks.
2. Tasks made up at random, 50 to 1,000: seconds, and by what share the order may be worse than the best.
"""

import argparse
import sys
import time
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "src"))

from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.ground.dim import Book  # noqa: E402
from storystick.work.bench import Bench  # noqa: E402
from storystick.work.choosing import choose_all  # noqa: E402
from storystick.work.order import Jobs, Shopday, Stand, Task, best_order, least, play  # noqa: E402
from storystick.work.steps import all_jobs  # noqa: E402
from storystick.work.turns import in_turn  # noqa: E402


def plain(jobs: Jobs) -> list[int]:
    """Of what can be begun now the earliest stage, then as listed; else what can be begun first."""
    left, clock = list(range(len(jobs.tasks))), 0.0
    free: dict[int, float] = {}
    order: list[int] = []
    while left:
        ready = [n for n in left if all(b in free for b in jobs.before[n])]
        begin = {n: max((free[b] for b in jobs.before[n]), default=0.0) for n in ready}
        now = [n for n in ready if begin[n] <= clock]
        n = min(now or ready, key=lambda n: ((0.0 if now else begin[n]), jobs.tasks[n].rank, n))
        clock = max(clock, begin[n]) + jobs.tasks[n].minutes
        free[n] = clock + jobs.tasks[n].waits
        left.remove(n)
        order.append(n)
    return order


def settings(jobs: Jobs, order: Sequence[int]) -> float:
    """Minutes of setting machines alone."""
    return play(bare(jobs), order).set_up


def bare(jobs: Jobs) -> Jobs:
    """The same tasks, with nothing reckoned for going from place to place."""
    tasks = (replace(t, stands=tuple(s for s in t.stands if s.machine != "place")) for t in jobs.tasks)
    return Jobs(tuple(tasks), jobs.day)


def days(moment: float) -> str:
    """On which day, after how many hours."""
    return f"day {int(moment // 1440) + 1}, {moment % 1440 / 60:.1f} h"


def samples() -> None:
    """The samples, each with both orders."""
    for path in sorted((ROOT / "samples").glob("*.yaml")):
        job = Job(Texts(path.read_text("utf-8"), path.name))
        if job.resolved.made is None or path.stem == "mistakes":
            continue
        book = Book(pages=dict(job.build.pages))
        chosen, _ = choose_all(job.build, job.shop, book)
        todo = list(all_jobs(Bench(job.build, job.cuttings, job.shop, book, chosen, job.sequence), []))
        start = time.process_time()
        turn = in_turn(todo, job.shop)
        took = time.process_time() - start
        by_stage, found = plain(turn.tasks), turn.found
        print(
            f"{path.stem}: {len(todo)} tasks, {took:.2f} s; by stage {settings(turn.tasks, by_stage):.0f} min of"
            f" setting, done {days(play(turn.tasks, by_stage).end)}; found {settings(turn.tasks, found.order):.0f} min,"
            f" none under {least(bare(turn.tasks)).set_up:.0f}, done {days(found.played.end)}, none before"
            f" {days(found.least.end)}; gap {found.gap:.1%}",
            flush=True,
        )


def made_up(count: int) -> Jobs:
    """Tasks at random: three machines, some glue."""
    dice = Random(count)
    tasks = []
    for n in range(count):
        after = tuple({f"t{dice.randrange(max(0, n - 25), n)}" for _ in range(dice.choice((0, 1, 1, 2)))}) if n else ()
        machine = dice.choice(("saw", "router", "drill", "bench"))
        marks = (("x", str(dice.randrange(4)), 2.0), ("y", str(dice.randrange(3)), 2.0))
        stands = () if machine == "bench" else (Stand(machine, dice.choice("abc"), 3.0, marks),)
        glued = machine == "bench" and dice.random() < 0.4
        waits = dice.choice((30.0, 45.0, 180.0)) if glued else 0.0
        hands = float(dice.randrange(3, 15))
        tasks.append(Task(f"t{n}", hands, waits, after, stands, 4 if glued else 0, bench=glued, whole=glued))
    return Jobs(tuple(tasks), Shopday(clamps=((tasks[0].opening, 8),)))


def main() -> None:
    """Print both."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="up to 150 tasks")
    quick = parser.parse_args().quick
    samples()
    for count in (50, 150) if quick else (50, 150, 400, 1000):
        jobs = made_up(count)
        start = time.process_time()
        found = best_order(jobs)
        took, begun = time.process_time() - start, play(jobs, plain(jobs)).cost
        under = 1 - found.played.cost / begun
        print(f"{count:>5} tasks: {took:6.2f} s, {under:.1%} under the plain order, gap {found.gap:.1%}")


if __name__ == "__main__":
    main()
