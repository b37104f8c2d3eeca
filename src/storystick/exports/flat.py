"""One side of a part as it lies turned up on a machine's bed, with everything that is cut from that side [mm].

Seen from outside and never mirrored: x runs from the reference end (on an end: from the reference edge), y upward.
The lower left corner of the board is 0, 0. Only what the model says is drawn: no length is reckoned.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from storystick.exports.naming import figures
from storystick.exports.outlines import wood
from storystick.ground.dim import Dim
from storystick.ground.length import INCH
from storystick.model.cut import Bevel, Bore, Channel, Side
from storystick.model.part import Part
from storystick.shapes.outline import Outline, Point, rectangle

BOARD = "BOARD"
_EVEN = ((0, 1, 2), (1, 2, 0), (2, 0, 1))


@dataclass(frozen=True, slots=True)
class Closed:
    """A closed outline on a layer."""

    layer: str
    outline: Outline


@dataclass(frozen=True, slots=True)
class Round:
    """A circle on a layer."""

    layer: str
    centre: Point
    diameter: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line on a layer."""

    layer: str
    start: Point
    end: Point


type Mark = Closed | Round | Line
type Said = Callable[[Dim], str]


@dataclass(frozen=True, slots=True, eq=False)
class Flat:
    """A side with what is cut from it; the outlines of the board come first."""

    part: Part
    side: Side
    size: Point
    marks: tuple[Mark, ...]

    @property
    def layers(self) -> tuple[str, ...]:
        """The names of its layers, each once, in the order in which they are used."""
        return tuple(dict.fromkeys(mark.layer for mark in self.marks))


def in_mm(dim: Dim) -> str:
    """A length for a layer's name, in millimetres."""
    return figures(dim.value)


def in_inches(dim: Dim) -> str:
    """The same in inches, to a ten-thousandth."""
    return figures(dim.value / INCH, 4)


def flats(part: Part, said: Said = in_mm) -> Iterator[Flat]:
    """The face, and every other side that has a cut of its own; `said` puts depths and diameters in layers' names."""
    cut = {each.side for each in part.cuts if isinstance(each, Channel | Bore)}
    cut |= {_full(each) for each in part.cuts if isinstance(each, Bevel)}
    for side in Side:
        if side is Side.FACE or side in cut:
            yield flat(part, side, said)


def flat(part: Part, side: Side, said: Said = in_mm) -> Flat:
    """One side of a part."""
    a, b = side.axes
    size = (float(part.size[a]), float(part.size[b]))
    over = turned_over(part, side)
    return Flat(part, side, size, tuple(_flipped(m, size[1]) if over else m for m in _marks(part, side, size, said)))


def turned_over(part: Part, side: Side) -> bool:
    """True where the side's second coordinate runs down as it is seen from outside with the first one rightward."""
    a, b = side.axes
    sign = (1 if (a, b, side.normal) in _EVEN else -1) * (1 if side.is_far else -1) * (1 if part.is_left_handed else -1)
    return sign < 0


def _marks(part: Part, side: Side, size: Point, said: Said) -> Iterator[Mark]:
    if side in (Side.FACE, Side.BACK):
        yield from (Closed(BOARD, outline) for outline in wood(part))
    else:
        yield Closed(BOARD, rectangle(*size))
    for cut in part.cuts:
        match cut:
            case Channel() if cut.side is side:
                at, wide = (float(cut.at[0]), float(cut.at[1])), (float(cut.size[0]), float(cut.size[1]))
                yield Closed(f"CHANNEL-DEEP-{said(cut.depth)}", rectangle(*wide, at))
            case Bore() if cut.side is side:
                yield from _bore(cut, said)
            case Bevel() if side is _full(cut):
                yield _bevel(cut, part)


def _bore(cut: Bore, said: Said) -> Iterator[Mark]:
    at = (float(cut.at[0]), float(cut.at[1]))
    deep = "THROUGH" if cut.depth is None else f"DEEP-{said(cut.depth)}"
    lean = f"-LEANS-{figures(cut.lean)}-DEG" if cut.lean else ""
    yield Round(f"BORE-{said(cut.diameter)}-{deep}{lean}", at, float(cut.diameter))
    if cut.sink is not None:
        yield Round("COUNTERSINK-90-DEG", at, float(cut.sink))
    if cut.step is not None:
        yield Round(f"COUNTERBORE-DEEP-{said(cut.step[1])}", at, float(cut.step[0]))


def _full(cut: Bevel) -> Side:
    """The side on which a bevelled board keeps its full size."""
    return Side.BACK if cut.from_back else Side.FACE


def _bevel(cut: Bevel, part: Part) -> Mark:
    """The arris that keeps the full size, as a line."""
    long, wide = float(part.length), float(part.width)
    ends: dict[Side, tuple[Point, Point]] = {
        Side.END: ((0.0, 0.0), (0.0, wide)),
        Side.FAR_END: ((long, 0.0), (long, wide)),
        Side.EDGE: ((0.0, 0.0), (long, 0.0)),
        Side.FAR_EDGE: ((0.0, wide), (long, wide)),
    }
    return Line(f"BEVEL-{figures(cut.degrees)}-DEG", *ends[cut.side])


def _flipped(mark: Mark, high: float) -> Mark:
    def over(point: Point) -> Point:
        return (point[0], high - point[1] + 0.0)

    match mark:
        case Closed(layer, outline):
            return Closed(layer, Outline(tuple(map(over, outline.corners)), tuple(-b for b in outline.bulges)))
        case Round(layer, centre, diameter):
            return Round(layer, over(centre), diameter)
        case Line(layer, start, end):
            return Line(layer, over(start), over(end))
