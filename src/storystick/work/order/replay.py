"""An order played on from where it was changed, and left off as soon as it can't come out well enough any more.

It reckons just as `play` does. What is before a change stays as it was; what is behind it is given up when the time
that is lost already and the work still to be done, or the longest way that has to follow, come to more than is wanted.
"""

from collections.abc import Sequence

from storystick.work.order.play import EARLY, HABIT, LONG, SETTING, SPLIT, finish, play, room
from storystick.work.order.task import DAY, Jobs

EVERY = 6
"""So many tasks apart it is kept how things stood."""
NEVER = float("inf")

type Mark = tuple[float, float, float, float, float, float, int, int, list[int], list[tuple[float, int]]]
"""How things stand before a task: the clock, what is left to do, set up, lured, the end in sight, that in work,
rank and kin of the last task, how machines stand, and what is held in clamps and on benches."""


class Replay:
    """An order, what it comes to, and others near it tried."""

    def __init__(self, jobs: Jobs, order: Sequence[int]) -> None:
        self.jobs = jobs
        self.alone = jobs.day.hands <= 1
        self.rows = _rows(jobs)
        self.order: list[int] = []
        self.ready = [0.0] * len(jobs.tasks)
        self.marks: list[Mark] = []
        self.lure = NEVER
        self.go(order)

    def go(self, order: Sequence[int]) -> None:
        """Stand at an order."""
        own = sum(task.minutes for task in self.jobs.tasks)
        begin: Mark = (0.0, own, 0.0, 0.0, 0.0, 0.0, 0, -1, [-1] * len(self.jobs.machines), [])
        self.marks = [begin]
        self.lure = self.tried(order, 0, NEVER)
        self.take()

    def take(self) -> None:
        """Stand at what was tried last."""
        self.order, self.ready, self.marks, self.lure = self._tried

    def tried(self, order: Sequence[int], at: int, limit: float) -> float:
        """What an order comes to that differs from this one from a place on; infinity where that is over the limit."""
        if not self.alone:
            lure = play(self.jobs, order, limit).lure
            self._tried = (list(order), self.ready, self.marks, lure)
            return lure
        jobs, rows, ready = self.jobs, self.rows, self.ready[:]
        day, night = jobs.day.minutes, DAY - jobs.day.minutes
        kept = min(at // EVERY, len(self.marks) - 1)
        marks = self.marks[:kept]
        clock, rest, set_up, lured, last, reached, rank, kin, stands, held = self.marks[kept]
        stands = stands[:]
        dawn = clock // DAY * DAY
        dusk, nights = dawn + day, clock // DAY * night
        for place in range(kept * EVERY, len(order)):
            if place % EVERY == 0:
                marks.append((clock, rest, set_up, lured, last, reached, rank, kin, stands[:], held))
            minutes, waits, reach, before, runs, whole, takes_room, own_rank, own_kin, n = rows[order[place]]
            for b in before:
                if ready[b] > clock:
                    clock = ready[b]
            change = 0.0
            for machine, from_each, then in runs:
                change += from_each[stands[machine]]
                stands[machine] = then
            if takes_room and held:
                held = [one for one in held if one[0] > clock]
                if held:
                    clock = room(jobs, n, clock, held)
            end = clock + minutes + change
            if end > dusk:
                clock, end = finish(clock, minutes + change, day, whole)
                dawn = end // DAY * DAY
                dusk, nights = dawn + day, dawn / DAY * night
            ready[n] = end + waits
            if takes_room:
                held = [*held, (end + waits, n)]
            clock = end
            rest -= minutes
            set_up += change
            if waits >= LONG:
                lured += (end - nights) * EARLY
            if own_rank < rank:
                lured += (rank - own_rank) * HABIT
            if own_kin != kin:
                lured += SPLIT
            rank, kin = own_rank, own_kin
            if end + reach > last:
                last = end + reach
                days = last // DAY
                over = last - days * DAY
                reached = days * day + (over if over < day else day)
            least = end - nights + rest
            if (least if least > reached else reached) + SETTING * set_up + lured > limit:
                return NEVER
        self._tried = (list(order), ready, marks, reached + SETTING * set_up + lured)
        return reached + SETTING * set_up + lured


type Row = tuple[
    float, float, float, tuple[int, ...], tuple[tuple[int, list[float], int], ...], bool, bool, int, int, int
]


def _rows(jobs: Jobs) -> list[Row]:
    """The tasks as they are read here.

    Minutes, waits, how long after its end the last that hangs on it has set at best, what it waits for, for each
    machine the minutes from every stand to its own and how it is left, whole, takes room, rank, kin, number.
    """
    reach = [0.0] * len(jobs.tasks)
    for n in reversed(jobs.in_line):
        behind = (jobs.tasks[b].minutes + reach[b] for b in jobs.behind[n])
        reach[n] = jobs.tasks[n].waits + max(behind, default=0.0)
    columns: dict[tuple[int, float], list[float]] = {}
    found: list[Row] = []
    for n, (minutes, waits, before, runs, whole, takes_room, rank, kin) in enumerate(jobs.table):
        for _, first, _, within in runs:
            if (first, within) not in columns:
                columns[first, within] = [row[first] + within for row in jobs.changes]
        mine = tuple((machine, columns[first, within], then) for machine, first, then, within in runs)
        found.append((minutes, waits, reach[n], before, mine, whole, takes_room, rank, kin, n))
    return found
