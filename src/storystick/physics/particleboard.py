"""Screws in particleboard: what face and edge hold."""

from math import pow, sqrt

from storystick.physics.units import MM_PER_IN, N_PER_LBF


def face_failure_withdrawal_n(gravity: float, diameter_mm: float, depth_mm: float) -> float:
    """Pull at which a screw in the face of particleboard lets go: no safety in it.

        p = 2655 D^0.5 (L - D/3)^1.25 G^2    (lbf, in)

    For screws of about No. 6 to No. 16, 1/2 to 1 in deep.

    gravity      specific gravity of the board, its density over that of water [-]
    diameter_mm  diameter of the shank [mm]
    depth_mm     depth of thread in the board [mm]
    returns      pull at failure [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 8, screws in particleboard (memory).
    """
    return _failure_n(2655.0, gravity, diameter_mm, depth_mm)


def edge_failure_withdrawal_n(gravity: float, diameter_mm: float, depth_mm: float) -> float:
    """Pull at which a screw in the edge of particleboard lets go: no safety in it.

        p = 2055 D^0.5 (L - D/3)^1.25 G^2    (lbf, in)

    gravity      specific gravity of the board, its density over that of water [-]
    diameter_mm  diameter of the shank [mm]
    depth_mm     depth of thread in the board [mm]
    returns      pull at failure [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 8, screws in particleboard (memory).
    """
    return _failure_n(2055.0, gravity, diameter_mm, depth_mm)


def _failure_n(constant: float, gravity: float, diameter_mm: float, depth_mm: float) -> float:
    """Pull at failure with the constant of the face or of the edge.

        p = K D^0.5 (L - D/3)^1.25 G^2    (lbf, in)

    constant     K for pounds and inches [lbf/in^1.75]
    gravity      specific gravity of the board [-]
    diameter_mm  diameter of the shank [mm]
    depth_mm     depth of thread in the board [mm]
    returns      pull at failure, nothing for a depth under a third of the diameter [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 8 (memory).
    """
    wide, deep = diameter_mm / MM_PER_IN, depth_mm / MM_PER_IN
    return constant * sqrt(wide) * pow(max(0.0, deep - wide / 3), 1.25) * gravity**2 * N_PER_LBF
