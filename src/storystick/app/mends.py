"""Mends, tried before they are offered: the plan is changed, worked out again, and must be the better for it."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from storystick.app.pipeline import Job
from storystick.ground.finding import Broken, Finding, Grade, Mend
from storystick.ground.marked import plain, read_marked, scalars
from storystick.model.check import Asked
from storystick.plan.splice import splice

MOST = 24  # so many are tried of one list; what is then left is told without a mend
EACH = 7  # and so many for one finding
SEPARATE = "can-be-assembled"  # takes too long to be asked again for each mend

type Bad = Counter[tuple[str, Grade]]


def only_proven(job: Job, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, with those mends alone that clear theirs and bring nothing new: of several the first that does."""
    found, left, shown = tuple(found), MOST, []
    for number, one in enumerate(found):
        mend = None
        if job.tell is not None:  # who doesn't want it any more raises here
            job.tell("mends", number / len(found))
        for each in list(candidates(job, one))[:EACH] if one.grade >= Grade.CARE else ():
            left -= 1
            if left >= 0 and proven(job, replace(one, mend=each)):
                mend = each
                break
        shown.append(replace(one, mend=mend, tries=()) if one.mend is not None or one.tries else one)
    return tuple(shown)


def candidates(job: Job, one: Finding) -> Iterator[Mend]:
    """Every change that a finding offers, each with its place in the plan."""
    for mend in (*((one.mend,) if one.mend is not None else ()), *one.tries):
        if mend.place.line:
            yield mend
        else:
            yield from _by_path(job, mend)


def _by_path(job: Job, mend: Mend) -> Iterator[Mend]:
    """The same mend at each value that stands behind one of its words, in its entry of the plan."""
    tree = read_marked(job.texts.plan, job.texts.plan_file).made
    section, entry, *words = mend.place.path
    for scalar in scalars(tree) if tree is not None else ():
        path = scalar.place.path
        mine = len(path) > 2 and path[0] == section and plain(path[1]) == plain(entry) and plain(path[-1]) in words
        if mine and plain(scalar.text) != plain(mend.text):
            yield replace(mend, place=scalar.place, says=f"{mend.says} instead of {scalar.text}")


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
    if made.made is None or is_worse(before, _bad(made.findings)):
        return False
    try:
        if not _clears(job, after, one):
            return False
        return _is_better(_checked(job), _checked(after), one)
    except Broken:  # a change that nothing can be reckoned with is no mend
        return False


def _clears(job: Job, after: Job, one: Finding) -> bool:
    """Whether its own check, asked alone, finds less than before; the others are asked only then."""
    from storystick.checks import run_one, shelf

    check = shelf().get(one.code)
    if check is None or one.code == SEPARATE:
        return True
    found = _bad(run_one(check, Asked(after.build, after.scene, after.shop)))
    return sum(found.values()) < sum(count for (code, _), count in _checked(job).items() if code == one.code)


def _is_better(before: Bad, after: Bad, one: Finding) -> bool:
    was, now = (sum(found[one.code, grade] for grade in (Grade.STOP, Grade.CARE)) for found in (before, after))
    return now < was and not is_worse(before, after)


def is_worse(before: Bad, after: Bad) -> bool:
    """Whether any check finds more than before; one that now finds it less bad does not count."""
    for code in {code for code, _ in after}:
        was, now = ([found[code, grade] for grade in (Grade.STOP, Grade.CARE)] for found in (before, after))
        if now[0] > was[0] or sum(now) > sum(was):
            return True
    return False


def _bad(found: Iterable[Finding]) -> Bad:
    return Counter((one.code, one.grade) for one in found if one.grade >= Grade.CARE)


def _checked(job: Job) -> Bad:
    """What the checks find wrong, but for the one that takes long."""
    from storystick.checks import run_one, shelf

    kept: Bad | None = job.__dict__.get("wrong")
    if kept is None:
        asked = Asked(job.build, job.scene, job.shop)
        kept = _bad(one for code, check in shelf().items() if code != SEPARATE for one in run_one(check, asked))
        job.__dict__["wrong"] = kept
    return kept
