"""What no order can better, held against all orders there are: nights, glue, clamps, benches, helpers, settings."""

from fractions import Fraction
from itertools import permutations
from random import Random

import pytest

from storystick.work.order import Jobs, Shopday, Stand, Task, least, play
from storystick.work.order.bound import CLOSE
from storystick.work.order.task import PLACE, keeps_to


def any_stands(dice: Random, machines: int) -> tuple[Stand, ...]:
    """Ways that machines have to stand for a task: none, one or two of a machine; some marks take longer."""
    found = [Stand(PLACE, dice.choice("pqr"), 1.0)] if dice.random() < 0.5 else []
    for machine in ("saw", "router", "drill")[:machines]:
        for _ in range(dice.choice((0, 1, 1, 2))):
            worth = {name: float(dice.choice((1, 2, 2, 4))) for name in "xy"}
            marks = tuple((name, str(dice.randrange(3)), worth[name]) for name in "xy" if dice.random() < 0.7)
            found.append(Stand(machine, dice.choice("ab"), 3.0, marks))
    return tuple(found)


def any_jobs(seed: int) -> Jobs:
    """Five or six tasks in a shop of any day, with few clamps, one bench or two, one pair of hands or two."""
    dice = Random(seed)
    tasks, machines = [], dice.choice((1, 2, 3))
    for n in range(dice.choice((5, 6))):
        after = tuple({f"t{dice.randrange(n)}" for _ in range(dice.choice((0, 1, 1, 2)))}) if n else ()
        glued = dice.random() < 0.35
        task = Task(
            f"t{n}", float(dice.randrange(2, 20)), 0.0, after, any_stands(dice, machines), whole=dice.random() < 0.4
        )
        if glued:
            task = Task(
                task.key, task.minutes, float(dice.choice((20, 40, 100))), after, task.stands, dice.choice((3, 4)),
                Fraction(dice.choice((300, 600))), dice.random() < 0.5, task.whole,
            )  # fmt: skip
        tasks.append(task)
    clamps = ((Fraction(300), 3), (Fraction(600), 4))
    day = dice.choice((40.0, 60.0, 90.0, 1440.0))
    return Jobs(tuple(tasks), Shopday(day, dice.choice((1, 2)), clamps, dice.choice((1, 1, 1, 2))))


@pytest.mark.parametrize("tens", range(20))
def test_no_order_of_all_there_are_betters_what_is_said_to_be_the_least(tens: int):
    for seed in range(10 * tens, 10 * tens + 10):
        jobs = any_jobs(seed)
        bound = least(jobs)
        count = len(jobs.tasks)
        played = [play(jobs, order) for order in permutations(range(count)) if keeps_to(jobs, order)]
        assert bound.set_up <= min(one.set_up for one in played) + 1e-6, seed
        assert bound.end <= min(one.end for one in played) + CLOSE, seed
        assert bound.cost <= min(one.cost for one in played) + CLOSE, seed


def test_a_stretch_between_two_tasks_counts_all_that_has_to_be_set_in_it():
    """Another bit has to come in between two cuts of one setting: the first is put in and set twice."""
    one, other = (
        Stand("router", "1/2", 3.0, (("depth", "6", 2.0),)),
        Stand("router", "1/4", 3.0, (("depth", "6", 2.0),)),
    )
    two = Stand("router", "1/4", 3.0, (("depth", "9", 2.0),))
    jobs = Jobs(
        (
            Task("first", 5.0, stands=(one,)),
            Task("a", 5.0, after=("first",), stands=(other,)),
            Task("b", 5.0, after=("first",), stands=(two,)),
            Task("last", 5.0, after=("a", "b"), stands=(one,)),
        )
    )
    assert least(jobs).set_up == 5 + 5 + 2 + 5  # a and b in either order, the depth changed between them


def test_a_machine_that_stands_in_many_ways_is_changed_at_least_once_for_each():
    stands = [Stand("saw", "blade", 3.0, (("x", x, 2.0), ("y", y, 2.0))) for x in "012" for y in "012"]
    jobs = Jobs(tuple(Task(f"{n}", 5.0, stands=(one,)) for n, one in enumerate(stands)))
    assert least(jobs).set_up == 7 + 8 * 2  # each of the nine differs from every other by one mark at least


def test_what_is_needed_early_is_set_early():
    """A coat has to go on by noon, and the sprayer takes an hour to set: other work can't come before it."""
    spray = Stand("sprayer", "nozzle", 60.0)
    coat = Task("coat", 10.0, 300.0, stands=(spray,))
    other = Task("other", 100.0)
    last = Task("last", 10.0, after=("coat",))
    # Set 0 to 60, coat until 70, dry at 370, the last until 380; the other work fits in between.
    assert least(Jobs((coat, other, last), Shopday(minutes=1440.0))).end == pytest.approx(380, abs=2 * CLOSE)
