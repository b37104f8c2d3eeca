"""A plan: its heading, and its sections as they were written."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.ground.finding import NOWHERE, Place
from storystick.ground.length import Manner, Unit
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.plan.wanted import Wanted

type Paper = Literal["letter", "a4"]
type Words = Literal["american", "british"]
type Section = Literal["measure", "site", "stock", "build", "loads", "accept", "work"]

NAMED: tuple[Section, ...] = ("measure", "site", "stock", "build")  # sections whose names others may use
SECTIONS: tuple[Section, ...] = (*NAMED, "loads", "accept")
NOTHING = Mapping(())


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a section: its name as written, what stands behind it, and where the name stands."""

    name: str
    node: Marked
    place: Place


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that the maker knows of and lives with: its code, or `code: part`, and why."""

    code: str
    reason: str
    place: Place


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """What was asked for.

    units      how a length without a unit is read, and how lengths are printed
    fraction   the finest mark of an inch that is printed, as its denominator
    paper      the sheet that the packet is printed on
    words      which words of the trade are printed: rabbet or rebate
    currency   the sign of prices that have none of their own; "" when it isn't said
    works_in   the units of the shop that it is made in: round numbers and what is printed; None: the plan's own
    sections   measure, site, stock, build, loads, accept, work: as they were written, in their order
    wanted     what is wished of the order of work
    """

    title: str
    units: Unit
    file: str = ""
    text: str = ""
    about: str = ""
    by: str = ""
    version: str = ""
    licence: str = ""
    changes: tuple[str, ...] = ()
    fraction: int = 32
    paper: Paper = "letter"
    words: Words = "american"
    currency: str = ""
    measure: Mapping = NOTHING
    site: Mapping = NOTHING
    stock: Mapping = NOTHING
    build: Mapping = NOTHING
    loads: Mapping = NOTHING
    accept: Mapping = NOTHING
    work: Mapping = NOTHING
    wanted: tuple[Wanted, ...] = ()
    place: Place = NOWHERE
    works_in: Unit | None = None

    @property
    def manner(self) -> Manner:
        """How lengths of this plan are printed, and which numbers are round."""
        return Manner(self.works_in or self.units, self.fraction)

    @property
    def finest(self) -> Fraction:
        """The finest step that is printed [mm]."""
        return self.manner.mark

    def section(self, name: Section) -> Mapping:
        """A section as it was written; empty when it wasn't."""
        found: Mapping = getattr(self, name)
        return found

    def entries(self, name: Section) -> Iterator[Entry]:
        """The entries of a section, in their order."""
        for key, node in self.section(name):
            yield Entry(key.text, node, key.place)

    @property
    def accepted(self) -> tuple[Accepted, ...]:
        """The findings that are lived with."""
        return tuple(
            Accepted(key.text, node.text, key.place)
            for key, node in self.accept
            if isinstance(node, Scalar) and node.text
        )
