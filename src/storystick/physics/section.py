"""Cross-sections: how much a shape resists bending, alone and joined with others."""

from collections.abc import Sequence
from typing import NamedTuple


class Piece(NamedTuple):
    """One rectangle of a joined section, seen end-on."""

    wide_mm: float
    high_mm: float
    low_mm: float
    """Height of its lower edge above any common line [mm]."""
    e_mpa: float = 1.0
    """Modulus of elasticity; leave it out when all pieces are one material [N/mm2]."""


def rectangle_inertia_mm4(wide_mm: float, high_mm: float) -> float:
    """Second moment of area of a rectangle about its middle.

        I = b h^3 / 12

    wide_mm  width across the load [mm]
    high_mm  height in the direction of the load [mm]
    returns  second moment of area [mm4]

    Source: textbook mechanics.
    """
    return wide_mm * high_mm**3 / 12


def rectangle_modulus_mm3(wide_mm: float, high_mm: float) -> float:
    """Section modulus of a rectangle.

        S = b h^2 / 6

    wide_mm  width across the load [mm]
    high_mm  height in the direction of the load [mm]
    returns  section modulus [mm3]

    Source: textbook mechanics.
    """
    return wide_mm * high_mm**2 / 6


def neutral_line_mm(pieces: Sequence[Piece]) -> float:
    """Height at which a joined section neither stretches nor shortens.

        y = sum(E A y) / sum(E A)

    pieces   rectangles glued so that none slips on its neighbour [mm, N/mm2]
    returns  height above the common line [mm]

    Source: textbook mechanics, transformed section.
    """
    area = sum(p.e_mpa * p.wide_mm * p.high_mm for p in pieces)
    return sum(p.e_mpa * p.wide_mm * p.high_mm * (p.low_mm + p.high_mm / 2) for p in pieces) / area


def joined_stiffness_nmm2(pieces: Sequence[Piece]) -> float:
    """Bending stiffness EI of a joined section, each piece weighted by its own E.

        EI = sum(E (b h^3 / 12 + A (y_piece - y)^2))

    Holds while the joints between the pieces do not slip: glue, not a few screws.

    pieces   rectangles glued so that none slips on its neighbour [mm, N/mm2]
    returns  stiffness, modulus times second moment of area [N mm2]

    Source: textbook mechanics, parallel-axis rule.
    """
    middle = neutral_line_mm(pieces)
    return sum(
        p.e_mpa
        * (
            rectangle_inertia_mm4(p.wide_mm, p.high_mm)
            + p.wide_mm * p.high_mm * (p.low_mm + p.high_mm / 2 - middle) ** 2
        )
        for p in pieces
    )


def joined_inertia_mm4(pieces: Sequence[Piece], reference_e_mpa: float) -> float:
    """Second moment of area of a joined section, as if it were all of one material.

        I = EI / E_reference

    pieces           rectangles glued so that none slips on its neighbour [mm, N/mm2]
    reference_e_mpa  modulus of the material that the answer is for [N/mm2]
    returns          second moment of area [mm4]

    Source: textbook mechanics, transformed section.
    """
    return joined_stiffness_nmm2(pieces) / reference_e_mpa


def loose_stiffness_nmm2(pieces: Sequence[Piece]) -> float:
    """Bending stiffness of pieces that lie together but may slip: what is left if the glue is not counted on.

        EI = sum(E b h^3 / 12)

    pieces   rectangles that bend together and slip on each other [mm, N/mm2]
    returns  stiffness [N mm2]

    Source: textbook mechanics.
    """
    return sum(p.e_mpa * rectangle_inertia_mm4(p.wide_mm, p.high_mm) for p in pieces)


def lipped_shelf(
    shelf_wide_mm: float, shelf_thick_mm: float, shelf_e_mpa: float, lip_wide_mm: float, lip_high_mm: float,
    lip_e_mpa: float,
) -> tuple[Piece, Piece]:
    """The two pieces of a shelf with a lip glued along its edge, flush with the top.

    The lip stands outside the width of the shelf; its top is level with the shelf's.

    shelf_wide_mm   width of the shelf, lip not counted [mm]
    shelf_thick_mm  thickness of the shelf [mm]
    shelf_e_mpa     modulus of the shelf [N/mm2]
    lip_wide_mm     thickness of the lip, front to back [mm]
    lip_high_mm     height of the lip [mm]
    lip_e_mpa       modulus of the lip along its grain [N/mm2]
    returns         the two pieces [mm, N/mm2]

    Source: geometry.
    """
    shelf = Piece(shelf_wide_mm, shelf_thick_mm, 0.0, shelf_e_mpa)
    return shelf, Piece(lip_wide_mm, lip_high_mm, shelf_thick_mm - lip_high_mm, lip_e_mpa)


def torsion_box(
    wide_mm: float, skin_mm: float, skin_e_mpa: float, webs: int, web_wide_mm: float, web_high_mm: float,
    web_e_mpa: float,
) -> tuple[Piece, Piece, Piece]:
    """The pieces of a torsion box: two skins with webs between.

    wide_mm      width of the skins [mm]
    skin_mm      thickness of one skin [mm]
    skin_e_mpa   modulus of the skins [N/mm2]
    webs         number of webs that run along the span [-]
    web_wide_mm  thickness of one web [mm]
    web_high_mm  height of a web, between the skins [mm]
    web_e_mpa    modulus of the webs [N/mm2]
    returns      lower skin, webs together, upper skin [mm, N/mm2]

    Source: geometry.
    """
    return (
        Piece(wide_mm, skin_mm, 0.0, skin_e_mpa),
        Piece(webs * web_wide_mm, web_high_mm, skin_mm, web_e_mpa),
        Piece(wide_mm, skin_mm, skin_mm + web_high_mm, skin_e_mpa),
    )
