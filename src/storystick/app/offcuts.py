"""Where another piece for a part can come from: what the layouts leave over, less what was promised there already."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.app.pipeline import Job
from storystick.ground.length import Manner, show
from storystick.layout.blanks import blanks_of
from storystick.model.cutting import Blank
from storystick.model.part import Part
from storystick.model.work import Cutting


@dataclass(frozen=True, slots=True)
class _Left:
    """A leftover as it lies there: what it is, in words, its size (wide None: by length alone), the saw's kerf."""

    says: str
    long: Fraction
    wide: Fraction | None
    kerf: Fraction

    @property
    def large(self) -> Fraction:
        """How much there is of it: by area, or by length."""
        return self.long if self.wide is None else self.long * self.wide

    def takes(self, blank: Blank) -> tuple[Fraction, Fraction] | None:
        """What a blank takes of its long and its wide side, turned where it may be; None where there is no room."""
        for long, wide in _ways(blank):
            if long <= self.long and (self.wide is None or wide <= self.wide):
                return long, wide
            if self.wide is None:
                break  # a stick is never turned
        return None

    def without(self, long: Fraction, wide: Fraction) -> "_Left":
        """The larger of the two pieces that are left when a corner of that size is sawn out."""
        behind = replace(self, long=max(Fraction(0), self.long - long - self.kerf))
        if self.wide is None:
            return behind
        beside = replace(self, wide=max(Fraction(0), self.wide - wide - self.kerf))
        return max(beside, behind, key=lambda one: one.large)


def _ways(blank: Blank) -> Iterator[tuple[Fraction, Fraction]]:
    if blank.along_grain is not False:
        yield blank.long, blank.wide
    if blank.along_grain is not True:
        yield blank.wide, blank.long


def offcuts(job: Job) -> Callable[[Part], str | None]:
    """A part's offcut in words, the smallest that has room for all its blanks; None where none has.

    What parts that are to be cut again take of their offcuts, as the log stands, is not offered twice.
    """
    left: dict[str, list[_Left]] = {}
    blanks: dict[str, list[Blank]] = {}
    for cutting in job.cuttings:
        name = cutting.stock.name
        left[name] = [*_left_over(cutting), *_untouched(cutting)]
        for blank in blanks_of(job.build, cutting.stock):
            blanks.setdefault(blank.key.split(" #")[0], []).append(blank)
    promised = [part for part in job.build.parts if _is_promised(job, part)]
    for part in promised:
        found = _placed(left.get(part.stock.name, []), blanks.get(part.name, []))
        if found is not None:
            left[part.stock.name] = found[1]

    def find(part: Part) -> str | None:
        rest, own = left.get(part.stock.ripped_from or part.stock.name, []), blanks.get(part.name, [])
        found = _placed(rest, own) if own else None
        return None if found is None else " and ".join(dict.fromkeys(_said(one, job.build.manner) for one in found[0]))

    return find


def _is_promised(job: Job, part: Part) -> bool:
    """Whether a part is to be cut again, and is not yet."""
    return part.name not in job.log.cut and any(one.act == "anew" and one.about == part.name for one in job.log.entries)


def _left_over(cutting: Cutting) -> Iterator[_Left]:
    """What the layout of a stock leaves that is worth keeping."""
    name = cutting.stock.name
    for number, tree in enumerate(cutting.layout.trees, 1):
        for piece in tree.leftovers:
            wide = piece.wide if tree.sheet.wide else None
            yield _Left(f"the leftover of {name} {number}", piece.long, wide, cutting.kerf)


def _untouched(cutting: Cutting) -> Iterator[_Left]:
    """Sheets and offcuts on hand that the layout has no use for."""
    used = Counter((tree.sheet.long, tree.sheet.wide or None) for tree in cutting.layout.trees if tree.sheet.on_hand)
    for one in cutting.stock.sizes:
        if one.on_hand:
            for _ in range((one.copies or 1) - used[one.long, one.wide]):
                yield _Left(f"the {cutting.stock.name} on hand", one.long, one.wide, cutting.kerf)


def _placed(left: list[_Left], blanks: list[Blank]) -> tuple[list[_Left], list[_Left]] | None:
    """The leftovers that the blanks come from, and what there is then; None where one of them has no room."""
    used, rest = [], list(left)
    for blank in sorted(blanks, key=lambda one: -one.long * one.wide):
        roomy = [(one, takes) for one in rest if (takes := one.takes(blank)) is not None]
        if not roomy:
            return None
        one, takes = min(roomy, key=lambda pair: pair[0].large)
        used.append(one)
        rest[rest.index(one)] = one.without(*takes)
    return used, rest



def _said(one: _Left, manner: Manner) -> str:
    return f"{one.says} ({show(one.long, manner)}" + (f" × {show(one.wide, manner)})" if one.wide else ")")
