"""What every way to make a hole has to know of it: its size, how deep, and how exactly it must come out."""

from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Book
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.work import Setup
from storystick.shop.shop import Drill
from storystick.work.saying import said, tool_size
from storystick.work.ways import Ask, minutes, setup

CLOSE = Fraction(1, 10)
ROOMY = Fraction(4, 10)
NEAR_PILOT = Fraction(2, 10)
EXACT = practice("a hole that something sits in comes out within 0.1 mm of the size drawn")
PILOT = practice("a pilot hole may be 0.2 mm off either way, such as 3 mm for 1/8 in: wood differs more than that")
THROUGH = practice("a hole right through that something only passes may be up to 0.4 mm larger than drawn")
LARGE = Fraction(14)


@dataclass(frozen=True, slots=True, eq=False)
class Hole:
    """A bore in its part; `deep` is how deep the tool goes, the whole way through where no depth is given [mm]."""

    cut: Bore
    ask: Ask
    deep: Fraction

    @property
    def is_through(self) -> bool:
        """It comes out on the other side."""
        return self.cut.depth is None

    @property
    def is_square(self) -> bool:
        """It goes straight in."""
        return self.cut.lean == 0

    def takes(self, diameter: Fraction) -> bool:
        """Whether a bit makes the hole. Sources: EXACT, PILOT, THROUGH."""
        off = diameter - self.cut.diameter.value
        if "pilot" in self.cut.called:
            return abs(off) <= NEAR_PILOT
        return -CLOSE <= off <= (ROOMY if self.is_through else CLOSE)

    def reaches(self, drill: Drill) -> bool:
        """Whether a bit is long enough."""
        return drill.reach is None or drill.reach >= self.deep


def hole_of(ask: Ask) -> Hole | None:
    """The cut as a hole in its part; None for another shape."""
    cut = ask.cut
    if not isinstance(cut, Bore):
        return None
    through = ask.part.size[cut.side.normal].value
    return Hole(cut, ask, cut.depth.value if cut.depth is not None else through)


def drill_setup(hole: Hole, tool: str) -> Setup:
    """The bit, and the stop on it where the hole ends in the wood."""
    cut, build = hole.cut, hole.ask.build
    if cut.depth is None:
        return setup("drill", tool, "through", None, f"{tool}, right through onto a backing board")
    return setup(
        "drill", tool, "depth stop", cut.depth, f"{tool}, stop at {said(cut.depth, build)}", "Try the depth on a scrap."
    )


def more_setups(hole: Hole, book: Book) -> tuple[Setup, ...]:
    """The countersink or the wider hole that goes with it."""
    cut, build, found = hole.cut, hole.ask.build, []
    if cut.step is not None:
        wide, deep = cut.step
        tool = f"{tool_size(wide.value)} flat-bottomed bit"
        found.append(setup("drill", tool, "first", deep, f"first {tool}, {said(deep, build)} deep"))
    if cut.sink is not None:
        says = f"countersink until the mouth is {said(cut.sink, build)} across"
        found.append(
            setup("drill", "countersink", "mouth", cut.sink, says, "Try a screw in a scrap: its head lies level.")
        )
    return tuple(found)


def hole_minutes(hole: Hole, name: str = "") -> tuple[float, float]:
    """Minutes to set up and for each hole, with what goes with it."""
    first, each = minutes(name or ("bore large" if hole.cut.diameter.value >= LARGE else "bore"))
    if hole.cut.sink is not None:
        more = minutes("countersink")
        first, each = first + more[0], each + more[1]
    if hole.cut.step is not None:
        more = minutes("bore large")
        first, each = first + more[0], each + more[1]
    return first, each


def has_countersink(hole: Hole) -> bool:
    """True where no countersink is asked for, or the shop has one."""
    return hole.cut.sink is None or bool(hole.ask.shop.countersinks)
