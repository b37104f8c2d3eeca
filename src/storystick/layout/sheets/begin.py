"""How to begin on a sheet: trim its edges, go round its defects, and break it down into what one person can handle."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.layout.sheets.problem import (
    CROSSCUT,
    RIP,
    Area,
    Job,
    Kind,
    Kit,
    Limits,
    Region,
    SheetProblem,
    Split,
    Stock,
    kinds_of,
)
from storystick.model.cutting import UNIT, Purpose, Sheet, Trim, units_down, units_up


def reckon(problem: SheetProblem) -> Job:
    """The question in whole units: blanks and kerf rounded up, stock down, blanks that are alike put together."""
    kerf = units_up(problem.kerf)
    kinds: list[Kind] = []
    too_large: list[str] = []
    everything = kinds_of(problem.blanks, kerf)
    sizes = frozenset(fit.long for kind in everything for fit in kind.fits)
    stocks = tuple(_stock(index, sheet, problem, kerf, sizes) for index, sheet in enumerate(problem.sheets))
    regions = [region.area for stock in stocks for kit in stock.kits for region in kit.regions]
    for kind in everything:
        fits = tuple(f for f in kind.fits if any(f.long <= r.long and f.wide <= r.wide for r in regions))
        if fits:
            kinds.append(replace(kind, fits=fits))
        else:
            too_large.extend(_keys(kind))
    finished = frozenset((way, fit.size(way)) for kind in kinds for fit in kind.fits for way in (CROSSCUT, RIP))
    return Job(tuple(kinds), stocks, kerf, finished, tuple(too_large))


def _keys(kind: Kind) -> Iterator[str]:
    yield from (member.key for member in kind.members) if kind.members else kind.keys


@dataclass(frozen=True, slots=True)
class _Clear:
    """A rectangle still to be begun on, with what hangs on to its far edges."""

    area: Area
    spare_long: int
    spare_wide: int


def _stock(index: int, sheet: Sheet, problem: SheetProblem, kerf: int, sizes: frozenset[int]) -> Stock:
    trim = Trim() if sheet.sawn else problem.trim
    left, front = _near(trim.left, kerf), _near(trim.front, kerf)
    long, wide = units_down(sheet.long), units_down(sheet.wide)
    right, back = units_up(trim.right), units_up(trim.back)
    usable = Area(left, front, max(0, long - left - right), max(0, wide - front - back))
    whole = _Clear(usable, right, back)
    plans = list(_broken_down(whole, problem, kerf, sizes)) or [None]
    kits = tuple(_kit(whole, plan, sheet, kerf, left, front) for plan in plans)
    return Stock(index, sheet.cost, sheet.copies, tuple(kit for kit in kits if kit.regions) or kits[:1])


def _near(trim: Fraction, kerf: int) -> int:
    """A near edge is trimmed by a cut, so at least a kerf goes."""
    return max(units_up(trim), kerf) if trim else 0


@dataclass(frozen=True, slots=True)
class _Breakdown:
    way: int
    at: tuple[int, ...]
    kerf: int
    allowance: int


def _kit(whole: _Clear, plan: _Breakdown | None, sheet: Sheet, kerf: int, left: int, front: int) -> Kit:
    regions: list[Region] = []
    defects = [_grown(d.x, d.y, d.long, d.wide) for d in sheet.defects]
    first: Split | int | None = _pieces(whole, plan, defects, kerf, regions)
    if left:
        first = Split(CROSSCUT, left - kerf, kerf, Purpose.TRIM, None, first)
    if front:
        first = Split(RIP, front - kerf, kerf, Purpose.TRIM, None, first)
    return Kit(first if first is not None else 0, tuple(regions))


def _grown(x: Fraction, y: Fraction, long: Fraction, wide: Fraction) -> Area:
    """A defect, grown to whole units."""
    left, front = units_down(x), units_down(y)
    return Area(left, front, units_up(x + long) - left, units_up(y + wide) - front)


def _pieces(
    clear: _Clear, plan: _Breakdown | None, defects: list[Area], kerf: int, regions: list[Region]
) -> Split | int | None:
    if plan is None or not plan.at:
        return _round_defects(clear, defects, kerf, regions)
    cut, *others = plan.at
    near, far = _parted(clear, plan.way, cut, plan.kerf)
    near = _hung(near, plan.way, plan.allowance)
    first = _round_defects(near, defects, kerf, regions)
    # The far piece gets its rough edge trimmed straight.
    edge = cut + plan.kerf + plan.allowance
    _, trimmed = _parted(far, plan.way, edge - kerf, kerf)
    rest = _pieces(trimmed, replace(plan, at=tuple(others)), defects, kerf, regions)
    straight = Split(plan.way, edge - kerf, kerf, Purpose.TRIM, None, rest)
    return Split(plan.way, cut, plan.kerf, Purpose.BREAKDOWN, first, straight)


def _hung(clear: _Clear, way: int, amount: int) -> _Clear:
    """The far `amount` of a piece set aside as a rough edge."""
    area = clear.area
    if way == RIP:
        return _Clear(replace(area, wide=area.wide - amount), clear.spare_long, amount)
    return _Clear(replace(area, long=area.long - amount), amount, clear.spare_wide)


def _parted(clear: _Clear, way: int, at: int, kerf: int) -> tuple[_Clear, _Clear]:
    """A piece cut in two at a line; the far one keeps what hangs on the far edge."""
    a = clear.area
    if way == RIP:
        near, far = Area(a.x, a.y, a.long, at - a.y), Area(a.x, at + kerf, a.long, a.y + a.wide - at - kerf)
        return _Clear(near, clear.spare_long, 0), _Clear(far, clear.spare_long, clear.spare_wide)
    near, far = Area(a.x, a.y, at - a.x, a.wide), Area(at + kerf, a.y, a.x + a.long - at - kerf, a.wide)
    return _Clear(near, 0, clear.spare_wide), _Clear(far, clear.spare_long, clear.spare_wide)


def _round_defects(clear: _Clear, defects: list[Area], kerf: int, regions: list[Region]) -> Split | int | None:
    """Cut round the defects, one after another, keeping the largest clear piece as large as can be."""
    area = clear.area
    if area.long <= 0 or area.wide <= 0:
        return None
    hit = next((d for d in defects if _overlap(area, d)), None)
    if hit is None:
        regions.append(Region(area, clear.spare_long, clear.spare_wide))
        return len(regions) - 1
    cuts = []
    for way, low, high, begin, size in (
        (RIP, hit.y, hit.y + hit.wide, area.y, area.wide),
        (CROSSCUT, hit.x, hit.x + hit.long, area.x, area.long),
    ):
        across = area.long if way == RIP else area.wide
        if low - kerf > begin:
            cuts.append(((low - kerf - begin) * across, way, low - kerf))
        if high + kerf < begin + size:
            cuts.append(((begin + size - high - kerf) * across, way, high))
    if not cuts:
        return None
    _, way, at = max(cuts)
    near, far = _parted(clear, way, at, kerf)
    first = _round_defects(near, defects, kerf, regions)
    return Split(way, at, kerf, Purpose.TRIM, first, _round_defects(far, defects, kerf, regions))


def _overlap(a: Area, b: Area) -> bool:
    return a.x < b.x + b.long and b.x < a.x + a.long and a.y < b.y + b.wide and b.y < a.y + a.wide


def _broken_down(whole: _Clear, problem: SheetProblem, kerf: int, sizes: frozenset[int]) -> Iterator[_Breakdown | None]:
    """Ways to break a sheet down until its pieces can be handled: none if it can be as it is."""
    limits = problem.limits
    rough = units_up(limits.rough_kerf)
    allowance = max(units_up(limits.rough_allowance), kerf)
    if not limits.any or _handy(whole, limits, problem.weight_per_area):
        yield None
        return
    for pieces in (2, 3, 4):
        found = False
        for way in (CROSSCUT, RIP):
            for at in _lines(whole.area, way, pieces, rough + 2 * allowance, sizes):
                parts = _parts(whole, _Breakdown(way, at, rough, allowance))
                if all(_handy(part, limits, problem.weight_per_area) for part in parts):
                    found = True
                    yield _Breakdown(way, at, rough, allowance)
        if found:
            return


def _parts(whole: _Clear, plan: _Breakdown) -> list[_Clear]:
    parts, rest = [], whole
    for at in plan.at:
        near, rest = _parted(rest, plan.way, at, plan.kerf)
        parts.append(near)
    return [*parts, rest]


def _lines(area: Area, way: int, pieces: int, lost: int, sizes: frozenset[int]) -> Iterator[tuple[int, ...]]:
    """Lines for the breakdown: in equal pieces; in two also just past one of the blanks' sizes."""
    begin, size = (area.y, area.wide) if way == RIP else (area.x, area.long)
    step = size // pieces
    yield tuple(begin + step * number for number in range(1, pieces))
    if pieces == 2:
        near = sorted({s + lost // 2 for s in sizes if size // 4 < s + lost // 2 < size - size // 4})
        for at in near[-4:]:
            yield (begin + at,)


def _handy(clear: _Clear, limits: Limits, weight_per_area: Fraction) -> bool:
    """True if one person can lift a piece and some first cut of it goes on the saw."""
    long = (clear.area.long + clear.spare_long) * UNIT
    wide = (clear.area.wide + clear.spare_wide) * UNIT
    if limits.heaviest is not None and long * wide * weight_per_area > limits.heaviest:
        return False
    if limits.by_line:
        return True
    across = limits.crosscut_capacity is None or wide <= limits.crosscut_capacity
    # Ripping in half is the hardest rip: the narrower side lies against the fence.
    along = limits.rip_capacity is None or wide / 2 <= limits.rip_capacity
    return across or along
