"""Wood by volume: board feet and cubic metres, and how thick a board is that is charged for."""

from fractions import Fraction
from math import ceil

from storystick.ground.length import INCH
from storystick.ground.source import practice
from storystick.model.stock import ByVolume, Stock

BOARD_FOOT = 144 * INCH**3
"""12 in x 12 in x 1 in [mm3]: by definition."""
UNSEEN = "random widths"
"""What a board is called that stands for boards which nobody has seen yet."""
CUBIC_METRE = Fraction(10**9)
ROUGH = practice("a board is charged as it was sawn: the next quarter inch 3/16 in over, or 5 mm that are 5 mm over")
WASTE = practice("three tenths more than the parts measure, for ends, edges, knots and the widths as they come")
USUAL_WASTE = Fraction(3, 10)


def rough(stock: Stock) -> Fraction:
    """How thick the boards of a stock are charged [mm]: as they are sold, else as they were sawn. Source: ROUGH."""
    if stock.nominal.value != stock.thickness.value:
        return stock.nominal.value
    inch = stock.by_volume is None or stock.by_volume.unit == "board foot"
    step, over = (INCH / 4, INCH * 3 / 16) if inch else (Fraction(5), Fraction(5))
    return ceil((stock.thickness.value + over) / step) * step


def unit_of(volume: ByVolume) -> Fraction:
    """What one unit holds [mm3]."""
    return BOARD_FOOT if volume.unit == "board foot" else CUBIC_METRE


def waste_of(volume: ByVolume) -> Fraction:
    """The share that is added to what the parts measure: the plan's own, else the usual. Source: WASTE."""
    return USUAL_WASTE if volume.waste is None else volume.waste
