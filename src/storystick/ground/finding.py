"""What is worth telling the woodworker, and what is our own fault.

A `Finding` is about the plan, the piece or the shop. `Broken` is about the program: never mix them.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction

from storystick.ground.records import quickly_made
from storystick.ground.source import Source


@quickly_made
@dataclass(frozen=True, slots=True)
class Place:
    """A spot in a text file: 1-based line and column, where it ends, and the path of keys that leads there."""

    file: str = ""
    line: int = 0
    column: int = 0
    end_line: int = 0
    end_column: int = 0
    path: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}" if self.line else (self.file or "the plan")


NOWHERE = Place()


class Grade(IntEnum):
    """How much a finding weighs: higher is worse."""

    FINE = 0  # looked at and found good; carries its margin
    NOTE = 1  # worth knowing
    CARE = 2  # look at it before cutting
    STOP = 3  # can't be built, or can't be read, as it stands


@dataclass(frozen=True, slots=True)
class Mend:
    """A change of the plan that should clear a finding: put `text` in place of what stands at `place`.

    Only where one value is to blame. Who offers it tries it first: others may hang on the same value. A place without
    a line is told by its path alone: the section, the entry, then the words of which the value stands behind one.
    """

    place: Place
    text: str
    says: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found: where, what with its numbers, what to do, and who says so.

    code    stable name of the check; never changes once shipped
    says    the fact, with numbers, as a sentence
    advice  what would mend it, rounded to the safe side; "" when there is nothing to do
    number, limit   the value found and the bound it is held against, in `unit`; None where there is none
    about   names of the parts or bodies concerned
    mend    a change of the plan that should clear it;  tries  others, to be tried in their order if that does not help
    """

    code: str
    grade: Grade
    place: Place
    says: str
    advice: str = ""
    source: Source | None = None
    number: Fraction | float | None = None
    limit: Fraction | float | None = None
    unit: str = ""
    about: tuple[str, ...] = ()
    mend: Mend | None = None
    tries: tuple[Mend, ...] = ()

    @property
    def margin(self) -> float | None:
        """Distance between number and limit, in `unit`; None where the finding has no numbers."""
        if self.number is None or self.limit is None:
            return None
        return abs(float(self.limit) - float(self.number))


def mistake(place: Place, value: str, expected: str, nearest: str = "", code: str = "reading") -> Finding:
    """A value in a file that can't be read: shown with what was expected and the nearest thing that works."""
    value = value if len(value) <= 60 else value[:57] + "..."
    said = f"{value!r} is not {expected}." if value else f"expected {expected}."
    mend = Mend(place, nearest, f"Write {nearest}") if nearest and place.line and value and _is_one(nearest) else None
    return Finding(code, Grade.STOP, place, said, f"Write {nearest}." if nearest else "", mend=mend)


def _is_one(nearest: str) -> bool:
    """Whether it is a value as it could stand in the file, not words about several."""
    return not any(sign in nearest for sign in (", ", " or ", " and ", "...", ": ", "{"))


def wrong(place: Place, says: str, advice: str = "", code: str = "reading") -> Finding:
    """Something in a file that can't stand as it is, in a sentence of its own."""
    return Finding(code, Grade.STOP, place, says, advice)


class Broken(Exception):
    """A fault of the program itself, never of the person who uses it."""

    def __init__(self, says: str, faults: Sequence[object] = ()) -> None:
        super().__init__(says + "".join(f"\n  {fault}" for fault in faults))


def worst(findings: Iterable[Finding]) -> Grade:
    """The heaviest grade among findings; FINE when there are none."""
    return max((finding.grade for finding in findings), default=Grade.FINE)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings with the worst first, then by place in the file, then by code: the order they are shown in."""
    return tuple(sorted(findings, key=lambda f: (-f.grade, f.place.file, f.place.line, f.code, f.says)))
