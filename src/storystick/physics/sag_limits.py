"""How much sag is too much. The limits in use differ by a factor of four, so a result always names the one it used."""

from math import inf
from typing import NamedTuple

from storystick.physics.units import MM_PER_IN


class SagLimit(NamedTuple):
    """One limit in use: a share of the span, and sometimes a greatest sag whatever the span."""

    says: str
    span_over_sag: float
    """The n of L/n [-]."""
    most_mm: float
    """Never more than this [mm]."""
    source: str
    how: str


SAG_LIMITS: dict[str, SagLimit] = {
    "L/144": SagLimit(
        "quality standard for architectural woodwork", 144, inf,
        "Architectural Woodwork Standards, 1st ed. (2009), 1.2.21", "read",
    ),
    "kitchen": SagLimit(
        "1/16 in for each foot, never over 1/4 in", 192, MM_PER_IN / 4,
        "ANSI/KCMA A161.1, static loading of shelves and bottoms", "read",
    ),
    "quarter inch": SagLimit(
        "never over 1/4 in", 1, MM_PER_IN / 4, "laboratory furniture association test, as run by a maker", "read"
    ),
    "L/240": SagLimit("what panel makers call just visible", 240, inf, "particleboard and MDF trade guidance", "read"),
    "L/360": SagLimit("a stiff floor, often borrowed for benches", 360, inf, "building-code practice", "memory"),
    "L/600": SagLimit(
        "0.02 in for each foot: not noticed by an eye along the edge", 600, inf,
        "common practice, no source", "practice",
    ),
}
"""The limits by name."""


def allowed_sag_mm(limit: str, span_mm: float) -> float:
    """Greatest sag that a named limit lets a span have.

        d = min(L / n, greatest)

    limit    name of the limit in SAG_LIMITS [-]
    span_mm  between the supports [mm]
    returns  allowed sag [mm]

    Source: the one named with the limit in SAG_LIMITS.
    """
    rule = SAG_LIMITS[limit]
    return min(span_mm / rule.span_over_sag, rule.most_mm)
