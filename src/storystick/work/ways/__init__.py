"""The shelf of ways to make a cut: every module in this folder that has a `WAY` is one. Adding a way is adding a file.

A way looks at one cut in one part and offers what the shop's tools can do; it knows the four shapes of cut only.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal

from storystick.ground.dim import Book, Dim, Leaf, Named
from storystick.ground.finding import Broken
from storystick.ground.shelf import taken_from
from storystick.ground.source import Source, practice
from storystick.model.build import Build
from storystick.model.cut import Cut
from storystick.model.joining import Fit
from storystick.model.part import Part
from storystick.model.work import Setup
from storystick.shop.shop import OwnTime, Shop
from storystick.shop.tables import find, times
from storystick.shop.tables.rows import OperationTime

type WidthBy = Literal["setting", "bit", "offcut"]
CUSTOM = practice("the usual ways of the trade")
TABLED = OwnTime()


@dataclass(frozen=True, slots=True, eq=False)
class Ask:
    """One cut to be made: in which part of which build, with which shop's tools.

    fit     what is to go into it, where the plan says so
    alike   how many cuts of the build could be made at the same set-up, this one among them
    """

    cut: Cut
    part: Part
    build: Build
    shop: Shop
    fit: Fit | None = None
    alike: int = 1


@dataclass(frozen=True, slots=True, eq=False)
class Offer:
    """One way to make the cut with one set of tools.

    minutes  to set up once, and for each cut
    off      how much wider it comes out than drawn [mm]; `sound` when the fit (or the size) is still as wanted
    width_by what makes its width: a setting, the bit itself, an offcut of what goes in
    settle   names the settings in a book and gives the set-ups; only called for the offer that is taken
    """

    method: str
    minutes: tuple[float, float]
    why: str
    settle: Callable[[Book], tuple[Setup, ...]]
    off: Fraction = Fraction(0)
    sound: bool = True
    caution: str = ""
    source: Source = CUSTOM
    width_by: WidthBy = "setting"


@dataclass(frozen=True, slots=True)
class Way:
    """`offers` gives what can be done; `lacks` says what to get so that it could be done this way ("" when never)."""

    name: str
    says: str
    offers: Callable[[Ask], Iterator[Offer]]
    lacks: Callable[[Ask], str]


@cache
def shelf() -> tuple[Way, ...]:
    """Every way, in the order of their names."""
    return tuple(sorted(taken_from(__path__, __name__, "WAY", Way), key=lambda way: way.name))


_OWN: ContextVar[Mapping[str, OwnTime]] = ContextVar("the times of the shop at hand")


@contextmanager
def timed_by(shop: Shop) -> Iterator[None]:
    """While work is planned for a shop, its own times hold before those of the table."""
    before = _OWN.set(shop.times)
    try:
        yield
    finally:
        _OWN.reset(before)


def minutes(name: str, times_over: float = 1.0) -> tuple[float, float]:
    """Minutes to set up and for each piece, by the name of the work: the shop's own, else those of the table."""
    row = _row(name)
    own = _OWN.get({}).get(row.name, TABLED)
    set_up = row.setup_min if own.set_up is None else float(own.set_up)
    return set_up, (row.each_min if own.each is None else float(own.each)) * times_over


def sets_for(name: str, usual: float) -> int:
    """Minutes that something sets or dries by itself: the shop's own, else the usual of what is used."""
    own = _OWN.get({}).get(_row(name).name, TABLED).wait
    return round(usual if own is None else float(own))


@cache
def _row(name: str) -> OperationTime:
    row = find(times(), name)
    if row is None:
        raise Broken(f"the table of times has no {name}")
    return row


def once(book: Book, name: str, reckon: Callable[[], Dim], because: str) -> Dim:
    """A setting that several cuts share: named the first time, the same ever after; another size gets another name."""
    full, reckoned = book.scope + name, reckon()
    seen = book.pages.get(full)
    if seen is None:
        return book.settle(name, reckoned, because)
    if _was(seen) == reckoned.value:
        return seen
    return once(book, f"{name}, {float(reckoned.value):.3f} mm", reckon, because)


def _was(seen: Dim) -> Fraction:
    """What a number of the book was reckoned to be, before any reading."""
    by = seen.node.by if isinstance(seen.node, Named) else seen
    return by.node.instead_of.value if isinstance(by.node, Leaf) and by.node.instead_of is not None else by.value


def setup(machine: str, tool: str, name: str, to: Dim | None, says: str, test: str = "") -> Setup:
    """A set-up whose key is the same wherever the machine, tool and setting are."""
    value = "" if to is None else str(to.value)
    return Setup("; ".join((machine, tool, name, value or says)), machine, tool, name, to, says, test)


def parted(*ways: Iterator[Offer]) -> Iterator[Offer]:
    """Several sorts of offers, one after the other."""
    for way in ways:
        yield from way
