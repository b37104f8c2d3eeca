"""What is gone or spoilt on a piece in the rack: the corner that an L lacks, a split end, a stain."""

from fractions import Fraction

from storystick.ground.length import Unit
from storystick.ground.misread import Misread, one_of
from storystick.ground.size_words import read_sizes
from storystick.shop.shop import Spoilt

CORNERS = ("near left", "near right", "far left", "far right")
EXAMPLE = "4 x 6 at far right"


def read_spoilt(text: str, bare: Unit) -> Spoilt:
    """`4 x 6 at far right`, or `4 x 6 at 20 x 3` from the near left corner; along the grain first. Raises Misread."""
    size, word, where = text.partition(" at ")
    if not word:
        raise Misread(text, f"a size and where it is: {one_of(CORNERS)}, or how far along and across", EXAMPLE)
    long, wide = read_sizes(size, bare, 2, 2)
    corner = " ".join(where.casefold().split())
    if corner in CORNERS:
        return Spoilt(long, wide, corner)
    if corner and not any(sign.isdigit() for sign in corner):
        raise Misread(where, f"a corner, {one_of(CORNERS)}, or how far along and across", EXAMPLE)
    along, across = read_sizes(where, bare, 2, 2)
    return Spoilt(long, wide, "", along, across)


def box_of(spot: Spoilt, long: Fraction, wide: Fraction) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Where it lies on a piece that is long x wide: x, y, and its own length and width, cut off at the edges [mm]."""
    x, y = spot.along, spot.across
    if spot.corner:
        x = max(Fraction(0), long - spot.long) if spot.corner.endswith("right") else Fraction(0)
        y = max(Fraction(0), wide - spot.wide) if spot.corner.startswith("far") else Fraction(0)
    x, y = min(x, long), min(y, wide)
    return x, y, min(spot.long, long - x), min(spot.wide, wide - y)
