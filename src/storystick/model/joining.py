"""How parts are held together: joints as they were made, fasteners, hardware, and the fits between things."""

from dataclasses import dataclass
from typing import Literal

from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Place
from storystick.ground.records import quickly_made
from storystick.ground.source import Source
from storystick.model.part import Three


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """A joint as made: the guest comes to the host's side; cuts and fasteners carry the joint's name.

    called  the trade's name for it
    glued   held by glue; `held` False when it only locates (a back that slides in its grooves)
    axis, sign  the way the guest goes to reach the host, in the assembly's axes (0 x, 1 y, 2 z; +1 up the axis)
    holds   "glue", "screws", "nails", "pocket screws", "rests", "slides",
            "captured" (can't get out once its neighbours are on)
    """

    name: str
    kind: str
    called: str
    host: str
    guest: str
    axis: int
    sign: int
    glued: bool
    holds: tuple[str, ...]
    place: Place = NOWHERE


type Drives = Literal["screw", "pocket screw", "nail", "brad", "bolt", "lag screw", "dowel"]


@quickly_made
@dataclass(frozen=True, slots=True, eq=False)
class Fastener:
    """One screw, nail or dowel: its head at `at`, pointing along `way` (assembly axes, unit vector).

    row     name of its row in the shop's table of fasteners ("#8 wood screw")
    through the part under the head, into the part that holds; `thread` is what may hold there [mm]
    """

    name: str
    kind: Drives
    row: str
    diameter: Dim
    length: Dim
    through: str
    into: str
    at: Three
    way: tuple[float, float, float]
    assembly: str
    joint: str = ""
    grain: Literal["face", "edge", "end"] = "face"
    place: Place = NOWHERE

    @property
    def called(self) -> str:
        """What to buy: its row; the length is printed beside it."""
        return self.row


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """Something bought and fixed on or put in: slide, castor, pull, pin, magnet, track.

    kind    its row in the shop's tables, "" if it has none; `said` its size in words
    box     low corner and size in the assembly's axes, when it takes up room
    on      names of the parts that it is fixed to
    count   how many; `unit` each, pair, metre
    """

    name: str
    kind: str
    said: str
    count: int
    assembly: str
    on: tuple[str, ...] = ()
    box: tuple[Three, Three] | None = None
    round: bool = False  # a cylinder in its box, upright
    kilograms: float = 0.0  # each
    price_key: str = ""
    unit: str = "each"
    carries: str = ""  # name of the drawer, tray or assembly that it carries
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """A place where something goes into something: the gap left, and what the trade wants there.

    gap     hole less what goes in [mm]: below `least` it is too tight, above `most` too loose
    for_good 'glued', 'slides', 'drops in', 'locates': the class of the fit in words
    """

    name: str
    gap: Dim
    least: Dim
    most: Dim
    for_good: str
    goes_in: str
    into: str
    cut: str = ""  # name of the cut that is the hole, when there is one
    source: Source | None = None
    place: Place = NOWHERE

    @property
    def gap_name(self) -> str:
        """The name under which its gap is asked for, and read once the piece is held in: gap of shelf 1 in its dado."""
        return f"gap of {self.name}"
