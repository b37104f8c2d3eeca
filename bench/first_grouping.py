"""The greedy grouping that this project began with, kept to measure by: what its first order of work did, and no more.

1. Every cut is made in the way that is best for it alone, whatever is in the machine already.
2. Sheets are cut stock by stock, what is cut to fit with everything else, a little large; it is cut again, to what was
   measured, after the dry fit.
3. What is made at one set-up is one job. Of the jobs that can be begun the earliest stage comes first, then as listed;
   while glue sets, whatever else can be begun. It looks no further ahead than the next job.
4. Troughs in an edging are cut before it is glued on.
5. Outsides are sanded and coated when the last glue has set, everything together.

It is replayed by the same clock, in the same shop, with the same minutes for the same work as any other order.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from storystick.app.pipeline import Job as Piece
from storystick.ground.dim import Book
from storystick.model.work import Stage
from storystick.work.bench import Bench
from storystick.work.choosing import choose, fits_by_cut, likeness
from storystick.work.jobs import Job
from storystick.work.order import Jobs
from storystick.work.steps import all_jobs

OUTSIDE = "sand outside"


def first_jobs(piece: Piece) -> list[Job]:
    """Everything there is to do, as the first version parted it."""
    build, shop, book = piece.build, piece.shop, Book(pages=dict(piece.build.pages))
    fits = fits_by_cut(build)
    kinds = Counter(likeness(cut, part) for part in build.parts for cut in part.cuts)
    chosen = {}
    for part in build.parts:
        for cut in part.cuts:
            alike = kinds[likeness(cut, part)]
            made, offer, _ = choose(cut, part, build, shop, book, fit=fits.get((part.name, cut.name)), alike=alike)
            chosen[part.name, cut.name] = (made, offer)
    bench = Bench(build, piece.cuttings, shop, book, chosen, piece.sequence, in_one_go=False, keeps_on_sheet=False)
    return list(_finish_last(list(all_jobs(bench, []))))


def _finish_last(jobs: list[Job]) -> Iterator[Job]:
    made = tuple(j.key for j in jobs if j.stage not in (Stage.FINISH, Stage.HARDWARE, Stage.INSTALL))
    for job in jobs:
        yield replace(job, after=(*job.after, *made)) if job.key.startswith(OUTSIDE) else job


def first_order(jobs: Jobs) -> list[int]:
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
