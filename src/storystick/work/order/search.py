"""Looking for a good order: several plain rules to begin with, then moving tasks about as long as it gets better.

Nothing is left to chance: which move is tried next follows from its number, so that the same jobs give the same order
everywhere. How long is looked is counted in moves, never in seconds.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from storystick.work.order.bound import Least, least
from storystick.work.order.play import LONG, SPLIT, Played, finish, play, room
from storystick.work.order.task import Jobs

ROUNDS = 4000
WEIGHT = 500_000
"""Moves times tasks that a search may take: about a second for 150 tasks."""
GOLD = 0.6180339887498949
BLOCK = 8
FAR = 1000.0
WARM = 12.0
"""How many minutes worse an order may be at first and still be gone on from."""


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
    best = min(starts, key=lambda order: play(jobs, order).lure)
    if rounds and len(best) > 2:
        best = _better(jobs, best, min(rounds, max(100, WEIGHT // len(best))))
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


def _better(jobs: Jobs, start: Sequence[int], moves: int) -> tuple[int, ...]:
    """Runs of tasks moved to other places; worse is accepted within a limit that shrinks to nothing."""
    order, cost = list(start), play(jobs, start).lure
    best, best_cost = list(order), cost
    count = len(order)
    place = [0] * count
    for p, n in enumerate(order):
        place[n] = p
    for move in range(moves):
        at = int(_weyl(move, 1) * count)
        size = 1 + int(_weyl(move, 2) ** 2 * min(BLOCK, count - at))
        low, high = _room(jobs, order, place, at, size)
        span = high - low
        if span <= 0:
            continue
        to = low + int(_weyl(move, 3) * span)
        to += to >= at  # never where it is already
        trial = order[:at] + order[at + size :]
        trial[to:to] = order[at : at + size]
        limit = WARM * (1 - move / moves) ** 2 * (0.2 + _weyl(move, 5))
        tried = play(jobs, trial, cost + limit).lure
        if tried <= cost + limit:
            order, cost = trial, tried
            for p in range(min(at, to), max(at, to) + size):
                place[order[p]] = p
            if cost < best_cost - 1e-9:
                best, best_cost = list(order), cost
        elif move and move % max(200, moves // 6) == 0 and cost > best_cost:
            order, cost = list(best), best_cost
            for p, n in enumerate(order):
                place[n] = p
    return tuple(best)


def _weyl(move: int, turn: int) -> float:
    """A number from 0 to 1 that follows from the number of the move; many of them are spread evenly."""
    value = (move + 1) * GOLD * (turn + 0.31830988618379067 * turn * turn)
    return value - int(value)


def _room(jobs: Jobs, order: Sequence[int], place: Sequence[int], at: int, size: int) -> tuple[int, int]:
    """Between which places (in the order without it) a run may go: behind all it waits for, before all that wait."""
    low, high = 0, len(order) - size
    last = at + size
    for p in range(at, last):
        for b in jobs.before[order[p]]:
            if place[b] < at:
                low = max(low, place[b] + 1)
        for b in jobs.behind[order[p]]:
            if place[b] >= last:
                high = min(high, place[b] - size)
    return low, high
