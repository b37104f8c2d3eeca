"""Mends, tried before they are offered: the plan is changed, worked out again, and must be the better for it."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from storystick.app.pipeline import Job
from storystick.ground.finding import Broken, Finding, Grade
from storystick.model.check import Asked
from storystick.model.scene import Scene
from storystick.plan.splice import splice

MOST = 6  # so many are tried of one list; the rest are told without a mend
SEPARATE = "can-be-assembled"  # takes too long to be asked again for each mend

type Bad = Counter[tuple[str, Grade]]


def only_proven(job: Job, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, with those mends alone that clear theirs and bring nothing new."""
    left = MOST
    shown = []
    for one in found:
        if one.mend is not None:
            left -= 1
            if left < 0 or not proven(job, one):
                one = replace(one, mend=None)
        shown.append(one)
    return tuple(shown)


def proven(job: Job, one: Finding) -> bool:
    """Whether a finding's mend clears it, and makes nothing else worse."""
    if one.mend is None:
        return False
    changed = splice(job.texts.plan, replace(one.mend.place, file=job.texts.plan_file), one.mend.text).made
    if changed is None:
        return False
    after = Job(replace(job.texts, plan=changed))
    before = _bad(job.resolved.findings)
    if (one.code, one.grade) in before:  # a mistake of the plan itself
        return _is_better(before, _bad(after.resolved.findings), one)
    made = after.resolved
    if made.made is None or _bad(made.findings) - before:
        return False
    try:
        return _is_better(_checked(job), _checked(after), one)
    except Broken:  # a change that nothing can be reckoned with is no mend
        return False


def _is_better(before: Bad, after: Bad, one: Finding) -> bool:
    key = (one.code, one.grade)
    return after[key] < before[key] and not after - before


def _bad(found: Iterable[Finding]) -> Bad:
    return Counter((one.code, one.grade) for one in found if one.grade >= Grade.CARE)


def _checked(job: Job) -> Bad:
    """What the checks find wrong, but for the one that takes long."""
    from storystick.checks import run_one, shelf

    kept: Bad | None = job.__dict__.get("wrong")
    if kept is None:
        asked = Asked(job.build, Scene(job.build), job.shop)
        kept = _bad(one for code, check in shelf().items() if code != SEPARATE for one in run_one(check, asked))
        job.__dict__["wrong"] = kept
    return kept
