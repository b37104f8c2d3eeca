"""How much one person should lift with two hands. A warning light: carrying a sheet upright is outside the equation."""

LOAD_CONSTANT_KG = 23.0
"""The most, under the best conditions (NIOSH 94-110, read) [kg]."""


def weight_limit_kg(
    out_mm: float, high_mm: float, travel_mm: float, twist_deg: float = 0.0, frequency: float = 1.0, grip: float = 1.0
) -> float:
    """Recommended weight limit of a two-handed lift.

        RWL = 23 (25/H) (1 - 0.003 |V - 75|) (0.82 + 4.5/D) (1 - 0.0032 A) FM CM    in cm

    H counts as 25 cm at least and D as 25 cm at least; a reach over 63 cm, a height over 175 cm or a twist over 135
    degrees leaves nothing.

    out_mm     hands in front of the ankles [mm]
    high_mm    hands above the floor at the start [mm]
    travel_mm  how far up or down the lift goes [mm]
    twist_deg  how far the body turns [deg]
    frequency  FM, 1 for a rare lift [-]
    grip       CM, 1 for good handles, 0.90 for a poor grip [-]
    returns    limit [kg]

    Source: Applications Manual for the Revised NIOSH Lifting Equation, NIOSH 94-110, rev. 2021 (read; the
    cut-offs memory).
    """
    out, high, travel = max(out_mm / 10, 25.0), high_mm / 10, max(travel_mm / 10, 25.0)
    if out > 63 or not 0 <= high <= 175 or twist_deg > 135:
        return 0.0
    reach = 25 / out * (1 - 0.003 * abs(high - 75)) * min(1.0, 0.82 + 4.5 / travel)
    return LOAD_CONSTANT_KG * reach * (1 - 0.0032 * twist_deg) * frequency * grip


def lifting_index(mass_kg: float, limit_kg: float) -> float:
    """How many times the limit a lift is: over 1, get help or cut it down on the floor first.

        LI = mass / RWL

    mass_kg   what is lifted [kg]
    limit_kg  recommended weight limit [kg]
    returns   index, infinite where nothing should be lifted [-]

    Source: Applications Manual for the Revised NIOSH Lifting Equation, NIOSH 94-110, rev. 2021 (read).
    """
    return mass_kg / limit_kg if limit_kg > 0 else float("inf")
