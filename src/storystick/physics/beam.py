"""How far a straight shelf, rail or top sags under load.

All the sags here are elastic: the dip on the day the load comes on. Shear adds a little to short deep beams
(`shear_sag_mm`); time adds to all of them (`creep`). Rest a shelf in a dado, on cleats or on pins: count it as simply
supported, since no such joint is stiff enough to clamp its end.
"""

from math import cbrt


def uniform_sag_mm(load_n: float, span_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Sag at the middle, both ends simply supported, the load spread evenly.

        d = 5/384 * W L^3 / (E I)

    load_n       the whole load [N]
    span_mm      between the inner faces of the supports [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      sag at the middle [mm]

    >>> round(uniform_sag_mm(30 * 9.81, 600, 2500, 300 * 18**3 / 12), 2)
    2.27

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 9-2 and Table 9-1.
    """
    return 5 / 384 * load_n * span_mm**3 / (e_mpa * inertia_mm4)


def centre_sag_mm(load_n: float, span_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Sag at the middle, both ends simply supported, one load at the middle.

        d = 1/48 * P L^3 / (E I)

    load_n       the load [N]
    span_mm      between the inner faces of the supports [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      sag under the load [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 9-2 and Table 9-1 (memory).
    """
    return load_n * span_mm**3 / (48 * e_mpa * inertia_mm4)


def point_sag_mm(
    load_n: float, load_at_mm: float, seen_at_mm: float, span_mm: float, e_mpa: float, inertia_mm4: float
) -> float:
    """Sag anywhere, both ends simply supported, one load anywhere. Loads add: call it once for each.

        d = P b x (L^2 - b^2 - x^2) / (6 E I L)     x measured from the support on the far side of the load

    load_n       the load [N]
    load_at_mm   the load's distance from the left support [mm]
    seen_at_mm   distance from the left support of the place asked about [mm]
    span_mm      between the inner faces of the supports [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      sag at that place [mm]

    Source: textbook beam theory.
    """
    if seen_at_mm > load_at_mm:
        load_at_mm, seen_at_mm = span_mm - load_at_mm, span_mm - seen_at_mm
    b = span_mm - load_at_mm
    x = seen_at_mm
    return load_n * b * x * (span_mm**2 - b**2 - x**2) / (6 * e_mpa * inertia_mm4 * span_mm)


def clamped_uniform_sag_mm(load_n: float, span_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Sag at the middle, both ends held so that they cannot turn, the load spread evenly.

        d = 1/384 * W L^3 / (E I)

    A fifth of the simply supported sag. Only for ends that are really stiff: a shelf's joints are not.

    load_n       the whole load [N]
    span_mm      between the faces that clamp [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      sag at the middle [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 9-2 and Table 9-1 (memory).
    """
    return load_n * span_mm**3 / (384 * e_mpa * inertia_mm4)


def clamped_centre_sag_mm(load_n: float, span_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Sag at the middle, both ends held so that they cannot turn, one load at the middle.

        d = 1/192 * P L^3 / (E I)

    load_n       the load [N]
    span_mm      between the faces that clamp [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      sag under the load [mm]

    Source: textbook beam theory.
    """
    return load_n * span_mm**3 / (192 * e_mpa * inertia_mm4)


def cantilever_uniform_sag_mm(load_n: float, reach_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Dip of the free end of a cantilever, the load spread evenly along it.

        d = 1/8 * W L^3 / (E I)

    load_n       the whole load [N]
    reach_mm     from the clamped face to the free end [mm]
    e_mpa        modulus of elasticity along the reach [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      dip of the free end [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 9-2 and Table 9-1 (memory).
    """
    return load_n * reach_mm**3 / (8 * e_mpa * inertia_mm4)


def cantilever_end_sag_mm(load_n: float, reach_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Dip of the free end of a cantilever with one load on that end.

        d = 1/3 * P L^3 / (E I)

    load_n       the load [N]
    reach_mm     from the clamped face to the load [mm]
    e_mpa        modulus of elasticity along the reach [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      dip of the free end [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 9-2 and Table 9-1 (memory).
    """
    return load_n * reach_mm**3 / (3 * e_mpa * inertia_mm4)


def shear_sag_mm(
    load_n: float, span_mm: float, shear_share: float, g_mpa: float, wide_mm: float, high_mm: float
) -> float:
    """What shear adds to the sag of a rectangular beam.

        d = ks W L / (G A'),     A' = 5/6 b h

    ks is 1/8 for an even load and 1/4 for a load at the middle of a simple span (clamped ends the same); for a
    cantilever 1/2 for an even load and 1 for a load at the end. A tabulated bending E already has about a tenth of
    shear in it: use `shear_free_modulus_mpa` for the bending when adding this.

    load_n       the whole load [N]
    span_mm      span or reach [mm]
    shear_share  ks for the case [-]
    g_mpa        modulus of rigidity, `shear_modulus_mpa` when not known [N/mm2]
    wide_mm      width of the section [mm]
    high_mm      height of the section [mm]
    returns      sag from shear [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eqs. 9-2 and 9-3; ks from Table 9-1 (memory).
    """
    return shear_share * load_n * span_mm / (g_mpa * 5 / 6 * wide_mm * high_mm)


def shear_modulus_mpa(e_mpa: float) -> float:
    """Modulus of rigidity of solid wood when nobody has measured it.

        G = E / 16

    e_mpa    modulus of elasticity along the grain [N/mm2]
    returns  modulus of rigidity [N/mm2]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 5, middle of Table 5-1 (memory).
    """
    return e_mpa / 16


def shear_free_modulus_mpa(e_mpa: float) -> float:
    """Modulus for bending alone, from the tabulated one, which was tested at a span of 14 depths and has shear in it.

        E_true = 1.10 E

    e_mpa    modulus of elasticity as tabulated [N/mm2]
    returns  modulus without the share of shear [N/mm2]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 5-3, footnote (memory).
    """
    return 1.10 * e_mpa


def longest_span_mm(load_n_mm: float, e_mpa: float, inertia_mm4: float, span_over_sag: float) -> float:
    """Longest simple span that keeps an evenly loaded shelf within a limit such as L/240.

        L = (384 E I / (5 q n))^(1/3)

    load_n_mm      load on each millimetre of length, self weight included [N/mm]
    e_mpa          modulus of elasticity along the span [N/mm2]
    inertia_mm4    second moment of area [mm4]
    span_over_sag  the n of a limit L/n [-]
    returns        span [mm]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 9-2, turned round.
    """
    return cbrt(384 * e_mpa * inertia_mm4 / (5 * load_n_mm * span_over_sag))


def modulus_from_test_mpa(load_n: float, span_mm: float, wide_mm: float, thick_mm: float, dip_mm: float) -> float:
    """Modulus of elasticity of an offcut, from a weight hung at the middle between two sticks.

        E = P L^3 / (4 b t^3 d)

    Use a span of at least 20 times the thickness, or shear makes the panel look limp.

    load_n    the weight hung [N]
    span_mm   between the sticks [mm]
    wide_mm   width of the offcut [mm]
    thick_mm  its measured thickness [mm]
    dip_mm    how far the middle went down [mm]
    returns   modulus of elasticity [N/mm2]

    Source: textbook beam theory: the sag of a simple span with a load at the middle, turned round.
    """
    return load_n * span_mm**3 / (4 * wide_mm * thick_mm**3 * dip_mm)
