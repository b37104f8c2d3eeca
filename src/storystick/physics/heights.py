"""How high to work: from the elbow of the one who works, less the height of the work itself."""

from typing import NamedTuple


class WorkHeight(NamedTuple):
    """Height of the hands over the elbow for a kind of work; least and most."""

    least_mm: float
    most_mm: float
    source: str
    how: str


_BODY = "Bodyspace: Anthropometry, Ergonomics and the Design of Work, 3rd ed."
_FUND = "state insurance fund guidance"

WORK_HEIGHTS: dict[str, WorkHeight] = {
    "precise": WorkHeight(50.0, 100.0, _BODY, "read"),
    "light": WorkHeight(-100.0, -50.0, _BODY, "read"),
    "heavy": WorkHeight(-152.4, -101.6, _FUND, "read"),
}
"""By kind of work, relative to the elbow [mm]."""


def surface_height_mm(elbow_mm: float, kind: str, work_mm: float = 0.0) -> tuple[float, float]:
    """Height of a bench top for a kind of work.

        elbow + what the work wants - height of the usual work piece

    elbow_mm  elbow above the floor, standing, in shoes [mm]
    kind      precise, light or heavy: a name in WORK_HEIGHTS [-]
    work_mm   usual height of the piece on the bench [mm]
    returns   lowest and highest good height of the top [mm]

    Source: the one named with the kind in WORK_HEIGHTS.
    """
    row = WORK_HEIGHTS[kind]
    return elbow_mm + row.least_mm - work_mm, elbow_mm + row.most_mm - work_mm
