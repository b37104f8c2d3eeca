"""A format, what it is made from, and what comes out."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from storystick.ground.finding import Finding
    from storystick.model.build import Build
    from storystick.model.scene import Scene
    from storystick.model.work import Buying, Cutting, WorkOrder


class Piece(Protocol):
    """Everything that was worked out about a piece: a format takes what it needs, and only that is worked out."""

    @property
    def build(self) -> "Build":
        """The build."""
        ...

    @property
    def scene(self) -> "Scene":
        """Its solids."""
        ...

    @property
    def cuttings(self) -> "tuple[Cutting, ...]":
        """The layouts, one a stock."""
        ...

    @property
    def order(self) -> "WorkOrder":
        """The order of work."""
        ...

    @property
    def buying(self) -> "Buying":
        """What to buy."""
        ...

    @property
    def all_findings(self) -> "tuple[Finding, ...]":
        """Everything found."""
        ...


@dataclass(frozen=True, slots=True)
class File:
    """One file: its name, which any file system takes, and its bytes."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Export:
    """A format.

    name    the word it is asked for by;  suffix  how its files end, with the dot
    says    in a line, what it holds and in which units
    make    the files, in a fixed order; the same bytes for the same piece
    """

    name: str
    suffix: str
    says: str
    make: Callable[[Piece], Iterator[File]]
