"""Will it go together? Each fit judged from the numbers as they are made: the gap, the chances, and their causes.

Two ways that agree where they should: to first order, with a normal spread; and by drawing whole builds, every shared
cause once a build, which also tells in how many of them everything fits at once.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from storystick.ground.dim import Dim, Leaf, counts, sample
from storystick.ground.length import Manner, fine
from storystick.model.joining import Fit
from storystick.model.made import OWN, PLACE, Made
from storystick.physics.tolerance import chance_below

WORTH = 0.05
"""A cause that gives less than a twentieth of the spread is not worth telling."""
DRAWS = 100_000


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that a gap is uncertain from: in words, its share of the whole (of the variance), and what helps.

    key     the leaf's own name; `sd` how much of the gap's standard deviation comes from it [mm]
    better  what better measuring or a shared setting does, with the chance of trouble that is left then
    """

    key: str
    says: str
    share: float
    sd: float
    better: str
    left: float


@dataclass(frozen=True, eq=False)
class Judged:
    """One fit: its gap as made, and how likely it is to come out too tight or too loose."""

    fit: Fit
    gap: Dim

    @cached_property
    def rests_on(self) -> Mapping[str, tuple[Leaf, float]]:
        """Everything uncertain that the gap rests on: by key the leaf, and how much the gap moves with it."""
        return {key: (leaf, weight) for key, (leaf, weight) in counts(self.gap).items() if leaf.spread and weight}

    @cached_property
    def sd(self) -> float:
        """Standard deviation of the gap [mm]."""
        return math.sqrt(self._variance())

    def _variance(self, without: Iterable[str] = ()) -> float:
        left_out = set(without)
        return math.fsum(share(*one) for key, one in self.rests_on.items() if key not in left_out)

    @property
    def tight(self) -> float:
        """The chance that it comes out too tight."""
        return odds(self, self.sd)[0]

    @property
    def loose(self) -> float:
        """The chance that it comes out too loose."""
        return odds(self, self.sd)[1]

    @property
    def trouble(self) -> float:
        """The chance that it is not as wanted."""
        return self.tight + self.loose

    def trouble_without(self, keys: Iterable[str], instead: float = 0.0) -> float:
        """The same when some causes are gone and one of standard deviation `instead` [mm] has come in."""
        return sum(odds(self, math.sqrt(max(0.0, self._variance(keys)) + instead**2)))

    def causes(self, most: int = 3) -> tuple[Cause, ...]:
        """What the gap is most uncertain from, the worst first."""
        whole = self._variance()
        if not whole:
            return ()
        ranked = sorted(self.rests_on.items(), key=lambda item: (-share(*item[1]), item[0]))
        return tuple(
            Cause(
                key, in_words(leaf), share(leaf, weight) / whole, math.sqrt(share(leaf, weight)), helps(leaf),
                self.trouble_without((key,)),
            )
            for key, (leaf, weight) in ranked[:most]
            if share(leaf, weight) / whole >= WORTH
        )  # fmt: skip


def share(leaf: Leaf, weight: float) -> float:
    """What a leaf gives to the variance [mm2]."""
    return (weight * leaf.spread.sd) ** 2 if leaf.spread else 0.0


def odds(judged: Judged, sd: float) -> tuple[float, float]:
    """The chance that a gap comes out too tight and too loose, were its standard deviation `sd` [mm]."""
    return odds_of(judged.gap.value, judged.fit.least.value, judged.fit.most.value, sd)


def odds_of(gap: Fraction, least: Fraction, most: Fraction, sd: float) -> tuple[float, float]:
    """The chance that a gap comes out under the least and over the most that is wanted."""
    if not sd:
        return float(gap < least), float(gap > most)
    return chance_below(float(least), float(gap), sd), 1 - chance_below(float(most), float(gap), sd)


def in_words(leaf: Leaf) -> str:
    """A cause as a maker says it."""
    if leaf.kind == "setting":
        return leaf.says or leaf.name
    if leaf.kind == "reading":
        how = leaf.says.split(";")[0]
        return f"{leaf.name} as it was read ({how})" if how else f"{leaf.name} as it was read"
    return f"{leaf.name}, {'not measured yet' if leaf.kind == 'rule' else 'as given'}"


def helps(leaf: Leaf) -> str:
    """What would take a cause away."""
    if leaf.kind == "reading":
        return f"measure {leaf.name} again, with something finer or at more places"
    if leaf.kind != "setting":
        return f"measure {leaf.name}"
    name = leaf.name.rsplit(": ", 1)[0]
    if leaf.name.endswith(" taken off"):
        return "cut it a little long, try it in its opening, and trim"
    if leaf.name.endswith(f": {PLACE}"):
        return f"measure {name} on the piece itself, where it goes in"
    if leaf.name.endswith(f": {OWN}"):
        return f"measure {name} when it is cut, and trim"
    return "measure the first piece cut at that setting, and cut all that meet at the same setting"


def judge(made: Made, fits: Iterable[Fit] | None = None) -> tuple[Judged, ...]:
    """Every fit of a build, or some of them, with the gap as it is made."""
    return tuple(Judged(fit, made.as_made(fit.gap)) for fit in (made.build.fits if fits is None else fits))


@dataclass(frozen=True, slots=True)
class Builds:
    """Many builds of one piece drawn at random: in what share of them each fit is too tight or too loose.

    all_fit  share of the builds in which everything fits;  apart  what it would be if no two fits had a cause in common
    """

    draws: int
    each: Mapping[str, tuple[float, float]]
    all_fit: float
    apart: float


def simulate(judged: Sequence[Judged], draws: int = DRAWS, seed: int = 0) -> Builds:
    """Build the piece `draws` times. Two standard errors of a share p are 2 sqrt(p (1 - p) / draws).

    Source: JCGM 101:2008 (GUM supplement 1), clause 7.
    """
    import numpy as np

    drawn = sample({one.fit.name: one.gap for one in judged}, draws, seed)
    good = np.ones(draws, dtype=bool)
    each: dict[str, tuple[float, float]] = {}
    apart = 1.0
    for one in judged:
        gap = np.asarray(drawn[one.fit.name])
        tight, loose = gap < float(one.fit.least.value), gap > float(one.fit.most.value)
        each[one.fit.name] = (float(tight.mean()), float(loose.mean()))
        apart *= 1 - sum(each[one.fit.name])
        good &= ~(tight | loose)
    return Builds(draws, each, float(good.mean()), apart)


def gap_said(judged: Judged, manner: Manner) -> str:
    """The gap with two standard deviations: 0.15 mm, give or take 0.22 mm."""
    give = f", give or take {fine_of(2 * judged.sd, manner)}" if judged.sd else ""
    return f"{fine(judged.gap.value, manner)}{give}"


def fine_of(value: float, manner: Manner) -> str:
    """A small length [mm] that is a float, as a calliper shows it."""
    return fine(Fraction(str(round(value, 6))), manner)
