"""The search for an order: never against what must be, never better than its bound, as good as an exact solver's."""

import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import permutations
from pathlib import Path
from random import Random

import pytest

from storystick.app.pipeline import Job as Piece
from storystick.app.pipeline import Texts
from storystick.ground.dim import Book
from storystick.layout.from_build import lay_out
from storystick.layout.sheets import HASTY
from storystick.model.work import Stage, Wish
from storystick.shop.read import default_shop
from storystick.work.bench import Bench
from storystick.work.choosing import choose_all
from storystick.work.jobs import Job
from storystick.work.order import Jobs, Shopday, Stand, Task, best_order, least, play
from storystick.work.order.play import SETTING
from storystick.work.order.replay import Replay
from storystick.work.order.task import keeps_to
from storystick.work.steps import all_jobs
from storystick.work.turns import Turn, in_turn
from storystick.work.wishes import wish_of
from tests.work.by_hand import case, order_of
from tests.work.replay import faults
from tests.work.test_order import drawers

SAMPLES = sorted(p for p in (Path(__file__).parents[2] / "samples").glob("*.yaml") if p.stem != "mistakes")
ONE_DAY = Shopday(minutes=1440.0)


def router(bit: str, depth: str, guide: str = "") -> Stand:
    """A bit takes 3 minutes to put in, its depth 2 and the guide 2 to set."""
    return Stand("router", bit, 3.0, (("depth", depth, 2.0), *((("guide", guide, 2.0),) if guide else ())))


def random_jobs(seed: int, count: int, day: Shopday = ONE_DAY) -> Jobs:
    """Tasks that wait for earlier ones at random; some glued, in four of eight clamps; settings of whole minutes."""
    dice = Random(seed)
    tasks = []
    for n in range(count):
        after = tuple({f"t{dice.randrange(n)}" for _ in range(dice.choice((0, 1, 1, 2)))}) if n else ()
        machine = dice.choice(("saw", "router", "bench"))
        marks = tuple((name, str(dice.randrange(3)), 2.0) for name in ("x", "y"))
        stands = () if machine == "bench" else (Stand(machine, dice.choice("ab"), 3.0, marks),)
        glued = machine == "bench" and dice.random() < 0.5
        waits = float(dice.choice((20, 40))) if glued else 0.0
        tasks.append(Task(f"t{n}", float(dice.randrange(3, 15)), waits, after, stands, 4 if glued else 0))
    return Jobs(tuple(tasks), replace(day, clamps=((Fraction(600), 8),)))


# --- changing over ----------------------------------------------------------------------------------------------------


def test_changing_over_costs_what_has_to_be_changed():
    assert router("1/2", "6").change_to(router("1/2", "6")) == 0
    assert router("1/2", "6").change_to(router("1/2", "9")) == 2
    assert router("1/2", "6", "40").change_to(router("1/4", "6", "40")) == 3 + 2 + 2  # a new bit is set all over again
    assert router("1/2", "6").change_to(router("1/2", "6", "40")) == 2


def test_going_round_by_another_setting_is_never_quicker():
    some = [router(bit, depth, guide) for bit in ("1/2", "1/4") for depth in ("6", "9") for guide in ("", "40", "50")]
    for a in some:
        for b in some:
            for c in some:
                assert a.change_to(c) <= a.change_to(b) + b.change_to(c)


# --- by hand ----------------------------------------------------------------------------------------------------------


def test_like_set_ups_are_done_one_after_the_other():
    a, b = router("1/2", "6"), router("1/4", "6")
    tasks = [Task(f"{n}", 10.0, stands=(one,), rank=n) for n, one in enumerate((a, b, a, b))]
    found = best_order(Jobs(tuple(tasks)))
    # Two bits put in and set: (3 + 2) * 2 = 10 minutes; forty of work; done after fifty.
    assert (found.played.set_up, found.played.end) == (10, 50)
    assert (found.least.set_up, found.least.end) == (10, 50)


def test_a_setting_that_is_forced_twice_is_in_the_bound():
    a, b = router("1/2", "6"), router("1/4", "6")
    tasks = (
        Task("1", 5.0, stands=(a,)),
        Task("2", 5.0, after=("1",), stands=(b,)),
        Task("3", 5.0, after=("2",), stands=(a,)),
    )
    assert least(Jobs(tasks)).set_up == 15
    assert best_order(Jobs(tasks)).played.set_up == 15


def test_glue_sets_over_night_and_coats_do_not_put_themselves_on():
    day = Shopday(minutes=480.0)
    glue = Task("glue", 20.0, 60.0, whole=True)
    work = Task("work", 470.0)
    last = Task("last", 10.0, after=("glue",))
    found = best_order(Jobs((glue, work, last), day))
    # 500 minutes of work: 20 of them on the second morning.
    assert found.played.end == 1440 + 20
    coats = Jobs(tuple(Task(f"{n}", 10.0, 180.0, (f"{n - 1}",), whole=True) for n in range(3)), day)
    # 0-10, 190-200, 380-390, and dry at 570: in the evening of the first day.
    assert play(coats, (0, 1, 2)).end == 570
    short = Jobs(coats.tasks, Shopday(minutes=380.0))
    assert play(short, (0, 1, 2)).begins[2] == 1440  # the third would end at 390: it waits for the morning


def test_clamps_are_waited_for():
    tasks = tuple(Task(f"{n}", 10.0, 30.0, clamps=3, opening=Fraction(500)) for n in range(3))
    played = play(Jobs(tasks, Shopday(clamps=((Fraction(300), 9), (Fraction(600), 6)))), (0, 1, 2))
    assert played.begins == (0, 10, 40)  # six clamps open so far: two at a time
    narrow = Task("narrow", 10.0, clamps=3, opening=Fraction(250))
    both = Jobs((*tasks, narrow), Shopday(clamps=((Fraction(300), 3), (Fraction(600), 6))))
    assert play(both, (0, 1, 3, 2)).begins[3] == 20  # the narrow ones are free


def test_a_helper_works_beside():
    tasks = tuple(Task(f"{n}", 30.0) for n in range(4))
    assert play(Jobs(tasks, Shopday(hands=2)), (0, 1, 2, 3)).end == 60
    on_one_saw = tuple(replace(task, stands=(Stand("saw", "blade", 0.0),)) for task in tasks)
    assert play(Jobs(on_one_saw, Shopday(hands=2)), (0, 1, 2, 3)).end == 120


@pytest.mark.parametrize("seed", range(6))
def test_an_order_played_on_from_a_change_comes_to_what_it_comes_to_from_the_start(seed: int):
    """The quick reckoning of the search against the plain one, with nights, glue, few clamps and few benches."""
    jobs = random_jobs(seed, 30, Shopday(minutes=(60.0, 480.0, 1440.0)[seed % 3], benches=1 + seed % 2))
    dice, replay, steps = Random(seed), Replay(jobs, jobs.in_line), 0
    while steps < 150:
        at = dice.randrange(29)
        to = dice.randrange(at + 1, 30)
        trial = list(replay.order)
        trial.insert(to, trial.pop(at))
        if not keeps_to(jobs, trial):
            continue
        steps += 1
        whole = play(jobs, trial).lure
        limit = replay.lure + dice.choice((5.0, 50.0, 1e6))
        tried = replay.tried(trial, at, limit)
        assert tried == pytest.approx(whole) if whole <= limit else tried > limit
        if tried <= limit:
            replay.take()
            assert replay.lure == pytest.approx(play(jobs, replay.order).lure)


# --- against every order, and an exact solver -------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(12))
def test_of_six_tasks_the_best_of_all_orders_is_found(seed: int):
    jobs = random_jobs(seed, 6, Shopday(minutes=60.0))
    orders = [order for order in permutations(range(6)) if keeps_to(jobs, order)]
    best = min(play(jobs, order).cost for order in orders)
    found = best_order(jobs)
    assert found.played.cost == pytest.approx(best)
    assert found.least.cost <= best + 1e-6
    assert found.least.end <= min(play(jobs, order).end for order in orders) + 1e-6
    assert found.least.set_up <= min(play(jobs, order).set_up for order in orders) + 1e-6


def exact(jobs: Jobs) -> tuple[float, bool]:
    """The least cost by CP-SAT and whether it is proved: one pair of hands, a circuit of tasks for each machine."""
    cp_model = pytest.importorskip("ortools.sat.python.cp_model")
    model = cp_model.CpModel()
    far = int(sum(t.minutes + t.waits + sum(s.from_nothing for s in t.stands) for t in jobs.tasks)) + 1
    count = len(jobs.tasks)
    start = [model.new_int_var(0, far, f"start {n}") for n in range(count)]
    end = [model.new_int_var(0, far, f"end {n}") for n in range(count)]
    change: list[list[object]] = [[] for _ in range(count)]
    for m in range(len(jobs.machines)):
        mine = [n for n in range(count) if any(run[0] == m for run in jobs.runs[n])]
        run = {n: next(r for r in jobs.runs[n] if r[0] == m) for n in mine}
        arcs = []
        for a in [-1, *mine]:
            for b in [-1, *mine]:
                if a == b:
                    continue
                arc = model.new_bool_var(f"{m} {a} {b}")
                arcs.append((mine.index(a) + 1 if a >= 0 else 0, mine.index(b) + 1 if b >= 0 else 0, arc))
                if b >= 0:
                    change[b].append(int(jobs.changes[run[a][2] if a >= 0 else -1][run[b][1]]) * arc)
                if a >= 0 and b >= 0:
                    model.add(start[b] >= end[a]).only_enforce_if(arc)
        model.add_circuit(arcs)
    intervals = []
    for n, task in enumerate(jobs.tasks):
        size = model.new_int_var(0, far, f"size {n}")
        model.add(size == int(task.minutes) + sum(change[n]))
        intervals.append(model.new_interval_var(start[n], size, end[n], f"task {n}"))
        for b in jobs.before[n]:
            model.add(start[n] >= end[b] + int(jobs.tasks[b].waits))
    model.add_no_overlap(intervals)
    glued = [n for n in range(count) if jobs.held[n]]
    held = [
        model.new_interval_var(
            start[n], _long(model, start[n], end[n], jobs, n, far), _free(model, end[n], jobs, n, far), f"held {n}"
        )
        for n in glued
    ]
    model.add_cumulative(held, [jobs.held[n] for n in glued], 8)
    last = model.new_int_var(0, far, "last")
    for n, task in enumerate(jobs.tasks):
        model.add(last >= end[n] + int(task.waits))
    model.minimize(last + int(SETTING) * sum(sum(one) for one in change if one))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_deterministic_time = 4.0
    status = solver.solve(model)
    return solver.objective_value, status == cp_model.OPTIMAL


def _free(model, end, jobs: Jobs, n: int, far: int):
    free = model.new_int_var(0, 2 * far, f"free {n}")
    model.add(free == end + int(jobs.tasks[n].waits))
    return free


def _long(model, start, end, jobs: Jobs, n: int, far: int):
    size = model.new_int_var(0, far, f"long {n}")
    model.add(size == end + int(jobs.tasks[n].waits) - start)
    return size


EXACT = [(seed, count) for count, seeds in ((11, 8), (20, 4), (25, 3), (30, 1)) for seed in range(seeds)]


@pytest.mark.parametrize(("seed", "count"), EXACT)
def test_orders_of_up_to_thirty_tasks_are_as_good_as_an_exact_solvers(seed: int, count: int):
    jobs = random_jobs(100 + seed, count)
    best, proved = exact(jobs)
    found = best_order(jobs)
    if proved:
        assert found.least.cost <= best + 1e-6
        assert found.played.cost >= best - 1e-6
    assert found.played.cost <= best * 1.02 + 1e-6


@pytest.mark.parametrize("seed", range(3))
def test_a_hundred_and_fifty_tasks_keep_to_what_must_be_and_state_their_gap(seed: int):
    jobs = random_jobs(seed, 150, Shopday(minutes=480.0))
    found = best_order(jobs, rounds=400)
    assert keeps_to(jobs, found.order)
    assert found.least.cost <= found.played.cost
    assert 0 <= found.gap < 0.5
    assert best_order(jobs, rounds=400).order == found.order
    by_habit = play(jobs, jobs.in_line)
    assert found.played.cost <= by_habit.cost


ORDER = "from tests.work.test_turns import *; print(best_order(random_jobs(5, 60, Shopday(minutes=480.0))).order)"


def test_the_order_is_the_same_on_every_day_and_in_every_process():
    """Python hashes words otherwise in each process: nothing may hang on the order in which a set gives them."""
    root = Path(__file__).parents[2]
    told = set()
    for seed in "123":
        run = [sys.executable, "-c", ORDER]
        at = dict(os.environ, PYTHONPATH=f"src{os.pathsep}.", PYTHONHASHSEED=seed)
        told.add(subprocess.run(run, cwd=root, env=at, capture_output=True, text=True, check=True).stdout)
    assert len(told) == 1


# --- whole pieces -----------------------------------------------------------------------------------------------------


def turn_of(build, shop, cuttings: Sequence[object] = (), wishes: Sequence[Wish] = ()) -> tuple[list[Job], Turn]:
    book = Book(pages=dict(build.pages))
    chosen, _ = choose_all(build, shop, book)
    jobs = list(all_jobs(Bench(build, tuple(cuttings), shop, book, chosen), []))
    return jobs, in_turn(jobs, shop, wishes, rounds=300)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_the_samples_can_be_built_in_the_order_found(path: Path):
    whole = Piece(Texts(path.read_text("utf-8"), path.name))
    if whole.resolved.made is None:
        pytest.skip(f"{path.name} can't be worked out as it stands")
    build = whole.resolved.made
    cuttings = lay_out(build, whole.shop, patience=HASTY).made or ()
    jobs, turn = turn_of(build, whole.shop, cuttings)
    assert faults(build, jobs, turn, whole.shop.clamps) == []
    assert turn.found.least.end <= turn.found.played.end
    assert turn.found.least.set_up <= turn.found.played.set_up + 1e-6


def test_a_replay_finds_what_is_wrong():
    jobs, turn = turn_of(case(), default_shop("mm"))
    backwards = replace(turn, found=replace(turn.found, order=turn.found.order[::-1]))
    assert faults(case(), jobs, backwards, default_shop("mm").clamps)


def test_drawers_can_be_built_in_the_order_found():
    jobs, turn = turn_of(drawers(3), default_shop("mm"))
    assert faults(drawers(3), jobs, turn, default_shop("mm").clamps) == []


def test_a_shop_that_works_four_hours_a_day_needs_more_days():
    usual = default_shop("mm")
    assert order_of(case(), replace(usual, hours=4)).reckoned.days > order_of(case(), usual).reckoned.days


def test_a_helper_has_it_done_no_later():
    usual = default_shop("mm")
    alone, helped = (order_of(drawers(2), replace(usual, helpers=n)).reckoned for n in (0, 1))
    assert helped.ends <= alone.ends
    assert helped.least_end <= helped.ends


# --- wishes -----------------------------------------------------------------------------------------------------------


def test_a_wish_is_kept_and_told_what_it_costs():
    shop = default_shop("mm")
    jobs, turn = turn_of(drawers(1), shop, wishes=[Wish("Glue up drawer 1", "Glue up the case")])
    titles = [jobs[n].key for n in turn.found.order]
    assert titles.index("glue case.drawer 1 1") < titles.index("glue case 1")
    (told,) = turn.findings
    assert told.code == "order-wish"
    assert "is kept: it costs" in told.says
    assert faults(drawers(1), jobs, turn, shop.clamps) == []


def test_a_wish_against_nature_is_told_and_not_kept():
    jobs, turn = turn_of(drawers(1), default_shop("mm"), wishes=[Wish("Glue up the case", "Dry-fit the case")])
    assert [told.code for told in turn.findings] == ["order-cant-be"]
    order = [jobs[n].key for n in turn.found.order]
    assert order.index("dry fit case") < order.index("glue case 1")


def test_a_wish_for_a_step_that_is_not_there_is_told():
    _, turn = turn_of(case(), default_shop("mm"), wishes=[Wish("paint the moon", "Glue up")])
    assert [told.code for told in turn.findings] == ["no-such-step"]


def test_what_is_forbidden_is_done_the_other_way_round():
    wish = wish_of("forbid", "glue up the case before glue up drawer 1")
    jobs, turn = turn_of(drawers(1), default_shop("mm"), wishes=[wish])
    order = [jobs[n].key for n in turn.found.order]
    assert order.index("glue case.drawer 1 1") < order.index("glue case 1")
    assert 'forbid "glue up the case' in turn.findings[0].says


def test_a_step_can_be_wanted_first_or_last_as_far_as_it_can_be():
    jobs, turn = turn_of(drawers(1), default_shop("mm"), wishes=[wish_of("pin", "dry-fit the case first")])
    at = [jobs[n].key for n in turn.found.order].index("dry fit case")
    needed, line = set(), ["dry fit case"]
    by_key = {job.key: job for job in jobs}
    for key in line:
        new = {k for k in by_key[key].after if k in by_key} - needed
        needed |= new
        line += sorted(new)
    assert at == len(needed)


def test_a_wish_that_cant_be_says_what_it_waits_for_and_why():
    _, turn = turn_of(drawers(1), default_shop("mm"), wishes=[wish_of("pin", "glue up the case before saw")])
    (told,) = turn.findings
    assert told.code == "no-such-step" or "has to wait for" in told.says
    _, turn = turn_of(
        drawers(1), default_shop("mm"), wishes=[wish_of("pin", "glue up the case before dry-fit the case")]
    )
    (told,) = turn.findings
    assert "has to wait for 'Dry-fit the case and measure it'" in told.says


def test_a_wish_never_costs_less_than_nothing():
    for text in ("glue up drawer 1 before glue up the case", "glue up the case before glue up drawer 1"):
        _, turn = turn_of(drawers(1), default_shop("mm"), wishes=[wish_of("prefer", text)])
        assert "less" not in turn.findings[0].says or "later" in turn.findings[0].says


def test_a_mere_preference_is_dropped_where_it_costs_too_much():
    wish = Wish("Glue up drawer 1", "Glue up the case", firm=False, worth=-1000.0)
    _, turn = turn_of(drawers(1), default_shop("mm"), wishes=[wish])
    (told,) = turn.findings
    assert "not kept" in told.says


# --- what the steps say -----------------------------------------------------------------------------------------------


def test_every_step_says_when_it_is_done_and_what_its_setting_up_takes():
    order = order_of(drawers(2))
    assert order.reckoned is not None
    assert [step.begins for step in order.steps] == sorted(step.begins for step in order.steps)
    assert all(0 <= step.set_up <= step.hands_on for step in order.steps)
    assert sum(step.set_up for step in order.steps) == pytest.approx(order.reckoned.set_up, abs=len(order.steps))
    assert order.reckoned.days >= max(step.day for step in order.steps)


def test_a_caution_is_told_whole_once_and_then_in_a_few_words():
    sanding = [step for step in order_of(drawers(2)).steps if "ust" in step.caution]
    assert "NIOSH" in sanding[0].caution
    assert all("NIOSH" not in step.caution for step in sanding[1:])


def test_a_step_done_while_glue_sets_says_so():
    assert any("sets or dries" in step.why_here for step in order_of(drawers(2)).steps)
    assert all(step.why_here for step in order_of(drawers(2)).steps if step.stage is not Stage.MEASURE)
