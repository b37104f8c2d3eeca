"""What an order is made of: tasks, how machines have to stand for them, and the shop's day, clamps and benches."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from storystick.ground.finding import Broken

DAY = 1440.0
PLACE = "place"
"""Stands of this name are a person's, not a machine's: with a helper there are two of them."""


@dataclass(frozen=True, slots=True)
class Stand:
    """How a machine has to stand: the tool in it and what is set, each mark a name and a value, with its minutes.

    Two stands of one machine with the same tool and an equal mark share that setting. Putting another tool in loses
    every setting; a setting that a stand does not name is not kept for later.
    """

    machine: str
    tool: str
    tool_minutes: float
    marks: tuple[tuple[str, str, float], ...] = ()  # name, value, minutes to set and to prove it

    def change_to(self, other: "Stand") -> float:
        """Minutes from standing like this to standing like `other`. Keeps the triangle inequality."""
        if self.tool != other.tool:
            return other.from_nothing
        held = {(name, value) for name, value, _ in self.marks}
        return sum(minutes for name, value, minutes in other.marks if (name, value) not in held)

    @property
    def from_nothing(self) -> float:
        """Minutes to set all of it."""
        return self.tool_minutes + sum(minutes for _, _, minutes in self.marks)


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do.

    minutes  hands on it, without setting up;  waits  until glue or finish has set: what comes `after` begins then
    after    keys of what must be done, and have set, first
    stands   how machines stand for it, one after the other
    clamps   how many, opening at least so far [mm], held until it has set;  bench  it takes up a bench until it has set
    whole    begun, it can't be left for the next day
    rank     its place by habit: decides where nothing else does
    kin      tasks of one kin that follow one another are one thing to whoever does them
    """

    key: str
    minutes: float
    waits: float = 0.0
    after: tuple[str, ...] = ()
    stands: tuple[Stand, ...] = ()
    clamps: int = 0
    opening: Fraction = Fraction(0)
    bench: bool = False
    whole: bool = False
    rank: int = 0
    kin: str = ""


@dataclass(frozen=True, slots=True)
class Shopday:
    """What the shop has: minutes worked in a day, benches for what has to stand, clamps as (opening, count)."""

    minutes: float = 480.0
    benches: int = 3
    clamps: tuple[tuple[Fraction, int], ...] = ()
    hands: int = 1


type Run = tuple[int, int, int, float]
type Row = tuple[float, float, tuple[int, ...], tuple[Run, ...], bool, bool, int, int]


@dataclass(frozen=True, eq=False)
class Jobs:
    """All tasks of a piece, made ready: their numbers, what waits for what, and what it costs to change over."""

    tasks: tuple[Task, ...]
    day: Shopday = field(default_factory=Shopday)

    def __post_init__(self) -> None:
        """Raises Broken where two tasks have one key, or tasks wait for one another."""
        if len(self.number) != len(self.tasks):
            raise Broken("two jobs have one key")
        if len(self.in_line) != len(self.tasks):
            left = [t.key for n, t in enumerate(self.tasks) if n not in set(self.in_line)]
            raise Broken("jobs wait for one another", left)

    @cached_property
    def number(self) -> dict[str, int]:
        """The number of each task, by key."""
        return {task.key: n for n, task in enumerate(self.tasks)}

    @cached_property
    def before(self) -> tuple[tuple[int, ...], ...]:
        """For each task the numbers of those that it waits for; keys of nothing known are left out."""
        of = self.number
        return tuple(
            tuple(sorted({of[key] for key in task.after if key in of and of[key] != n}))
            for n, task in enumerate(self.tasks)
        )

    @cached_property
    def behind(self) -> tuple[tuple[int, ...], ...]:
        """For each task the numbers of those that wait for it."""
        found: list[list[int]] = [[] for _ in self.tasks]
        for n, before in enumerate(self.before):
            for b in before:
                found[b].append(n)
        return tuple(tuple(one) for one in found)

    @cached_property
    def in_line(self) -> tuple[int, ...]:
        """Some order that keeps to what waits for what, by habit; short of those that wait for one another."""
        waits = [len(b) for b in self.before]
        ready = [n for n, count in enumerate(waits) if not count]
        found: list[int] = []
        while ready:
            ready.sort(key=lambda n: (self.tasks[n].rank, n), reverse=True)
            now = ready.pop()
            found.append(now)
            for later in self.behind[now]:
                waits[later] -= 1
                if not waits[later]:
                    ready.append(later)
        return tuple(found)

    @cached_property
    def machines(self) -> tuple[str, ...]:
        """Every machine that is set for something."""
        return tuple(dict.fromkeys(one.machine for task in self.tasks for one in task.stands))

    @cached_property
    def place(self) -> int:
        """The number of what is not a machine but where a person stands; -1 where nothing says so."""
        return self.machines.index(PLACE) if PLACE in self.machines else -1

    @cached_property
    def stands(self) -> tuple[Stand, ...]:
        """Every way that a machine has to stand, once."""
        return tuple(dict.fromkeys(one for task in self.tasks for one in task.stands))

    @cached_property
    def changes(self) -> tuple[tuple[float, ...], ...]:
        """Minutes from one stand to another of the same machine, by their numbers; the last row is from nothing."""
        rows = [tuple(a.change_to(b) if a.machine == b.machine else 0.0 for b in self.stands) for a in self.stands]
        return (*rows, tuple(one.from_nothing for one in self.stands))

    @cached_property
    def runs(self) -> tuple[tuple[Run, ...], ...]:
        """For each task and each of its machines: machine, first stand, last stand, minutes of changes within it."""
        number = {one: n for n, one in enumerate(self.stands)}
        places = {name: n for n, name in enumerate(self.machines)}
        found = []
        for task in self.tasks:
            by: dict[str, list[int]] = {}
            for one in task.stands:
                by.setdefault(one.machine, []).append(number[one])
            found.append(
                tuple(
                    (places[m], ids[0], ids[-1], sum(self.changes[a][b] for a, b in pairwise(ids)))
                    for m, ids in by.items()
                )
            )
        return tuple(found)

    @cached_property
    def table(self) -> tuple[Row, ...]:
        """The tasks as rows that are quickly read."""
        kin = {name: n for n, name in enumerate(dict.fromkeys(t.kin or t.key for t in self.tasks))}
        return tuple(
            (
                t.minutes,
                t.waits,
                self.before[n],
                self.runs[n],
                t.whole,
                bool(t.clamps or t.bench),
                t.rank,
                kin[t.kin or t.key],
            )
            for n, t in enumerate(self.tasks)
        )

    @cached_property
    def openings(self) -> tuple[tuple[Fraction, int], ...]:
        """Each opening that is asked for, the widest first, with how many clamps open so far."""
        asked = sorted({t.opening for t in self.tasks if t.clamps}, reverse=True)
        return tuple((wide, sum(count for opens, count in self.day.clamps if opens >= wide)) for wide in asked)

    @cached_property
    def widest(self) -> tuple[int, ...]:
        """For each task the place of its opening among all that are asked for."""
        places = {wide: at for at, (wide, _) in enumerate(self.openings)}
        return tuple(places.get(t.opening, 0) for t in self.tasks)

    @cached_property
    def held(self) -> tuple[int, ...]:
        """How many clamps each task really takes: no more than there are that open so far."""
        there = dict(self.openings)
        return tuple(min(t.clamps, there.get(t.opening, 0)) for t in self.tasks)

    @cached_property
    def takes(self) -> tuple[tuple[bool, int, int], ...]:
        """What each task takes of the shop until it has set: a bench or not, and its clamps, by `widest` and `held`."""
        return tuple((t.bench, self.widest[n], self.held[n]) for n, t in enumerate(self.tasks))


def closure(jobs: Jobs) -> list[int]:
    """For each task a mask of all tasks that have to be done before it, at first or second hand."""
    masks = [0] * len(jobs.tasks)
    for n in jobs.in_line:
        for b in jobs.before[n]:
            masks[n] |= masks[b] | 1 << b
    return masks


def keeps_to(jobs: Jobs, order: Sequence[int]) -> bool:
    """Whether an order has every task once, and none before what it waits for."""
    place = {n: p for p, n in enumerate(order)}
    return len(place) == len(order) == len(jobs.tasks) and all(
        place[b] < place[n] for n in range(len(jobs.tasks)) for b in jobs.before[n]
    )
