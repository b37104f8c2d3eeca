"""Boards of solid wood, each of its own size; and what stands for boards that nobody has seen."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from storystick.ground.length import INCH, show
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.cutting import Blank, Layout
from storystick.model.stock import SoldAs, Stock
from storystick.model.volume import UNSEEN, rough, unit_of, waste_of
from storystick.shop.shop import Shop

PLANED = practice("a board up to 13 mm (1/2 in) thicker than the part is planed down; one that is thinner is of no use")
RANDOM = practice("of wood in random widths, boards 150 mm (6 in) wide and 2.4 m (8 ft) long can be counted on")
THICKER = Fraction(13)
THINNER = Fraction(1, 2)
"""A board may read so much thinner than the stock [mm]: within what the calliper and the air make of it."""


def is_thick_enough(thick: Fraction | None, stock: Stock) -> bool:
    """Whether a board so thick [mm] gives parts of the stock; None: as thick as that. Source: PLANED."""
    return thick is None or -THINNER <= thick - stock.thickness.value <= THICKER


def thick_notes(stock: Stock, shop: Shop, build: Build) -> Iterator[str]:
    """Which boards of the plan are left alone, too thin or too thick, in words."""
    if stock.form != "board":
        return
    manner = build.manner
    own = [(size.called, size.thick) for size in stock.sizes if size.thick is not None]
    for called, thick in own:
        if thick < stock.thickness.value - THINNER:
            yield f"The board {called} is only {show(thick, manner)} thick and is left out."
        elif thick > stock.thickness.value + THICKER:
            yield f"The board {called} is {show(thick, manner)} thick, too thick to plane down, and is left out."


def charged(stock: Stock, long: Fraction, wide: Fraction, thick: Fraction | None) -> Fraction | None:
    """What a board costs by its volume; None where the wood isn't sold so, or its price isn't known."""
    volume = stock.by_volume
    if volume is None or volume.price is None:
        return None
    return volume.price * long * wide * (thick or rough(stock)) / unit_of(volume)


def unseen(stock: Stock, build: Build, blanks: Sequence[Blank]) -> SoldAs:
    """A board to lay the parts out on while nobody has seen the real ones: as narrow as they come. Source: RANDOM."""
    inch = build.manner.unit == "inch"
    volume = stock.by_volume
    wide = (volume.least if volume else None) or (6 * INCH if inch else Fraction(150))
    usual, step = (96 * INCH, 12 * INCH) if inch else (Fraction(2400), Fraction(300))
    longest = max((blank.long for blank in blanks), default=Fraction(0)) + 2 * INCH
    return SoldAs(max(usual, ceil(longest / step) * step), wide, None, called=UNSEEN, unseen=True)


def unseen_said(stock: Stock, layout: Layout, build: Build) -> str:
    """That the boards of a layout only stand for others, and what is to be looked for where they are bought."""
    trees = [tree for tree in layout.trees if tree.sheet.name == UNSEEN]
    if not trees or stock.by_volume is None:
        return ""
    manner, board = build.manner, trees[0].sheet
    count, stand = ("1 board", "stands") if len(trees) == 1 else (f"{len(trees)} boards", "stand")
    waste = f"{float(waste_of(stock.by_volume)) * 100:.0f} %"
    return (
        f"Nobody has seen the boards of {stock.name} yet: {count} of {show(board.wide, manner)} x "
        f"{show(board.long, manner)} {stand} for them, and {waste} more than the parts is bought. "
        "When they lie there, put their sizes into the plan as boards, and they are laid out anew."
    )


def planed_said(stock: Stock, layout: Layout, build: Build) -> str:
    """Which of the boards that are used are planed down."""
    own = [tree.sheet.thick for tree in layout.trees if tree.sheet.thick is not None]
    thicker = [thick for thick in own if thick - stock.thickness.value > THINNER]
    if not thicker:
        return ""
    to = show(stock.thickness.value, build.manner)
    return f"boards up to {show(max(thicker), build.manner)} thick are planed to {to} before they are sawn."


def yield_said(stock: Stock, layout: Layout) -> str:
    """How much of the boards ends up in parts, by area."""
    if stock.form != "board" or not layout.trees:
        return ""
    boards = sum((tree.sheet.long * tree.sheet.wide for tree in layout.trees), Fraction(0))
    parts = sum((piece.area for tree in layout.trees for piece in tree.blanks), Fraction(0))
    kept = sum((piece.area for tree in layout.trees for piece in tree.leftovers), Fraction(0))
    count = len(layout.trees)
    of = "the board" if count == 1 else f"the {count} boards"
    share = f"{float(parts / boards) * 100:.0f} % of {of} goes into parts"
    return f"{share}, {float(kept / boards) * 100:.0f} % is left worth keeping." if kept else f"{share}."
