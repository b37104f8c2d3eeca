"""Glue: how far it goes, how hard to clamp, what a long-grain joint can carry at most.

End-grain butt joints are worth nothing here: count on no strength from glue in them.
"""

from math import ceil


def cover_m2_per_litre(film_mm: float) -> float:
    """Area that a litre of liquid glue covers.

        A = 1 / film       (1604 ft2 for each US gallon and thousandth of an inch)

    film_mm  thickness of the wet film [mm]
    returns  area [m2/l]

    Source: geometry.
    """
    return 1 / film_mm


def clamp_force_n(long_mm: float, wide_mm: float, pressure_mpa: float) -> float:
    """Force that presses a glue line with an even pressure.

        F = p * long * wide

    long_mm       length of the joint [mm]
    wide_mm       width of the glue line [mm]
    pressure_mpa  pressure wanted [N/mm2]
    returns       force of all clamps together [N]

    Source: mechanics. Pressures of 0.7 to 1.0 (softwood) and 1.2 to 1.7 N/mm2 (hardwood): glue maker's advice (read).
    """
    return long_mm * wide_mm * pressure_mpa


def clamps_for_spread(long_mm: float, clamp_to_line_mm: float) -> int:
    """Fewest clamps along a joint so that pressure reaches all of it.

        pressure spreads at about 45 degrees: one clamp for each two distances from clamp face to glue line

    long_mm           length of the joint [mm]
    clamp_to_line_mm  from the face of the clamp (or caul) to the glue line [mm]
    returns           number of clamps [-]

    Source: common practice, no source.
    """
    return max(1, ceil(round(long_mm / (2 * clamp_to_line_mm), 9)))


def long_grain_joint_n(long_mm: float, wide_mm: float, shear_mpa: float) -> float:
    """Most that a sound long-grain glue joint can carry in shear: the wood beside it fails first.

        F = t * long * wide

    An upper bound and not a design value.

    long_mm    length of the joint [mm]
    wide_mm    width of the glue line [mm]
    shear_mpa  shear strength of the wood along the grain [N/mm2]
    returns    load at failure [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 10 (memory) and Table 5-3b.
    """
    return long_mm * wide_mm * shear_mpa
