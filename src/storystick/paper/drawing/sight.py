"""Which sides of a part are drawn, and where a side's coordinates fall on the paper."""

from dataclasses import dataclass

from storystick.ground.dim import Dim
from storystick.model.cut import Bevel, Side
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Spot
from storystick.paper.drawing.families import side_of

OPPOSITE = {
    Side.FACE: Side.BACK, Side.BACK: Side.FACE, Side.EDGE: Side.FAR_EDGE, Side.FAR_EDGE: Side.EDGE,
    Side.END: Side.FAR_END, Side.FAR_END: Side.END,
}  # fmt: skip
FLAT = (Side.FACE, Side.BACK)


def runs_rightward(part: Part, side: Side) -> bool:
    """True where a side, looked at from outside with its second coordinate up, has its first running to the right."""
    a, b = side.axes
    even = (a, b, side.normal) != (0, 2, 1)
    signs = (1 if even else -1) * (1 if side.is_far else -1) * (1 if part.is_left_handed else -1)
    return signs > 0


def sides_to_draw(part: Part) -> tuple[Side, ...]:
    """Every side that is cut from; the face if no flat side is, for its marks."""
    cut_from = {side_of(cut) for cut in part.cuts if not isinstance(cut, Bevel)}
    return tuple(side for side in Side if side in cut_from or (side is Side.FACE and Side.BACK not in cut_from))


@dataclass(frozen=True)
class Sight:
    """A side of a part laid out on paper: where its coordinates fall."""

    part: Part
    side: Side
    scale: float
    left: float
    top: float
    rightward: bool

    @property
    def size(self) -> tuple[Dim, Dim]:
        """Of the side, along its two coordinates."""
        a, b = self.side.axes
        return self.part.size[a], self.part.size[b]

    @property
    def wide(self) -> float:
        """On paper [mm]."""
        return float(self.size[0]) / self.scale

    @property
    def high(self) -> float:
        """On paper [mm]."""
        return float(self.size[1]) / self.scale

    def spot(self, first: float, second: float) -> Spot:
        """Where a point of the side falls on the paper."""
        along = first / self.scale
        return (
            self.left + (along if self.rightward else self.wide - along),
            self.top + self.high - second / self.scale,
        )

    def span(self, at: tuple[Dim, Dim], size: tuple[Dim, Dim]) -> Box:
        """Where a rectangle of the side falls on the paper."""
        a = self.spot(float(at[0]), float(at[1]))
        b = self.spot(float(at[0].value + size[0].value), float(at[1].value + size[1].value))
        return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))

    @property
    def outline(self) -> Box:
        """The side itself."""
        return Box(self.left, self.top, self.left + self.wide, self.top + self.high)
