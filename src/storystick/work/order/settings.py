"""The least minutes in which one machine can be set for all its tasks, whatever their order."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from storystick.work.order.task import Jobs, Stand


def least_of(jobs: Jobs, machine: int, above: list[int]) -> float:
    """Least minutes of setting one machine up: what a chain of tasks forces, and all other settings at least once each.

    Valid because no setting off the chain is one on it, and each stretch of the chain is reckoned from how the last
    task left the machine.
    """
    needs = _Needs(jobs, machine)
    if not needs.tasks:
        return 0.0
    if jobs.day.hands > 1 and machine == jobs.place:  # one may keep for the next what another had to leave
        return needs.minutes(needs.all)
    chains = (
        value + needs.minutes(needs.all & ~met) for rest in (0, needs.all) for value, met in _chains(needs, above, rest)
    )
    return max(needs.entered_at_all(), *chains)


def _chains(needs: "_Needs", above: list[int], rest: int) -> list[tuple[float, int]]:
    """For each task the dearest chain found that ends in it: its minutes, and everything that is set on its way.

    rest  settings that count for a chain that leaves them out, as each has to be made at least once
    """
    count = len(needs.tasks)
    near = _near(needs.tasks, above)
    best = [(needs.first(m), needs.events[m]) for m in range(count)]
    for a in range(count):
        value, met = best[a]  # final by now: all that comes before it has been looked at
        met_on: dict[int, tuple[int, int]] = {a: (0, 0)}  # by task behind it: what is set, and stood at, in between
        for m in range(a + 1, count):
            ways = [k for k in near[m] if k in met_on]
            if not ways:
                continue
            events = stands = 0
            for k in ways:
                some, stood = met_on[k]
                events |= some | (needs.events[k] if k != a else 0)
                stands |= stood | (needs.stands[k] if k != a else 0)
            met_on[m] = events, stands
            along = value + needs.between(a, m, events, stands)
            seen = met | events | needs.events[m]
            if along + needs.minutes(rest & ~seen) > best[m][0] + needs.minutes(rest & ~best[m][1]):
                best[m] = along, seen
    return best


def _near(tasks: Sequence[int], above: list[int]) -> list[list[int]]:
    """For each of some tasks, by place, those of them that it follows with none of them in between."""
    found = []
    before: list[int] = []  # as masks of places
    for m, n in enumerate(tasks):
        there = [k for k in range(m) if above[n] >> tasks[k] & 1]
        further = 0
        for k in there:
            further |= before[k]
        before.append(sum(1 << k for k in there))
        found.append([k for k in there if not further >> k & 1])
    return found


class _Needs:
    """What the tasks of one machine want set: settings and stands as the bits of numbers."""

    def __init__(self, jobs: Jobs, machine: int) -> None:
        name = jobs.machines[machine]
        self.tasks = [n for n in jobs.in_line if any(run[0] == machine for run in jobs.runs[n])]
        self.dear = dearness(jobs, self.tasks, name)
        self.bit = {event: 1 << at for at, event in enumerate(self.dear)}
        self.worth = list(self.dear.values())
        self.sums: dict[int, float] = {}
        places: dict[Stand, int] = {}
        self.own = [[one for one in jobs.tasks[n].stands if one.machine == name] for n in self.tasks]
        for some in self.own:
            for one in some:
                places.setdefault(one, len(places))
        self.place = places
        self.set = [self._bits(one) for one in places]  # by stand: all that is set for it
        self.tool = [self.bit[(one.tool,)] for one in places]
        self.runs = [[places[one] for one in some] for some in self.own]
        self.events = [self._union(self.set[k] for k in run) for run in self.runs]
        self.stands = [self._union(1 << k for k in run) for run in self.runs]
        self.all, self.every = self._union(self.events), self._union(self.stands)
        self.enter = [self._enters(k) for k in range(len(places))]

    def _enters(self, k: int) -> float:
        """The least minutes in which the machine comes to stand so, the tool put in already."""
        same = [self.set[a] for a in range(len(self.set)) if a != k and self.tool[a] == self.tool[k]]
        return min((self.minutes(self.set[k] & ~there) for there in same), default=self._marks(k))

    def _marks(self, k: int) -> float:
        return self.minutes(self.set[k] & ~self.tool[k])

    def _bits(self, one: Stand) -> int:
        return self._union([self.bit[(one.tool,)], *(self.bit[one.tool, name, value] for name, value, _ in one.marks)])

    @staticmethod
    def _union(some: Iterable[int]) -> int:
        found = 0
        for one in some:
            found |= one
        return found

    def minutes(self, events: int) -> float:
        """The least minutes in which some settings are set once each."""
        if events not in self.sums:
            self.sums[events] = sum(worth for at, worth in enumerate(self.worth) if events >> at & 1)
        return self.sums[events]

    def change(self, a: int, b: int) -> float:
        """The least minutes from one stand to another."""
        return self.minutes(self.set[b] if self.tool[a] != self.tool[b] else self.set[b] & ~self.set[a])

    def within(self, m: int) -> float:
        """The least minutes of the changes within a task."""
        return sum(self.change(a, b) for a, b in pairwise(self.runs[m]))

    def first(self, m: int) -> float:
        """The least minutes until the machine has stood for a task and no other."""
        return self.minutes(self.set[self.runs[m][0]]) + self.within(m)

    def between(self, a: int, m: int, events: int, stands: int) -> float:
        """The least minutes from the end of one task to the end of another, with all that has to be done in between."""
        left, first = self.runs[a][-1], self.runs[m][0]
        straight = self.change(left, first) + self.within(m)
        if not stands:
            return straight
        held = self.set[left]
        needed = (events | self.events[m]) & ~held
        tools = events & self._union(self.tool) & ~self.tool[left]
        if tools and self.tool[first] == self.tool[left]:  # another tool was in meanwhile: all is set anew
            needed |= self.set[first]
        return max(straight, self.minutes(needed), self.entered(stands | self.stands[m], left))

    def entered(self, stands: int, left: int) -> float:
        """The least minutes in which the machine comes to stand in some ways, when it was left in another.

        Each way is come to at least once, and each other tool put in; nothing but what these ways have set is counted.
        """
        some = [k for k in range(len(self.set)) if stands >> k & 1 and k != left]
        tools = {self.tool[k] for k in some} - {self.tool[left]}
        return sum(self.enter[k] for k in some) + self.minutes(self._union(tools))

    def entered_at_all(self) -> float:
        """The least minutes in which it comes to stand in every way: the first with each tool is set from nothing."""
        first: dict[int, float] = {}
        for k, tool in enumerate(self.tool):
            more = self.minutes(self.set[k]) - self.enter[k]
            first[tool] = min(more, first.get(tool, more))
        return sum(self.enter) + sum(first.values())


def dearness(jobs: Jobs, tasks: Sequence[int], machine: str) -> dict[tuple[str, ...], float]:
    """Everything that has to be set on a machine for some tasks, with the least that any of them takes to set it."""
    found: dict[tuple[str, ...], float] = {}
    for n in tasks:
        for event, minutes in events_of(jobs, n, machine).items():
            found[event] = min(minutes, found.get(event, minutes))
    return found


def events_of(jobs: Jobs, task: int, machine: str) -> dict[tuple[str, ...], float]:
    """Everything that has to be set once for a task on a machine, with the least minutes that it takes for it."""
    found: dict[tuple[str, ...], float] = {}
    for one in jobs.tasks[task].stands:
        if one.machine == machine:
            for event, minutes in (((one.tool,), one.tool_minutes), *(((one.tool, n, v), m) for n, v, m in one.marks)):
                found[event] = min(minutes, found.get(event, minutes))
    return found
