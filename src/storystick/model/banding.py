"""Edge band: which edges get one, of which band, and how long the strips for them are cut."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.length import INCH
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.part import Part
from storystick.model.stock import Stock

ENDS = ("end", "reference end", "far end")
OVER = practice("a strip of band is cut 25 mm (1 in) longer than its edge at each end, and trimmed flush")
LIP = practice("a band is wider than its edge, and trimmed: the narrowest of the plan that is wide enough for the edge")


@dataclass(frozen=True, slots=True)
class BandStrip:
    """A strip of band: on which edge of which part, how long that edge is, and how long the strip is cut [mm]."""

    part: str
    edge: str
    edge_long: Fraction
    long: Fraction

    @property
    def on_end(self) -> bool:
        """On an end and not along the grain: it goes on first."""
        return self.edge in ENDS


def over_of(build: Build) -> Fraction:
    """How much longer a strip is than its edge at each end [mm]. Source: OVER."""
    return INCH if build.manner.unit == "inch" else Fraction(25)


def band_for(part: Part, stock: Sequence[Stock]) -> Stock | None:
    """The band of a plan that goes on a part: the narrowest wide enough, else the widest; None without any.

    Source: LIP.
    """
    bands = [one for one in stock if one.form == "band" and one.width is not None]
    wide = [one for one in bands if one.width is not None and one.width.value >= part.thickness.value]
    if wide:
        return min(wide, key=_width)
    return max(bands, key=_width, default=None)


def _width(stock: Stock) -> Fraction:
    return stock.width.value if stock.width is not None else Fraction(0)


def band_thick(part: Part, stock: Sequence[Stock]) -> Fraction:
    """How thick the band on a part is [mm]; nothing where the plan doesn't say."""
    band = band_for(part, stock) if part.banded else None
    return band.thickness.value if band is not None else Fraction(0)


def band_strips(part: Part, build: Build) -> tuple[BandStrip, ...]:
    """The strips for one part, those on its ends first."""
    over = 2 * over_of(build)
    found = []
    for edge in sorted(part.banded, key=lambda one: one not in ENDS):
        long = (part.width if edge in ENDS else part.length).value
        found.append(BandStrip(part.name, edge, long, long + over))
    return tuple(found)
