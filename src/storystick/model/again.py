"""What to measure again: which reading of which number would take away most of the risk.

To know a number of the piece itself takes out its own error and whatever else it came from, and puts in the error of
the tool. To first order; that a first piece also tells of the others cut at its setting is left out: the gain is at
least what is said here. Source: JCGM 100:2008 (GUM), 5.1.2.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from storystick.ground.dim import Dim, Leaf, counts
from storystick.model.judged import Judged, odds, share
from storystick.model.made import Made, was_read
from storystick.shop.shop import MeasuringTool, Shop
from storystick.shop.tables import find, instruments

LEAST = 0.005
"""A gain of less than half a chance in a hundred, over all fits, is not worth the walk [-]."""


@dataclass(frozen=True, slots=True)
class Again:
    """One number worth measuring: with which tool, and the risk it takes away (fits that go wrong in a hundred builds).

    gain     chances of trouble taken away, over all fits;  fits  names of those it helps, the most helped first
    """

    name: str
    dim: Dim
    tool: str
    gain: float
    fits: tuple[str, ...]


def again(made: Made, judged: Sequence[Judged], shop: Shop, most: int = 12) -> tuple[Again, ...]:
    """The readings that would help most, the best first."""
    found = list(_leaves(made, judged, shop)) + list(_pieces(made, judged, shop))
    worth = [one for one in found if one.gain >= LEAST]
    return tuple(sorted(worth, key=lambda one: (-round(one.gain, 6), one.name))[:most])


def finest(shop: Shop, length: float) -> MeasuringTool | None:
    """The tool of the shop that reads a length [mm] best; callipers only as far as they open."""
    size = Fraction(str(round(length, 3)))
    fitting = [tool for tool in shop.measuring if length <= _reach(tool)]
    return min(fitting, key=lambda tool: (tool.sd_at(size), tool.name), default=None)


def _reach(tool: MeasuringTool) -> float:
    row = find(instruments(), tool.name)
    return float(row.longest_mm) if row else 5000.0


def _leaves(made: Made, judged: Sequence[Judged], shop: Shop) -> Iterator[Again]:
    """What was read or is not measured yet: read better, where there is a better tool."""
    names = {key: leaf for one in judged for key, (leaf, _) in one.rests_on.items() if leaf.kind != "setting"}
    pages: dict[str, str] = {}
    for name, dim in made.build.pages.items():
        for key in _only_leaf(dim):
            pages.setdefault(key, name)
    for key, leaf in names.items():
        name = pages.get(key, "")
        tool = finest(shop, abs(float(made.build.pages[name].value))) if name else None
        if tool is None or leaf.spread is None:
            continue
        sd = min(tool.sd_at(made.build.pages[name].value), leaf.spread.sd)
        gains = {}
        for one in judged:
            if key in one.rests_on:
                weight = one.rests_on[key][1]
                gains[one.fit.name] = one.trouble - one.trouble_without((key,), abs(weight) * sd)
        yield Again(name, made.build.pages[name], tool.name, sum(gains.values()), _helped(gains))


def _only_leaf(dim: Dim) -> tuple[str, ...]:
    """The one leaf that a named number is nothing but."""
    found = counts(dim)
    return tuple(found) if len(found) == 1 and next(iter(found.values()))[0].kind in ("reading", "rule") else ()


def _pieces(made: Made, judged: Sequence[Judged], shop: Shop) -> Iterator[Again]:
    """Sizes of pieces, once they are cut: known as well as they are measured."""
    for name, dim in (made.numbers | {n: made.as_made(d) for n, (d, _) in made.provisional.items()}).items():
        page = made.build.pages.get(name)
        if page is None or was_read(page):
            continue
        own = {key: one for key, one in counts(dim).items() if one[0].spread}
        mine = next((key for key in own if key.startswith(f"{name}: ")), "")
        tool = finest(shop, abs(float(page.value)))
        if not mine or tool is None:
            continue
        gains = {}
        for one in judged:
            if mine in one.rests_on:
                gains[one.fit.name] = one.trouble - _known(one, own, mine, tool.sd_at(page.value))
        if gains:
            yield Again(name, page, tool.name, sum(gains.values()), _helped(gains))


def _known(one: Judged, own: Mapping[str, tuple[Leaf, float]], mine: str, sd: float) -> float:
    """The chance of trouble of a fit once a number is known to `sd` [mm] by itself, not through what it came from."""
    times = one.rests_on[mine][1]
    variance = (times * sd) ** 2
    for key, (leaf, weight) in one.rests_on.items():
        through = times * own[key][1] if key in own else 0.0
        variance += share(leaf, weight - through)
    return min(one.trouble, sum(odds(one, sqrt(variance))))


def _helped(gains: Mapping[str, float]) -> tuple[str, ...]:
    return tuple(sorted((name for name in gains if gains[name] > 0), key=lambda name: (-round(gains[name], 6), name)))
