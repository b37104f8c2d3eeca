"""What no order can better: a lower bound for the time until all is done, and for the minutes of setting up."""

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import pairwise

from storystick.work.order.play import finish, worked
from storystick.work.order.task import DAY, Jobs, closure

CLOSE = 0.5
"""Moments are told apart to half a minute."""


@dataclass(frozen=True, slots=True)
class Least:
    """No order ends before `end` (minutes from the first morning), sets up in less, or costs less."""

    end: float
    set_up: float
    cost: float


def least(jobs: Jobs) -> Least:
    """Lower bounds.

    Setting up: for each machine its dearest chain of tasks that must follow one another, and every setting off it once.
    The end: the least for which hands that may leave anything half done could meet every task's latest moment.
    """
    above = closure(jobs)
    set_up = sum(_machine(jobs, machine, above) for machine in range(len(jobs.machines)))
    end = _end(jobs, above, set_up)
    return Least(end, set_up, worked(jobs, end) + set_up)


def _machine(jobs: Jobs, machine: int, above: list[int]) -> float:
    """Least minutes of setting one machine up: settings that a chain forces, and all others at least once each.

    Valid because a change over keeps the triangle inequality, and because no setting off the chain is one on it.
    """
    mine = [n for n in jobs.in_line if any(run[0] == machine for run in jobs.runs[n])]
    run_of = {n: next(run for run in jobs.runs[n] if run[0] == machine) for n in mine}
    dear = _dearness(jobs, mine, jobs.machines[machine])
    if jobs.day.hands > 1 and machine == jobs.place:  # one may keep for the next what another had to leave
        return sum(dear.values())
    best: dict[int, tuple[float, int]] = {}  # by task: dearest chain that ends in it, and the task before
    for place, n in enumerate(mine):
        _, first, _, within = run_of[n]
        cost, before = _least_change(jobs, -1, first, dear), -1
        for other in mine[:place]:
            if above[n] >> other & 1:
                along = best[other][0] + _least_change(jobs, run_of[other][2], first, dear)
                if along > cost:
                    cost, before = along, other
        best[n] = (cost + min(within, _within(jobs, n, jobs.machines[machine], dear)), before)
    if not best:
        return 0.0
    at = max(best, key=lambda n: best[n][0])
    total = best[at][0]
    on: set[tuple[str, ...]] = set()
    while at >= 0:
        on |= _events(jobs, at, jobs.machines[machine]).keys()
        at = best[at][1]
    return total + sum(minutes for event, minutes in dear.items() if event not in on)


def _dearness(jobs: Jobs, tasks: Sequence[int], machine: str) -> dict[tuple[str, ...], float]:
    """Everything that has to be set on a machine for some tasks, with the least that any of them takes to set it."""
    found: dict[tuple[str, ...], float] = {}
    for n in tasks:
        for event, minutes in _events(jobs, n, machine).items():
            found[event] = min(minutes, found.get(event, minutes))
    return found


def _least_change(jobs: Jobs, at: int, to: int, dear: dict[tuple[str, ...], float]) -> float:
    """Minutes of a change over by the least that each setting takes anywhere: this keeps the triangle inequality."""
    was, new = jobs.stands[at] if at >= 0 else None, jobs.stands[to]
    held = {(name, value) for name, value, _ in was.marks} if was is not None and was.tool == new.tool else set()
    tool = 0.0 if was is not None and was.tool == new.tool else dear[(new.tool,)]
    return tool + sum(dear[new.tool, name, value] for name, value, _ in new.marks if (name, value) not in held)


def _within(jobs: Jobs, n: int, machine: str, dear: dict[tuple[str, ...], float]) -> float:
    """Minutes of the changes within a task, by the least that each setting takes anywhere."""
    number = {one: at for at, one in enumerate(jobs.stands)}
    stands = [number[one] for one in jobs.tasks[n].stands if one.machine == machine]
    return sum(_least_change(jobs, a, b, dear) for a, b in pairwise(stands))


def _events(jobs: Jobs, n: int, machine: str) -> dict[tuple[str, ...], float]:
    """Everything that has to be set once for a task on a machine, with its minutes."""
    found: dict[tuple[str, ...], float] = {}
    for one in jobs.tasks[n].stands:
        if one.machine == machine:
            found[(one.tool,)] = one.tool_minutes
            for name, value, minutes in one.marks:
                found[one.tool, name, value] = minutes
    return found


def _end(jobs: Jobs, above: list[int], set_up: float) -> float:
    """No order is done before this moment: the first for which the hands could still meet every latest moment."""
    if not jobs.tasks:
        return 0.0
    heads = _heads(jobs, above)
    day, hands = jobs.day.minutes, max(1, jobs.day.hands)
    own = sum(task.minutes for task in jobs.tasks)
    low = max(finish(0.0, (own + set_up) / hands, day, False)[1], max(_ready(jobs, n, heads[n]) for n in jobs.in_line))
    if hands > 1 or _can_end(jobs, heads, set_up, low):
        return low
    high = low + DAY
    while not _can_end(jobs, heads, set_up, high):
        low, high = high, high + 2 * (high - low)
    while high - low > CLOSE:
        middle = (low + high) / 2
        low, high = (low, middle) if _can_end(jobs, heads, set_up, middle) else (middle, high)
    return low


def _heads(jobs: Jobs, above: list[int]) -> list[float]:
    """The earliest moment at which each task can begin: after its waits, and after all the work that comes before."""
    heads = [0.0] * len(jobs.tasks)
    own = [task.minutes for task in jobs.tasks]
    dear: dict[tuple[str, ...], float] = {}
    for machine in jobs.machines:
        found = _dearness(jobs, jobs.in_line, machine)
        dear.update({(machine, *event): minutes for event, minutes in found.items()})
    events = [{e: dear[e] for e in _all_events(jobs, n)} for n in range(len(own))]
    for n in jobs.in_line:
        waits = max((_ready(jobs, b, heads[b]) for b in jobs.before[n]), default=0.0)
        before = [b for b in range(len(own)) if above[n] >> b & 1]
        set_up: dict[tuple[str, ...], float] = {}
        for b in before:
            set_up.update(events[b])
        work = (sum(own[b] for b in before) + sum(set_up.values())) / max(1, jobs.day.hands)
        earliest = max(waits, finish(0.0, work, jobs.day.minutes, False)[1])
        heads[n] = finish(earliest, own[n], jobs.day.minutes, jobs.tasks[n].whole)[0]
    return heads


def _all_events(jobs: Jobs, n: int) -> dict[tuple[str, ...], float]:
    """Everything that has to be set once for a task, on all machines."""
    machines = {one.machine for one in jobs.tasks[n].stands}
    return {(m, *event): minutes for m in machines for event, minutes in _events(jobs, n, m).items()}


def _ready(jobs: Jobs, n: int, begin: float) -> float:
    """When a task that begins at a moment has set."""
    task = jobs.tasks[n]
    return finish(begin, task.minutes, jobs.day.minutes, task.whole)[1] + task.waits


def _can_end(jobs: Jobs, heads: list[float], set_up: float, end: float) -> bool:
    """Whether one pair of hands, free to leave anything for something more urgent, could have all done by `end`.

    It always could if any real order could: the most urgent first is best of all orders that may leave things.
    Source: Horn, Some simple scheduling algorithms, Naval Research Logistics Quarterly 21 (1974) (memory).
    """
    latest = [end] * len(heads)
    starts = [end] * len(heads)
    for n in reversed(jobs.in_line):
        task = jobs.tasks[n]
        ready = min((starts[b] for b in jobs.behind[n]), default=end)
        latest[n], starts[n] = _back(ready - task.waits, task.minutes, jobs.day.minutes, task.whole)
        if starts[n] < heads[n] - CLOSE:
            return False
    work = [*((heads[n], latest[n], task.minutes) for n, task in enumerate(jobs.tasks)), (0.0, end, set_up)]
    return _most_urgent_first(work, jobs.day.minutes)


def _back(moment: float, minutes: float, day: float, whole: bool) -> tuple[float, float]:
    """The latest end and the latest begin of a task that has to be done by a moment."""
    days, rest = divmod(moment, DAY)
    rest = min(rest, day)
    if whole and rest < minutes <= day:
        days, rest = days - 1, day
    last = days * DAY + rest
    while rest < minutes:
        minutes -= rest
        days, rest = days - 1, day
    return last, days * DAY + rest - minutes


def _most_urgent_first(work: list[tuple[float, float, float]], day: float) -> bool:
    """Whether tasks (head, latest end, minutes) can all be done in time by leaving one for a more urgent one."""
    coming = sorted(work)
    ready: list[tuple[float, float]] = []  # latest end, minutes left
    clock, at = 0.0, 0
    while at < len(coming) or ready:
        if not ready:
            clock = max(clock, coming[at][0])
        while at < len(coming) and coming[at][0] <= clock:
            heappush(ready, coming[at][1:])
            at += 1
        days, rest = divmod(clock, DAY)
        if rest >= day:
            clock = (days + 1) * DAY
            continue
        latest, left = heappop(ready)
        stop = days * DAY + day
        if at < len(coming):
            stop = min(stop, coming[at][0])
        spent = min(left, stop - clock)
        clock += spent
        if left - spent > 1e-9:
            heappush(ready, (latest, left - spent))
        elif clock > latest + CLOSE:
            return False
    return True
