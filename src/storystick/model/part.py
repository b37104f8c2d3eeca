"""A part: a board of some stock, cut to size, lying somewhere in its assembly.

The assembly's axes are x wide, y deep, z high. A part's length, width and thickness lie along these axes in some order
(`lies`), seen from its datum corner (`datum`). A part that leans has an assembly of its own that leans.
"""

from dataclasses import dataclass, field
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Place
from storystick.model.cut import Cut
from storystick.model.stock import Stock

type Three = tuple[Dim, Dim, Dim]


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """One piece of wood.

    name     full name: assembly and part, "cabinet.left side"
    role     the trade's word for what it does: side, top, bottom, divider, shelf, back, rail, drawer side ...
    size     length, width, thickness [mm], finished
    lies     assembly axis (0 x, 1 y, 2 z) of length, width, thickness
    at       low corner in the assembly's axes
    datum    +1 or -1 for length, width, thickness: +1 where the reference end (edge) is at the low end of its axis;
             for thickness +1 where the face looks up its axis
    turnable the face's grain may run either way
    shows    how much of it is seen: decides the good face and the edges to band
    match    parts with the same word are cut in one strip so that the grain follows on
    fit_to   what this part is best cut to fit from ("" none): its printed sizes are provisional
    """

    name: str
    role: str
    assembly: str
    stock: Stock
    size: Three
    lies: tuple[int, int, int]
    at: Three
    datum: tuple[int, int, int]
    cuts: tuple[Cut, ...] = ()
    layers: int = 1
    letter: str = ""
    turnable: bool = False
    banded: tuple[str, ...] = ()
    match: str = ""
    fit_to: str = ""
    notes: tuple[str, ...] = ()
    place: Place = NOWHERE

    @property
    def length(self) -> Dim:
        """Along the grain [mm]."""
        return self.size[0]

    @property
    def width(self) -> Dim:
        """Across the grain [mm]."""
        return self.size[1]

    @property
    def thickness(self) -> Dim:
        """Face to back [mm]."""
        return self.size[2]

    def along(self, axis: int) -> Dim:
        """Size along an axis of the assembly [mm]."""
        return self.size[self.lies.index(axis)]

    def low(self, axis: int) -> Fraction:
        """Low end along an axis of the assembly [mm]."""
        return self.at[axis].value

    def high(self, axis: int) -> Fraction:
        """High end along an axis of the assembly [mm]."""
        return self.at[axis].value + self.along(axis).value

    @property
    def is_left_handed(self) -> bool:
        """True where u, v and the way out of the face make a left-handed set: its card is the mirror of its twin's."""
        signs = self.datum[0] * self.datum[1] * self.datum[2]
        even = self.lies in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
        return (signs if even else -signs) < 0


@dataclass(frozen=True, slots=True, eq=False)
class Lean:
    """A turn that is not a quarter: degrees about an axis (0 x, 1 y, 2 z) through the assembly's low corner."""

    axis: int
    degrees: float


@dataclass(frozen=True, slots=True, eq=False)
class Assembly:
    """A group of parts with axes of its own, placed in the room.

    at       where its origin (low corner, before turning) stands in the room, or on the assembly `on`
    turns    quarter turns to the left about the upright axis
    size     wide, deep, high over all in its own axes
    inside_of name of the assembly that it belongs to ("" for one of the plan's own entries)
    removable lifts off or is pulled out; not fixed to what it stands on
    comes_in the stretches of its way to its place, the last one last: unit vector of travel in the room, and how far
    """

    name: str
    kind: str
    at: Three
    size: Three
    turns: int = 0
    lean: Lean | None = None
    inside_of: str = ""
    removable: bool = False
    stands_on: str = ""  # floor, a site body, another assembly: what carries it
    feet: tuple[
        tuple[Dim, Dim], ...
    ] = ()  # where it touches what carries it (x, y in its own axes), when not its outline
    swivels: float = 0.0  # castors: how far the wheel's contact lies from its stem [mm]
    comes_in: tuple[tuple[tuple[float, float, float], Dim], ...] = ()
    held_by: tuple[str, ...] = ()  # names of fasteners, items or "glue" that fix it to its carrier
    place: Place = NOWHERE
    notes: tuple[str, ...] = field(default=())
