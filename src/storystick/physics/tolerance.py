"""Adding up errors: the worst that can be, the likely, and the odds that it does not go together.

In a shop errors are shared more often than not: one fence setting, one spacer, one tape. Shared errors add
straight, others by squares. `combined_sd` takes both kinds.
"""

from collections.abc import Sequence
from math import erf, exp, pi, sqrt


def worst_case_mm(limits_mm: Sequence[float], counts: Sequence[float] | None = None) -> float:
    """Greatest error of a stack, every part at its limit in the bad direction.

        T = sum(|c| t)

    limits_mm  limit of each part, either way [mm]
    counts     how often each part counts, signed; once each if left out [-]
    returns    limit of the stack, either way [mm]

    Source: textbook.
    """
    return sum(abs(c) * t for c, t in zip(counts or [1.0] * len(limits_mm), limits_mm, strict=True))


def root_sum_square_mm(limits_mm: Sequence[float], counts: Sequence[float] | None = None) -> float:
    """Likely error of a stack of independent parts.

        T = sqrt(sum((c t)^2))

    limits_mm  limit or standard deviation of each part [mm]
    counts     how often each part counts, signed; a shared error counts once, times its number [-]
    returns    the same measure of the stack [mm]

    Source: textbook; JCGM 100:2008, eq. 10.
    """
    return sqrt(sum((c * t) ** 2 for c, t in zip(counts or [1.0] * len(limits_mm), limits_mm, strict=True)))


def combined_sd(sensitivities: Sequence[float], sds: Sequence[float], correlations: Sequence[Sequence[float]]) -> float:
    """Standard uncertainty of a result from inputs whose errors are partly shared.

        u^2 = sum_i sum_j c_i c_j u_i u_j r_ij

    sensitivities  how much the result moves for each input [1]
    sds            standard uncertainty of each input [1]
    correlations   matrix r, 1 on its diagonal [-]
    returns        standard uncertainty of the result [1]

    Source: JCGM 100:2008 (GUM), 5.2.2, eq. 16 (memory).
    """
    parts = [c * u for c, u in zip(sensitivities, sds, strict=True)]
    square = sum(a * b * correlations[i][j] for i, a in enumerate(parts) for j, b in enumerate(parts))
    return sqrt(max(0.0, square))


def rectangular_sd_mm(half_mm: float) -> float:
    """Standard uncertainty of something known only to lie within limits.

        u = a / sqrt(3)

    half_mm  half the width between the limits [mm]
    returns  standard uncertainty [mm]

    Source: JCGM 100:2008 (GUM), 4.3.7 (read).
    """
    return half_mm / sqrt(3)


def triangular_sd_mm(half_mm: float) -> float:
    """Standard uncertainty of something within limits and likelier in the middle.

        u = a / sqrt(6)

    half_mm  half the width between the limits [mm]
    returns  standard uncertainty [mm]

    Source: JCGM 100:2008 (GUM), 4.3.9 (read).
    """
    return half_mm / sqrt(6)


def u_shaped_sd_mm(half_mm: float) -> float:
    """Standard uncertainty of something within limits and likelier near them.

        u = a / sqrt(2)

    half_mm  half the width between the limits [mm]
    returns  standard uncertainty [mm]

    Source: JCGM 101:2008, 6.4.6 (read).
    """
    return half_mm / sqrt(2)


def resolution_sd_mm(step_mm: float) -> float:
    """Standard uncertainty that reading to the nearest mark brings.

        u = d / (2 sqrt(3)) = 0.289 d

    step_mm  from mark to mark [mm]
    returns  standard uncertainty [mm]

    Source: JCGM 100:2008 (GUM), F.2.2.1 (memory).
    """
    return step_mm / (2 * sqrt(3))


def tape_limit_mm(long_mm: float, tape_class: int = 2) -> float:
    """Greatest error of a tape over a length, by its class.

        class I  0.1 + 0.1 L       class II  0.3 + 0.2 L       L in metres, rounded up to a whole one

    long_mm     length measured [mm]
    tape_class  1 or 2, as printed on the tape [-]
    returns     limit, either way [mm]

    Source: EU measuring instruments directive, material measures of length (memory).
    """
    metres = -(-long_mm // 1000)
    first, each = {1: (0.1, 0.1), 2: (0.3, 0.2)}[tape_class]
    return first + each * metres


def chance_below(limit_mm: float, mean_mm: float, sd_mm: float) -> float:
    """Odds that a normally spread length comes out below a limit.

        P = (1 + erf((limit - mean) / (sd sqrt(2)))) / 2

    limit_mm  the limit [mm]
    mean_mm   mean [mm]
    sd_mm     standard deviation [mm]
    returns   probability [-]

    Source: textbook statistics.
    """
    if sd_mm <= 0:
        return 1.0 if mean_mm < limit_mm else 0.0
    return (1 + erf((limit_mm - mean_mm) / (sd_mm * sqrt(2)))) / 2


def chance_panel_over_dado(panel_least_mm: float, panel_most_mm: float, dado_mm: float, dado_sd_mm: float) -> float:
    """Odds that a panel known only by its limits is thicker than a dado cut with some spread.

        mean of the chance that the dado is narrower, over all thicknesses between the limits

    panel_least_mm  thinnest the panel may be [mm]
    panel_most_mm   thickest the panel may be [mm]
    dado_mm         mean width of the dado [mm]
    dado_sd_mm      standard deviation of its width [mm]
    returns         probability that it does not go in [-]

    Source: textbook statistics, integral of the normal distribution over a rectangular one.
    """
    if panel_most_mm <= panel_least_mm:
        return chance_below(panel_least_mm, dado_mm, dado_sd_mm)
    if dado_sd_mm <= 0:
        return min(1.0, max(0.0, (panel_most_mm - dado_mm) / (panel_most_mm - panel_least_mm)))
    up, down = (panel_most_mm - dado_mm) / dado_sd_mm, (panel_least_mm - dado_mm) / dado_sd_mm
    return (_area_under(up) - _area_under(down)) / (up - down)


def _area_under(z: float) -> float:
    """Integral of the normal distribution function up to z.

        z Phi(z) + phi(z)

    z        standard score [-]
    returns  integral [-]

    Source: textbook statistics.
    """
    return z * (1 + erf(z / sqrt(2))) / 2 + exp(-z * z / 2) / sqrt(2 * pi)


def capability(mean_mm: float, sd_mm: float, least_mm: float, most_mm: float) -> tuple[float, float]:
    """How well a set-up repeats against limits: 1.33 and over is easy, under 1 is a gamble.

        Cp = (most - least) / (6 s)        Cpk = min(most - mean, mean - least) / (3 s)

    mean_mm   mean of the parts [mm]
    sd_mm     standard deviation of the parts [mm]
    least_mm  lower limit [mm]
    most_mm   upper limit [mm]
    returns   Cp and Cpk [-]

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 (memory).
    """
    return (most_mm - least_mm) / (6 * sd_mm), min(most_mm - mean_mm, mean_mm - least_mm) / (3 * sd_mm)
