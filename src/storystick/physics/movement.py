"""How far solid wood moves across the grain with the seasons."""

from storystick.physics.moisture import SATURATION_MC_PERCENT

STRAIGHT_FROM_MC_PERCENT = 6.0
STRAIGHT_TO_MC_PERCENT = 14.0
"""Between these two the straight line of eq. 13-2 holds (heading of Table 13-5) [%]."""


def width_change_mm(
    width_mm: float, change_per_percent: float, start_mc_percent: float, end_mc_percent: float
) -> float:
    """Swelling (+) or shrinkage (-) of a board across its grain.

        change = width * coefficient * (end - start)

    A straight line, good between 6 % and 14 % moisture content and not beyond. Flat-sawn width takes the tangential
    coefficient, quarter-sawn width the radial one.

    width_mm            width at the start [mm]
    change_per_percent  fraction of the width for each 1 % of moisture content [1/%]
    start_mc_percent    moisture content at the start [%]
    end_mc_percent      moisture content at the end [%]
    returns             change of width [mm]

    >>> round(width_change_mm(232, 0.00245, 8, 11), 1)
    1.7

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 13-2.
    """
    return width_mm * change_per_percent * (end_mc_percent - start_mc_percent)


def width_change_from_shrinkage_mm(
    width_mm: float, shrinkage_percent: float, start_mc_percent: float, end_mc_percent: float
) -> float:
    """Swelling (+) or shrinkage (-) of a board across its grain, for any change of moisture.

        change = width * (end - start) / (30 * 100 / S - 30 + start)

    Both moisture contents count as 30 % where they are above it. Use it where the straight line ends.

    width_mm           width at the start [mm]
    shrinkage_percent  shrinkage from green to ovendry, tangential or radial [%]
    start_mc_percent   moisture content at the start [%]
    end_mc_percent     moisture content at the end [%]
    returns            change of width [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 13-3 (memory).
    """
    start = min(start_mc_percent, SATURATION_MC_PERCENT)
    end = min(end_mc_percent, SATURATION_MC_PERCENT)
    reach = SATURATION_MC_PERCENT * 100 / shrinkage_percent - SATURATION_MC_PERCENT + start
    return width_mm * (end - start) / reach


LENGTHWISE_SHRINKAGE_PERCENT = (0.1, 0.2)
"""Shrinkage along the grain, green to ovendry, of normal wood (Wood Handbook, ch. 4) [%]."""


def length_change_mm(long_mm: float, start_mc_percent: float, end_mc_percent: float) -> float:
    """Swelling (+) or shrinkage (-) of a board along its grain: next to nothing, the greater shrinkage taken.

        change = length * (end - start) / (30 * 100 / S - 30 + start),   S 0.2

    long_mm           length at the start [mm]
    start_mc_percent  moisture content at the start [%]
    end_mc_percent    moisture content at the end [%]
    returns           change of length [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 4 (S), eq. 13-3 (memory).
    """
    most = LENGTHWISE_SHRINKAGE_PERCENT[1]
    return width_change_from_shrinkage_mm(long_mm, most, start_mc_percent, end_mc_percent)


def coefficient_from_shrinkage(shrinkage_percent: float) -> float:
    """Coefficient of the straight line that touches eq. 13-3 at 10 % moisture content.

        C = 1 / (30 * 100 / S - 20)

    It gives the printed coefficients of Table 13-5 from the printed shrinkages of Table 4-3 to the last digit or two.

    shrinkage_percent  shrinkage from green to ovendry, tangential or radial [%]
    returns            fraction of the width for each 1 % of moisture content [1/%]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eqs. 13-2 and 13-3, derived.
    """
    return 1 / (SATURATION_MC_PERCENT * 100 / shrinkage_percent - 20)


def season_widths_mm(
    width_mm: float, change_per_percent: float, built_mc_percent: float, dry_mc_percent: float, damp_mc_percent: float
) -> tuple[float, float]:
    """Narrowest and widest that a board gets between the dry and the damp end of the year.

        width + change, for each end of the year, by `width_change_mm`

    width_mm            width when built [mm]
    change_per_percent  fraction of the width for each 1 % of moisture content [1/%]
    built_mc_percent    moisture content when built [%]
    dry_mc_percent      least moisture content of the year [%]
    damp_mc_percent     greatest moisture content of the year [%]
    returns             narrowest and widest width [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 13-2.
    """
    dry = width_mm + width_change_mm(width_mm, change_per_percent, built_mc_percent, dry_mc_percent)
    damp = width_mm + width_change_mm(width_mm, change_per_percent, built_mc_percent, damp_mc_percent)
    return dry, damp
