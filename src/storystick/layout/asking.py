"""One stock's question put to the search: with the saws of the shop, what one person lifts there, and strips ripped."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.ground.finding import Broken
from storystick.ground.length import INCH
from storystick.layout import strips
from storystick.layout.rips import is_narrow, unsafe_rips, with_strips
from storystick.layout.sheets import HASTY, LaidOut, Limits, Patience, SheetProblem, lay_out_sheets
from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.refute import refute
from storystick.layout.strips import StripProblem, lay_out_strips
from storystick.model.cutting import Blank, Layout, Sheet, Trim, trim_all
from storystick.model.stock import Stock
from storystick.shop.shop import Saw, Shop

type Tell = Callable[[str, float], None]
type Stop = Callable[[], bool]

KERF = Fraction("3.2")
NARROWEST = Fraction(50)


@dataclass(frozen=True, slots=True)
class Laid:
    """An answer, the blanks that it has only if two lift, and the rips that leave no wide piece for the fence."""

    found: LaidOut
    kerf: Fraction
    helped: tuple[str, ...] = ()
    unsafe: tuple[int, ...] = ()

    @property
    def rank(self) -> tuple[int, int, Fraction]:
        """How good it is: smaller is better."""
        return len(self.found.layout.unplaced), len(self.unsafe), self.found.layout.cost


@dataclass(frozen=True, slots=True)
class Asked:
    """What a stock's blanks are asked for: the shop, its sizes, how long to look."""

    stock: Stock
    sheets: tuple[Sheet, ...]
    shop: Shop
    patience: Patience
    tell: Tell | None = None
    stop: Stop | None = None

    def problem(self, blanks: tuple[Blank, ...]) -> SheetProblem:
        """The question for some blanks, as it is first put."""
        trim, weight = self.shop.trim, self.stock.thickness.value * Fraction(str(self.stock.density)) / 10**9
        edges = trim_all(trim) if self.stock.form == "sheet" else Trim(left=trim, right=trim)
        return SheetProblem(
            blanks, self.sheets, kerf_of(self.shop), edges, limits_of(self.shop), weight, rack_first=True
        )


def answered(blanks: tuple[Blank, ...], asked: Asked) -> Laid:
    """The best layout: whole, then without a rip that leaves no wide piece to run along the fence, then cheapest.

    At one cost, strips narrower than the saw rips with the hands clear come off one board, one after another.
    Raises Broken if a layout can't be cut as it is told.
    """
    if by_length(asked.stock, blanks, asked.sheets):
        problem = StripProblem(blanks, asked.sheets, kerf_of(asked.shop), asked.shop.trim)
        quick = strips.HASTY if asked.patience == HASTY else strips.USUAL
        found = lay_out_strips(problem, patience=quick, tell=asked.tell, stop=asked.stop)
        return Laid(found, kerf_of(asked.shop))
    together = _together(asked.problem(blanks), asked)
    narrowest = limits_of(asked.shop).narrowest_rip
    narrow = [blank for blank in blanks if is_narrow(blank, narrowest)]
    if not narrow or (asked.stock.form != "board" and not together.unsafe):
        return together
    apart = _apart(blanks, narrow, asked, together)
    return apart if apart.rank <= together.rank else together


def _together(asked: SheetProblem, how: Asked) -> Laid:
    """All blanks laid out by one search; with the guided saw, and then by two, where nothing else does.

    A way that some blank is too large for is not searched if another one takes them all.
    """
    guided = how.shop.saws_of("track saw", "circular saw")
    ways = [asked]
    if guided:  # what the table saw can't take is cut along a straightedge
        ways.append(replace(asked, limits=replace(asked.limits, by_line=True), kerf=max(asked.kerf, guided[0].kerf)))
    narrowest = asked.limits.narrowest_rip
    ways.append(replace(ways[-1], limits=Limits(None, None, narrowest)))  # what one can't break down and lift, two can
    large = [len(reckon(way).too_large) for way in ways]
    best: Laid | None = None
    alone: tuple[str, ...] = ()
    for number in range(large.index(min(large)), len(ways)):
        way = ways[number]
        found = lay_out_sheets(way, patience=how.patience, tell=how.tell, stop=how.stop)
        if number < len(ways) - 1:
            alone = found.layout.unplaced
        if best is None or len(found.layout.unplaced) < len(best.found.layout.unplaced):
            best = Laid(found, way.kerf, (), unsafe_rips(found.layout, narrowest))
            if number == len(ways) - 1:
                best = replace(best, helped=alone or reckon(ways[number - 1]).too_large)
        if not best.found.layout.unplaced:
            break
    assert best is not None
    return best


def _apart(blanks: tuple[Blank, ...], narrow: Sequence[Blank], asked: Asked, together: Laid) -> Laid:
    """The wide blanks laid out by themselves; the narrow ones ripped off what that leaves, or off further boards."""
    wide = tuple(blank for blank in blanks if blank not in narrow)
    first = _together(asked.problem(wide), asked) if wide else Laid(LaidOut(Layout(), Fraction(0), 0), together.kerf)
    problem = replace(asked.problem(blanks), kerf=first.kerf)
    layout = with_strips(first.found.layout, narrow, problem)
    if faults := list(refute(layout, problem)):
        raise Broken("strips were ripped so that they cannot be cut", faults)
    different = {(setting.way, setting.size) for setting in layout.settings}
    found = LaidOut(layout, together.found.least_cost, len(different), first.found.notes)
    return Laid(found, first.kerf, first.helped, unsafe_rips(layout, problem.limits.narrowest_rip))


def by_length(stock: Stock, blanks: Sequence[Blank], sheets: Sequence[Sheet]) -> bool:
    """Cut by length alone: strips and bars, and boards that all blanks are as wide as."""
    if stock.form in ("strip", "bar", "band"):
        return True
    widths = {blank.wide for blank in blanks} | {sheet.wide for sheet in sheets}
    return stock.form == "board" and len(widths) == 1


def saw_of(shop: Shop) -> Saw | None:
    """The saw that cuts to size: the table saw, or the first of the others that saw sheets."""
    found = shop.saws_of("table saw") or shop.saws_of("track saw", "circular saw") or shop.saws
    return found[0] if found else None


def kerf_of(shop: Shop) -> Fraction:
    """Width of the cut of the saw that cuts to size [mm]; 3.2 where the shop has none."""
    saw = saw_of(shop)
    return saw.kerf if saw is not None else KERF


def limits_of(shop: Shop) -> Limits:
    """What the saw takes and what can be lifted there; a guided saw takes any sheet."""
    saw = saw_of(shop)
    guided = shop.saws_of("track saw", "circular saw")
    rough = guided[0].kerf if guided else kerf_of(shop)
    lift = shop.lift * (1 + shop.helpers)
    allowance = INCH / 4 if shop.units == "inch" else Fraction(6)
    narrowest = saw.narrowest if saw is not None and saw.narrowest is not None else NARROWEST
    if saw is None or saw.kind != "table saw":
        return Limits(None, None, narrowest, lift, rough, allowance)
    return Limits(saw.rip, saw.crosscut, narrowest, lift, rough, allowance)
