"""Sideways: a case without a back, or a bench without panels or braces, has only its corners to keep it square."""

from math import hypot

from storystick.physics.units import N_PER_LBF

RACK_TEST_N = 250 * N_PER_LBF
"""Load on each of two unsupported corners of a file cabinet, for a day (federal specification AA-F-358, read) [N]."""


def panel_sway_mm(force_n: float, high_mm: float, wide_mm: float, thick_mm: float, g_mpa: float) -> float:
    """Sway of a case that a back panel, fixed all round, keeps square.

        d = F h / (G b t)

    force_n   sideways push at the top [N]
    high_mm   height of the panel [mm]
    wide_mm   width of the panel [mm]
    thick_mm  thickness of the panel [mm]
    g_mpa     modulus of rigidity of the panel in its plane [N/mm2]
    returns   sway of the top, slip of the fasteners not counted [mm]

    Source: textbook mechanics, a plate in pure shear.
    """
    return force_n * high_mm / (g_mpa * wide_mm * thick_mm)


def back_edge_load_n_mm(force_n: float, wide_mm: float) -> float:
    """Load that the edges of a back panel pass on, for each millimetre: what its nails or glue must carry.

        q = F / b

    force_n  sideways push at the top [N]
    wide_mm  width of the panel [mm]
    returns  load along every edge [N/mm]

    Source: textbook mechanics, a plate in pure shear.
    """
    return force_n / wide_mm


def brace_force_n(force_n: float, high_mm: float, wide_mm: float) -> float:
    """Force in one diagonal brace that takes the whole sideways push.

        N = F sqrt(h^2 + b^2) / b

    force_n  sideways push at the top [N]
    high_mm  height of the braced bay [mm]
    wide_mm  width of the braced bay [mm]
    returns  force along the brace [N]

    Source: statics.
    """
    return force_n * hypot(high_mm, wide_mm) / wide_mm


def leg_sway_mm(force_n: float, high_mm: float, legs: int, e_mpa: float, leg_inertia_mm4: float) -> float:
    """Sway of a table whose legs are clamped by a stiff apron above and stand free on the floor.

        d = (F / n) h^3 / (3 E I)

    The least it can be: the joints between leg and apron give way too.

    force_n          sideways push at the top [N]
    high_mm          length of the legs below the apron [mm]
    legs             number of legs [-]
    e_mpa            modulus of elasticity of the legs [N/mm2]
    leg_inertia_mm4  second moment of area of one leg [mm4]
    returns          sway of the top [mm]

    Source: textbook beam theory, a cantilever with a load on its end.
    """
    return force_n / legs * high_mm**3 / (3 * e_mpa * leg_inertia_mm4)


def corner_moment_nmm(force_n: float, high_mm: float, corners: int) -> float:
    """Moment that each corner joint must carry where there is no back and no brace.

        M = F h / n

    force_n  sideways push at the top [N]
    high_mm  height between the joints [mm]
    corners  number of stiff corners that share it, four in a bare frame [-]
    returns  moment on each [N mm]

    Source: textbook mechanics, a portal frame, the moments shared evenly.
    """
    return force_n * high_mm / corners
