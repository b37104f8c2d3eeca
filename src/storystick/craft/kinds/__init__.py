"""The shelf of kinds: every module in this folder that has a `KIND` is a kind of assembly that a plan may ask for.

A kind does two things. `size` says how wide, deep and high it is from what the plan asks, so that it can be placed in
the room and others can refer to it. `make`, once it has its place, lays its boards, joints and hardware on the bench.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Protocol

from storystick.craft.draft import Bench, plus
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import Fields, Filled
from storystick.ground.finding import Place
from storystick.ground.shelf import taken_from
from storystick.model.part import Assembly, Three


@dataclass(frozen=True, slots=True, eq=False)
class Extents:
    """Where something lies in the room: low corner and size along the room's axes."""

    at: Three
    size: Three

    def low(self, axis: int) -> Dim:
        """Its low end along an axis."""
        return self.at[axis]

    def high(self, axis: int) -> Dim:
        """Its high end along an axis."""
        return plus(self.at[axis], self.size[axis])


@dataclass(frozen=True, slots=True, eq=False)
class Built:
    """An assembly made before: the bench with its boards, where its low corner stands, its size, its quarter turns."""

    bench: Bench
    at: Three
    size: Three
    turns: int


class Room(Protocol):
    """What stands in the room so far: site bodies, and the assemblies made before this one."""

    def built(self, name: str) -> Built | None:
        """The assembly of that name with its boards; None for site bodies and for what is not made yet."""

    def extents(self, name: str) -> Extents | None:
        """Where the thing of that name lies; None when there is no such thing (yet)."""

    def names(self) -> tuple[str, ...]:
        """All names that `extents` knows."""


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """What a kind is given to make: the plan's words for it, the bench, where it stands, and what stands around it.

    ask     the kind's own fields, as filled
    scope   names and units for further sums in nested nodes
    at      its low corner in the room; size as `size` gave it
    """

    name: str
    ask: Filled
    scope: Scope
    bench: Bench
    room: Room
    size: Three
    at: Three
    turns: int
    place: Place


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of assembly. `names` are lengths it lends to other entries beside wide, deep, high and its six ends.

    size    what the plan asks -> wide, deep, high (settled in the bench's book); None when it can't be told
    make    lays everything on the bench and gives the assembly itself
    """

    name: str
    fields: Fields
    size: Callable[[Filled, Scope, Bench], Three | None]
    make: Callable[[Task], Assembly]
    says: str
    also: tuple[str, ...] = ()
    sample: str = ""  # a plan that builds one: run by the contract test
    lends: tuple[str, ...] = field(default=())


@cache
def kinds() -> Mapping[str, Kind]:
    """Every kind by name, in the order of their names."""
    return {kind.name: kind for kind in taken_from(__path__, __name__, "KIND", Kind)}


@cache
def by_word() -> Mapping[str, Kind]:
    """Every kind by every word it goes by."""
    return {word: kind for kind in kinds().values() for word in (kind.name, *kind.also)}
