"""The folder on the drawing board: everything that is known about a piece, ready to be drawn and printed."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

from storystick.ground.dim import Dim
from storystick.ground.finding import Finding
from storystick.model.body import solid_of, solid_of_shape
from storystick.model.build import Build, Shape
from storystick.model.cut import Bore, Cut
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
        """Each part in the room without its small holes: quick to draw, and enough for a small picture."""
        poses = self.scene.part_poses
        by_letter: dict[str, Solid] = {}
        found: dict[str, Solid] = {}
        for part in self.build.parts:
            letter = self.letter_of[part.name]
            if letter not in by_letter:
                by_letter[letter] = solid_of(replace(part, cuts=tuple(cut for cut in part.cuts if not _is_small(cut))))
            found[part.name] = moved(by_letter[letter], poses[part.name])
        return found

    @cached_property
    def hardware(self) -> Mapping[str, Solid]:
        """Hardware that takes up room, as plain bodies in the room."""
        found: dict[str, Solid] = {}
        for item in self.build.items:
            if item.box is not None and all(size.value > 0 for size in item.box[1]):
                shape = Shape("cylinder" if item.round else "box", *item.box)
                found[item.name] = moved(solid_of_shape(shape), self.scene.poses[item.assembly])
        return found

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


SMALL = Fraction(20)
"""A hole of a smaller diameter is left out of a small picture [mm]."""


def _is_small(cut: Cut) -> bool:
    return isinstance(cut, Bore) and cut.diameter.value < SMALL
