"""What no layout can beat: a lower bound on the cost of the sheets, by area and by dual feasible functions.

A function u on [0, 1] is dual feasible if u(x1) + ... + u(xn) <= 1 whenever x1 + ... + xn <= 1. If blanks fit on a
sheet of sides 1 x 1, the sum of u(long) * v(wide) over them is at most 1 for any two such functions (Fekete and
Schepers, A general framework for bounds for higher-dimensional orthogonal packing problems, 2004; from memory).
A kerf goes between blanks, so each side is reckoned with one kerf more, and so is the sheet's.
"""

import heapq
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import inf

from storystick.layout.sheets.problem import Job, Kind, Kit, Stock

Feasible = Callable[[int, int], float]
"""A dual feasible function of a size and the whole, both with one kerf added."""

MOST_SIZES = 10
"""How many of the blanks' sizes are tried as thresholds, each way."""

SAFE = 1e-7
"""What a sum of floats may be wrong by, at most."""


def plain(size: int, whole: int) -> float:
    """The size as a share of the whole: the bound by area."""
    return size / whole


def over(least: int) -> Feasible:
    """Sizes under `least` count nothing, and those that leave less than `least` count for the whole."""

    def share(size: int, whole: int) -> float:
        if 2 * least > whole:
            return size / whole
        if size > whole - least:
            return 1.0
        return 0.0 if size < least else size / whole

    return share


def stepped(steps: int) -> Feasible:
    """Shares rounded down to steps of 1/steps, unless they are whole steps of 1/(steps + 1)."""

    def share(size: int, whole: int) -> float:
        number, rest = divmod(size * (steps + 1), whole)
        return size / whole if rest == 0 else number / steps

    return share


def counted(least: int) -> Feasible:
    """Sizes from `least` to half count as one of as many as the whole holds; larger ones by what they leave."""

    def share(size: int, whole: int) -> float:
        most = whole // least
        if most < 2:
            return size / whole
        if 2 * size > whole:
            return 1 - ((whole - size) // least) / most
        return 1 / most if size >= least else 0.0

    return share


@dataclass(frozen=True, slots=True)
class _Size:
    """A sheet for the bound: sides with one kerf added, cost, and how many there are."""

    long: int
    wide: int
    cost: float
    copies: int | None


def least_cost(job: Job) -> Fraction:
    """No layout of all blanks costs less than this."""
    sizes = [size for stock in job.stocks if (size := _size(stock, job.kerf)) is not None]
    paid = [size for size in sizes if size.cost > 0]
    if not paid or not job.kinds:
        return Fraction(0)
    endless = [size for size in paid if size.copies is None] or paid
    few = [size for size in sizes if size not in endless]
    best = 0.0
    for along in _family([fit.long + job.kerf for kind in job.kinds for fit in kind.fits]):
        for across in _family([fit.wide + job.kerf for kind in job.kinds for fit in kind.fits]):
            best = max(best, _reckoned(job, endless, few, along, across))
    return attainable(best - SAFE * (1 + best), [stock.cost for stock in job.stocks if stock.cost > 0])


def _size(stock: Stock, kerf: int) -> _Size | None:
    """The smallest rectangle that holds all clear regions of a sheet, however it is begun."""
    boxes = [_box(kit) for kit in stock.kits if kit.regions]
    if not boxes:
        return None
    long, wide = max(box[0] for box in boxes), max(box[1] for box in boxes)
    return _Size(long + kerf, wide + kerf, float(stock.cost), stock.copies)


def _box(kit: Kit) -> tuple[int, int]:
    areas = [region.area for region in kit.regions]
    return (
        max(a.x + a.long for a in areas) - min(a.x for a in areas),
        max(a.y + a.wide for a in areas) - min(a.y for a in areas),
    )


def _family(sizes: Sequence[int]) -> list[Feasible]:
    """The functions that are tried one way: thresholds at the blanks' own sizes."""
    several = sorted(set(sizes))
    step = max(1, -(-len(several) // MOST_SIZES))
    chosen = several[::step]
    return [plain, *(stepped(n) for n in (1, 2, 3, 4)), *map(over, chosen), *map(counted, chosen)]


def _reckoned(job: Job, endless: Sequence[_Size], few: Sequence[_Size], along: Feasible, across: Feasible) -> float:
    """Each kind's worth such that no sheet that can be had without end gives more than it costs; then the sum."""
    total, worths = 0.0, []
    for kind in job.kinds:
        worth = min((sheet.cost * _share(kind, sheet, job.kerf, along, across) for sheet in endless), default=0.0)
        worths.append(0.0 if worth == inf else worth)
        total += worths[-1] * len(kind.keys)
    return total - sum(_gain(job, sheet, worths) for sheet in few)


def _share(kind: Kind, sheet: _Size, kerf: int, along: Feasible, across: Feasible) -> float:
    """The least share of a sheet that one blank takes, over the ways it can lie; infinite, if it can lie in none."""
    return min(
        (
            along(fit.long + kerf, sheet.long) * across(fit.wide + kerf, sheet.wide)
            for fit in kind.fits
            if fit.long + kerf <= sheet.long and fit.wide + kerf <= sheet.wide
        ),
        default=inf,
    )


def _gain(job: Job, sheet: _Size, worths: Sequence[float]) -> float:
    """The most that the few sheets of one size give beyond their cost, by the worth of the densest kind on them."""
    shares = [_share(kind, sheet, job.kerf, plain, plain) for kind in job.kinds]
    densest = max((worth / share for worth, share in zip(worths, shares, strict=True) if share != inf), default=0.0)
    return (sheet.copies or 0) * max(0.0, densest - sheet.cost)


def attainable(bound: float | Fraction, costs: Sequence[Fraction], most: int = 5000) -> Fraction:
    """The least sum of sheets' costs that is not under the bound."""
    sums, seen = [Fraction(0)], {Fraction(0)}
    while sums and most:
        least = heapq.heappop(sums)
        if least >= bound:
            return least
        most -= 1
        for cost in costs:
            if least + cost not in seen:
                seen.add(least + cost)
                heapq.heappush(sums, least + cost)
    return Fraction(bound)
