"""Whole builds with errors drawn at random: far more of them fit when the log is kept."""

import pytest

from bench.builds import Hands, with_log, without_log
from storystick.app.pipeline import Job, Texts
from tests.truth.plans import CASE, DRAWER


def counted(plan: str, builds: int, *, each: bool = False) -> tuple[int, int, int]:
    """In how many everything fits: without the log, with it, and after mending."""
    text = Texts(plan, "plan.yaml")
    job = Job(text)
    plain = kept = mended = 0
    for seed in range(builds):
        hands = Hands(job.build, job.made.errors, seed)
        plain += without_log(job, hands)
        with_it, put_right = with_log(text, job.build, hands, each=each)
        kept += with_it
        mended += put_right
    return plain, kept, mended


@pytest.mark.parametrize(("plan", "builds"), [(CASE, 20), (DRAWER, 12)], ids=["case", "drawer"])
def test_far_more_builds_fit_with_the_log_than_without(plan: str, builds: int):
    plain, kept, mended = counted(plan, builds)
    assert kept >= plain + builds // 5
    assert mended >= kept
    assert mended >= builds * 0.9


def test_it_comes_to_the_same_when_the_plan_is_reckoned_anew_after_every_single_part():
    """With other slips of the hand, drawn one after the other; what is cut never changes here either."""
    plain, kept, mended = counted(CASE, 4, each=True)
    assert mended >= max(plain, kept)
    assert mended == 4
