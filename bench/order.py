"""How good the order of work is: the samples against the greedy grouping of the first version, and how it grows.

Run it: .venv/bin/python bench/order.py [--quick]

1. Each sample: minutes of setting up, and hours of work until it is done (nights left out), of the first version's way
   of working and of the order found, both played by the same clock; and what no order of ours could better. What the
   first version did is told in bench/first_grouping.py.
2. Tasks made up at random, 50 to 1,000: seconds, and by what share the order may be worse than the best.
"""

import argparse
import sys
import time
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import median

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "src"))

from first_grouping import first_jobs, first_order  # noqa: E402

from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.ground.dim import Book  # noqa: E402
from storystick.work.bench import Bench  # noqa: E402
from storystick.work.choosing import choose_all  # noqa: E402
from storystick.work.order import Jobs, Shopday, Stand, Task, best_order, play  # noqa: E402
from storystick.work.order.play import worked  # noqa: E402
from storystick.work.running_on import in_one_setting  # noqa: E402
from storystick.work.steps import all_jobs  # noqa: E402
from storystick.work.turns import day_of, in_turn, task_of  # noqa: E402


def samples() -> None:
    """The samples, each as the first version did it and as it is done now."""
    saved: list[tuple[float, float]] = []
    for path in sorted((ROOT / "samples").glob("*.yaml")):
        job = Job(Texts(path.read_text("utf-8"), path.name))
        if job.resolved.made is None or path.stem == "mistakes":
            continue
        first = Jobs(tuple(task_of(one) for one in first_jobs(job)), day_of(job.shop))
        was = play(first, first_order(first))
        book = Book(pages=dict(job.build.pages))
        chosen, _ = choose_all(job.build, job.shop, book)
        bench = Bench(job.build, job.cuttings, job.shop, book, chosen, job.sequence)
        todo = list(all_jobs(replace(bench, chosen=in_one_setting(bench)), []))
        start = time.process_time()
        turn = in_turn(todo, job.shop)
        took, found, least = time.process_time() - start, turn.found.played, turn.found.least
        hours = [worked(turn.tasks, moment) / 60 for moment in (was.end, found.end, least.end)]
        saved.append((1 - found.set_up / was.set_up, 1 - hours[1] / hours[0]))
        most = 1 - least.set_up / was.set_up, 1 - hours[2] / hours[0]
        print(
            f"{path.stem}: {len(todo)} tasks, {took:.2f} s; setting up {was.set_up:.0f} min at first,"
            f" {found.set_up:.0f} now ({saved[-1][0]:.0%} less; none under {least.set_up:.0f}, {most[0]:.0%});"
            f" done after {hours[0]:.1f} h of work at first, {hours[1]:.1f} now ({saved[-1][1]:.0%} less; none before"
            f" {hours[2]:.1f}, {most[1]:.0%}); gap {turn.found.gap:.1%}",
            flush=True,
        )
    by = [median(one) for one in zip(*saved, strict=True)]
    print(f"in the median {by[0]:.0%} less setting up, done {by[1]:.0%} sooner", flush=True)


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
        took, begun = time.process_time() - start, play(jobs, first_order(jobs)).cost
        under = 1 - found.played.cost / begun
        print(f"{count:>5} tasks: {took:6.2f} s, {under:.1%} under the plain order, gap {found.gap:.1%}")


if __name__ == "__main__":
    main()
