"""Overturning: one way to go over an edge, how far it is from that, and what weight or reach would mend it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import radians, tan

from storystick.checks.footing import Footing
from storystick.checks.masses import Mass
from storystick.checks.saying import G_N_PER_KG, at_least, kg, mm
from storystick.model.check import Asked
from storystick.model.part import Assembly
from storystick.physics.tipping import MARGIN, leaning_margin
from storystick.shapes.pose import apply, dot

BALLAST_IN_MM = {"inch": 50.8, "mm": 50.0}  # ballast lies with its middle so far in from the far side
ROUNDS = 18  # halvings: to less than a hundredth of a millimetre or a kilogram
FARTHEST_MM, HEAVIEST_KG = 1000.0, 2000.0  # more than this is not advised

type Rows = Sequence[tuple[float, float, float]]


@dataclass(frozen=True)
class Case:
    """One way to go over: the edge, what weighs where, in words, how far the floor leans [deg], what is wanted."""

    footing: Footing
    found: tuple[Mass, ...]
    says: str
    lean: float = 0.0
    wanted: float = MARGIN
    pull: tuple[float, float] = (0.0, 0.0)  # force outward [N] and its height over the floor [mm]

    @cached_property
    def margin(self) -> float:
        """What holds it down over what turns it over."""
        return self._margin(self.rows)

    @property
    def share(self) -> float:
        """How much of what is wanted there is; under 1 it is not enough."""
        return self.margin / self.wanted

    @cached_property
    def rows(self) -> Rows:
        """Each weight [N], how far it is out towards the edge and above the ground [mm]."""
        way, ground = self.footing.way, self.footing.ground
        return [(m.newtons, dot(m.at, way), m.at[2] - ground) for m in self.found]

    def _margin(self, rows: Rows, far: float = 0.0) -> float:
        edge = self.footing.edge + far
        behind = [(w, edge - out, z) for w, out, z in rows]
        if not self.pull[0]:
            return leaning_margin(behind, self.lean)
        lean = radians(self.lean)
        down = sum(w * (x - z * tan(lean)) for w, x, z in behind)
        return down / (self.pull[0] * self.pull[1]) if down > 0 else 0.0

    def holds(self, rows: Rows, far: float = 0.0) -> bool:
        """Whether there is enough with other weights, and with feet that reach farther out [mm]."""
        return self._margin(rows, far) / self.wanted >= 1

    def less(self, rows: Rows, name: str, share: float) -> Rows:
        """Its rows with a share of one load."""
        mine = [m.is_load and m.name == name for m in self.found]
        return [(row[0] * share, *row[1:]) if less else row for less, row in zip(mine, rows, strict=True)]


def what_mends(asked: Asked, one: Assembly, worst: Case, cases: Sequence[Case], out: float | None) -> str:
    """What would mend all cases over that edge: the wall, a weight at its foot, feet that reach so far out [mm]."""
    manner, footing = asked.build.manner, worst.footing
    mine = _over(footing, cases)
    inset = BALLAST_IN_MM[manner.unit]
    far = far_side(asked, one, footing)
    arm = min(far - inset, footing.reach) if one.feet else far - inset
    ways = ["Fix it to the wall"]
    rows = [case.rows for case in mine]
    weight = least_that(
        lambda w: all(
            c.holds([*r, (w * G_N_PER_KG, footing.edge - arm, 0.0)]) for c, r in zip(mine, rows, strict=True)
        ),
        HEAVIEST_KG,
    )
    if weight is not None:
        heavy = kg(float(int(weight) + 1), manner)
        ways.append(f"put {heavy} of weight at its foot, {mm(far - arm, manner)} in from the far side")
    if out is not None:
        ways.append(f"let it stand {at_least(out, manner)} farther out {footing.word}")
    return f"{', or '.join(ways)}."


def reach_that_mends(worst: Case, cases: Sequence[Case]) -> float | None:
    """How much farther out its feet must stand over the worst edge [mm]; None where a metre does not do."""
    mine = _over(worst.footing, cases)
    rows = [case.rows for case in mine]
    return least_that(lambda far: all(c.holds(r, far) for c, r in zip(mine, rows, strict=True)), FARTHEST_MM)


def load_that_mends(worst: Case, cases: Sequence[Case], name: str) -> float | None:
    """What share of one load may stay so that all is well over that edge; None where that load is not to blame."""
    mine = _over(worst.footing, cases)
    rows = [case.rows for case in mine]
    off = least_that(lambda less: all(c.holds(c.less(r, name, 1 - less)) for c, r in zip(mine, rows, strict=True)), 1.0)
    return None if off is None else 1 - off


def _over(footing: Footing, cases: Sequence[Case]) -> list[Case]:
    """The cases that go over one edge, the worst first: where it does not hold, nothing else has to be asked."""
    return sorted((case for case in cases if case.footing == footing), key=lambda case: case.share)


def least_that(holds: Callable[[float], bool], most: float) -> float | None:
    """The least value from which something holds, on the safe side; None where it does not hold at the most."""
    if not holds(most):
        return None
    good, bad = most, 0.0
    for _ in range(ROUNDS):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if holds(middle) else (good, middle)
    return good


def far_side(asked: Asked, one: Assembly, footing: Footing) -> float:
    """How far the far side of the piece is behind the edge that it would go over [mm]."""
    wide, deep, _ = (float(dim) for dim in one.size)
    corners = [apply(asked.scene.poses[one.name], (x, y, 0.0)) for x in (0.0, wide) for y in (0.0, deep)]
    return max(footing.behind(corner) for corner in corners)
