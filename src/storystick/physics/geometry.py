"""Sums with a square, a fence and a template: out of square, five cuts, bushings, strips."""

from math import asin, degrees, floor, hypot, radians, sin, sqrt


def diagonals_differ_mm(wide_mm: float, high_mm: float, out_deg: float) -> float:
    """Difference of the diagonals of a frame that is out of square.

        d1 - d2 = sqrt(a^2 + b^2 + 2 a b sin e) - sqrt(a^2 + b^2 - 2 a b sin e)

    wide_mm  one side [mm]
    high_mm  the other side [mm]
    out_deg  how far its corners are from 90 degrees [deg]
    returns  difference [mm]

    Source: geometry, the cosine rule.
    """
    squares, cross = wide_mm**2 + high_mm**2, 2 * wide_mm * high_mm * sin(radians(out_deg))
    return sqrt(squares + cross) - sqrt(squares - cross)


def out_of_square_deg(wide_mm: float, high_mm: float, diagonals_differ_by_mm: float) -> float:
    """How far out of square a frame is, from its two diagonals. Small errors.

        sin e = (d1 - d2) sqrt(a^2 + b^2) / (2 a b)

    wide_mm                 one side [mm]
    high_mm                 the other side [mm]
    diagonals_differ_by_mm  longer diagonal less the shorter [mm]
    returns                 how far its corners are from 90 degrees [deg]

    Source: geometry, first order.
    """
    return degrees(asin(diagonals_differ_by_mm * hypot(wide_mm, high_mm) / (2 * wide_mm * high_mm)))


def five_cut_error(first_end_mm: float, last_end_mm: float, strip_long_mm: float) -> float:
    """Error of a crosscut fence from the strip that the fifth cut takes off.

        e = (A - B) / 4 / L

    Four turns add up the error of the fence four times. Times a length of fence it is the error over that length.

    first_end_mm   width of the strip's leading end [mm]
    last_end_mm    width of its other end [mm]
    strip_long_mm  length of the strip [mm]
    returns        error for each length of fence [mm/mm]

    Source: geometry.
    """
    return (first_end_mm - last_end_mm) / 4 / strip_long_mm


def bushing_offset_mm(bushing_mm: float, bit_mm: float) -> float:
    """How far the cut lies from the edge of the template.

        (bushing - bit) / 2

    bushing_mm  outside diameter of the guide bushing [mm]
    bit_mm      diameter of the bit [mm]
    returns     offset on each side [mm]

    Source: geometry.
    """
    return (bushing_mm - bit_mm) / 2


def strips_across(sheet_mm: float, strip_mm: float, kerf_mm: float, trim_mm: float = 0.0) -> int:
    """How many strips come out of a width.

        the greatest n with n w + (n - 1) k <= S - trims

    sheet_mm  width of the sheet [mm]
    strip_mm  width of a strip [mm]
    kerf_mm   width of the saw's cut [mm]
    trim_mm   all that is trimmed off first, kerf of the trimming included [mm]
    returns   number of strips [-]

    Source: geometry.
    """
    return max(0, floor(round((sheet_mm - trim_mm + kerf_mm) / (strip_mm + kerf_mm), 9)))


def width_for_strips_mm(count: int, strip_mm: float, kerf_mm: float) -> float:
    """Width that a number of strips uses up.

        n w + (n - 1) k

    count     number of strips [-]
    strip_mm  width of a strip [mm]
    kerf_mm   width of the saw's cut [mm]
    returns   width [mm]

    Source: geometry.
    """
    return count * strip_mm + max(0, count - 1) * kerf_mm
