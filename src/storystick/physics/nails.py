"""Nails and brads: what they hold, and how thick a nail a board stands."""

from math import pow

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
SPRINGS_BACK_OVER_ALLOWED = 1.6
"""The load up to which a nail springs back, over the design value of the older code (memory) [-]."""


def allowable_lateral_n(diameter_mm: float) -> float:
    """What a nail in side grain may carry sideways, in the lightest woods: a design value of the older kind.

        p = K D^1.5 / 1.6    (lbf, in),    K 1440

    For a penetration of ten diameters and more; on the safe side for denser woods.

    diameter_mm  diameter of the nail [mm]
    returns      allowable load across the nail [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 8-4 (memory); 1.6: older code (memory).
    """
    load = LATERAL_LOWEST_PSI * pow(diameter_mm / MM_PER_IN, 1.5) / SPRINGS_BACK_OVER_ALLOWED
    return load * N_PER_LBF


def largest_penny(first_mm: float) -> float:
    """Largest penny size of a box nail that a first board of medium wood takes without splitting.

        one penny for each 1/8 in of thickness

    first_mm  thickness of the first board [mm]
    returns   penny size, a whole number or the fraction of one to round down [-]

    Source: a carpenter's handbook (read).
    """
    return first_mm / (MM_PER_IN / 8)
