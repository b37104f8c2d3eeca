"""Jobs: what has to be done, what each has to wait for, and the order that one pair of hands does them in."""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.ground.finding import Broken
from storystick.model.part import Part
from storystick.model.work import Setup, Stage


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """One thing to do, before it has its number.

    key       unlike any other job's;  after  keys of the jobs that must be done, and have cured, first
    cuts      names of part and cut that this job makes
    hands_on, waits  minutes at the bench, and until glue or finish has set
    """

    key: str
    stage: Stage
    title: str
    does: tuple[str, ...]
    parts: tuple[Part, ...] = ()
    setups: tuple[Setup, ...] = ()
    cuts: tuple[tuple[str, str], ...] = ()
    after: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    new: tuple[str, ...] = ()
    check: str = ""
    caution: str = ""
    reads: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    hands_on: float = 0.0
    waits: int = 0
    why_here: str = ""


RANK = {stage: number for number, stage in enumerate(Stage)}


def in_turn(jobs: Sequence[Job]) -> list[Job]:
    """The jobs in an order that keeps to what each has to wait for.

    Of those that can be begun now, the one of the earliest stage is taken, then the one first in the list; time in
    which glue sets is filled with whatever can be done meanwhile. Raises Broken where jobs wait for one another.
    """
    known = {job.key for job in jobs}
    if len(known) != len(jobs):
        raise Broken("two jobs have one key")
    waits_for = {job.key: {key for key in job.after if key in known} for job in jobs}
    order = {job.key: (RANK[job.stage], number) for number, job in enumerate(jobs)}
    free_at: dict[str, float] = {}
    left, done, clock = list(jobs), [], 0.0
    while left:
        ready = [job for job in left if waits_for[job.key] <= free_at.keys()]
        if not ready:
            raise Broken("jobs wait for one another", [f"{j.key} after {sorted(waits_for[j.key])}" for j in left])
        begins = {job.key: max((free_at[key] for key in waits_for[job.key]), default=0.0) for job in ready}
        now = [job for job in ready if begins[job.key] <= clock]
        if now:
            taken = min(now, key=lambda job: order[job.key])
        else:
            taken = min(ready, key=lambda job: (begins[job.key], order[job.key]))
            clock = begins[taken.key]
        clock += taken.hands_on
        free_at[taken.key] = clock + taken.waits
        left.remove(taken)
        done.append(taken)
    return done
