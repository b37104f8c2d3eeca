"""What every way to saw an outline has to know of it: where it opens, whether it is a plain rectangle, how large."""

from dataclasses import dataclass
from fractions import Fraction

from storystick.model.cut import Notch
from storystick.work.ways import Ask


@dataclass(frozen=True, slots=True, eq=False)
class Cutout:
    """A notch in its part: bounds along length and width [mm], whether it is a plain rectangle, or curved."""

    cut: Notch
    ask: Ask
    low: tuple[Fraction, Fraction]
    high: tuple[Fraction, Fraction]
    plain: bool
    curved: bool

    @property
    def size(self) -> tuple[Fraction, Fraction]:
        """Along the length and across the width [mm]."""
        return self.high[0] - self.low[0], self.high[1] - self.low[1]

    def open_at(self, axis: int) -> bool:
        """It reaches an end (0) or an edge (1) of the part."""
        return self.low[axis] <= 0 or self.high[axis] >= self.ask.part.size[axis].value

    @property
    def has_inner_corner(self) -> bool:
        """A corner of it is in the wood: off the ends and the edges of the part."""
        long, wide = (size.value for size in self.ask.part.size[:2])
        return any(0 < c.u.value < long and 0 < c.v.value < wide for c in self.cut.corners)

    @property
    def is_inside(self) -> bool:
        """It touches neither end nor edge: a blade has to be started in a hole."""
        return not (self.open_at(0) or self.open_at(1))


def cutout_of(ask: Ask) -> Cutout | None:
    """The cut as an outline in its part; None for another shape."""
    cut = ask.cut
    if not isinstance(cut, Notch):
        return None
    us, vs = [c.u.value for c in cut.corners], [c.v.value for c in cut.corners]
    low, high = (min(us), min(vs)), (max(us), max(vs))
    curved = any(c.radius is not None and c.radius.value > 0 for c in cut.corners)
    square = len(cut.corners) == 4 and all(
        c.u.value in (low[0], high[0]) and c.v.value in (low[1], high[1]) for c in cut.corners
    )
    return Cutout(cut, ask, low, high, square and not curved, curved)
