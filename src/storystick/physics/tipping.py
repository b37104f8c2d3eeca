"""Whether a piece stays on its feet: a sum of moments about the edge that it would go over.

Work it three ways: empty with every drawer out, filled with every drawer out, and with a pull at the top. On castors
the edge is the line between two wheels turned the worst way.
"""

from collections.abc import Iterable
from math import atan2, cos, degrees, radians, sin

from storystick.physics.units import MM_PER_IN, N_PER_LBF

MARGIN = 1.5
"""To aim at over a load that just tips, for shop furniture (practice) [-]."""


LEANING_MARGIN = 1.2
"""The same where the floor leans as badly as floors do (practice) [-]."""
FLOOR_FALLS = 1 / 50
"""As a garage floor falls towards its door (practice) [-]."""
HOLDS_ON_SLOPE = 0.3
"""Tangent of the slope on which wood on wood or steel begins to slide, low (textbook friction, memory) [-]."""
COUNTED_HIGH_MM, COUNTED_N = 27 * MM_PER_IN, 30 * N_PER_LBF
"""Height and empty weight from which a rule for clothes storage counts a piece (ASTM F2057-23, 16 CFR 1261, read)."""
COUNTED_MM3 = 3.2 * (12 * MM_PER_IN) ** 3
"""Closed storage from which it does (16 CFR 1261, memory) [mm3]."""
PULL_N, PULL_HIGHEST_MM = 10 * N_PER_LBF, 56 * MM_PER_IN
"""Pull at the top of what is shut, and the greatest height for it (ASTM F2057-23, section 9, memory)."""
CARPET_MM, CHILD_N = 0.43 * MM_PER_IN, 60 * N_PER_LBF
"""How far carpet lifts the rear, and what then hangs on one open drawer front (ASTM F2057-23, section 9, memory)."""
STRAP_N = 50 * N_PER_LBF
"""What a strap to the wall must hold (ASTM F2057, F3096, read) [N]."""


def tip_force_n(weight_n: float, behind_mm: float, push_high_mm: float) -> float:
    """Horizontal push that begins to tip a piece.

        F = W x / h

    weight_n      weight of it all [N]
    behind_mm     centre of gravity behind the edge it would go over [mm]
    push_high_mm  height of the push above that edge [mm]
    returns       force [N]

    Source: statics.
    """
    return weight_n * behind_mm / push_high_mm


def standing_moment_nmm(weights: Iterable[tuple[float, float]]) -> float:
    """Moment that keeps a piece standing; below nothing it goes over.

        M = sum(w x),   x behind the edge positive, in front of it negative

    weights  weight and place of each thing: case, drawers pulled out, load, machine on top [N, mm]
    returns  moment about the edge [N mm]

    Source: statics.
    """
    return sum(weight * behind for weight, behind in weights)


def tip_margin(weights: Iterable[tuple[float, float]]) -> float:
    """How many times the moment that holds a piece down is the moment that would turn it over.

        sum of what is behind the edge / sum of what is in front of it

    weights  weight and place of each thing, behind the edge positive [N, mm]
    returns  ratio, infinite when nothing is in front [-]

    Source: statics.
    """
    moments = [weight * behind for weight, behind in weights]
    over = -sum(m for m in moments if m < 0)
    return sum(m for m in moments if m > 0) / over if over else float("inf")


def tip_angle_deg(behind_mm: float, high_mm: float) -> float:
    """Tilt at which a piece goes over by itself.

        a = atan(x / z)

    behind_mm  centre of gravity behind the edge it would go over [mm]
    high_mm    centre of gravity above the floor [mm]
    returns    angle [deg]

    Source: statics.
    """
    return degrees(atan2(behind_mm, high_mm))


def behind_on_slope_mm(behind_mm: float, high_mm: float, slope_deg: float) -> float:
    """How far the centre of gravity stays behind the edge on a floor that falls towards it.

        x' = x cos a - z sin a

    behind_mm  centre of gravity behind the edge, on a level floor [mm]
    high_mm    centre of gravity above the floor [mm]
    slope_deg  slope of the floor, downhill to the edge positive [deg]
    returns    horizontal distance behind the edge [mm]

    Source: statics.
    """
    return behind_mm * cos(radians(slope_deg)) - high_mm * sin(radians(slope_deg))


def leaning_margin(weights: Iterable[tuple[float, float, float]], lean_deg: float) -> float:
    """How many times the moment that holds a piece down is the moment that would turn it over, where the floor leans.

        sum of w x cos a behind the edge / (sum of w x cos a in front of it + sum of w z sin a)

    weights   weight of each thing, its place behind the edge, and above the floor [N, mm, mm]
    lean_deg  how far the floor falls towards the edge [deg]
    returns   ratio, infinite when nothing turns it over [-]

    Source: statics.
    """
    lean, down, over, high = radians(lean_deg), 0.0, 0.0, 0.0
    for weight, behind, above in weights:
        high += weight * above
        if behind > 0:
            down += weight * behind
        else:
            over -= weight * behind
    over = over * cos(lean) + max(0.0, high) * sin(max(0.0, lean))
    return down * cos(lean) / over if over > 0 else float("inf")


def castor_load_n(weight_n: float) -> float:
    """Load to choose each of four castors for.

        W / 3

    On an uneven floor one of four wheels carries little.

    weight_n  weight of the piece with all that stands on it [N]
    returns   rating wanted of each castor [N]

    Source: common practice, no source.
    """
    return weight_n / 3


def castor_edge_mm(plate_centre_mm: float, swivel_offset_mm: float) -> float:
    """Where a piece on swivel castors tips: the contact points with the wheels turned the worst way.

        from the face of the piece to the plate's centre, plus the offset

    plate_centre_mm   from the face of the piece to the centre of the swivel [mm]
    swivel_offset_mm  from the swivel's centre to where the wheel touches [mm]
    returns           from the face of the piece to the edge it tips over [mm]

    Source: geometry; taking the worst position is practice.
    """
    return plate_centre_mm + swivel_offset_mm


def drawer_volume_mm3(wide_mm: float, deep_mm: float, clear_high_mm: float) -> float:
    """Volume that counts as filled in a drawer's stability test.

        (clear height - 1/8 in) * width * depth

    wide_mm        inside width [mm]
    deep_mm        inside depth [mm]
    clear_high_mm  from the bottom to the lowest thing above [mm]
    returns        volume [mm3]

    Source: ASTM F2057-23 as explained by the regulator (read).
    """
    return (clear_high_mm - MM_PER_IN / 8) * wide_mm * deep_mm


def drawer_fill_kg(volume_mm3: float, density_kg_m3: float = 136.157) -> float:
    """Mass that a stability test puts into a drawer.

        8.5 lb for each cubic foot

    volume_mm3     volume that counts [mm3]
    density_kg_m3  density of the filling [kg/m3]
    returns        mass [kg]

    Source: 16 CFR 1261 (2022 text); the same in ASTM F2057-23 (read).
    """
    return volume_mm3 * 1e-9 * density_kg_m3
