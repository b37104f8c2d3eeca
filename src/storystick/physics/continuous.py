"""How far a board sags that runs over a middle support, or out past its supports."""

from math import sqrt


def two_span_sag_mm(load_n_mm: float, span_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Greatest sag of one piece over a middle support, both equal spans loaded evenly.

        d = q L^4 / (184.6 E I)

    Check the case with one span loaded too (`two_span_one_loaded_sag_mm`): it is nearly twice this.

    load_n_mm    load on each millimetre of length [N/mm]
    span_mm      one span [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      greatest sag, 0.42 of the span from the outer end [mm]

    Source: textbook beam theory; printed as 1/185.
    """
    return load_n_mm * span_mm**4 / (184.64 * e_mpa * inertia_mm4)


def two_span_one_loaded_sag_mm(load_n_mm: float, span_mm: float, e_mpa: float, inertia_mm4: float) -> float:
    """Greatest sag of one piece over a middle support when only one of two equal spans is loaded.

        d = 0.00915 q L^4 / (E I)

    load_n_mm    load on each millimetre of the loaded span [N/mm]
    span_mm      one span [mm]
    e_mpa        modulus of elasticity along the span [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      greatest sag, in the loaded span [mm]

    Source: beam diagrams of the AISC Steel Construction Manual, two equal spans, one loaded (memory; printed
    as 0.0092).
    """
    return 0.00915 * load_n_mm * span_mm**4 / (e_mpa * inertia_mm4)


def overhung_middle_sag_mm(
    load_n_mm: float, span_mm: float, overhang_mm: float, e_mpa: float, inertia_mm4: float
) -> float:
    """Sag between two supports of a piece that sticks out past both by the same length, loaded evenly all along.

        d = q L^2 (5 L^2 - 24 a^2) / (384 E I)

    Negative when the overhangs lift the middle.

    load_n_mm    load on each millimetre of length [N/mm]
    span_mm      between the supports [mm]
    overhang_mm  past each support [mm]
    e_mpa        modulus of elasticity along the piece [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      sag at the middle [mm]

    Source: textbook beam theory.
    """
    return load_n_mm * span_mm**2 * (5 * span_mm**2 - 24 * overhang_mm**2) / (384 * e_mpa * inertia_mm4)


def overhung_end_sag_mm(
    load_n_mm: float, span_mm: float, overhang_mm: float, e_mpa: float, inertia_mm4: float
) -> float:
    """Dip of the free ends of a piece that sticks out past both supports by the same length, loaded evenly all along.

        d = q a (3 a^3 + 6 a^2 L - L^3) / (24 E I)

    Negative when the load between the supports lifts the ends.

    load_n_mm    load on each millimetre of length [N/mm]
    span_mm      between the supports [mm]
    overhang_mm  past each support [mm]
    e_mpa        modulus of elasticity along the piece [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      dip of a free end [mm]

    Source: textbook beam theory.
    """
    a, span = overhang_mm, span_mm
    return load_n_mm * a * (3 * a**3 + 6 * a**2 * span - span**3) / (24 * e_mpa * inertia_mm4)


def overhang_end_point_sag_mm(
    load_n: float, span_mm: float, overhang_mm: float, e_mpa: float, inertia_mm4: float
) -> float:
    """Dip of the end of a top that sticks out past its last support, with one load on that end.

        d = P a^2 (L + a) / (3 E I)

    load_n       the load on the end [N]
    span_mm      between the last two supports [mm]
    overhang_mm  past the last support [mm]
    e_mpa        modulus of elasticity along the piece [N/mm2]
    inertia_mm4  second moment of area [mm4]
    returns      dip of the end [mm]

    Source: textbook beam theory.
    """
    return load_n * overhang_mm**2 * (span_mm + overhang_mm) / (3 * e_mpa * inertia_mm4)


def best_inset_mm(long_mm: float) -> float:
    """How far in to set two supports under an even load so that the piece is bent least.

        a = (sqrt(2) - 1) / 2 * L = 0.2071 L

    long_mm  whole length of the piece [mm]
    returns  from each end to its support [mm]

    Source: textbook beam theory.
    """
    return (sqrt(2) - 1) / 2 * long_mm
