"""Readings of a real thing, as a plan gives them: one or several, with what they were taken, and which of them counts.

opening: 30 1/4                                                  a sum
opening: {readings: [30 1/4, 30 5/16, 30 1/4], with: tape, takes: smallest, says: at the floor, middle and top}
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol

from storystick.ground.arithmetic import read_sum
from storystick.ground.dim import Dim, Leaf, Spread
from storystick.ground.fields import Choice, Field, Fields, Filled, Length, ListOf, Text, fill
from storystick.ground.finding import Finding, Grade, Place
from storystick.ground.length import Manner, Unit, show
from storystick.ground.marked import Marked, Scalar
from storystick.ground.source import practice
from storystick.ground.sums import Scope


class Tools(Protocol):
    """What is known of the measuring tools of a shop."""

    def __call__(self, tool: str, length: Fraction) -> float | None:
        """How far off a tool reads a length [mm]: one standard deviation [mm]; None for an unknown tool."""

    def assumed(self, values: Sequence[Fraction]) -> str:
        """The tool that lengths were read with [mm] when nobody says; "" where nothing is known."""


type Takes = Literal["middle", "smallest", "largest"]

READINGS = (
    Field("readings", ListOf(Length, least=1, most=50), required=True, help="what was read, as it was read",
          also=("reading", "read")),
    Field("with", Text, help="what it was measured with: a name from the shop's measuring tools, such as tape"),
    Field("takes", Choice(("middle", "smallest", "largest"), also=(("mean", "middle"), ("average", "middle"))),
          default="middle", help="which of the readings counts: an opening takes the smallest"),
    Field("says", Text, help="where and when, in your own words", also=("note",)),
)  # fmt: skip
MEASURE = Fields("measured length", READINGS, short="readings")


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """What was read [mm], in order, and how.

    sd      standard deviation of the one that counts, from the scatter of the readings alone [mm]; 0 for a single one
    """

    values: tuple[Fraction, ...]
    tool: str = ""
    takes: Takes = "middle"
    says: str = ""
    place: Place = Place()

    @property
    def value(self) -> Fraction:
        """The length that counts [mm]."""
        if self.takes == "middle":
            return sum(self.values, Fraction(0)) / len(self.values)
        return min(self.values) if self.takes == "smallest" else max(self.values)

    @property
    def scatter(self) -> float:
        """How the thing itself differs from place to place: the standard deviation of the readings [mm]; 0 for one."""
        if len(self.values) < 2:
            return 0.0
        middle = sum(self.values, Fraction(0)) / len(self.values)
        return math.sqrt(float(sum((v - middle) ** 2 for v in self.values) / (len(self.values) - 1)))

    @property
    def sd(self) -> float:
        """Scatter: s/sqrt(n) for the middle, s for the smallest or largest [mm]. Source: JCGM 100:2008 (GUM), 4.2.3."""
        n, scatter = len(self.values), self.scatter
        return scatter / math.sqrt(n) if self.takes == "middle" else scatter


def readings_of(filled: Filled) -> Readings | None:
    """The readings in a group that has the `READINGS` fields; None when it gives none."""
    values = tuple(dim.value for dim in filled.lengths("readings"))
    if not values:
        return None
    takes: Takes = "middle"
    if (word := filled.maybe_text("takes")) in ("smallest", "largest"):
        takes = "smallest" if word == "smallest" else "largest"
    says = filled.maybe_text("says") or ""
    return Readings(values, filled.maybe_text("with") or "", takes, says, filled.place("readings"))


def reading_dim(name: str, readings: Readings, tools: Tools) -> Dim:
    """Readings as a number with its reason.

    The tool's own error and the scatter are independent: their squares add. Source: JCGM 100:2008 (GUM), 5.1.2.
    """
    sd = reading_sd(readings, tools)
    says = "; ".join(word for word in (how_read(readings, tools), readings.says, str(readings.place)) if word)
    spread = Spread(sd) if sd else None
    return Dim(readings.value, Leaf(name, "reading", says, spread, readings.place))


def how_read(readings: Readings, tools: Tools) -> str:
    """In words: 3 readings, the middle with calliper. What it was read with is assumed, and said, where nobody says."""
    how = f"{len(readings.values)} readings, the {readings.takes}" if len(readings.values) > 1 else "measured"
    if readings.tool:
        return f"{how} with {readings.tool}"
    assumed = tools.assumed(readings.values)
    return f"{how}, as if with {assumed}: it isn't said with what" if assumed else how


def reading_sd(readings: Readings, tools: Tools) -> float:
    """Standard deviation of what counts of some readings [mm]: the tool's own error and the scatter, independent.

    Source: JCGM 100:2008 (GUM), 5.1.2.
    """
    own = tools(readings.tool or tools.assumed(readings.values), readings.value) or 0.0
    return math.hypot(own, readings.sd)


APART = practice("readings of one thing agree within 6 mm (1/4 in) or one part in fifty, whichever is more")


def far_apart(name: str, readings: Readings, unit: Unit) -> Finding | None:
    """A word of care where readings of one thing lie farther apart than a tape slips: a slip of the pen, perhaps."""
    least, most = min(readings.values), max(readings.values)
    limit = max(Fraction(6), most / 50)
    if most - least <= limit:
        return None
    manner = Manner(unit, 32)
    apart, low, high = (show(length, manner) for length in (most - least, least, most))
    return Finding(
        "readings-apart", Grade.CARE, readings.place, f"The readings of {name} lie {apart} apart: {low} to {high}.",
        "Measure again, or write a comma as a point: 34.5.", APART, number=most - least, limit=limit, unit="mm",
    )  # fmt: skip


def read_measure(
    name: str, node: Marked, scope: Scope, tools: Tools, mistakes: list[Finding]
) -> Dim | None:
    """One entry of `measure`: a sum, or readings of the real thing. None when it could not be read."""
    if isinstance(node, Scalar):
        return read_sum(node, scope, mistakes)
    filled = fill(MEASURE, node, scope, mistakes)
    readings = readings_of(filled) if filled else None
    if readings is not None and (doubt := far_apart(name, readings, scope.bare)):
        mistakes.append(doubt)
    return reading_dim(name, readings, tools) if readings else None
