"""What wood and panels weigh."""

from storystick.physics.units import N_PER_KG


def wood_density_kg_m3(gravity: float, mc_percent: float = 12.0) -> float:
    """Density of wood with its water in it.

        density = 1000 * G * (1 + M / 100)

    G is ovendry weight on volume at this moisture content, as in Table 5-3 at 12 %.

    gravity     specific gravity [-]
    mc_percent  moisture content [%]
    returns     density [kg/m3]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 4-9 (memory).
    """
    return 1000 * gravity * (1 + mc_percent / 100)


def block_mass_kg(long_mm: float, wide_mm: float, thick_mm: float, density_kg_m3: float) -> float:
    """Mass of a plain block: a sheet, a board, a part.

        mass = long * wide * thick * density

    long_mm        length [mm]
    wide_mm        width [mm]
    thick_mm       thickness [mm]
    density_kg_m3  density [kg/m3]
    returns        mass [kg]

    Source: geometry.
    """
    return long_mm * wide_mm * thick_mm * density_kg_m3 * 1e-9


def weight_n(mass_kg: float) -> float:
    """Force that the earth puts on a mass.

        weight = 9.80665 * mass

    mass_kg  mass [kg]
    returns  weight [N]

    Source: standard gravity, CGPM (1901).
    """
    return mass_kg * N_PER_KG
