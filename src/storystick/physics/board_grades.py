"""What standards ask of particleboard and fibreboard: least strength by grade and thickness.

These are what a board must reach to be sold under a name, not design values: neither says what a shelf may carry for
years. Take them where the maker of the board in hand says nothing better.
"""

from typing import NamedTuple

from storystick.physics.units import MPA_PER_PSI, N_PER_LBF


class Grade(NamedTuple):
    """A grade: bending strength, modulus and internal bond [N/mm2]; screws pulled out of face and edge [N]."""

    strength_mpa: float
    e_mpa: float
    bond_mpa: float
    face_screw_n: float | None = None
    edge_screw_n: float | None = None


class Band(NamedTuple):
    """A range of thickness of one type: over `over_mm` up to `to_mm`, with what is asked of it [mm, N/mm2]."""

    over_mm: float
    to_mm: float
    strength_mpa: float
    e_mpa: float
    bond_mpa: float


def _american(mor: float, moe: float, bond: float, face: float | None = None, edge: float | None = None) -> Grade:
    """A grade printed in lbf/in2 and lbf, in the units of ours.

    mor      bending strength [lbf/in2]
    moe      modulus of elasticity [lbf/in2]
    bond     internal bond [lbf/in2]
    face     screw pulled out of the face, None where the standard asks nothing [lbf]
    edge     screw pulled out of the edge, None where the standard asks nothing [lbf]
    returns  the grade [N/mm2, N]

    Source: the pound and the inch.
    """
    screws = [None if force is None else force * N_PER_LBF for force in (face, edge)]
    return Grade(mor * MPA_PER_PSI, moe * MPA_PER_PSI, bond * MPA_PER_PSI, screws[0], screws[1])


PARTICLEBOARD_GRADES: dict[str, Grade] = {
    "H-1": _american(2393, 348100, 130, 405, 298),
    "H-2": _american(2973, 348100, 130, 427, 348),
    "H-3": _american(3408, 398900, 145, 450, 348),
    "M-1": _american(1595, 250200, 58),
    "M-S": _american(1813, 275600, 58, 202, 180),
    "M-2": _american(2103, 326300, 65, 225, 202),
    "M-3": _american(2393, 398900, 80, 247, 225),
    "LD-1": _american(435, 79800, 15, 90),
    "LD-2": _american(725, 148700, 22, 124),
}
"""ANSI A208.1-1999, table of grades (memory; the ratios of M-3 to M-2 read)."""

PARTICLEBOARD_P2: tuple[Band, ...] = (
    Band(6, 13, 11.0, 1800, 0.40), Band(13, 20, 11.0, 1600, 0.35), Band(20, 25, 10.5, 1500, 0.30),
    Band(25, 32, 9.5, 1350, 0.25), Band(32, 40, 8.5, 1200, 0.20), Band(40, 60, 7.0, 1050, 0.20),
)  # fmt: skip
"""EN 312, type P2, for furniture and dry rooms (bending strength of 13-20, 25-32 and 32-40 read, the rest memory)."""

FIBREBOARD: tuple[Band, ...] = (
    Band(6, 9, 23.0, 2700, 0.65), Band(9, 12, 22.0, 2500, 0.60), Band(12, 19, 20.0, 2200, 0.55),
    Band(19, 30, 18.0, 2100, 0.55), Band(30, 45, 17.0, 1900, 0.50), Band(45, 70, 15.0, 1700, 0.50),
)  # fmt: skip
"""EN 622-5, type MDF, for dry rooms (memory)."""

MEDIUM_KG_M3 = (640.0, 800.0)
"""Density of particleboard of class M (ANSI A208.1, read) [kg/m3]."""


def band_of(bands: tuple[Band, ...], thick_mm: float) -> Band | None:
    """The band that a thickness lies in; its upper end belongs to it.

    bands     one of the tables above [N/mm2]
    thick_mm  thickness of the board [mm]
    returns   the band, None outside of the table [N/mm2]

    Source: EN 312 and EN 622-5, tables.
    """
    return next((one for one in bands if one.over_mm < thick_mm <= one.to_mm), None)
