"""What no order can better: a lower bound for the time until all is done, and for the minutes of setting up."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from storystick.work.order.play import SETTING, finish, worked
from storystick.work.order.settings import events_of, least_of
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
    set_up = sum(least_of(jobs, machine, above) for machine in range(len(jobs.machines)))
    end = _end(jobs, above, set_up)
    return Least(end, set_up, worked(jobs, end) + SETTING * set_up)


def _end(jobs: Jobs, above: list[int], set_up: float) -> float:
    """No order is done before this moment: the first for which the hands could still meet every latest moment."""
    if not jobs.tasks:
        return 0.0
    settings = _settings(jobs)
    heads = _heads(jobs, above, settings)
    day, hands = jobs.day.minutes, max(1, jobs.day.hands)
    own = sum(task.minutes for task in jobs.tasks)
    low = max(finish(0.0, (own + set_up) / hands, day, False)[1], max(_ready(jobs, n, heads[n]) for n in jobs.in_line))
    if hands > 1:
        return low
    hurry = _Hurry(jobs, heads, _behind(jobs, above, settings), settings, set_up)
    if hurry.can_end(low):
        return low
    high = low + DAY
    while not hurry.can_end(high):
        low, high = high, high + 2 * (high - low)
    while high - low > CLOSE:
        middle = (low + high) / 2
        low, high = (low, middle) if hurry.can_end(middle) else (middle, high)
    return low


@dataclass(frozen=True, slots=True)
class _Setting:
    """Something that has to be set at least once: the least minutes it takes, and the tasks that need it, as a mask."""

    minutes: float
    users: int
    tasks: tuple[int, ...]


def _settings(jobs: Jobs) -> list[_Setting]:
    """Everything that has to be set at least once, on all machines."""
    users: dict[tuple[str, ...], list[int]] = {}
    dear: dict[tuple[str, ...], float] = {}
    for n in jobs.in_line:
        for machine in dict.fromkeys(one.machine for one in jobs.tasks[n].stands):
            for event, minutes in events_of(jobs, n, machine).items():
                key = (machine, *event)
                users.setdefault(key, []).append(n)
                dear[key] = min(minutes, dear.get(key, minutes))
    return [_Setting(dear[key], sum(1 << n for n in some), tuple(some)) for key, some in users.items()]


def _heads(jobs: Jobs, above: list[int], settings: Sequence[_Setting]) -> list[float]:
    """The earliest moment at which each task can begin: after its waits, and after all the work that comes before."""
    heads = [0.0] * len(jobs.tasks)
    own = [task.minutes for task in jobs.tasks]
    for n in jobs.in_line:
        waits = max((_ready(jobs, b, heads[b]) for b in jobs.before[n]), default=0.0)
        before = above[n]
        set_up = sum(one.minutes for one in settings if one.users & before)
        work = (sum(own[b] for b in _numbers(before)) + set_up) / max(1, jobs.day.hands)
        earliest = max(waits, finish(0.0, work, jobs.day.minutes, False)[1])
        heads[n] = finish(earliest, own[n], jobs.day.minutes, jobs.tasks[n].whole)[0]
    return heads


def _behind(jobs: Jobs, above: list[int], settings: Sequence[_Setting]) -> list[float]:
    """For each task the work that can't begin before it is done: all that waits for it, and what only that has set."""
    below = [0] * len(jobs.tasks)
    for n in reversed(jobs.in_line):
        for b in jobs.behind[n]:
            below[n] |= below[b] | 1 << b
    return [
        sum(jobs.tasks[b].minutes for b in _numbers(mask))
        + sum(one.minutes for one in settings if not one.users & ~mask)
        for mask in below
    ]


def _numbers(mask: int) -> Iterator[int]:
    """The numbers of the bits of a mask."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def _ready(jobs: Jobs, n: int, begin: float) -> float:
    """When a task that begins at a moment has set."""
    task = jobs.tasks[n]
    return finish(begin, task.minutes, jobs.day.minutes, task.whole)[1] + task.waits


@dataclass(frozen=True)
class _Hurry:
    """One pair of hands, free to leave anything half done for something more urgent, that wants to be done in time.

    heads, behind  by task: the earliest begin, and the work that waits for it;  set_up  no less is set up in all
    """

    jobs: Jobs
    heads: Sequence[float]
    behind: Sequence[float]
    settings: Sequence[_Setting]
    set_up: float

    def can_end(self, end: float) -> bool:
        """Whether all could be done by `end`: it always could if any real order could.

        The most urgent first is best of all orders that may leave things; each setting is a thing to do by itself,
        before the first task that needs it.
        Source: Horn, Some simple scheduling algorithms, Naval Research Logistics Quarterly 21 (1974) (memory).
        """
        jobs, day, heads = self.jobs, self.jobs.day.minutes, self.heads
        latest, starts = [end] * len(heads), [end] * len(heads)
        for n in reversed(jobs.in_line):
            task = jobs.tasks[n]
            ready = min((starts[b] for b in jobs.behind[n]), default=end)
            if self.behind[n]:
                ready = min(ready, _back(end, self.behind[n], day, False)[1])
            latest[n], starts[n] = _back(ready - task.waits, task.minutes, day, task.whole)
            if starts[n] < heads[n] - CLOSE:
                return False
        work = [(heads[n], latest[n], task.minutes) for n, task in enumerate(jobs.tasks)]
        for one in self.settings:
            work.append((min(heads[n] for n in one.tasks), min(starts[n] for n in one.tasks), one.minutes))
        work.append((0.0, end, max(0.0, self.set_up - sum(one.minutes for one in self.settings))))
        return _most_urgent_first([one for one in work if one[2] > 0], day)


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
