"""Bending moments and the stress they make: for heavy loads on short spans, where sag is not what fails."""


def uniform_moment_nmm(load_n: float, span_mm: float) -> float:
    """Greatest bending moment, both ends simply supported, the load spread evenly.

        M = W L / 8

    load_n   the whole load [N]
    span_mm  between the supports [mm]
    returns  moment at the middle [N mm]

    Source: textbook beam theory.
    """
    return load_n * span_mm / 8


def point_moment_nmm(load_n: float, load_at_mm: float, span_mm: float) -> float:
    """Greatest bending moment, both ends simply supported, one load anywhere.

        M = P a (L - a) / L

    load_n      the load [N]
    load_at_mm  its distance from one support [mm]
    span_mm     between the supports [mm]
    returns     moment under the load [N mm]

    Source: textbook beam theory.
    """
    return load_n * load_at_mm * (span_mm - load_at_mm) / span_mm


def clamped_uniform_moment_nmm(load_n: float, span_mm: float) -> float:
    """Greatest bending moment, both ends clamped, the load spread evenly.

        M = W L / 12

    load_n   the whole load [N]
    span_mm  between the faces that clamp [mm]
    returns  moment at the clamped ends [N mm]

    Source: textbook beam theory.
    """
    return load_n * span_mm / 12


def cantilever_uniform_moment_nmm(load_n: float, reach_mm: float) -> float:
    """Bending moment at the clamped end of a cantilever, the load spread evenly.

        M = W L / 2

    load_n    the whole load [N]
    reach_mm  from the clamped face to the free end [mm]
    returns   moment at the clamped end [N mm]

    Source: textbook beam theory.
    """
    return load_n * reach_mm / 2


def cantilever_end_moment_nmm(load_n: float, reach_mm: float) -> float:
    """Bending moment at the clamped end of a cantilever with one load on it.

        M = P L

    load_n    the load [N]
    reach_mm  from the clamped face to the load [mm]
    returns   moment at the clamped end [N mm]

    Source: textbook beam theory.
    """
    return load_n * reach_mm


def two_span_moment_nmm(load_n_mm: float, span_mm: float) -> float:
    """Bending moment over the middle support of two equal spans, both loaded evenly.

        M = q L^2 / 8

    load_n_mm  load on each millimetre of length [N/mm]
    span_mm    one span [mm]
    returns    moment over the support, the top fibre stretched [N mm]

    Source: textbook beam theory.
    """
    return load_n_mm * span_mm**2 / 8


def overhung_moments_nmm(load_n_mm: float, span_mm: float, overhang_mm: float) -> tuple[float, float]:
    """Bending moments of a piece that sticks out past two supports by the same length, loaded evenly.

        over a support  q a^2 / 2          in the middle  q L^2 / 8 - q a^2 / 2

    load_n_mm    load on each millimetre of length [N/mm]
    span_mm      between the supports [mm]
    overhang_mm  past each support [mm]
    returns      moment over a support (top stretched) and in the middle (bottom stretched) [N mm]

    Source: textbook beam theory.
    """
    over = load_n_mm * overhang_mm**2 / 2
    return over, load_n_mm * span_mm**2 / 8 - over


def bending_stress_mpa(moment_nmm: float, modulus_mm3: float) -> float:
    """Stress in the outermost fibre of a bent piece.

        s = M / S

    moment_nmm   bending moment [N mm]
    modulus_mm3  section modulus [mm3]
    returns      stress [N/mm2]

    Source: textbook beam theory.
    """
    return moment_nmm / modulus_mm3


def uniform_stress_mpa(load_n: float, span_mm: float, wide_mm: float, thick_mm: float) -> float:
    """Greatest bending stress of a flat shelf, both ends simply supported, the load spread evenly.

        s = 0.75 W L / (b t^2)

    load_n    the whole load [N]
    span_mm   between the supports [mm]
    wide_mm   width of the shelf, front to back [mm]
    thick_mm  thickness [mm]
    returns   stress [N/mm2]

    Source: textbook beam theory.
    """
    return 0.75 * load_n * span_mm / (wide_mm * thick_mm**2)


def joined_stress_mpa(
    moment_nmm: float, stiffness_nmm2: float, piece_e_mpa: float, from_neutral_mm: float
) -> float:
    """Bending stress in one fibre of a joined section of several materials.

        s = M E_piece y / (E I)

    moment_nmm       bending moment [N mm]
    stiffness_nmm2   bending stiffness EI of the joined section [N mm2]
    piece_e_mpa      modulus of the piece that the fibre is in [N/mm2]
    from_neutral_mm  from the neutral line to the fibre [mm]
    returns          stress [N/mm2]

    Source: textbook mechanics, transformed section.
    """
    return moment_nmm * piece_e_mpa * from_neutral_mm / stiffness_nmm2


def rectangle_shear_stress_mpa(shear_n: float, wide_mm: float, high_mm: float) -> float:
    """Greatest shear stress in a rectangular section: halfway up, along the grain.

        t = 1.5 V / (b h)

    shear_n  shear force, for a simple span half the even load [N]
    wide_mm  width [mm]
    high_mm  height [mm]
    returns  shear stress [N/mm2]

    Source: textbook beam theory.
    """
    return 1.5 * shear_n / (wide_mm * high_mm)
