"""What the page is told of a job: the piece as it stands, and what was found when it was checked."""

import sys
from collections.abc import Callable, Collection, Iterable
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from typing import Any

from storystick.app import plain
from storystick.app.mends import only_proven
from storystick.app.page.forms import form
from storystick.app.page.picture import scene_of
from storystick.app.pipeline import CantGoOn, Job
from storystick.ground.dim import Dim
from storystick.ground.finding import Broken, Finding, Grade, worst
from storystick.ground.length import Manner, Unit, show
from storystick.ground.outcome import Outcome
from storystick.model.build import Build
from storystick.model.check import Looks

type Answer = dict[str, Any]


def in_units(job: Job, units: str) -> Job:
    """The job, told in "inch" or "mm" where that is not the plan's own; anything else leaves it as it is."""
    plan, made = job.plan_read.made, job.resolved
    if units in ("inch", "mm") and plan is not None and made.made is not None and plan.units != units:
        unit: Unit = "inch" if units == "inch" else "mm"
        job.__dict__["resolved"] = Outcome(replace(made.made, manner=Manner(unit, plan.fraction)), made.findings)
    return job


def finding(one: Finding, *, with_mend: bool = True) -> Answer:
    """A finding with its place, and with the mend if it has one and that has been tried."""
    told = plain.finding(one)
    told["path"] = list(one.place.path)
    told["end"] = [one.place.end_line, one.place.end_column]
    if one.mend is not None and with_mend:
        spot = one.mend.place
        told["mend"] = {
            "at": [spot.line, spot.column, spot.end_line, spot.end_column],
            "text": one.mend.text,
            "says": one.mend.says,
        }
    return told


def number(dim: Dim, manner: Manner, ask: str = "") -> Answer:
    """A number as it is shown, and the word under which its reason can be asked for."""
    return {"text": show(dim.value, manner), "ask": ask or (f"page:{dim.name}" if dim.name else "")}


def built(job: Job, have: Collection[str] = ()) -> Answer:
    """The piece: parts, sizes, picture, form, and what is wrong with the plan itself. Never raises for a mistake.

    have  marks of entries of the form that are told by these alone
    """
    made = job.resolved
    plan = job.plan_read.made
    told: Answer = {
        "sound": made.made is not None and worst(made.findings) < Grade.STOP,
        "findings": [finding(f, with_mend=False) for f in made.findings],  # `mended` tries the mends
        "title": plan.title if plan else "",
        "about": plan.about if plan else "",
        "units": plan.units if plan else "inch",
        "form": form(job, have) if plan else [],
    }
    build = made.made
    if build is None:
        return told
    manner = build.manner
    told["manner"] = {"unit": manner.unit, "denominator": manner.denominator}
    told["parts"] = _parts(build, manner)
    told["sizes"] = _over_all(build, manner)
    told["counts"] = plain.size_up(build)
    told["measure"] = _drivers(build, manner)
    told["picture"] = scene_of(job, build)
    return told


def _parts(build: Build, manner: Manner) -> list[Answer]:
    rows: dict[str, Answer] = {}
    for part in build.parts:
        row = rows.get(part.letter)
        if row is None:
            rows[part.letter] = {
                "letter": part.letter, "role": part.role, "names": [part.name], "stock": part.stock.name,
                "size": [number(d, manner, f"part:{part.name}:{i}") for i, d in enumerate(part.size)],
                "fit_to": part.fit_to,
                "line": part.place.line, "cuts": len(part.cuts), "notes": list(part.notes),
                "bores": sum(type(c).__name__ == "Bore" for c in part.cuts),
            }  # fmt: skip
        else:
            row["names"].append(part.name)
    return list(rows.values())


def _over_all(build: Build, manner: Manner) -> list[Answer]:
    """Each of the plan's own assemblies with its size over all."""
    return [
        {
            "name": one.name,
            "kind": one.kind,
            "size": [number(d, manner, f"assembly:{one.name}:{i}") for i, d in enumerate(one.size)],
            "line": one.place.line,
            "count": sum(p.assembly == one.name or p.assembly.startswith(one.name + ".") for p in build.parts),
        }
        for one in build.assemblies
        if not one.inside_of
    ]


def _drivers(build: Build, manner: Manner) -> list[Answer]:
    """What is measured first: everything else follows from it."""
    found = ((name, build.pages.get(name)) for name in build.drivers)
    return [{"name": name, **number(dim, manner, f"page:{name}")} for name, dim in found if dim is not None]


def checked(job: Job, looks: Looks) -> Answer:
    """What was found by those checks that look at numbers, or at bodies, the worst first; see `together`.

    With the numbers goes what each assembly weighs, and which parts had better be cut last, with how often they go
    wrong otherwise. Which mends hold is for `mended` to say, which takes longer.
    """
    found = job.of_numbers if looks == "numbers" else job.of_bodies
    told: Answer = {"findings": [finding(f, with_mend=False) for f in found]}
    return {**told, "weights": _weights(job), "last": dict(job.told_last)} if looks == "numbers" else told


def ahead(job: Job | None, asked: Callable[[], bool]) -> None:
    """Begin with looking at the numbers of a job, until somebody asks for something; `checked` goes on with it."""
    if job is not None and "storystick.checks" in sys.modules:  # bringing that in would take its time
        with suppress(CantGoOn, Broken):  # whoever asks will be told
            _ = job.scene, job.going_on(None, asked).of_numbers


def together(numbers: Answer, bodies: Answer) -> Answer:
    """What was found by all checks, the worst first; where one of the two can't tell, what it says instead."""
    for one in (numbers, bodies):
        if "findings" not in one or "stuck" in one:
            return one
    found = [*numbers["findings"], *bodies["findings"]]
    return {**numbers, "findings": sorted(found, key=_rank)}


def _rank(told: Answer) -> tuple[object, ...]:
    """As `in_order` does it."""
    return (-Grade[told["grade"].upper()], told["file"], told["line"], told["code"], told["says"])


def mended(job: Job) -> Answer:
    """The same with those mends that have been tried; of a plan with mistakes, the mistakes with theirs."""
    mistakes = job.resolved.findings
    if worst(mistakes) is Grade.STOP:
        return {"mistakes": [finding(f) for f in only_proven(job, mistakes)]}
    return {"findings": [finding(f) for f in only_proven(job, job.findings)]}


def _weights(job: Job) -> list[Answer]:
    own = (one for one in job.build.assemblies if not one.inside_of)
    return [{"name": one.name, "kilograms": round(job.scene.weight_of(one.name), 2)} for one in own]


def counted(found: Iterable[Finding]) -> dict[str, int]:
    """How many findings there are of each grade."""
    counts = {grade.name.lower(): 0 for grade in Grade}
    for one in found:
        counts[one.grade.name.lower()] += 1
    return counts


def rounded(value: Fraction | float) -> float:
    """Millimetres as the browser wants them."""
    return round(float(value), 4)
