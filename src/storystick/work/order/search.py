"""Looking for a good order: several plain rules to begin with, then moving tasks about as long as it gets better.

The dice have a fixed seed, and how long is looked is counted in moves, never in seconds: the same jobs give the same
order everywhere.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from storystick.work.order.bound import Least, least
from storystick.work.order.play import LONG, SPLIT, Played, finish, play, room
from storystick.work.order.task import Jobs
from storystick.work.order.walk import walk

ROUNDS = 15_000
WEIGHT = 1_200_000
"""Moves times tasks that a search may take: about a second for 150 tasks."""
STRIDE = 6_000
"""Moves of one walk; what is left over of the moves goes to walks with dice of their own, that leave other corners."""
FAR = 1000.0


@dataclass(frozen=True, slots=True)
class Found:
    """The best order found, what it comes to, and what none can better."""

    order: tuple[int, ...]
    played: Played
    least: Least

    @property
    def gap(self) -> float:
        """By what share the cost may be above the least that is possible."""
        return 0.0 if self.played.cost <= 0 else max(0.0, 1 - self.least.cost / self.played.cost)


def best_order(jobs: Jobs, rounds: int = ROUNDS, given: Sequence[Sequence[int]] = ()) -> Found:
    """The best order found in so many rounds; `given` are orders to begin from beside our own."""
    starts = [tuple(start) for start in given] + beginnings(jobs)
    starts.sort(key=lambda order: play(jobs, order).lure)
    best = starts[0]
    if rounds and len(best) > 2:
        moves = min(rounds, max(100, WEIGHT // len(best)))
        walks = max(1, moves // STRIDE)
        found = [walk(jobs, best, moves // walks, seed) for seed in range(1, walks + 1)]
        best = min(found, key=lambda order: play(jobs, order).lure)
    return Found(best, play(jobs, best), least(jobs))


def beginnings(jobs: Jobs) -> list[tuple[int, ...]]:
    """Orders by plain rules: by habit; the least setting first; what most depends on first; and mixtures of these."""
    tails, near = _tails(jobs), _to_next_wait(jobs)
    rules: list[Callable[[int, float, float], tuple[float, ...]]] = [
        lambda n, idle, change: (idle, jobs.tasks[n].rank, change),
        lambda n, idle, change: (idle, change, -tails[n]),
        lambda n, idle, change: (idle + change - tails[n] / 20,),
        lambda n, idle, change: (idle, change / 2 - tails[n] / 50 + jobs.tasks[n].rank),
        lambda n, idle, change: (idle, -tails[n], change),
        lambda n, idle, change: (idle, -min(jobs.tasks[n].waits, 100.0), change / 2 - tails[n] / 20),
        lambda n, idle, change: (idle - tails[n] / 10 + change,),
        lambda n, idle, change: (idle, near[n]),
        lambda n, idle, change: (idle, near[n] / 4 + change - tails[n] / 20),
    ]
    return list(dict.fromkeys(_by(jobs, rule) for rule in rules))


def _tails(jobs: Jobs) -> list[float]:
    """For each task the longest way from it to the end [min]."""
    tails = [0.0] * len(jobs.tasks)
    for n in reversed(jobs.in_line):
        task = jobs.tasks[n]
        tails[n] = task.minutes + task.waits + max((tails[b] for b in jobs.behind[n]), default=0.0)
    return tails


def _to_next_wait(jobs: Jobs) -> list[float]:
    """For each task the least work from it to something that sets by itself, that with it [min]."""
    near = [0.0] * len(jobs.tasks)
    for n in reversed(jobs.in_line):
        task = jobs.tasks[n]
        further = min((near[b] for b in jobs.behind[n]), default=FAR) if task.waits < LONG else 0.0
        near[n] = task.minutes + further
    return near


def _by(jobs: Jobs, rule: Callable[[int, float, float], tuple[float, ...]]) -> tuple[int, ...]:
    """One task after the other, always the one that the rule puts first of those that can be begun."""
    waits = [len(b) for b in jobs.before]
    ready = [n for n, count in enumerate(waits) if not count]
    free = [0.0] * len(waits)
    stands = [-1] * len(jobs.machines)
    held: list[tuple[float, int]] = []
    order: list[int] = []
    clock = 0.0

    def begin(n: int) -> float:
        earliest = max(clock, max((free[b] for b in jobs.before[n]), default=0.0))
        return room(jobs, n, earliest, held) if jobs.tasks[n].clamps or jobs.tasks[n].bench else earliest

    def rank(n: int) -> tuple[float, ...]:
        change = sum(jobs.changes[stands[m]][first] + within for m, first, _, within in jobs.runs[n])
        if not order or jobs.table[n][-1] != jobs.table[order[-1]][-1]:
            change += SPLIT
        return (*rule(n, begin(n) - clock, change), jobs.tasks[n].rank, n)

    while ready:
        now = min(ready, key=rank)
        ready.remove(now)
        order.append(now)
        task, moment = jobs.tasks[now], begin(now)
        change = 0.0
        for machine, first, then, within in jobs.runs[now]:
            change += jobs.changes[stands[machine]][first] + within
            stands[machine] = then
        clock = finish(moment, task.minutes + change, jobs.day.minutes, task.whole)[1]
        free[now] = clock + task.waits
        if task.clamps or task.bench:
            held.append((free[now], now))
        for later in jobs.behind[now]:
            waits[later] -= 1
            if not waits[later]:
                ready.append(later)
    return tuple(order)
