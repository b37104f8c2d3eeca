"""The turn that jobs are done in: jobs as tasks, what somebody wishes of the order, and what that costs."""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.ground.finding import Finding
from storystick.model.work import Reckoned, Stage, Wish
from storystick.shop.shop import Shop
from storystick.work.jobs import RANK, Job
from storystick.work.order import ROUNDS, Found, Jobs, Shopday, Task, best_order
from storystick.work.standing import lying_ready, place, stands
from storystick.work.wishes import granted

FINISHING = "finishing"
WHERE = {Stage.MEASURE: "site", Stage.INSTALL: "site", Stage.BREAK_DOWN: "floor", Stage.FINISH: FINISHING}


@dataclass(frozen=True, slots=True)
class Turn:
    """The jobs as tasks, the order found, and what is to be said about wishes."""

    tasks: Jobs
    found: Found
    findings: tuple[Finding, ...] = ()


def task_of(job: Job) -> Task:
    """A job in plain numbers."""
    set_for = stands(job.setups)
    at_machine = bool(set_for) and not job.laid_out
    where = set_for[0].machine if at_machine else ("bench" if job.laid_out else WHERE.get(job.stage, "bench"))
    if at_machine and any(name == "stop" for name, _, _ in set_for[0].marks):
        where += " with its sled"
    return Task(
        job.key,
        job.hands_on,
        float(job.waits),
        job.after,
        (
            place(where, "finish coat" if where == FINISHING else "change place"),
            *lying_ready(job.laid_out),
            *set_for,
        ),
        job.clamps,
        job.opening,
        job.bench and job.waits > 0,
        job.whole,
        RANK[job.stage],
        job.kin,
    )


def day_of(shop: Shop) -> Shopday:
    """The shop's day: hours, benches, clamps and hands, as the shop file says."""
    clamps = tuple((one.opening, one.count) for one in shop.clamps)
    return Shopday(shop.hours * 60.0, shop.benches, clamps, 1 + shop.helpers)


def in_turn(jobs: Sequence[Job], shop: Shop, wishes: Sequence[Wish] = (), rounds: int = ROUNDS) -> Turn:
    """The jobs in the best order found that keeps to what each has to wait for, and to what is wished for.

    Raises Broken where jobs wait for one another of themselves.
    """
    tasks = Jobs(tuple(task_of(job) for job in jobs), day_of(shop))
    found = best_order(tasks, rounds)
    findings: list[Finding] = []
    for wish in wishes:
        tasks, found = granted(jobs, tasks, found, wish, rounds, findings)
    return Turn(tasks, found, tuple(findings))


def reckoned(tasks: Jobs, found: Found) -> Reckoned:
    """What the order comes to, beside what no order can better."""
    hands = sum(task.minutes for task in tasks.tasks) + found.played.set_up
    return Reckoned(
        hands,
        found.played.set_up,
        found.played.end,
        found.least.set_up,
        found.least.end,
        found.gap,
        tasks.day.minutes / 60,
    )
