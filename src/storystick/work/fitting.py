"""The tools decide: for each channel that something goes into, the shop's methods and the fit that each would give.

A bit that happens to fit cuts its own width, whatever was asked. A setting repeats as well as settings do. Guides set
with an offcut, and a trial on scrap, take the sheet as it is: what it was read to be counts no more.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import hypot, sqrt

from storystick.ground.dim import Book, Dim
from storystick.model.build import Build
from storystick.model.cut import Channel
from storystick.model.joining import Fit
from storystick.model.judged import Judged, odds_of, share
from storystick.model.made import OWN, PLACE
from storystick.model.work import Setup
from storystick.shop.shop import Shop
from storystick.shop.tables import workmanship
from storystick.work.choosing import all_offers, likeness
from storystick.work.ways import Ask, WidthBy

TRIAL = "trial on scrap: widen by shavings until an offcut of what goes in slides home"
MOST = 5


@dataclass(frozen=True, slots=True, eq=False)
class Method:
    """One way to make a channel and the fit it would give: the gap [mm], and the chances of too tight and too loose.

    setups  what is set, each number one that can be asked why
    by_bit  a bit makes the width, whatever was asked: told even where it is no good, since hands will reach for it
    """

    method: str
    gap: Fraction
    tight: float
    loose: float
    setups: tuple[Setup, ...] = ()
    why: str = ""
    by_bit: bool = False

    @property
    def trouble(self) -> float:
        """The chance that it is not as wanted."""
        return self.tight + self.loose


@dataclass(frozen=True, slots=True, eq=False)
class Channels:
    """Fits whose channels are alike, and the methods for them: those that fit first."""

    fits: tuple[Fit, ...]
    width: Dim
    methods: tuple[Method, ...]


def methods(build: Build, shop: Shop, judged: Sequence[Judged], book: Book) -> tuple[Channels, ...]:
    """The methods for every channel that something goes into; fits that are alike together. Settings go in the book."""
    alike: dict[tuple[object, ...], list[Judged]] = {}
    for one in judged:
        cut = _channel(build, one.fit)
        if cut is not None:
            fit = one.fit
            goes_in = build.parts_by_name.get(fit.goes_in)
            stock = goes_in.stock.name if goes_in else fit.goes_in
            like = likeness(cut, build.part(fit.into))
            key = (*like, one.gap.value, round(one.sd, 4), fit.least.value, fit.most.value, stock, cut.called)
            alike.setdefault(key, []).append(one)
    return tuple(_channels(build, shop, found, book) for found in alike.values())


def _channel(build: Build, fit: Fit) -> Channel | None:
    part = build.parts_by_name.get(fit.into)
    cuts = part.cuts if part is not None and fit.cut else ()
    return next((cut for cut in cuts if cut.name == fit.cut and isinstance(cut, Channel)), None)


def _channels(build: Build, shop: Shop, alike: Sequence[Judged], book: Book) -> Channels:
    first = alike[0]
    cut = _channel(build, first.fit)
    assert cut is not None
    ask = Ask(cut, build.part(first.fit.into), build, shop, first.fit, len(alike))
    found = list(_methods(ask, first, book))
    found.sort(key=lambda one: round(one.trouble, 3))  # the quickest first where two are as good
    told = [*found[:MOST], *(one for one in found[MOST:] if one.by_bit)]
    return Channels(tuple(one.fit for one in alike), cut.width, tuple(told))


def _methods(ask: Ask, judged: Judged, book: Book) -> Iterator[Method]:
    told: set[str] = set()
    for offer in all_offers(ask):
        if offer.method not in told:
            told.add(offer.method)
            yield replace(
                _method(offer.method, judged, offer.off, _sd(judged, offer.width_by)),
                setups=offer.settle(book), why=offer.why, by_bit=offer.width_by == "bit",
            )  # fmt: skip
    yield _method(TRIAL, judged, Fraction(0), _sd(judged, "offcut"))


def _method(method: str, judged: Judged, off: Fraction, sd: float) -> Method:
    gap, fit = judged.gap.value + off, judged.fit
    tight, loose = odds_of(gap, fit.least.value, fit.most.value, sd)
    return Method(method, gap, tight, loose)


def _sd(judged: Judged, width_by: WidthBy) -> float:
    """Standard deviation of the gap when its width is made that way [mm]."""
    own = (f": {OWN}", f": {PLACE}")
    variance = 0.0
    for leaf, weight in judged.rests_on.values():
        is_own = leaf.name.endswith(own)
        if width_by == "setting" or is_own or (width_by == "bit" and leaf.kind != "setting"):
            variance += share(leaf, weight)
    if width_by == "offcut":
        return hypot(sqrt(variance), workmanship()["channel width"].setting_mm)
    return sqrt(variance)
