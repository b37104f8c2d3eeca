"""Two tables of general tolerances, for parts made elsewhere: ISO 2768-1 for sizes without one, ISO 286-1 for fits.

Wood moves more than these in a season. They say what metal hardware, turned parts and jigs may differ by.
"""

ISO_2768_STEPS_MM = (3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)
ISO_2768_MM: dict[str, tuple[float | None, ...]] = {
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, None),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0),
    "v": (None, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0),
}
"""Either way, for sizes up to each step, by class: fine, medium, coarse, very coarse (read) [mm]."""

ISO_286_STEPS_MM = (3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0, 400.0, 500.0)
ISO_286_UM: dict[int, tuple[float, ...]] = {
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
    12: (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630),
    13: (140, 180, 220, 270, 330, 390, 460, 540, 630, 720, 810, 890, 970),
    14: (250, 300, 360, 430, 520, 620, 740, 870, 1000, 1150, 1300, 1400, 1550),
}
"""Width of the tolerance by grade, for sizes up to each step (memory) [um]."""


def general_tolerance_mm(size_mm: float, tolerance_class: str = "m") -> float | None:
    """What a length with no tolerance of its own may differ by, either way.

        table ISO_2768_MM, sizes from 0.5 to 4000 mm

    size_mm          nominal size [mm]
    tolerance_class  f, m, c or v [-]
    returns          limit, or nothing where the table has none [mm]

    Source: ISO 2768-1, Table 1 (read). An older national table has 0.15 and 0.2 for class c below 6 mm.
    """
    if size_mm < 0.5:
        return None
    for step, limit in zip(ISO_2768_STEPS_MM, ISO_2768_MM[tolerance_class], strict=True):
        if size_mm <= step:
            return limit
    return None


def grade_width_mm(size_mm: float, grade: int) -> float | None:
    """Width of a standard tolerance grade such as IT9.

        table ISO_286_UM, sizes to 500 mm, grades 6 to 14

    size_mm  nominal size [mm]
    grade    the number after IT [-]
    returns  width of the tolerance, or nothing where the table ends [mm]

    Source: ISO 286-1, Table 1 (memory).
    """
    for step, width in zip(ISO_286_STEPS_MM, ISO_286_UM[grade], strict=True):
        if size_mm <= step:
            return width / 1000
    return None
