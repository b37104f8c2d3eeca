"""An order played through: when each task begins and ends, in working days, with so many clamps and benches."""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.work.order.task import DAY, Jobs

HABIT = 0.02
"""Minutes that going back a stage is reckoned to cost: only to choose between orders that are equally quick."""
SPLIT = 1.5
"""Minutes that beginning another thing is reckoned to cost, beside what has to be set: one step more to read."""
SETTING = 2.0
"""Minutes of setting up count so often beside those until all is done: what waits is nobody's work, setting up is
somebody's, and nothing comes of it."""
ENDLESS = 1e9
LONG, EARLY = 100.0, 0.004
"""Waits from so many minutes on are begun early: each minute of work before them is reckoned to cost so much."""


@dataclass(frozen=True, slots=True)
class Played:
    """What an order comes to, by the numbers of the tasks.

    begins, ends  minutes from the first morning, nights and all;  setting  minutes of setting up before each task
    end           when the last has set
    cost          what is made small: minutes of working time until then, and SETTING times those of setting up
    lure          the cost, and a little for habit and for long waits begun late: what the search is led by
    """

    begins: tuple[float, ...]
    ends: tuple[float, ...]
    setting: tuple[float, ...]
    end: float
    cost: float
    lure: float

    @property
    def set_up(self) -> float:
        """All minutes of setting up."""
        return sum(self.setting)


def worked(jobs: Jobs, moment: float) -> float:
    """Minutes of working time up to a moment, with nothing left out but the nights."""
    days, rest = divmod(moment, DAY)
    return days * jobs.day.minutes + min(rest, jobs.day.minutes)


def finish(moment: float, minutes: float, day: float, whole: bool) -> tuple[float, float]:
    """When a task begins and ends that could begin at a moment: not at night, and left over night if it may be."""
    days, rest = divmod(moment, DAY)
    if rest >= day or (whole and minutes <= day < rest + minutes):
        days, rest = days + 1, 0.0
    begin = days * DAY + rest
    while rest + minutes > day:
        minutes -= day - rest
        days, rest = days + 1, 0.0
    return begin, days * DAY + rest + minutes


def play(jobs: Jobs, order: Sequence[int], most: float = float("inf")) -> Played:
    """Play the tasks in this order, each as early as hands, machines, clamps and benches allow.

    most  leaves off, with a cost and a lure of infinity, as soon as the cost is over it
    """
    table, day, changes = jobs.table, jobs.day.minutes, jobs.changes
    count = len(table)
    begins, ends, ready, setting = [0.0] * count, [0.0] * count, [0.0] * count, [0.0] * count
    stands = [-1] * len(jobs.machines)
    busy = [0.0] * len(jobs.machines)
    hands = [0.0] * max(1, jobs.day.hands)
    alone = len(hands) == 1
    own = jobs.place
    at = [-1] * len(hands)  # where each of several people stands
    held: list[tuple[float, int]] = []
    stop = finish(0.0, most, day, False)[1] if most < ENDLESS else most
    set_up, lured, last, rank, who, kin = 0.0, 0.0, 0.0, 0, 0, -1
    for n in order:
        minutes, waits, before, runs, whole, takes_room, own_rank, own_kin = table[n]
        if not alone:
            who = min(range(len(hands)), key=hands.__getitem__)
            if own >= 0:
                stands[own] = at[who]
        clock, change = hands[who], 0.0
        for b in before:
            if ready[b] > clock:
                clock = ready[b]
        for machine, first, then, within in runs:
            change += changes[stands[machine]][first] + within
            stands[machine] = then
            if busy[machine] > clock and machine != own:
                clock = busy[machine]
        if takes_room:
            hand = min(hands)  # nobody ever begins before this again
            held = [one for one in held if one[0] > hand]
            clock = room(jobs, n, clock, held)
        end = clock + minutes + change
        if clock % DAY + minutes + change > day:
            clock, end = finish(clock, minutes + change, day, whole)
        begins[n], ends[n], ready[n], setting[n] = clock, end, end + waits, change
        hands[who] = end
        if not alone:
            for machine, _, _, _ in runs:
                busy[machine] = end
            if own >= 0:
                at[who] = stands[own]
        if takes_room:
            held.append((end + waits, n))
        set_up += change
        if end + waits > last:
            last = end + waits
        if waits >= LONG:
            lured += worked(jobs, end) * EARLY
        if own_rank < rank:
            lured += (rank - own_rank) * HABIT
        if own_kin != kin:
            lured += SPLIT
        rank, kin = own_rank, own_kin
        if end > stop:
            return Played((), (), (), last, float("inf"), float("inf"))
    cost = worked(jobs, last) + SETTING * set_up
    return Played(tuple(begins), tuple(ends), tuple(setting), last, cost, cost + lured)


def room(jobs: Jobs, n: int, clock: float, held: list[tuple[float, int]]) -> float:
    """The first moment, not before `clock`, at which there are clamps and a bench for a task."""
    while True:
        now = [one for one in held if one[0] > clock]
        if not now or _fits(jobs, n, [other for _, other in now]):
            return clock
        clock = min(now)[0]


def _fits(jobs: Jobs, n: int, others: Sequence[int]) -> bool:
    """Whether there is a bench, and clamps of every opening: the wider ones do for narrow work too."""
    takes = jobs.takes
    bench, widest, own = takes[n]
    if bench and sum([takes[o][0] for o in others]) >= max(1, jobs.day.benches):
        return False
    if own:
        there = jobs.openings
        for at in range(widest, len(there)):
            if own + sum([takes[o][2] for o in others if takes[o][1] <= at]) > there[at][1]:
                return False
    return True
