"""Jobs: what has to be done, what each has to wait for, and how it is told when it is done together with its like."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.model.part import Part
from storystick.model.work import Setup, Stage


@dataclass(frozen=True, slots=True)
class Line:
    """A sentence of a step: "Fence 16 in: " + "A side: trough in the face, " + "along the far end" + ", 18 mm wide".

    Lines of one setting `at` become one sentence; so do lines that differ in `where` alone.
    """

    head: str
    where: str = ""
    tail: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """One thing to do, before it has its place in the order.

    key       unlike any other job's;  after  keys of the jobs that must be done, and have cured, first
    title     may hold {}: what it is about, `words`; jobs of one `kin` that follow one another become one step
    does, ends  sentences before the lines and after them
    cuts      names of part and cut that this job makes
    hands_on  minutes, without setting machines;  waits  minutes until glue or finish has set
    clamps    how many, opening at least `opening` [mm];  bench  it stands on a bench until it has set
    whole     it can't be left half done over night
    laid_out  what has to lie ready for it, until another of its sort is wanted: each what, which, and minutes
    to_fit    the cuts of the sheet maps that are set to what was measured: name of the stock and number
    """

    key: str
    stage: Stage
    title: str
    does: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    setups: tuple[Setup, ...] = ()
    cuts: tuple[tuple[str, str], ...] = ()
    after: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    new: tuple[str, ...] = ()
    check: str = ""
    cautions: tuple[str, ...] = ()
    reads: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    hands_on: float = 0.0
    waits: int = 0
    why_here: str = ""
    kin: str = ""
    words: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    ends: tuple[str, ...] = ()
    clamps: int = 0
    opening: Fraction = Fraction(0)
    bench: bool = False
    whole: bool = False
    laid_out: tuple[tuple[str, str, float], ...] = ()
    to_fit: tuple[tuple[str, int], ...] = ()


def as_one(setups: Iterable[Setup]) -> tuple[Setup, ...]:
    """Set-ups that are the same told once; what differs in their words (along which edge) told of each."""
    found: dict[str, list[Setup]] = {}
    for one in setups:
        found.setdefault(one.key, []).append(one)
    return tuple(replace(same[0], says=_both([one.says for one in same])) for same in found.values())


def _both(texts: Sequence[str]) -> str:
    """Texts that differ in a clause or two: "guide 3 in from the bit, along the near edge and along the far edge"."""
    told = list(dict.fromkeys(texts))
    told = [text for text in told if not any(other.startswith(f"{text}, ") for other in told)]
    clauses = [text.split(", ") for text in told]
    if len(told) == 1 or len({len(row) for row in clauses}) > 1:
        return " or ".join(told)
    return ", ".join(" and ".join(dict.fromkeys(same)) for same in zip(*clauses, strict=True))


RANK = {stage: number for number, stage in enumerate(Stage)}
