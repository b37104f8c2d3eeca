"""Dowels, glued: what one is trusted with. House rules on the strength of the wood: no code gives a value."""

from math import pi

FACTOR = 4.0
"""What shears on average, over what is allowed [-] (common practice, no source)."""
SHEAR_MPA = 8.0
"""Mean shear strength along the grain of the hard woods of which dowels are, low (Wood Handbook, memory) [N/mm2]."""


def allowable_lateral_n(diameter_mm: float) -> float:
    """What a glued dowel may carry across itself: its own section in shear, with the factor of the house.

        F = t / 4 * pi d^2 / 4

    Along the grain the wood is weakest, and a dowel is sheared across it: on the safe side.

    diameter_mm  diameter of the dowel [mm]
    returns      allowable load across the dowel [N]

    Source: textbook mechanics; the factor is common practice, no source.
    """
    return SHEAR_MPA / FACTOR * pi * diameter_mm**2 / 4


def allowable_withdrawal_n(diameter_mm: float, depth_mm: float) -> float:
    """What a glued dowel may be pulled with: half of its glue line in shear, with the factor of the house.

        F = t / 4 * pi d l / 2

    Half, since half of the wall of a hole in side grain is end grain, on which glue counts for nothing.

    diameter_mm  diameter of the dowel [mm]
    depth_mm     depth in the receiving piece [mm]
    returns      allowable pull [N]

    Source: textbook mechanics; the factor and the half are common practice, no source.
    """
    return SHEAR_MPA / FACTOR * pi * diameter_mm * depth_mm / 2
