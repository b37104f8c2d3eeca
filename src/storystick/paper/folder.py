"""The folder on the drawing board: everything that is known about a piece, ready to be drawn and printed."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from typing import Literal

from storystick.ground.dim import Dim
from storystick.ground.finding import Finding
from storystick.model.body import solid_of, solid_of_shape
from storystick.model.build import Build, Shape
from storystick.model.cut import Bore, Cut
from storystick.model.holes import Purpose, purposes
from storystick.model.part import Part
from storystick.model.scene import Scene
from storystick.model.work import Buying, Cutting, MadeBy, WorkOrder
from storystick.paper.drawing.label import LabelSheet
from storystick.paper.spoken import cut_said, fastener_said, in_full, spoken
from storystick.shapes.solid import Solid, moved
from storystick.shop.shop import Shop


@dataclass(frozen=True, eq=False)
class Folder:
    """What the earlier stages made.

    fonts           the folder of the packet's typeface, "" for the one that is installed
    dated, version  printed as given
    print_off       what the printer makes of a length, across and up the page: the pages in true size make good for it
    page, plan_file where the page answers, as http://HOST ("" if not known), and the plan's name there: for the labels
    label_sheet     the sheet of labels that they are printed on; None: plain paper, to be cut apart
    words           whose habits the drawings follow: american ones are in third angle, british ones in first
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
    page: str = ""
    plan_file: str = ""
    label_sheet: LabelSheet | None = None
    words: Literal["american", "british"] = "american"
    print_off: tuple[Fraction, Fraction] = (Fraction(1), Fraction(1))
    last: Mapping[str, str] = field(default_factory=dict)  # parts better cut when the rest stands dry: how often not
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
        """The letter of each part by its full name; of a layer or a stave by its blank's name, with its number."""
        found = {part.name: letter for letter, parts in self.letters.items() for part in parts}
        for tree in (tree for cutting in self.cuttings for tree in cutting.layout.trees):
            for piece in tree.blanks:
                name, mark, which = piece.blank.partition(" #")
                if mark and name in found:
                    found[piece.blank] = f"{found[name]} {which}"
        return found

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
    def drawn_before(self) -> dict[object, object]:
        """What pictures keep for one another: many steps show the same bodies from the same side."""
        return {}

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
    def purposes(self) -> Mapping[tuple[str, str], Purpose]:
        """What each hole is for, by the names of part and cut."""
        return purposes(self.build)

    @cached_property
    def made_in(self) -> Mapping[tuple[str, str], int]:
        """The number of the step that makes each cut, by the names of part and cut."""
        return {made: step.number for step in reversed(self.order.steps) for made in step.cuts}

    @cached_property
    def fitted_in(self) -> Mapping[tuple[str, int], int]:
        """The number of the step that makes each cut of a sheet map that is set to what was measured."""
        return {cut: step.number for step in self.order.steps for cut in step.to_fit}

    @cached_property
    def fitted_by(self) -> Mapping[str, tuple[int, ...]]:
        """The numbers of the steps that cut a part off its sheet at what was measured, by the part's name."""
        found: dict[str, set[int]] = {}
        for cutting in self.cuttings:
            for tree in cutting.layout.trees:
                blank = {piece.number: piece.blank for piece in tree.pieces}
                inside = {number: {name} - {""} for number, name in blank.items()}
                for cut in sorted(tree.cuts, key=lambda cut: -cut.number):
                    for number in cut.frees:
                        inside[cut.piece] |= inside[number]
                for cut in tree.cuts:
                    if (step := self.fitted_in.get((cutting.stock.name, cut.number))) is not None and cut.frees:
                        for name in inside[cut.frees[0]]:
                            found.setdefault(name, set()).add(step)
        return {name: tuple(sorted(steps)) for name, steps in found.items()}

    @cached_property
    def several(self) -> bool:
        """True where parts of more than one assembly are in the piece, so that a part's first name has to be told."""
        return len({part.assembly for part in self.build.parts}) > 1

    def short(self, name: str) -> str:
        """A part's name as it is said, without its assembly where there is only one."""
        assembly = name.rpartition(".")[0]
        if assembly in self.lone:
            return spoken(assembly)
        return spoken(name if self.several else name.rpartition(".")[2])

    @cached_property
    def lone(self) -> frozenset[str]:
        """Names of assemblies that are one part and nothing else: they are called by their own name."""
        counts = Counter(part.assembly for part in self.build.parts)
        outer = {one.inside_of for one in self.build.assemblies}
        return frozenset(name for name, count in counts.items() if count == 1 and name not in outer)

    @cached_property
    def names(self) -> Mapping[str, str]:
        """What is said in a sentence for each full name in the build: assemblies, parts, hardware, screws and cuts.

        What stands around the piece too; a number that has its name in its own stays as it is.
        """
        build = self.build
        every = [*(one.name for one in build.assemblies), *build.parts_by_name, *(item.name for item in build.items)]
        every += [opening.name for opening in build.openings]
        found = {name: in_full(name) for name in every}
        found |= {part.name: in_full(part.assembly) for part in build.parts if part.assembly in self.lone}
        screws = {one.name: fastener_said(one.name, found) for one in build.fasteners if "." in one.name}
        cuts = {cut.name: cut_said(cut.name, part.name, found) for part in build.parts for cut in part.cuts}
        around = {body.name: in_full(body.name) for body in build.site}
        numbers = {name: name for name in build.pages if "." not in name and any(one in name for one in around)}
        return {**around, **numbers, **cuts, **screws, **found}

    @cached_property
    def blanks(self) -> Mapping[str, tuple[Fraction, Fraction]]:
        """What leaves the saw for each part, length and width [mm], by the part's name."""
        found: dict[str, tuple[Fraction, Fraction]] = {}
        for cutting in self.cuttings:
            for tree in cutting.layout.trees:
                for piece in tree.blanks:
                    size = (piece.wide, piece.long) if piece.turned else (piece.long, piece.wide)
                    found[piece.blank] = size
        return found

    @cached_property
    def joint_numbers(self) -> Mapping[str, int]:
        """The number of each joint, written on both parts that meet in it, by the joint's name."""
        return {joint.name: number for number, joint in enumerate(self.build.joints, 1)}

    @cached_property
    def joints_of(self) -> Mapping[str, tuple[int, ...]]:
        """The numbers of the joints of each part, by the part's name."""
        found: dict[str, list[int]] = {}
        for joint in self.build.joints:
            for name in dict.fromkeys((joint.host, joint.guest)):
                found.setdefault(name, []).append(self.joint_numbers[joint.name])
        return {name: tuple(numbers) for name, numbers in found.items()}

    def driver(self, name: str) -> Dim | None:
        """The number of that name; None where there is none."""
        return self.build.pages.get(name)


SMALL = Fraction(20)
"""A hole of a smaller diameter is left out of a small picture [mm]."""


def _is_small(cut: Cut) -> bool:
    return isinstance(cut, Bore) and cut.diameter.value < SMALL
