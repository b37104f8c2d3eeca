"""What there is to cut one stock from: the plan's sizes, the rack, and where neither says, the sizes that are usual."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.ground.length import INCH, show
from storystick.ground.source import practice
from storystick.layout.boards import charged, is_thick_enough, thick_notes, unseen
from storystick.model.build import Build
from storystick.model.cutting import Blank, Defect, Sheet
from storystick.model.stock import SoldAs, Stock
from storystick.model.volume import BOARD_FOOT
from storystick.shop.shop import OnHand, Shop
from storystick.shop.spoilt import box_of
from storystick.shop.tables import find, panels, prices

LONG_BOARD = practice("boards and strips are sold 8 ft (2.4 m) long")
WHOLE_SHEET = 96 * INCH * 48 * INCH
NEAR = Fraction(1)  # the rack's thickness may be so far from the stock's [mm]


@dataclass(frozen=True, slots=True)
class Sold:
    """Sizes to cut from, and what is worth saying: sizes or prices that were guessed; no `priced`: areas count [m2]."""

    sheets: tuple[Sheet, ...]
    notes: tuple[str, ...]
    priced: bool = True


def sold(stock: Stock, build: Build, shop: Shop, blanks: Sequence[Blank]) -> Sold:
    """Every size of the stock that can be had, what is on hand first."""
    notes: list[str] = []
    widest = max((blank.wide for blank in blanks), default=Fraction(1))
    sizes = [size for size in stock.sizes if is_thick_enough(size.thick, stock)]
    notes.extend(thick_notes(stock, shop, build))
    if stock.by_volume is not None and not any(not size.on_hand for size in stock.sizes):
        sizes.append(unseen(stock, build, blanks))
    if not any(not size.on_hand for size in (*sizes, *stock.sizes)):
        usual = list(_usual(stock, build, blanks))
        if usual:
            first = usual[0]
            called = first.called or _size_words(first.long, first.wide or widest, build)
            notes.append(f"No size to buy is given for {stock.name}: {called} is taken, as it is usually sold.")
        sizes.extend(usual)
    to_buy = [size for size in sizes if not size.on_hand]
    per_area = _price_per_area(to_buy, widest)
    if stock.by_volume is not None and stock.by_volume.price is not None:
        per_area = Fraction(0)  # each board has its price by what it holds
    if per_area is None and to_buy:
        notes.append(f"No price is known for {stock.name}: sheets are counted by their area.")
    found = [*_rack(stock, shop, build, widest)]
    for size in sizes:
        wide = size.wide if size.wide is not None else (stock.width.value if stock.width else widest)
        price = size.price if size.price is not None else charged(stock, size.long, wide, size.thick)
        if price is None:
            price = (per_area or Fraction(1, 10**6)) * size.long * wide
        name = size.called or _size_words(size.long, wide, build)
        copies = 1 if size.on_hand and size.copies is None else size.copies
        name, sawn = _new(name, found), size.on_hand
        found.append(Sheet(name, size.long, wide, price, copies, size.on_hand, sawn, thick=size.thick))
    return Sold(tuple(sorted(found, key=lambda sheet: not sheet.on_hand)), tuple(notes), per_area is not None)


def _price_per_area(sizes: Sequence[SoldAs], widest: Fraction) -> Fraction | None:
    known = [s.price / (s.long * (s.wide or widest)) for s in sizes if s.price is not None and s.price > 0]
    return sum(known, Fraction(0)) / len(known) if known else None


def _size_words(long: Fraction, wide: Fraction, build: Build) -> str:
    return f"{show(wide, build.manner)} x {show(long, build.manner)}"


def _new(name: str, found: Sequence[Sheet]) -> str:
    """The name, with a number behind it where another size has it already."""
    names = {sheet.name for sheet in found}
    number, said = 2, name
    while said in names:
        said, number = f"{name} ({number})", number + 1
    return said


def _rack(stock: Stock, shop: Shop, build: Build, widest: Fraction) -> Iterator[Sheet]:
    """What is on the rack of the shop of this stock or material."""
    names: list[Sheet] = []
    for thing in shop.on_hand:
        if _is_of(thing, stock):
            wide = thing.wide or (stock.width.value if stock.width else widest)
            name = _new(f"{_size_words(thing.long, wide, build)} on the rack", names)
            spots = tuple(Defect(*box_of(spot, thing.long, wide)) for spot in thing.spoilt)
            thick = thing.thickness if stock.form == "board" else None
            sheet = Sheet(name, thing.long, wide, Fraction(0), thing.count, True, thing.form != "sheet", spots, thick)
            names.append(sheet)
            yield sheet


def _is_of(thing: OnHand, stock: Stock) -> bool:
    form = "sheet" if thing.form == "offcut" else thing.form
    named = " ".join(thing.of.casefold().split())
    same = named in (stock.name.casefold(), stock.material.casefold())
    thick = thing.thickness is None or abs(thing.thickness - stock.thickness.value) <= NEAR
    if stock.form == "board":
        thick = is_thick_enough(thing.thickness, stock)
    by_own_name = named == stock.name.casefold()
    return (
        form == stock.form and same and thick and (by_own_name or thing.thickness is not None or stock.form != "sheet")
    )


def _usual(stock: Stock, build: Build, blanks: Sequence[Blank]) -> Iterator[SoldAs]:
    """Sizes from the table of panels in the plan's unit, or a usual length; with a guess at the price."""
    inch = build.manner.unit == "inch"
    row = find(panels(), stock.material)
    if stock.form == "sheet" and row is not None:
        each = guess(stock)
        own = [s for s in row.sheet if ("mm" not in s.called) == inch] or list(row.sheet)
        for size in own:
            share = size.long_mm * size.wide_mm / WHOLE_SHEET
            yield SoldAs(size.long_mm, size.wide_mm, each * share if each is not None else None, called=size.called)
        return
    longest = max((blank.long for blank in blanks), default=Fraction(0))
    long = 96 * INCH if inch else Fraction(2400)
    if stock.form == "sheet":
        yield SoldAs(long if not inch else 96 * INCH, 48 * INCH if inch else Fraction(1200), None)
        return
    long = max(long, Fraction(ceil(longest / 300) * 300) if longest > long else long)
    widest = max((blank.wide for blank in blanks), default=Fraction(100))
    step = INCH if inch else Fraction(20)
    wide = (
        stock.width.value if stock.width else max(6 * INCH if inch else Fraction(150), ceil(widest / step + 1) * step)
    )
    each = guess(stock)
    price = each * long * wide * stock.nominal.value / BOARD_FOOT if each is not None else None
    yield SoldAs(long, wide, price)


def guess(stock: Stock) -> Fraction | None:
    """A price from the table: of a whole sheet 4 ft x 8 ft, or of a board foot; None where it has none."""
    for row in prices().values():
        panel = stock.form == "sheet" and row.of == "panels" and row.name.startswith(f"{stock.material}, ")
        if panel and _thickness(row.size) == stock.nominal.value:
            return Fraction(str(row.dollars))
        if stock.form in ("board", "strip") and row.of == "woods" and row.name == stock.material:
            return Fraction(str(row.dollars))
    return None


def _thickness(said: str) -> Fraction | None:
    from storystick.ground.length import read_length
    from storystick.ground.misread import Misread

    try:
        return read_length(said, "mm" if "mm" in said else "inch")
    except Misread:
        return None
