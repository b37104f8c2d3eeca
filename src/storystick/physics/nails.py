"""Nails and brads: what they hold, and how thick a nail a board stands."""

from math import pow

from storystick.physics.screws import LateralRow
from storystick.physics.units import MM_PER_IN, MPA_PER_PSI, N_PER_LBF


def failure_withdrawal_n(gravity: float, diameter_mm: float, depth_mm: float) -> float:
    """Pull at which a bright smooth nail in side grain lets go, tested soon after driving: no safety in it.

        p = 7850 G^2.5 D L    (lbf, in)  =  54.12 G^2.5 D L    (N, mm)

    gravity      specific gravity of the receiving wood at 12 % [-]
    diameter_mm  diameter of the nail [mm]
    depth_mm     depth in the receiving piece [mm]
    returns      pull at failure [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 8-1 (read).
    """
    return 7850 * MPA_PER_PSI * pow(gravity, 2.5) * diameter_mm * depth_mm


def allowable_withdrawal_n(gravity: float, diameter_mm: float, depth_mm: float) -> float:
    """What a smooth nail in side grain may be pulled with: a design value.

        W = 1380 G^2.5 D    lbf for each inch of depth

    gravity      specific gravity of the receiving wood, ovendry [-]
    diameter_mm  diameter of the nail [mm]
    depth_mm     depth in the receiving piece [mm]
    returns      allowable pull [N]

    Source: National Design Specification for Wood Construction, eq. 12.2-3 (memory).
    """
    return 1380 * MPA_PER_PSI * pow(gravity, 2.5) * diameter_mm * depth_mm


LATERAL_LOWEST_PSI = 1440.0
"""K of p = K D^1.5 for the lightest woods, hard or soft: Wood Handbook, Table 8-4 (memory) [lbf/in^1.5]."""
LATERAL_HARDWOOD = (LateralRow(0.33, 0.47, 1440.0), LateralRow(0.48, 0.56, 2000.0), LateralRow(0.57, 0.74, 2720.0))
LATERAL_SOFTWOOD = (LateralRow(0.29, 0.42, 1440.0), LateralRow(0.43, 0.47, 1800.0), LateralRow(0.48, 0.52, 2200.0))
"""K by the density of the wood (Wood Handbook, Table 8-4, memory) [lbf/in^1.5]."""
SPRINGS_BACK_OVER_ALLOWED = 1.6
"""The load up to which a nail springs back, over the design value of the older code (memory) [-]."""


def proportional_lateral_n(gravity: float, diameter_mm: float, hardwood: bool) -> float:
    """Load across a nail in side grain up to which it springs back: neither a design value nor failure.

        p = K D^1.5    (lbf, in),    K by the density of the wood

    For a penetration of ten diameters and more. A density between two lines of the table takes the lower line; below
    the table it takes the first line scaled by the square of the density.

    gravity      specific gravity of the wood [-]
    diameter_mm  diameter of the nail [mm]
    hardwood     whether the wood is a hardwood [-]
    returns      load at the proportional limit [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 8-4 (memory).
    """
    rows = LATERAL_HARDWOOD if hardwood else LATERAL_SOFTWOOD
    k = rows[0].k_psi * min(1.0, (gravity / rows[0].from_gravity) ** 2)
    for row in rows:
        if gravity >= row.from_gravity:
            k = row.k_psi
    return k * pow(diameter_mm / MM_PER_IN, 1.5) * N_PER_LBF


def allowable_lateral_n(diameter_mm: float, gravity: float = 0.33, hardwood: bool = True) -> float:
    """What a nail in side grain may carry sideways: a design value of the older kind.

        p = K D^1.5 / 1.6    (lbf, in),    K 1440 for the lightest woods

    For a penetration of ten diameters and more.

    diameter_mm  diameter of the nail [mm]
    gravity      specific gravity of the wood, the lightest if it is not given [-]
    hardwood     whether the wood is a hardwood [-]
    returns      allowable load across the nail [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 8-4 (memory); 1.6: older code (memory).
    """
    return proportional_lateral_n(gravity, diameter_mm, hardwood) / SPRINGS_BACK_OVER_ALLOWED


def largest_penny(first_mm: float) -> float:
    """Largest penny size of a box nail that a first board of medium wood takes without splitting.

        one penny for each 1/8 in of thickness

    first_mm  thickness of the first board [mm]
    returns   penny size, a whole number or the fraction of one to round down [-]

    Source: a carpenter's handbook (read).
    """
    return first_mm / (MM_PER_IN / 8)
