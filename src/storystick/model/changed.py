"""What an entry of the log changed: parts that come out in another size, fits that moved, drawings that are stale."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim, Leaf, walk
from storystick.model.build import Build
from storystick.model.judged import Judged

NOTHING = Fraction(1, 100)
"""A hundredth of a millimetre is no change at the bench [mm]."""
MOVED = 0.02
"""A chance that moved by less than this is not worth telling."""


@dataclass(frozen=True, slots=True, eq=False)
class NewSize:
    """A number of a part that is not as it was. `why` names what was read or settled that it now hangs on."""

    part: str
    number: str
    old: Dim
    new: Dim
    why: str


@dataclass(frozen=True, slots=True)
class Moved:
    """A fit before and after."""

    old: Judged
    new: Judged


@dataclass(frozen=True, slots=True)
class Changed:
    """Everything that is not as it was before.

    gone, come  names of parts that are no more, or are new
    stale       drawings to print again: cards by the letters of their parts, sheet maps by the names of their stock
    """

    sizes: tuple[NewSize, ...]
    fits: tuple[Moved, ...]
    cards: tuple[str, ...]
    sheets: tuple[str, ...]
    gone: tuple[str, ...] = ()
    come: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.sizes or self.fits or self.gone or self.come)


def changed(old: Build, new: Build, fits_then: Sequence[Judged], fits_now: Sequence[Judged]) -> Changed:
    """What is not as it was, between two builds of one plan and their fits."""
    sizes = tuple(_sizes(old, new))
    before = {one.fit.name: one for one in fits_then}
    moved = tuple(
        Moved(before[one.fit.name], one)
        for one in fits_now
        if one.fit.name in before and _moved(before[one.fit.name], one)
    )
    touched = {one.part for one in sizes}
    parts = [part for part in new.parts if part.name in touched]
    outer = {one.part for one in sizes if one.number in {dim.name for dim in new.part(one.part).size}}
    return Changed(
        sizes, moved, tuple(dict.fromkeys(part.letter for part in parts)),
        tuple(dict.fromkeys(part.stock.name for part in parts if part.name in outer)),
        tuple(name for name in old.parts_by_name if name not in new.parts_by_name),
        tuple(name for name in new.parts_by_name if name not in old.parts_by_name),
    )  # fmt: skip


def _sizes(old: Build, new: Build) -> Iterator[NewSize]:
    for part in new.parts:
        for name in numbers_of(new, part.name):
            before, now = old.pages.get(name), new.pages[name]
            if before is not None and abs(before.value - now.value) > NOTHING:
                yield NewSize(part.name, name, before, now, because(before, now))


def numbers_of(build: Build, part: str) -> Mapping[str, Dim]:
    """Every number that is printed for a part, by name."""
    return {name: dim for name, dim in build.pages.items() if name.startswith(f"{part}.")}


def because(old: Dim, new: Dim) -> str:
    """What a number hangs on now that it didn't before: the readings and settled numbers that are new to it."""
    before = {_said(leaf) for leaf in _overruled(old)}
    fresh = [said for leaf in _overruled(new) if (said := _said(leaf)) not in before]
    return "; ".join(dict.fromkeys(fresh)) or "reckoned anew"


def _overruled(dim: Dim) -> Iterator[Leaf]:
    for one in walk(dim):
        if isinstance(one.node, Leaf) and one.node.instead_of is not None:
            yield one.node


def _said(leaf: Leaf) -> str:
    return f"{leaf.name}, {leaf.says}"


def _moved(old: Judged, new: Judged) -> bool:
    return (
        abs(old.gap.value - new.gap.value) > NOTHING
        or abs(old.tight - new.tight) > MOVED
        or abs(old.loose - new.loose) > MOVED
    )
