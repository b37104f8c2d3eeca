"""Lag screws (coach screws): what they hold."""

from math import pow

from storystick.physics.units import MM_PER_IN, MPA_PER_PSI, N_PER_LBF

END_GRAIN_SHARE = 0.75
"""Withdrawal from end grain over side grain (Wood Handbook, ch. 8, read) [-]."""


def allowable_withdrawal_n(gravity: float, diameter_mm: float, thread_held_mm: float) -> float:
    """What a lag screw in side grain may be pulled with: a design value. The tapered tip is not counted as thread.

        W = 1800 G^1.5 D^0.75    lbf for each inch of thread, D in inches

    gravity         specific gravity of the receiving wood, ovendry [-]
    diameter_mm     diameter of the shank [mm]
    thread_held_mm  thread in the receiving piece, without the tip [mm]
    returns         allowable pull [N]

    Source: National Design Specification for Wood Construction, eq. 12.2-1 (memory) and Table 12.2A (read).
    """
    per_inch = 1800 * pow(gravity, 1.5) * pow(diameter_mm / MM_PER_IN, 0.75)
    return per_inch * N_PER_LBF * thread_held_mm / MM_PER_IN


def failure_withdrawal_n(gravity: float, diameter_mm: float, thread_held_mm: float) -> float:
    """Pull at which a lag screw in side grain lets go: no safety in it.

        p = 8100 G^1.5 D^0.75 L    (lbf, in)

    gravity         specific gravity of the receiving wood at 12 % [-]
    diameter_mm     diameter of the shank [mm]
    thread_held_mm  thread in the receiving piece, without the tip [mm]
    returns         pull at failure [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 8-14 (memory).
    """
    per_inch = 8100 * pow(gravity, 1.5) * pow(diameter_mm / MM_PER_IN, 0.75)
    return per_inch * N_PER_LBF * thread_held_mm / MM_PER_IN


def proportional_lateral_n(k_psi: float, diameter_mm: float) -> float:
    """Load across a lag screw, along the grain, up to which it springs back.

        p = K D^2

    For a side member 3.5 diameters thick and a penetration of 7 (hard wood) to 11 (soft wood) diameters.

    k_psi        constant of the wood [lbf/in2]
    diameter_mm  diameter of the shank [mm]
    returns      load at the proportional limit [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 8-15 (read).
    """
    return k_psi * MPA_PER_PSI * diameter_mm**2
