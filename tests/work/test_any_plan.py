"""Plans that nobody drew by hand, put in order and replayed by somebody who knows hands, glue, clamps and days.

The replay (tests/work/replay.py) shares nothing with the search: it looks only at when each job is told to be done.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.app.pipeline import Job as Piece
from storystick.app.pipeline import Texts
from storystick.ground.finding import Grade
from storystick.layout.from_build import lay_out
from storystick.layout.sheets import HASTY
from storystick.model.work import Stage
from storystick.shop.shop import Clamp, OwnTime
from storystick.work.order import least, play
from tests.paper.any_plan import plan
from tests.work.replay import faults
from tests.work.test_turns import turn_of

SHOPS = (
    {},
    {"hours": 3, "benches": 1},
    {"helpers": 1, "clamps": (Clamp("bar clamp", Fraction(900), 4),)},
    {"times": {"glue-up": OwnTime(wait=Fraction(120)), "finish coat": OwnTime(wait=Fraction(900))}, "hours": 6},
)


@pytest.mark.parametrize("seed", range(1, 13))
def test_any_plan_can_be_built_in_the_order_found(seed: int):
    piece = Piece(Texts(plan(seed), f"plan {seed}.yaml"))
    build = piece.resolved.made
    if build is None or not build.parts:
        pytest.skip("this one can't be worked out")
    shop = replace(piece.shop, **SHOPS[seed % len(SHOPS)])
    jobs, turn = turn_of(build, shop, lay_out(build, shop, patience=HASTY).made or ())
    told = faults(build, jobs, turn, shop.clamps, shop.hours, hands=1 + shop.helpers, benches=shop.benches)
    assert told == []
    found = turn.found
    assert play(turn.tasks, found.order).cost == found.played.cost
    assert least(turn.tasks).end <= found.played.end + 0.5
    assert found.least.set_up <= found.played.set_up + 1e-6
    last = [job.stage for job in jobs if job.stage is Stage.INSTALL]
    assert last
    assert all(job.why_here for job in jobs)


def test_what_cannot_be_put_together_as_it_stands_has_an_order_of_work_all_the_same():
    """The check says that it can't be; whoever goes on planning meanwhile is not left without steps."""
    piece = Piece(Texts(plan(17), "plan 17.yaml"))
    assert "can-be-assembled" in {one.code for one in piece.findings if one.grade is Grade.STOP}
    turn = piece.order
    assert turn.steps


def test_the_replay_sees_two_jobs_of_one_pair_of_hands():
    piece = Piece(Texts(plan(1), "plan 1.yaml"))
    jobs, turn = turn_of(piece.build, replace(piece.shop, helpers=1))
    assert any("hands are still busy" in one for one in faults(piece.build, jobs, turn, piece.shop.clamps, hands=1))
