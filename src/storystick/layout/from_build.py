"""From a build and a shop to the layouts: for each stock the question, its answer, and what could not be placed."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.finding import Finding, Grade, in_order
from storystick.ground.length import show, up_to
from storystick.ground.misread import one_of
from storystick.ground.outcome import Outcome
from storystick.ground.source import practice
from storystick.layout.asking import Asked, Laid, Stop, Tell, answered, kerf_of, limits_of
from storystick.layout.blanks import LAYER, blanks_of, not_there
from storystick.layout.boards import planed_said, unseen_said, yield_said
from storystick.layout.ripped import ripped_here, ripped_said, what_from
from storystick.layout.sheets import USUAL, LaidOut, Patience
from storystick.layout.sold import sold
from storystick.layout.staves import GluedUp, glued_up
from storystick.layout.told import measured, staves_said, strips_to_test, too_wide
from storystick.model.build import Build
from storystick.model.cutting import Blank, Sheet
from storystick.model.stock import Stock
from storystick.model.work import Cutting
from storystick.shop.shop import Shop

LIFT = practice("what the shop file says that one person there lifts, times the people there")
ROUNDS = 3
"""So many times it is tried to glue up what no board is left for."""
PER_SHEET = practice("the layout of the sheets as they are usually sold")


def lay_out(
    build: Build, shop: Shop, *, patience: Patience = USUAL, tell: Tell | None = None, stop: Stop | None = None
) -> Outcome[tuple[Cutting, ...]]:
    """Cut every part out of its stock: one layout for each stock that has parts, in the order of the plan.

    patience  how long to look for each;  tell  hears what is being laid out and how far it has come (0 to 1)
    The findings name parts larger than anything they can be cut from, and parts that no stock is left for.
    """
    named = {part.stock.name if not ripped_here(part.stock, build) else part.stock.ripped_from for part in build.parts}
    stocks = [stock for stock in build.stock if stock.name in named]
    done: list[Cutting] = []
    findings: list[Finding] = []
    for number, stock in enumerate(stocks):
        cutting = _lay_out_one(build, shop, stock, patience, _share(tell, stock, number, len(stocks)), stop)
        done.append(cutting)
        findings.extend(cutting.findings)
    return Outcome(tuple(done), in_order(findings))


def _share(tell: Tell | None, stock: Stock, number: int, count: int) -> Tell | None:
    if tell is None:
        return None
    return lambda says, share: tell(f"{stock.name}: {says}", (number + share) / count)


def _lay_out_one(
    build: Build, shop: Shop, stock: Stock, patience: Patience, tell: Tell | None, stop: Stop | None
) -> Cutting:
    asked = blanks_of(build, stock)
    had = sold(stock, build, shop, asked)
    sheets, inch = had.sheets, build.manner.unit == "inch"
    best: _Answer | None = None
    also: frozenset[str] = frozenset()
    for _ in range(ROUNDS if stock.form == "board" else 1):
        ways = iter([GluedUp(asked, ())])
        if stock.form == "board":
            ways = glued_up(asked, sheets, shop.trim, inch, kerf_of(shop), also)
        for way in ways:
            laid = answered(way.blanks, Asked(stock, sheets, shop, patience, tell, stop))
            rank = (*laid.rank, len(way.blanks))
            if best is None or rank < best.rank:
                best = _Answer(rank, laid, way)
        assert best is not None
        short = {key.partition(f"{LAYER}stave")[0] for key in best.laid.found.layout.unplaced}
        if not short - also:
            break
        also |= short
    assert best is not None
    laid, way = best.laid, best.way
    found, manner = laid.found, build.manner
    findings = (
        *_unplaced(build, stock, shop, found, way.blanks, sheets),
        *([_for_two(build, stock, shop, laid.helped)] if laid.helped else []),
        *_nobody(build, stock),
        *what_from(build, stock),
    )
    notes = (
        unseen_said(stock, found.layout, build)
        or measured(found.layout, found.least_cost, build.currency if had.priced else None),
        yield_said(stock, found.layout),
        planed_said(stock, found.layout, build),
        *staves_said(way.staves, manner),
        *ripped_said(found.layout, build, limits_of(shop).narrowest_rip, laid.unsafe),
        strips_to_test(found.layout, manner) if stock.form == "sheet" else "",
        too_wide(found.layout, limits_of(shop)),
        *had.notes,
        *found.notes,
    )
    told = tuple(note for note in notes if note)
    return Cutting(stock, found.layout, laid.kerf, found.least_cost, told, findings, way.staves)


@dataclass(frozen=True, slots=True)
class _Answer:
    """A layout with the way its wide parts are glued up, and how good that is: smaller is better."""

    rank: tuple[int, int, Fraction, int]
    laid: Laid
    way: GluedUp


def _unplaced(
    build: Build, stock: Stock, shop: Shop, found: LaidOut, blanks: Sequence[Blank], sheets: Sequence[Sheet]
) -> list[Finding]:
    missing = [blank for blank in blanks if blank.key in found.layout.unplaced]
    large = [blank for blank in missing if not any(_goes_in(blank, sheet, shop, stock) for sheet in sheets)]
    short = [blank for blank in missing if blank not in large]
    return [
        *(_too_large(build, stock, shop, blank, sheets) for blank in large),
        *([_used_up(build, stock, short)] if short else []),
    ]


def _goes_in(blank: Blank, sheet: Sheet, shop: Shop, stock: Stock) -> bool:
    ends = Fraction(0) if sheet.sawn else 2 * shop.trim
    long, wide = sheet.long - ends, sheet.wide - (ends if stock.form == "sheet" else 0)
    straight = blank.long <= long and (blank.wide <= wide or stock.form in ("strip", "bar", "band"))
    return straight or (blank.along_grain is None and blank.wide <= long and blank.long <= wide)


def _too_large(build: Build, stock: Stock, shop: Shop, blank: Blank, sheets: Sequence[Sheet]) -> Finding:
    name = blank.key.partition(LAYER)[0]
    part, manner = build.part(name), build.manner
    size = f"{show(blank.long, manner)} x {show(blank.wide, manner)}"
    if not sheets:
        says = f"There is nothing to cut {name} from: {stock.name} has no size."
        return Finding(
            "no-stock-so-large", Grade.STOP, part.place, says, f"Give {stock.name} its sizes.", about=(name,)
        )
    largest = max(sheets, key=lambda sheet: sheet.long * sheet.wide)
    mark = manner.mark
    need_long = up_to(blank.long + 2 * shop.trim, mark)
    need_wide = up_to(blank.wide + (2 * shop.trim if stock.form == "sheet" else 0), mark)
    grain = "" if blank.along_grain is None else ", its length along the grain"
    says = f"{name} is {size}{grain}, and the largest {stock.name} is {largest.name}" + (
        f" less {show(shop.trim, manner)} trimmed off each edge." if shop.trim else "."
    )
    advice = (
        f"Take a size of at least {show(need_long, manner)} along the grain by {show(need_wide, manner)}, "
        "make it of two parts, or make it smaller."
    )
    return Finding(
        "no-stock-so-large", Grade.STOP, part.place, says, advice, PER_SHEET, float(blank.long),
        float(largest.long - 2 * shop.trim), "mm", (name,),
    )  # fmt: skip


def _nobody(build: Build, stock: Stock) -> list[Finding]:
    """Words of `same sheet` that mean nothing."""
    words = not_there(build, stock)
    if not words:
        return []
    roles = dict.fromkeys(part.role for part in build.parts if part.stock.name == stock.name)
    says = f"same sheet of {stock.name} names {one_of(words)}, and no part of it is called so."
    advice = f"Write the name of a part, or what parts do: {one_of(tuple(roles))}."
    return [Finding("same-sheet-of-what", Grade.CARE, stock.place, says, advice)]


def _used_up(build: Build, stock: Stock, short: Sequence[Blank]) -> Finding:
    names = tuple(dict.fromkeys(blank.key.partition(LAYER)[0] for blank in short))
    area = float(sum(blank.long * blank.wide for blank in short)) / 1e6
    says = f"{stock.name} is used up before {', '.join(names)} ({len(short)} of its parts, {area:.2f} m2) can be cut."
    advice = f"Give {stock.name} a size that can be bought, or more of those on hand."
    return Finding("stock-used-up", Grade.STOP, stock.place, says, advice, about=names)


def _for_two(build: Build, stock: Stock, shop: Shop, keys: Sequence[str]) -> Finding:
    names = tuple(dict.fromkeys(key.partition(LAYER)[0] for key in keys))
    heaviest = max((build.part(name) for name in names), key=lambda part: part.length.value * part.width.value)
    area = heaviest.length.value * heaviest.width.value * heaviest.thickness.value
    kilograms = float(area) * 1e-9 * stock.density
    says = (
        f"The sheet that gives {', '.join(names)} can't be broken down into pieces that one person lifts: "
        f"{heaviest.name} alone weighs {kilograms:.0f} kg."
    )
    return Finding(
        "for-two",
        Grade.CARE,
        heaviest.place,
        says,
        "Have a helper for its first cuts, or have it cut where it is bought.",
        LIFT,
        kilograms,
        float(shop.lift * (1 + shop.helpers)),
        "kg",
        names,
    )
