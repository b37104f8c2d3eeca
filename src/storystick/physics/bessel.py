"""The Bessel function J1, which round magnets need and `math` lacks."""

from math import cos, sqrt


def bessel_j1(x: float) -> float:
    """Bessel function of the first kind, order one.

        polynomials in (x/3)^2 below 3, modulus and phase in 3/x above

    Absolute error below 1e-7.

    x        argument, not negative [-]
    returns  J1(x) [-]

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 9.4.4 and 9.4.6 (memory).
    """
    if x <= 3:
        s = (x / 3) ** 2
        series = 0.00443319 + s * (-0.00031761 + s * 0.00001109)
        return x * (0.5 + s * (-0.56249985 + s * (0.21093573 + s * (-0.03954289 + s * series))))
    t = 3 / x
    size = 0.79788456 + t * (
        0.00000156 + t * (0.01659667 + t * (0.00017105 + t * (-0.00249511 + t * (0.00113653 - t * 0.00020033))))
    )
    turn = x - 2.35619449 + t * (
        0.12499612 + t * (0.00005650 + t * (-0.00637879 + t * (0.00074348 + t * (0.00079824 - t * 0.00029166))))
    )
    return size * cos(turn) / sqrt(x)
