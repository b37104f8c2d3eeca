"""The folder on the drawing board: everything that is known about a piece, ready to be drawn and printed."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from storystick.ground.dim import Dim
from storystick.ground.finding import Finding
from storystick.model.body import solid_of
from storystick.model.build import Build
from storystick.model.cut import Notch
from storystick.model.part import Part
from storystick.model.scene import Scene
from storystick.model.work import Buying, Cutting, MadeBy, WorkOrder
from storystick.shapes.solid import Solid, moved
from storystick.shop.shop import Shop


@dataclass(frozen=True, eq=False)
class Folder:
    """What the earlier stages made.

    fonts           the folder of the packet's typeface, "" for the one that is installed
    dated, version  printed as given
    """

    build: Build
    scene: Scene
    cuttings: tuple[Cutting, ...] = ()
    order: WorkOrder = field(default_factory=lambda: WorkOrder((), (), (), ()))
    buying: Buying = field(default_factory=lambda: Buying(()))
    findings: tuple[Finding, ...] = ()
    shop: Shop | None = None
    fonts: str = ""
    dated: str = ""
    version: str = ""
    limits: Mapping[str, str] = field(default_factory=dict)  # what each check asks, in a sentence, by its code

    @cached_property
    def letters(self) -> Mapping[str, tuple[Part, ...]]:
        """Parts that share a card, by letter, in the order of the letters; a part without one goes by its name."""
        found: dict[str, list[Part]] = {}
        for part in self.build.parts:
            found.setdefault(part.letter or part.name, []).append(part)
        return {letter: tuple(found[letter]) for letter in sorted(found, key=lambda text: (len(text), text))}

    @cached_property
    def letter_of(self) -> Mapping[str, str]:
        """The letter of each part, by its full name."""
        return {part.name: letter for letter, parts in self.letters.items() for part in parts}

    @cached_property
    def plain(self) -> Mapping[str, Solid]:
        """Each part in the room with nothing cut but what is sawn right through: quick to look at."""
        poses = self.scene.part_poses
        return {
            part.name: moved(
                solid_of(replace(part, cuts=tuple(c for c in part.cuts if isinstance(c, Notch)))), poses[part.name]
            )
            for part in self.build.parts
        }

    @cached_property
    def ways(self) -> Mapping[tuple[str, str], MadeBy]:
        """How each cut is made, by the names of part and cut."""
        return {(way.part, way.cut): way for way in self.order.ways}

    @cached_property
    def several(self) -> bool:
        """True where parts of more than one assembly are in the piece, so that a part's first name has to be told."""
        return len({part.assembly for part in self.build.parts}) > 1

    def short(self, name: str) -> str:
        """A part's name without its assembly, where there is only one."""
        return name if self.several else name.rpartition(".")[2]

    def driver(self, name: str) -> Dim | None:
        """The number of that name; None where there is none."""
        return self.build.pages.get(name)
