"""Flat panels that bend both ways: carried on four sides, or on three with the front free.

Thin plates of one stiffness in both directions, held down at the edges but free to turn there. Plywood is stiffer one
way: use the smaller E and stay on the safe side. A back counts as the third side only when it really carries the rear
edge.
"""

from math import cosh, pi, sin, sinh, tanh


def plate_stiffness_nmm(e_mpa: float, thick_mm: float, poisson: float = 0.3) -> float:
    """Bending stiffness of a plate, per width.

        D = E t^3 / (12 (1 - nu^2))

    e_mpa     modulus of elasticity [N/mm2]
    thick_mm  thickness [mm]
    poisson   Poisson's ratio [-]
    returns   stiffness [N mm]

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, eq. 3.
    """
    return e_mpa * thick_mm**3 / (12 * (1 - poisson**2))


def four_sides_coefficient(long_mm: float, wide_mm: float) -> float:
    """Coefficient c of a plate carried on all four sides, loaded evenly: sag = c q s^4 / D, s the shorter side.

        c = 4/pi^5 sum over odd m of (-1)^((m-1)/2)/m^5 (1 - (a tanh a + 2)/(2 cosh a)),   a = m pi long / (2 wide)

    long_mm  one side [mm]
    wide_mm  the other side [mm]
    returns  coefficient for the sag at the middle [-]

    >>> round(four_sides_coefficient(500, 500), 5)
    0.00406

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, eq. 140 and Table 8 (memory).
    """
    short, far = sorted((long_mm, wide_mm))
    total = 0.0
    for m in range(1, 40, 2):
        a = m * pi * far / (2 * short)
        rest = 0.0 if a > 300 else (a * sinh(a) / cosh(a) + 2) / (2 * cosh(a))
        total += (-1) ** ((m - 1) // 2) / m**5 * (1 - rest)
    return 4 / pi**5 * total


def four_sides_sag_mm(
    load_mpa: float, long_mm: float, wide_mm: float, thick_mm: float, e_mpa: float, poisson: float = 0.3
) -> float:
    """Sag at the middle of a panel carried on all four sides, loaded evenly.

        d = c q s^4 / D

    load_mpa  load per area [N/mm2]
    long_mm   one side [mm]
    wide_mm   the other side [mm]
    thick_mm  thickness [mm]
    e_mpa     modulus of elasticity, the smaller one of plywood [N/mm2]
    poisson   Poisson's ratio [-]
    returns   sag at the middle [mm]

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 30 (memory).
    """
    stiff = plate_stiffness_nmm(e_mpa, thick_mm, poisson)
    return four_sides_coefficient(long_mm, wide_mm) * load_mpa * min(long_mm, wide_mm) ** 4 / stiff


def three_sides_coefficient(front_mm: float, deep_mm: float, poisson: float = 0.3) -> float:
    """Coefficient c of a plate carried at both ends and the back, the front free: sag = c q front^4 / D.

        w = sum over odd m of sin(m pi x / front) * Y_m(y)

    Y_m solves the plate equation with a held back edge and a front edge free of moment and shear.

    front_mm  length of the free front edge, between the ends [mm]
    deep_mm   from the front to the back that carries [mm]
    poisson   Poisson's ratio [-]
    returns   coefficient for the sag at the middle of the front [-]

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 48, Levy's method (memory).
    """
    total = 0.0
    for m in range(1, 30, 2):
        total += sin(m * pi / 2) * _free_edge_term(m, m * pi * deep_mm / front_mm, poisson)
    return total


def _free_edge_term(m: int, u: float, poisson: float) -> float:
    """Deflection of the free edge in one term of Levy's series, in units of q front^4 / D.

    m        odd number of half waves along the front [-]
    u        m pi deep / front [-]
    poisson  Poisson's ratio [-]
    returns  Y_m at the free edge [-]

    With s = m pi y / front, Y_m is fixed by no sag and no moment at the back, no moment and no shear at the front.

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 48 (memory).
    """
    p = 4 / (pi * m) ** 5
    if u > 18:
        # A deep panel: near the front the back is not felt, and two decaying terms are left.
        return p * (1 + poisson * (1 + poisson) / ((3 + poisson) * (1 - poisson)))
    c, s, n = cosh(u), sinh(u), poisson
    # Y/p = 1 - cosh s + (s sinh s)/2 + C sinh s + D s cosh s: zero and moment-free at the back by construction.
    # At the front, moment Y'' - n Y = 0 and shear Y''' - (2 - n) Y' = 0 give C and D.
    moment = (1 - n) * u * s / 2 + n * c - n
    shear = (3 - n) * s / 2 - (1 - n) * u * c / 2
    c_moment, d_moment = (1 - n) * s, 2 * s + (1 - n) * u * c
    c_shear, d_shear = -(1 - n) * c, (1 + n) * c - (1 - n) * u * s
    pivot = c_moment * d_shear - c_shear * d_moment
    big_c = (-moment * d_shear + shear * d_moment) / pivot
    big_d = (-c_moment * shear + c_shear * moment) / pivot
    return p * (1 - c + u * s / 2 + big_c * s + big_d * u * c)


def three_sides_sag_mm(
    load_mpa: float, front_mm: float, deep_mm: float, thick_mm: float, e_mpa: float, poisson: float = 0.3
) -> float:
    """Sag of the front edge of a shelf that its ends and its back carry, loaded evenly.

        d = c q front^4 / D

    load_mpa  load per area [N/mm2]
    front_mm  length of the free front edge, between the ends [mm]
    deep_mm   from the front to the back that carries [mm]
    thick_mm  thickness [mm]
    e_mpa     modulus of elasticity, the smaller one of plywood [N/mm2]
    poisson   Poisson's ratio [-]
    returns   sag at the middle of the front edge [mm]

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 48 (memory).
    """
    stiff = plate_stiffness_nmm(e_mpa, thick_mm, poisson)
    return three_sides_coefficient(front_mm, deep_mm, poisson) * load_mpa * front_mm**4 / stiff


def two_ends_sag_mm(
    load_mpa: float, span_mm: float, wide_mm: float, thick_mm: float, e_mpa: float, poisson: float = 0.3
) -> float:
    """Greatest sag of a panel that its two ends carry and whose long edges are free, loaded evenly: at an edge.

        w = 4 q a^4 / (pi^5 D) sum over odd m of (-1)^((m-1)/2) / m^5 (1 + A cosh u + B u sinh u),   u = m pi b / (2 a)

    A and B leave the edges free of moment and of shear. A strip of beam sags the same but for what holds the panel
    from curling across.

    load_mpa  load per area [N/mm2]
    span_mm   between the two ends that carry, a [mm]
    wide_mm   along the ends, b [mm]
    thick_mm  thickness [mm]
    e_mpa     modulus of elasticity [N/mm2]
    poisson   Poisson's ratio [-]
    returns   sag at the middle of a free edge [mm]

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 47-48, Levy's method (memory).
    """
    total = 0.0
    for m in range(1, 40, 2):
        total += (-1) ** ((m - 1) // 2) / m**5 * _two_free_edges_term(m * pi * wide_mm / (2 * span_mm), poisson)
    return 4 / pi**5 * total * load_mpa * span_mm**4 / plate_stiffness_nmm(e_mpa, thick_mm, poisson)


def _two_free_edges_term(u: float, poisson: float) -> float:
    """One term of Levy's series at a free edge, over that of a plate bent one way only.

    u        m pi wide / (2 span) [-]
    poisson  Poisson's ratio [-]
    returns  1 + A cosh u + B u sinh u [-]

    With A' = A cosh u and B' = B cosh u:  moment (1 - n) A' + (2 + (1 - n) u tanh u) B' = n,
    shear (n - 1) tanh u A' + ((1 + n) tanh u - (1 - n) u) B' = 0.

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 48 (memory).
    """
    n, t = poisson, tanh(u)
    a_moment, b_moment = 1 - n, 2 + (1 - n) * u * t
    a_shear, b_shear = (n - 1) * t, (1 + n) * t - (1 - n) * u
    pivot = a_moment * b_shear - b_moment * a_shear
    return 1 + (n * b_shear - n * a_shear * u * t) / pivot
