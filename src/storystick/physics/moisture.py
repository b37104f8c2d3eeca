"""How wet wood gets in the air around it."""

from math import exp, log

SATURATION_MC_PERCENT = 30.0
"""Above this wood neither swells nor shrinks (Wood Handbook, FPL-GTR-190, ch. 13) [%]."""

_IN_F = ((330.0, 0.452, 0.00415), (0.791, 0.000463, -8.44e-7), (6.34, 0.000775, -9.35e-5), (1.09, 0.0284, -9.04e-5))
_IN_C = ((349.0, 1.29, 0.0135), (0.805, 0.000736, -2.73e-6), (6.27, -0.00938, -0.000303), (1.91, 0.0407, -0.000293))


def equilibrium_mc_percent(temperature_c: float, humidity_percent: float) -> float:
    """Moisture content that wood settles at, left long enough in air of this temperature and humidity.

        M = 1800/W * (K h / (1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2))

    Within 0.1 point of the printed table from -1 to 54 C and 5 to 90 % humidity. The same for every species, near
    enough; panels with glue or wax in them settle a little lower.

    temperature_c     temperature of the air [C]
    humidity_percent  relative humidity [%]
    returns           moisture content [%]

    >>> round(equilibrium_mc_percent(21.1, 50), 1)
    9.2

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, coefficients for deg C (memory; the
    table they reproduce was read).
    """
    return _sorption(temperature_c, humidity_percent, _IN_C)


def equilibrium_mc_percent_f(temperature_f: float, humidity_percent: float) -> float:
    """Moisture content that wood settles at, for a thermometer in degrees Fahrenheit.

    The same equation as `equilibrium_mc_percent` with the coefficients printed for deg F, 30 to 130 F.

    temperature_f     temperature of the air [F]
    humidity_percent  relative humidity [%]
    returns           moisture content [%]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 4-5 and Table 4-2. Copies in circulation
    disagree on the linear term of K2; 0.0284 is the one that gives the printed table.
    """
    return _sorption(temperature_f, humidity_percent, _IN_F)


def _sorption(
    temperature: float, humidity_percent: float, coefficients: tuple[tuple[float, float, float], ...]
) -> float:
    """The two-hydrate sorption equation with the coefficients of either scale.

    temperature       in the scale of the coefficients [C or F]
    humidity_percent  relative humidity [%]
    coefficients      a0, a1, a2 of W, K, K1 and K2 [-]
    returns           moisture content [%]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 4-5.
    """
    w, k, k1, k2 = (a0 + a1 * temperature + a2 * temperature**2 for a0, a1, a2 in coefficients)
    kh = k * humidity_percent / 100
    once, twice = k1 * kh, k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + (once + 2 * twice) / (1 + once + twice))


def saturation_pressure_pa(temperature_c: float) -> float:
    """Vapour pressure of air that can hold no more water.

        ln p = c0/T + c1 + c2 T + c3 T^2 + c4 T^3 + c5 T^4 + c6 ln T     with T in kelvin

    Over ice below 0.01 C, over water above it; -100 to 200 C.

    temperature_c  temperature of the air [C]
    returns        pressure [Pa]

    Source: Hyland and Wexler (1983), as in ASHRAE Handbook Fundamentals, ch. 1, eqs. 5 and 6 (memory).
    """
    kelvin = temperature_c + 273.15
    if temperature_c <= 0.01:
        c = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
    else:
        c = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)
    series = c[0] / kelvin + sum(c[n + 1] * kelvin**n for n in range(5))
    return exp(series + c[6] * log(kelvin))


def heated_air_humidity_percent(outdoor_c: float, outdoor_humidity_percent: float, indoor_c: float) -> float:
    """Relative humidity when outdoor air is only warmed (or cooled), with no water added or taken away.

        RH_in = RH_out * p_sat(out) / p_sat(in)

    The dry end of the year in a heated house. It can pass 100 when the air is cooled: then water falls out.

    outdoor_c                 temperature outdoors [C]
    outdoor_humidity_percent  relative humidity outdoors [%]
    indoor_c                  temperature indoors [C]
    returns                   relative humidity indoors [%]

    Source: psychrometrics, textbook; saturation pressure from ASHRAE Handbook Fundamentals, ch. 1 (memory).
    """
    return outdoor_humidity_percent * saturation_pressure_pa(outdoor_c) / saturation_pressure_pa(indoor_c)


def wet_bulb_humidity_percent(dry_c: float, wet_c: float, pressure_pa: float = 101325.0) -> float:
    """Relative humidity from a dry and a wet thermometer.

        W = ((2501 - 2.326 t_wet) W_s(t_wet) - 1.006 (t - t_wet)) / (2501 + 1.86 t - 4.186 t_wet)

    For a wet bulb above freezing.

    dry_c        temperature of the dry bulb [C]
    wet_c        temperature of the wet bulb, not above the dry one [C]
    pressure_pa  pressure of the air [Pa]
    returns      relative humidity [%]

    Source: ASHRAE Handbook Fundamentals, ch. 1, eq. 35 (memory).
    """
    at_wet = saturation_pressure_pa(wet_c)
    full = 0.621945 * at_wet / (pressure_pa - at_wet)
    ratio = ((2501 - 2.326 * wet_c) * full - 1.006 * (dry_c - wet_c)) / (2501 + 1.86 * dry_c - 4.186 * wet_c)
    vapour = pressure_pa * ratio / (0.621945 + ratio)
    return 100 * vapour / saturation_pressure_pa(dry_c)


def meter_correction_percent(wood_c: float, calibrated_c: float = 21.1) -> float:
    """What to add to the reading of a pin meter in wood that is not at the meter's own temperature.

        correction = 0.5 * (calibrated - wood) / 5.6

    Half a point for each 5.6 C (10 F): added in colder wood, taken off in warmer.

    wood_c        temperature of the wood [C]
    calibrated_c  temperature the meter was made for [C]
    returns       correction of the moisture content [%]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), ch. 13.
    """
    return 0.5 * (calibrated_c - wood_c) / (10 / 1.8)
