"""The narrow waist: every cut in a part is one of four shapes, in the part's own coordinates.

A part's own coordinates start at its datum corner: u runs from the reference end along the length, v from the reference
edge across the width, w from the face into the thickness (0 at the face, the whole thickness at the back). On a side of
the part a point is given by the two coordinates that lie in it: face and back (u, v), edges (u, w), ends (v, w).
"""

from dataclasses import dataclass
from enum import Enum

from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Place
from storystick.ground.records import quickly_made


class Side(Enum):
    """The six sides of a board, by their marks."""

    FACE = "face"
    BACK = "back"
    EDGE = "reference edge"
    FAR_EDGE = "far edge"
    END = "reference end"
    FAR_END = "far end"

    @property
    def axes(self) -> tuple[int, int]:
        """Which of u, v, w (0, 1, 2) the two coordinates on this side are."""
        return _AXES[self.normal]

    @property
    def normal(self) -> int:
        """Which of u, v, w (0, 1, 2) a cut from this side goes down along."""
        return _NORMAL[self._value_]

    @property
    def is_far(self) -> bool:
        """True where the cut goes down against the coordinate: back, far edge, far end."""
        return self is Side.BACK or self is Side.FAR_EDGE or self is Side.FAR_END


_AXES = ((1, 2), (0, 2), (0, 1))
_NORMAL = {"face": 2, "back": 2, "reference edge": 1, "far edge": 1, "reference end": 0, "far end": 0}

type Spot = tuple[Dim, Dim]


@dataclass(frozen=True, slots=True, eq=False)
class Channel:
    """A straight trough with a flat floor: from `at`, `size` big along the two coordinates of the side, `depth` deep.

    runs    0 or 1: along which of the side's two coordinates it is cut; its width is the other size
    called  the trade's name for it, as craft gives it
    joint   name of the joint that asked for it, "" if none
    """

    name: str
    side: Side
    at: Spot
    size: Spot
    depth: Dim
    runs: int
    called: str
    joint: str = ""
    place: Place = NOWHERE

    @property
    def width(self) -> Dim:
        """Across the direction it is cut in."""
        return self.size[1 - self.runs]

    @property
    def length(self) -> Dim:
        """Along the direction it is cut in."""
        return self.size[self.runs]


@quickly_made
@dataclass(frozen=True, slots=True, eq=False)
class Bore:
    """A round hole from a spot on a side, square to it unless tilted.

    depth        None when it goes right through
    lean, toward degrees from square, and toward which of the side's coordinates: (first, second), each -1, 0 or 1
    sink         diameter at the surface of a countersink (90 degrees), None if none
    step         diameter and depth of a counterbore, None if none
    """

    name: str
    side: Side
    at: Spot
    diameter: Dim
    depth: Dim | None
    called: str
    lean: float = 0.0
    toward: tuple[int, int] = (0, 0)
    sink: Dim | None = None
    step: tuple[Dim, Dim] | None = None
    joint: str = ""
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Corner:
    """A corner of a sawn outline at (u, v), rounded by `radius` when given (0 or None: sharp)."""

    u: Dim
    v: Dim
    radius: Dim | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Notch:
    """Sawn right through: what lies inside the closed outline of corners (on the face, in order) is taken away."""

    name: str
    corners: tuple[Corner, ...]
    called: str
    joint: str = ""
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Bevel:
    """An edge or an end sawn at an angle: at the face it keeps the full size, toward the back it leans in.

    degrees  from square, over 0 and under 90; `from_back` turns it round: full at the back, leaning in at the face
    """

    name: str
    side: Side
    degrees: float
    called: str
    from_back: bool = False
    joint: str = ""
    place: Place = NOWHERE


type Cut = Channel | Bore | Notch | Bevel
