"""What the trade wants where something goes into something: the gap, least and most, for each kind of fit."""

from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim, rule
from storystick.ground.source import Source, practice


@dataclass(frozen=True, slots=True)
class FitClass:
    """A kind of fit: the slip to cut with, the least and the most gap that will do [mm]."""

    name: str
    slip: Fraction
    least: Fraction
    most: Fraction
    source: Source

    def dims(self) -> tuple[Dim, Dim, Dim]:
        """Slip, least and most as numbers that know why."""
        return (
            rule(f"slip of a {self.name} fit", self.slip, self.source),
            rule(f"least gap of a {self.name} fit", self.least, self.source),
            rule(f"most gap of a {self.name} fit", self.most, self.source),
        )


HOUSED = FitClass(
    "housed", Fraction("0.15"), Fraction(0), Fraction("0.4"),
    practice("a panel goes into its dado by hand and stands by itself: 0 to 0.4 mm of gap"),
)  # fmt: skip
LOOSE_PANEL = FitClass(
    "loose panel", Fraction("0.3"), Fraction("0.1"), Fraction("0.8"),
    practice("a bottom or back slides in its groove without glue: 0.1 to 0.8 mm of gap"),
)  # fmt: skip
BETWEEN_FLOORS = FitClass(
    "between floors", Fraction(2), Fraction("0.2"), Fraction(6),
    practice("a panel in grooves on both sides never reaches both floors, and never leaves one: 0.2 to 6 mm of play"),
)  # fmt: skip
DROP_IN = FitClass(
    "drop-in", Fraction(1), Fraction(0), Fraction("2.5"),
    practice("a back drops into its rabbets without a hammer: up to 2.5 mm of play in all"),
)  # fmt: skip
RUNNING = FitClass(
    "running", Fraction("0.8"), Fraction("0.4"), Fraction("1.6"),
    practice("a wooden runner in its groove slides with 0.4 to 1.6 mm of play"),
)  # fmt: skip
TENON = FitClass(
    "tenon", Fraction("0.25"), Fraction(0), Fraction("0.6"),
    practice("a stub tenon goes into its groove by hand and is glued there: 0 to 0.6 mm of gap"),
)  # fmt: skip
GOES_IN = FitClass(
    "piece in its gap", Fraction(6), Fraction(1), Fraction(100),
    practice("a piece goes into its gap with 1 mm to spare at least, and stands no more than 100 mm short of it"),
)  # fmt: skip
