"""The turn that jobs are done in: jobs as tasks, what somebody wishes of the order, and what that costs."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from storystick.ground.finding import NOWHERE, Finding, Grade
from storystick.ground.source import practice
from storystick.model.work import Reckoned, Stage, Wish
from storystick.shop.shop import Shop
from storystick.work.jobs import RANK, Job
from storystick.work.order import ROUNDS, Found, Jobs, Shopday, Task, best_order
from storystick.work.order.task import closure
from storystick.work.standing import place, stands
from storystick.work.telling import entitled

FINISHING = "finishing"
WHERE = {Stage.MEASURE: "site", Stage.INSTALL: "site", Stage.BREAK_DOWN: "floor", Stage.FINISH: FINISHING}
BY_TIMES = practice("the table of times: put your own into the shop file")


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
        (place(where, "finish coat" if where == FINISHING else "change place", job.laid_out), *set_for),
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
        tasks, found = _granted(jobs, tasks, found, wish, rounds, findings)
    return Turn(tasks, found, tuple(findings))


def _granted(
    jobs: Sequence[Job], tasks: Jobs, found: Found, wish: Wish, rounds: int, findings: list[Finding]
) -> tuple[Jobs, Found]:
    """The tasks with a wish kept, where it can be and is worth it; what it costs is told."""
    firsts, thens = ([job.key for job in jobs if _has(job, words)] for words in (wish.first, wish.then))
    said = f'"{wish.first}" before "{wish.then}"'
    if not firsts or not thens:
        which = wish.first if not firsts else wish.then
        findings.append(_told("no-such-step", Grade.CARE, f'No step has the words "{which}" in its title.'))
        return tasks, found
    above = closure(tasks)
    for first in firsts:
        for then in thens:
            if above[tasks.number[first]] >> tasks.number[then] & 1 or first == then:
                names = [entitled([job]) for job in jobs if job.key in (first, then)]
                says = (
                    f"{said} can't be: {names[0]!r} has to wait for {names[-1]!r}."
                    if then != first
                    else f"{said} names one step twice."
                )
                findings.append(_told("order-cant-be", Grade.CARE, says))
                return tasks, found
    wished = Jobs(tuple(replace(t, after=(*t.after, *firsts)) if t.key in thens else t for t in tasks.tasks), tasks.day)
    kept = best_order(wished, rounds)
    more_set = kept.played.set_up - found.played.set_up
    later = kept.played.end - found.played.end
    cost = kept.played.cost - found.played.cost
    price = f"{_minutes(more_set, 'more', 'less')} setting up, and the end comes {_minutes(later, 'later', 'sooner')}"
    if not wish.firm and cost > wish.worth:
        findings.append(_told("order-wish", Grade.NOTE, f"{said} is not kept: it would cost {price}."))
        return tasks, found
    findings.append(_told("order-wish", Grade.NOTE, f"{said} is kept: it costs {price}."))
    return wished, kept


def _has(job: Job, words: str) -> bool:
    return " ".join(words.casefold().split()) in entitled([job]).casefold()


def _minutes(more: float, word: str, other: str) -> str:
    return f"{abs(round(more))} min {word if more >= 0 else other}"


def _told(code: str, grade: Grade, says: str) -> Finding:
    return Finding(code, grade, NOWHERE, says, "", BY_TIMES)


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
