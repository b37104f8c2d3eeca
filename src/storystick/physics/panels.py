"""How thick a sheet really may be, and how true: what the standards let a maker sell under a name.

Three different things: the name (3/4 in), what the label says (23/32 CAT, 0.703), and the thickness of this very sheet.
Fits use the third; these bands are for when nobody has measured yet.
"""

from typing import NamedTuple

from storystick.physics.units import MM_PER_IN


class Category(NamedTuple):
    """A performance category of PS 1, unsanded: least and greatest thickness and what the label says [in]."""

    least_in: float
    most_in: float
    label_in: float


PS1_CATEGORIES: dict[str, Category] = {
    "1/4": Category(0.219, 0.281, 0.225),
    "3/8": Category(0.344, 0.406, 0.354),
    "7/16": Category(0.406, 0.469, 0.418),
    "1/2": Category(0.469, 0.531, 0.483),
    "19/32": Category(0.563, 0.625, 0.578),
    "23/32": Category(0.688, 0.750, 0.703),
    "3/4": Category(0.719, 0.781, 0.734),
    "7/8": Category(0.831, 0.919, 0.849),
    "1": Category(0.950, 1.050, 0.970),
    "1-1/4": Category(1.188, 1.313, 1.213),
}
"""PS 1, table of performance categories: unsanded, touch-sanded, overlaid (read)."""


def ps1_unsanded_mm(nominal_in: float) -> tuple[float, float]:
    """Thickness that American structural plywood may have, not sanded.

        nominal +- 1/32 in up to 13/16 in, +- 5 % above

    nominal_in  performance category, as inches [in]
    returns     least and greatest thickness [mm]

    Source: Voluntary Product Standard PS 1, performance categories (read).
    """
    either_way = 1 / 32 if nominal_in <= 13 / 16 else 0.05 * nominal_in
    return (nominal_in - either_way) * MM_PER_IN, (nominal_in + either_way) * MM_PER_IN


def ps1_sanded_mm(nominal_in: float) -> tuple[float, float]:
    """Thickness that American structural plywood may have, sanded.

        nominal +- 1/64 in up to 3/4 in, +- 3 % above

    nominal_in  nominal thickness [in]
    returns     least and greatest thickness [mm]

    Source: Voluntary Product Standard PS 1-19, dimensional tolerances (read).
    """
    either_way = 1 / 64 if nominal_in <= 0.75 else 0.03 * nominal_in
    return (nominal_in - either_way) * MM_PER_IN, (nominal_in + either_way) * MM_PER_IN


def en315_sanded_mm(nominal_mm: float) -> tuple[float, float]:
    """Thickness that plywood to the European standard may have, sanded.

        + (0.2 + 0.03 t)    - (0.4 + 0.03 t)

    nominal_mm  nominal thickness [mm]
    returns     least and greatest thickness [mm]

    Source: EN 315, same form in GB/T 9846.3 (read).
    """
    return nominal_mm - 0.4 - 0.03 * nominal_mm, nominal_mm + 0.2 + 0.03 * nominal_mm


def en315_unsanded_mm(nominal_mm: float) -> tuple[float, float]:
    """Thickness that plywood to the European standard may have, not sanded.

        + (0.8 + 0.03 t)    - (0.4 + 0.03 t)

    nominal_mm  nominal thickness [mm]
    returns     least and greatest thickness [mm]

    Source: EN 315, same form in GB/T 9846.3 (read).
    """
    return nominal_mm - 0.4 - 0.03 * nominal_mm, nominal_mm + 0.8 + 0.03 * nominal_mm


def hp1_sanded_mm(nominal_mm: float) -> tuple[float, float]:
    """Thickness that American hardwood plywood of 1/4 in and over may have, sanded.

        + 0    - 0.047 in

    nominal_mm  nominal thickness [mm]
    returns     least and greatest thickness [mm]

    Source: ANSI/HPVA HP-1, dimensions (memory).
    """
    return nominal_mm - 0.047 * MM_PER_IN, nominal_mm


def mdf_mm(nominal_mm: float) -> tuple[float, float]:
    """Thickness that MDF may have, sanded.

        +- 0.2 mm up to 19 mm, +- 0.3 mm above

    nominal_mm  nominal thickness [mm]
    returns     least and greatest thickness [mm]

    Source: EN 622-1 (memory).
    """
    either_way = 0.2 if nominal_mm <= 19.05 else 0.3
    return nominal_mm - either_way, nominal_mm + either_way


def particleboard_mm(nominal_mm: float) -> tuple[float, float]:
    """Thickness that particleboard may have, sanded.

        +- 0.3 mm

    nominal_mm  nominal thickness [mm]
    returns     least and greatest thickness [mm]

    Source: EN 312 / EN 324 (read).
    """
    return nominal_mm - 0.3, nominal_mm + 0.3


def ps1_out_of_square_mm(longest_edge_mm: float) -> float:
    """How far the corner of an American plywood sheet may be out.

        1/64 in for each foot of the longest edge

    longest_edge_mm  longest edge [mm]
    returns          allowed error at the end of that edge [mm]

    Source: Voluntary Product Standard PS 1-19 (read).
    """
    return longest_edge_mm / (12 * MM_PER_IN) * MM_PER_IN / 64
