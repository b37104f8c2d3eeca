"""STEP: the whole piece as true solids, a product for each different part, one occurrence for each part. Millimetres.

Bores, countersinks and sawn curves are true cylinders and cones wherever they run from one flat face to another; where
one runs into something else on its way, its walls are the narrow flats of the solid. Parts that are alike share
one product. Nothing is needed to write it. Source: ISO 10303-214 (application protocol), ISO 10303-21 (the file).
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from storystick.exports.export import Export, File, Piece
from storystick.exports.naming import plain

if TYPE_CHECKING:
    from storystick.exports.lying import Body
    from storystick.exports.step_lines import Lines
    from storystick.shapes.pose import Pose

SCHEMA = "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }"
NO_DAY = "1970-01-01T00:00:00"  # the same piece gives the same file on any day
CLOSE = "1.E-05"  # how well corners and edges meet [mm]


def make(piece: Piece) -> Iterator[File]:
    """One file."""
    from storystick.exports.lying import bodies

    words = step(piece.build.title, tuple(bodies(piece.scene)))
    yield File(f"{plain(piece.build.title)}.step", words.encode("ascii"))


def step(title: str, found: "tuple[Body, ...]") -> str:
    """The file as text."""
    from storystick.exports.step_lines import Lines, text

    lines = Lines()
    _Products(lines, title).all_of(found)
    head = [
        "ISO-10303-21;",
        "HEADER;",
        f"FILE_DESCRIPTION(({text(title)}),'2;1');",
        f"FILE_NAME({text(plain(title) + '.step')},'{NO_DAY}',(''),(''),'storystick','storystick','');",
        f"FILE_SCHEMA(('{SCHEMA}'));",
        "ENDSEC;",
        "DATA;",
    ]
    return "\n".join([*head, *lines.written(), "ENDSEC;", "END-ISO-10303-21;", ""])


class _Products:
    """Products and how they are put together."""

    def __init__(self, lines: "Lines", title: str) -> None:
        from storystick.exports.step_lines import placement, text

        add = lines.add
        self.lines, self.title, self.text = lines, title, text
        application = add("APPLICATION_CONTEXT('automotive design')")
        add("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000," + application + ")")
        self.of_products = add(f"PRODUCT_CONTEXT('',{application},'mechanical')")
        self.of_designs = add(f"PRODUCT_DEFINITION_CONTEXT('part definition',{application},'design')")
        self.space = self._space()
        self.origin = placement(lines, (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))

    def _space(self) -> str:
        add = self.lines.add
        length = add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
        angle = add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
        solid = add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
        close = add(f"UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({CLOSE}),{length},'distance_accuracy_value','')")
        return add(
            f"(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({close}))"
            f"GLOBAL_UNIT_ASSIGNED_CONTEXT(({length},{angle},{solid}))REPRESENTATION_CONTEXT('',''))"
        )

    def all_of(self, found: "tuple[Body, ...]") -> None:
        """The whole piece."""
        from storystick.exports.step_lines import listed, placement, text

        places: list[tuple[str, str, str, str, str, str]] = []
        for body in found:
            shape = self._shape(body)
            product = self._product(body.letter, body.called, shape)
            for part, pose in zip(body.parts, body.placed, strict=True):
                where = placement(self.lines, pose.origin, _z(pose), _x(pose))
                places.append((part.name, f"{part.letter} {part.name}".strip(), product, shape, where, body.letter))
        inside = listed([self.origin, *(place[4] for place in places)])
        whole = self.lines.add(f"SHAPE_REPRESENTATION({text(self.title)},{inside},{self.space})")
        product = self._product(plain(self.title), self.title, whole)
        for name, called, child, shape, where, letter in places:
            self._occurrence(name, called, letter, (product, whole), (child, shape), where)

    def _shape(self, body: "Body") -> str:
        from storystick.exports.shells import shell_of
        from storystick.exports.step_lines import listed, solid, text
        from storystick.shapes.solid import pieces

        self.lines.shared.clear()
        solids = [solid(self.lines, shell_of(one.mesh, body.parts[0]), body.called) for one in pieces(body.solid)]
        return self.lines.add(
            f"ADVANCED_BREP_SHAPE_REPRESENTATION({text(body.called)},{listed([self.origin, *solids])},{self.space})"
        )

    def _product(self, name: str, says: str, shape: str) -> str:
        add, text = self.lines.add, self.text
        product = add(f"PRODUCT({text(says)},{text(says)},'',({self.of_products}))")
        add(f"PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({product}))")
        version = add(f"PRODUCT_DEFINITION_FORMATION('','',{product})")
        design = add(f"PRODUCT_DEFINITION({text(name)},'',{version},{self.of_designs})")
        add(f"SHAPE_DEFINITION_REPRESENTATION({add(f"PRODUCT_DEFINITION_SHAPE('','',{design})")},{shape})")
        return design

    def _occurrence(
        self, name: str, called: str, letter: str, whole: tuple[str, str], child: tuple[str, str], where: str
    ) -> None:
        """A part where it stands in the piece."""
        add, text = self.lines.add, self.text
        use = f"{text(name)},{text(called)},'',{whole[0]},{child[0]},{text(letter)}"
        occurrence = add(f"NEXT_ASSEMBLY_USAGE_OCCURRENCE({use})")
        defined = add(f"PRODUCT_DEFINITION_SHAPE('','',{occurrence})")
        moved = add(f"ITEM_DEFINED_TRANSFORMATION('','',{self.origin},{where})")
        relation = add(
            f"(REPRESENTATION_RELATIONSHIP('','',{child[1]},{whole[1]})"
            f"REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION({moved})SHAPE_REPRESENTATION_RELATIONSHIP())"
        )
        add(f"CONTEXT_DEPENDENT_SHAPE_REPRESENTATION({relation},{defined})")


def _x(pose: "Pose") -> "tuple[float, float, float]":
    return pose.axes[0]


def _z(pose: "Pose") -> "tuple[float, float, float]":
    return pose.axes[2]


EXPORT = Export("step", ".step", "the whole piece as solids with true round bores, a product a part, mm (AP214)", make)
