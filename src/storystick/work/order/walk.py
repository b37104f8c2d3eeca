"""One walk from order to order: tasks moved about, worse taken for a while, never a task before what it waits for.

Five moves: all that is made at one setting, or told as one step, is brought together; a run of neighbours goes
elsewhere; a task is pulled ahead, with all that it waits for; a task is put off, with all that waits for it (each by
choice to where its machine stands alike); and what idles is filled up.
"""

from collections.abc import Sequence
from heapq import heappop, heappush
from random import Random

from storystick.work.order.play import finish, room
from storystick.work.order.replay import Replay
from storystick.work.order.task import DAY, Jobs, Task, closure

BLOCK = 8
WARM = 4.0
"""How many minutes worse an order may be at first and still be gone on from."""
WORTH = 1.0
"""Minutes from which it is worth going where something is set already."""
GATHERED, NEIGHBOURS, ALIKE, FILLED = 0.1, 0.4, 0.8, 0.01
"""How often all of one setting is brought together; else, how often a run of neighbours is moved; how often a task goes
to where a machine stands alike; how often idle time is filled."""


def walk(jobs: Jobs, start: Sequence[int], moves: int, seed: int) -> tuple[int, ...]:
    """The best order met in so many moves."""
    way = _Way(jobs, start, seed)
    replay = Replay(jobs, start)
    cost = replay.lure
    best, best_cost = list(start), cost
    for move in range(moves):
        near = way.step()
        if near is None:
            continue
        trial, at = near
        limit = cost + WARM * (1 - move / moves) ** 2 * (0.2 + way.dice())
        tried = replay.tried(trial, at, limit)
        if tried <= limit:
            replay.take()
            way.go(trial)
            cost = tried
            if cost < best_cost - 1e-9:
                best, best_cost = trial, cost
        elif move and move % max(200, moves // 6) == 0 and cost > best_cost:
            way.go(best)
            replay.go(best)
            cost = best_cost
    return tuple(best)


class _Way:
    """Where a walk stands, and the steps it can take."""

    def __init__(self, jobs: Jobs, start: Sequence[int], seed: int) -> None:
        self.jobs, self.dice = jobs, Random(seed).random
        self.order: list[int] = []
        self.place = [0] * len(start)
        self.above = closure(jobs)
        self.below = [0] * len(start)
        for n in reversed(jobs.in_line):
            for b in jobs.behind[n]:
                self.below[n] |= self.below[b] | 1 << b
        groups: dict[tuple[str, ...], list[int]] = {}
        for n, task in enumerate(jobs.tasks):
            for key in (*_shared(task), ("kin", task.kin or task.key)):
                groups.setdefault(key, []).append(n)
        self.alike = [[m for key in _shared(task) for m in groups[key]] for task in jobs.tasks]
        self.bands = [
            [groups[key] for key in (*_shared(task), ("kin", task.kin or task.key)) if len(groups[key]) > 1]
            for task in jobs.tasks
        ]
        self.go(start)

    def go(self, order: Sequence[int]) -> None:
        """Stand at an order."""
        self.order = list(order)
        for p, n in enumerate(self.order):
            self.place[n] = p

    def step(self) -> tuple[list[int], int] | None:
        """An order near by that keeps to what waits for what, and from where on it is new; None where there is none."""
        at = int(self.dice() * len(self.order))
        if self.dice() < GATHERED:
            near = self._gathered(at)
        else:
            near = self._neighbours(at) if self.dice() < NEIGHBOURS else self._alone(at)
        return (fill_up(self.jobs, near[0]), 0) if near is not None and self.dice() < FILLED else near

    def _gathered(self, at: int) -> tuple[list[int], int] | None:
        """What is set alike for, or is one kin with a task, brought to it: from ahead, from behind, or from both."""
        order, n = self.order, self.order[at]
        bands = self.bands[n]
        if not bands:
            return None
        band = bands[int(self.dice() * len(bands))]
        side = self.dice()
        ahead = [p for m in band if (p := self.place[m]) < at] if side < 0.7 else []
        behind = [p for m in band if (p := self.place[m]) > at] if side > 0.3 else []
        first, last = min(ahead, default=at), max(behind, default=at)
        pushed = pulled = 0
        for p in ahead:
            pushed |= 1 << order[p] | self.below[order[p]]
        for p in behind:
            pulled |= 1 << order[p] | self.above[order[p]]
        before, after = order[first:at], order[at + 1 : last + 1]
        trial = order[:first]
        trial += [m for m in before if not pushed >> m & 1]
        trial += [m for m in before if pushed >> m & 1]
        trial.append(n)
        trial += [m for m in after if pulled >> m & 1]
        trial += [m for m in after if not pulled >> m & 1]
        trial += order[last + 1 :]
        return (trial, first) if trial != order else None

    def _neighbours(self, at: int) -> tuple[list[int], int] | None:
        order = self.order
        size = 1 + int(self.dice() ** 2 * min(BLOCK, len(order) - at))
        low, high = self._room(at, size)
        if high <= low:
            return None
        to = low + int(self.dice() * (high - low))
        to += to >= at  # never where it is already
        trial = order[:at] + order[at + size :]
        trial[to:to] = order[at : at + size]
        return trial, min(at, to)

    def _room(self, at: int, size: int) -> tuple[int, int]:
        """Between which places, in the order without it, a run may go: behind what it waits for, before what waits."""
        low, high = 0, len(self.order) - size
        last = at + size
        for n in self.order[at:last]:
            for b in self.jobs.before[n]:
                if self.place[b] < at:
                    low = max(low, self.place[b] + 1)
            for b in self.jobs.behind[n]:
                if self.place[b] >= last:
                    high = min(high, self.place[b] - size)
        return low, high

    def _alone(self, at: int) -> tuple[list[int], int] | None:
        """A task pulled ahead with what it waits for, or put off with what waits for it."""
        order, n = self.order, self.order[at]
        alike = self.alike[n]
        to = int(self.dice() * len(order))
        if alike and self.dice() < ALIKE:
            to = self.place[alike[int(self.dice() * len(alike))]]
            to += to < at
        if to < at:
            mask, between = self.above[n], order[to:at]
            along = [m for m in between if mask >> m & 1]
            left = [m for m in between if not mask >> m & 1]
            return (order[:to] + along + [n] + left + order[at + 1 :], to) if left else None
        mask, between = self.below[n], order[at + 1 : to + 1]
        along = [m for m in between if mask >> m & 1]
        left = [m for m in between if not mask >> m & 1]
        return (order[:at] + left + [n] + along + order[to + 1 :], at) if left else None


def _shared(task: Task) -> tuple[tuple[str, ...], ...]:
    """What a task has set that is worth sharing with others, each once, in the order in which it is set."""
    found: list[tuple[str, ...]] = []
    for one in task.stands:
        if one.tool_minutes >= WORTH:
            found.append((one.machine, one.tool))
        found += [(one.machine, one.tool, name, value) for name, value, minutes in one.marks if minutes >= WORTH]
    return tuple(dict.fromkeys(found))


def fill_up(jobs: Jobs, order: Sequence[int]) -> list[int]:
    """The order again, but where its next task would have to wait, the first that need not is done meanwhile."""
    rank = {n: p for p, n in enumerate(order)}
    left = [len(b) for b in jobs.before]
    free = [0.0] * len(left)
    now = [(rank[n], n) for n in order if not left[n]]
    later: list[tuple[float, int, int]] = []
    stands = [-1] * len(jobs.machines)
    held: list[tuple[float, int]] = []
    found: list[int] = []
    clock, day = 0.0, jobs.day.minutes
    while now or later:
        while later and later[0][0] <= clock:
            _, p, n = heappop(later)
            heappush(now, (p, n))
        if not now:
            clock = later[0][0]
            continue
        p, n = heappop(now)
        minutes, waits, _, runs, whole, takes_room, _, _ = jobs.table[n]
        change = sum(jobs.changes[stands[m]][first] + within for m, first, _, within in runs)
        at = room(jobs, n, clock, held) if takes_room else clock
        begin, end = finish(at, minutes + change, day, whole)
        if (at > clock or (begin > at and at % DAY < day)) and (now or later):
            heappush(later, (begin, p, n))
            continue
        for m, _, then, _ in runs:
            stands[m] = then
        clock, free[n] = end, end + waits
        found.append(n)
        if takes_room:
            held.append((free[n], n))
        for b in jobs.behind[n]:
            left[b] -= 1
            if not left[b]:
                moment = max(free[a] for a in jobs.before[b])
                heappush(later, (moment, rank[b], b))
    return found
