"""Putting right, as the page sees it: the fits that broke, what can be done about each, and taking one of these."""

from hashlib import blake2s
from typing import Any

from storystick.app import entries, plain
from storystick.app.offcuts import offcuts
from storystick.app.pipeline import Job
from storystick.ground.length import Manner, fine
from storystick.model.judged import Judged
from storystick.model.mending import Offcut, Remedy, is_broken, remedies

type Answer = dict[str, Any]


def broken(job: Job) -> Answer:
    """The fits that broke, those that nothing was chosen for first; each with what can be done, the cheapest first."""
    offcut, manner = offcuts(job), job.build.manner
    found = [_fit(job, one, _open(job, one, offcut), manner) for one in job.judged if is_broken(one)]
    return {"fits": sorted(found, key=lambda one: bool(one["chosen"]))}


def _open(job: Job, one: Judged, offcut: Offcut | None = None) -> tuple[Remedy, ...]:
    return remedies(job.made, one, job.judged, job.log.in_wood, offcut or offcuts(job))


def _fit(job: Job, one: Judged, open_to: tuple[Remedy, ...], manner: Manner) -> Answer:
    fit, chosen = one.fit, job.log.chosen.get(one.fit.name)
    return {
        "name": fit.name, "goes_in": fit.goes_in, "into": fit.into,
        "gap": {**plain.length(one.gap.value, manner), "text": fine(one.gap.value, manner)},
        "tight": one.gap.value < fit.least.value,
        "wanted": f"{fine(fit.least.value, manner)} to {fine(fit.most.value, manner)}",
        "chosen": "" if chosen is None else f"{chosen.says} ({chosen.when})",
        "remedies": [_remedy(each, manner) for each in open_to],
    }  # fmt: skip


def _remedy(one: Remedy, manner: Manner) -> Answer:
    spoilt = {*one.spoils}
    return {
        "mark": mark_of(one), "way": one.way, "says": one.says, "left": one.left, "enough": one.enough,
        "minutes": one.minutes,
        "also": [
            {
                "fit": other.fit.name, "gap": fine(other.gap.value + by, manner),
                "good": other.fit.least.value <= other.gap.value + by <= other.fit.most.value,
                "spoilt": other.fit.name in spoilt,
            }
            for other, by in one.also
        ],
    }  # fmt: skip


def mark_of(one: Remedy) -> str:
    """What a remedy is taken by: the same while it does the same, so that nobody takes what he did not see."""
    does = f"{one.way}|{one.part}|{one.number}|{one.by}"
    return blake2s(does.encode(), digest_size=8).hexdigest()


def taken(job: Job, fit: str, mark: str) -> Answer:
    """The entries that taking a remedy writes into the log, as the command line writes them; or why it can't be."""
    one = next((each for each in job.judged if each.fit.name == fit), None)
    if one is None:
        return {"refused": f"no fit is called {fit}"}
    for remedy in _open(job, one):
        if mark_of(remedy) == mark:
            return {"entries": entries.chose(job, one, remedy)}
    return {"refused": f"{fit} is not as it was when that was offered: look at it once more"}
