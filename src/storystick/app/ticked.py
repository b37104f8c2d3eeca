"""What can be ticked: under which mark, and which numbers are cut by it.

A mark is the same as long as the thing is the same, on every screen and in the log, though its number changes. What was
cut by a thing that is ticked stays as it was printed then.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from storystick.app.pipeline import Job
from storystick.model.changed import numbers_of
from storystick.model.cutting import Cut, CutTree
from storystick.model.work import Buy, Stage, Step
from storystick.plan.log import Log

type Numbers = tuple[tuple[str, Fraction], ...]


def mark(kind: str, *words: str) -> str:
    """The mark of a thing: step:4f1c22d09ab3e6f1."""
    return f"{kind}:" + hashlib.sha256("\x1f".join(words).encode()).hexdigest()[:16]


def buy_mark(line: Buy) -> str:
    """The mark of a line of the buying list."""
    return mark("buy", line.what, line.size)


def step_mark(step: Step) -> str:
    """The mark of a step."""
    return mark("step", step.stage.value, step.title, *sorted(step.parts), *(one.key for one in step.setups))


def cut_step(job: Job, step: Step) -> Numbers:
    """Every number that a step cuts: the sizes of the parts that leave the saw in it, the numbers of its cuts [mm]."""
    return tuple((name, job.build.pages[name].value) for name in dict.fromkeys(_cut_in(job, step)))


def _cut_in(job: Job, step: Step) -> Iterator[str]:
    if step.stage is Stage.SAW:
        yield from _sizes(job, step.parts)
    for part, cut in step.cuts:
        start = cut if cut.startswith(f"{part}.") else f"{part}.{cut}"
        yield from (name for name in numbers_of(job.build, part) if name.startswith(f"{start}."))


def _sizes(job: Job, parts: Iterable[str]) -> Iterator[str]:
    known = job.build.parts_by_name
    for name in parts:
        if name in known:
            yield from (dim.name for dim in known[name].size[:2] if dim.name in job.build.pages)


@dataclass(frozen=True)
class Sawn:
    """The cuts of one sheet with their marks. A mark tells from what, and into which parts, a piece is cut."""

    tree: CutTree
    sheet: str

    def marks(self) -> Mapping[int, str]:
        """The mark of each cut, by its number."""
        found: dict[int, str] = {}
        seen: dict[tuple[str, ...], int] = {}
        for one in sorted(self.tree.cuts, key=lambda cut: cut.number):
            words = (self.sheet, one.way.value, *(" ".join(self._blanks(n)) for n in (one.piece, *one.frees)))
            seen[words] = seen.get(words, 0) + 1
            found[one.number] = mark("cut", *words, str(seen[words]))
        return found

    def _blanks(self, piece: int) -> list[str]:
        own = [one.blank for one in self.tree.pieces if one.number == piece and one.blank]
        return sorted((*own, *(name for n in self._freed(piece) for name in self._blanks(n))))

    def _freed(self, piece: int) -> Iterator[int]:
        return (n for one in self.tree.cuts if one.piece == piece for n in one.frees)

    def cuts(self, job: Job, one: Cut) -> Numbers:
        """Sizes of the parts that leave the sheet by a cut [mm]."""
        ready = {p.blank.split("#")[0] for p in self.tree.pieces if p.number in one.frees and p.blank}
        still = {cut.piece for cut in self.tree.cuts}
        ready -= {p.blank.split("#")[0] for p in self.tree.pieces if p.number in still and p.blank}
        return tuple((name, job.build.pages[name].value) for name in _sizes(job, sorted(ready)))


def is_made(log: Log, numbers: Numbers) -> bool:
    """Whether everything that a thing cuts is cut already, under whatever mark it was ticked then."""
    held = log.in_wood | log.readings.keys()
    return bool(numbers) and all(name in held for name, _ in numbers)
