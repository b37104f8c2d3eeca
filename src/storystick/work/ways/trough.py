"""What every way to cut a channel has to know of it: where it runs, whether it is open, how well it has to fit."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.ground.dim import Dim, rule, spread_of
from storystick.ground.length import INCH
from storystick.ground.source import practice
from storystick.model.cut import Channel, Side
from storystick.model.part import Part
from storystick.work.saying import said, tool_size
from storystick.work.ways import Ask

SIZE = Fraction(1, 10)
CLOSE = practice("a channel that no fit is asked of may be 0.1 mm wider or narrower than drawn")
PASS = Fraction(6)
PASSES = practice("a router goes down about 6 mm (1/4 in) at a pass")
BIT = practice("a sharp bit cuts its own size")


NOTHING = Fraction(1, 80)
"""A gap smaller than this is none, to a calliper [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Trough:
    """A channel in its part.

    along, over  which of u, v, w it runs along, and which goes across it
    long, wide   size of the part along those two
    """

    cut: Channel
    ask: Ask
    along: int
    over: int
    long: Dim
    wide: Dim

    @property
    def at(self) -> Dim:
        """From the datum of the part to the nearer wall [mm]."""
        return self.cut.at[1 - self.cut.runs]

    @property
    def open_near(self) -> bool:
        """Its side nearer to the datum lies open: there is no wall."""
        return self.at.value <= 0

    @property
    def open_far(self) -> bool:
        """Its far side lies open."""
        return self.at.value + self.cut.width.value >= self.wide.value

    @property
    def is_step(self) -> bool:
        """Open to one side: a step along an edge or an end."""
        return self.open_near or self.open_far

    @property
    def is_through(self) -> bool:
        """It runs out at both ends."""
        return runs_out(self.cut, self.ask.part)

    @property
    def on_face(self) -> bool:
        """It lies in the face or the back."""
        return self.cut.side in (Side.FACE, Side.BACK)

    @property
    def datum(self) -> str:
        """What its distance is measured from, in words."""
        return ("the reference end", "the reference edge", "the face")[self.over]

    @property
    def passes(self) -> int:
        """How often a router goes down. Source: PASSES."""
        return max(1, ceil(self.cut.depth.value / PASS))

    def takes(self, made: Dim) -> bool:
        """Whether a channel that comes out `made` wide fits, the spread of what goes in counted once on both sides."""
        fit = self.ask.fit
        if fit is None:
            return abs(made.value - self.cut.width.value) <= SIZE
        gap = made - (self.cut.width - fit.gap)
        slack = Fraction(spread_of(gap)).limit_denominator(1000)
        return fit.least.value <= gap.value - slack and gap.value + slack <= fit.most.value

    def gap(self, made: Dim) -> str:
        """The gap that a channel `made` wide would leave, in words; "" when nothing is known to go in."""
        fit = self.ask.fit
        if fit is None:
            return ""
        gap = fit.gap.value + made.value - self.cut.width.value
        small = (
            f'{float(abs(gap) / INCH):.3f}"' if self.ask.build.manner.unit == "inch" else f"{float(abs(gap)):.2f} mm"
        )
        if abs(gap) < NOTHING:
            return ""
        return f"{small} too tight" if gap < 0 else f"a gap of {small}"


def runs_out(cut: Channel, part: Part) -> bool:
    """It runs out at both ends, or into another trough of the same side that is as deep and runs out there itself."""
    start, end = cut.at[cut.runs].value, cut.at[cut.runs].value + cut.length.value
    long = part.size[cut.side.axes[cut.runs]].value
    others = [
        c for c in part.cuts if isinstance(c, Channel) and c is not cut and c.side is cut.side and c.runs != cut.runs
    ]
    for other in others:
        low, high = other.at[cut.runs].value, other.at[cut.runs].value + other.size[cut.runs].value
        begin, stop = other.at[1 - cut.runs].value, other.at[1 - cut.runs].value + other.size[1 - cut.runs].value
        near, far = cut.at[1 - cut.runs].value, cut.at[1 - cut.runs].value + cut.width.value
        if other.depth.value >= cut.depth.value and begin <= near and far <= stop:
            start = low if low <= start <= high else start
            end = high if low <= end <= high else end
    return start <= 0 and end >= long


def trough_of(ask: Ask) -> Trough | None:
    """The cut as a channel in its part; None for another shape."""
    cut = ask.cut
    if not isinstance(cut, Channel):
        return None
    along, over = cut.side.axes[cut.runs], cut.side.axes[1 - cut.runs]
    return Trough(cut, ask, along, over, ask.part.size[along], ask.part.size[over])


def bit_size(name: str, size: Fraction) -> Dim:
    """The diameter of a bit as a number that knows why."""
    return rule(name, size, BIT)


def wide_deep(trough: Trough) -> str:
    """The channel's size in words: 17.8 mm wide, 6 mm deep."""
    build = trough.ask.build
    return f"{said(trough.cut.width, build)} wide, {said(trough.cut.depth, build)} deep"


def bit_named(profile: str, size: Fraction) -> str:
    """A bit in words: 1/2 in straight bit."""
    return f"{tool_size(size)} {profile} bit"
