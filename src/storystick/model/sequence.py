"""The order in which a piece goes together: what comes in, from where, what is driven then; or what can't be done."""

from dataclasses import dataclass
from typing import Literal

type Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Driving:
    """Fasteners that are driven at one moment, by name, and the tool that gets at them ("" where none is needed)."""

    names: tuple[str, ...]
    by: str


@dataclass(frozen=True, slots=True)
class Coming:
    """One thing comes to others along a straight line.

    moves   names of the parts and things that come, as one
    meets   names of those that are there; none for the first of all, or the first of something made by itself
    way     the direction they travel in, in the room's axes, unit vector; `far` how far it is from free to home [mm]
    first   fasteners driven into what comes while it is still by itself;  then  those driven once it is home
    joints  names of the joints that close
    glued   whether any of them is glued;  go  comings of one number are one glue-up: none of them can be left for later
    assembly the assembly that grows by it
    """

    moves: tuple[str, ...]
    meets: tuple[str, ...]
    way: Vector
    far: float
    first: tuple[Driving, ...] = ()
    then: tuple[Driving, ...] = ()
    joints: tuple[str, ...] = ()
    glued: bool = False
    go: int = 0
    assembly: str = ""


@dataclass(frozen=True, slots=True)
class Hindrance:
    """Why one thing can't leave the others of a blocking set.

    kind  "way": it can't go along `way`, for `by`;  "driver": `by` keep every driver from the fastener `fastener`
    """

    kind: Literal["way", "driver"]
    name: str
    by: tuple[str, ...]
    way: Vector = (0.0, 0.0, 0.0)
    fastener: str = ""


@dataclass(frozen=True, slots=True)
class Stuck:
    """A set of parts that can't be put together; without any one of them the others could be.

    caught  what is to come out of the finished piece, and can't, since the rest of the set bars it; else ""
    """

    names: tuple[str, ...]
    because: tuple[Hindrance, ...]
    caught: str = ""


@dataclass(frozen=True, slots=True)
class Unreached:
    """Fasteners that no driver reaches at any moment, and what is in the way."""

    fasteners: tuple[str, ...]
    by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Late:
    """A part that has to wait: it belongs to one assembly, but goes on only after that has met another."""

    part: str
    assembly: str
    met: str


@dataclass(frozen=True, slots=True)
class Hurried:
    """A part that has to be fastened in the middle of a glue-up, since what closes that (`by`) hides the fasteners."""

    part: str
    fasteners: tuple[str, ...]
    by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """How something finished is brought to its place: the ways that are free, and what stands in the others.

    names    assemblies that go as one;  rolls  it can only come along the floor
    free     unit vectors of travel;  hindered  each other way with the names of what stands in it
    """

    names: tuple[str, ...]
    rolls: bool
    free: tuple[Vector, ...]
    hindered: tuple[tuple[Vector, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class AssemblyOrder:
    """The order of putting together. `stuck` and `unreached` are empty where all of it can be."""

    comings: tuple[Coming, ...]
    stuck: tuple[Stuck, ...] = ()
    unreached: tuple[Unreached, ...] = ()
    late: tuple[Late, ...] = ()
    hurried: tuple[Hurried, ...] = ()
    brought: tuple[BroughtIn, ...] = ()
    too_big: tuple[str, ...] = ()  # parts that do not go through the shop's door
    whole: bool = True  # False where the search was told to stop before its end

    @property
    def can_be(self) -> bool:
        """Whether every part comes in and every fastener is reached."""
        return self.whole and not self.stuck and not self.unreached
