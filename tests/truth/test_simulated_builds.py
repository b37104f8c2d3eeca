"""Whole builds with errors drawn at random: far more of them fit when the log is kept."""

from bench.builds import Hands, with_log, without_log
from storystick.app.pipeline import Job, Texts
from tests.truth.plans import CASE

BUILDS = 24


def test_far_more_builds_fit_with_the_log_than_without():
    text = Texts(CASE, "case.yaml")
    job = Job(text)
    plain = kept = mended = 0
    for seed in range(BUILDS):
        hands = Hands(job.build, job.made.errors, seed)
        with_it, put_right = with_log(text, job.build, hands)
        plain += without_log(job, hands)
        kept += with_it
        mended += put_right
    assert kept >= plain + BUILDS // 5
    assert mended >= kept
    assert mended >= BUILDS * 0.85
