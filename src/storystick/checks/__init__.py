"""The shelf of checks: every module in this folder that has a `CHECK` is one. Adding a check is adding a file.

A check looks at a build and gives findings, good ones too, with the number, the limit and the margin.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache

from storystick.ground.finding import Broken, Finding, Grade, in_order
from storystick.ground.kept import Kept, This
from storystick.ground.shelf import taken_from
from storystick.model.check import Asked, Check, Looks

LOOKS: tuple[Looks, ...] = ("numbers", "bodies")
_FOUND: Kept[dict[str, tuple[Finding, ...]]] = Kept(8)  # by check; what is stopped goes on where it was


@cache
def shelf() -> Mapping[str, Check]:
    """Every check by its code, in the order of their codes."""
    return {check.code: check for check in taken_from(__path__, __name__, "CHECK", Check)}


def run_all(
    asked: Asked,
    *,
    looks: Looks | None = None,
    tell: Callable[[str, float], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> tuple[Finding, ...]:
    """Everything that the shelf finds, the worst first; or all those checks that look at the same sort of things.

    tell  is given the code of each check before it runs, and the share of them that is done
    stop  is asked before each, and ends the run when it says True

    Findings that the plan accepts are graded down to notes with the plan's reason. Raises Broken with the code of a
    check that fails. What was found is kept for builds of the very same things.
    """
    if looks is None:
        some = (run_all(asked, looks=one, tell=tell, stop=stop) for one in LOOKS)
        return in_order(finding for found in some for finding in found)

    order = This(asked.sequence) if looks == "bodies" and asked.sequence else None
    told = _FOUND.of((looks, asked.build.content, This(asked.shop), order), dict)
    checks = [check for check in shelf().values() if check.looks == looks]
    for number, check in enumerate(checks):
        if stop is not None and stop():
            break
        if check.code not in told:
            if tell is not None:
                tell(check.code, number / len(checks))
            told[check.code] = tuple(run_one(check, asked))
    return in_order(accept(one, asked.build.accepted) for found in told.values() for one in found)


def run_one(check: Check, asked: Asked) -> Iterator[Finding]:
    """What one check finds; Broken with its code where it fails."""
    try:
        yield from check.run(asked)
    except Broken:
        raise
    except Exception as trouble:
        raise Broken(f"the check {check.code} failed: {trouble!r}") from trouble


def accept(finding: Finding, accepted: Mapping[str, str]) -> Finding:
    """A finding that the plan knowingly accepts becomes a note that says why."""
    if finding.code not in accepted or finding.grade <= Grade.NOTE:
        return finding
    reason = accepted[finding.code].strip()
    said = f"{finding.says} Accepted" + (f": {reason.rstrip('.')}." if reason else " without a reason.")
    return replace(finding, grade=Grade.NOTE, says=said)
