"""Magnets: field, pull on steel across a gap, and what is left when the pull is sideways or the steel is thin.

A gap is anything that is not steel: air, paint, tape, a skin of wood, the floor of a cup. The catalogue's number is for
none of it, on thick, flat, clean steel.
"""

from functools import lru_cache
from math import exp, pi, sqrt

from storystick.physics.bessel import bessel_j1

MU0 = 4e-7 * pi
"""Permeability of empty space [T m/A]."""
DESIGN_SHARE = (0.3, 0.5)
"""Share of a catalogue's pull to count on in wood: paint, thin sheet, tilt, glue (common practice, no source) [-]."""
SIDEWAYS_SHARE = (0.15, 0.25)
"""Share of the straight pull that holds against sliding, bare nickel on smooth steel (practice) [-]."""
SATURATION_T = 1.6
"""Flux density at which mild steel begins to take no more (practice) [T]."""


def axis_field_t(remanence_t: float, diameter_mm: float, thick_mm: float, from_face_mm: float) -> float:
    """Flux density on the axis of a disc magnetised through its thickness.

        B = Br/2 ((z + t) / sqrt((z + t)^2 + R^2) - z / sqrt(z^2 + R^2))

    remanence_t   remanence of the grade [T]
    diameter_mm   diameter [mm]
    thick_mm      thickness [mm]
    from_face_mm  distance from the face [mm]
    returns       flux density [T]

    Source: textbook electromagnetics (memory).
    """
    radius, far = diameter_mm / 2, from_face_mm + thick_mm
    near = from_face_mm / sqrt(from_face_mm**2 + radius**2)
    return remanence_t / 2 * (far / sqrt(far**2 + radius**2) - near)


def pull_on_plate_n(
    remanence_t: float, diameter_mm: float, thick_mm: float, gap_mm: float, hole_mm: float = 0.0
) -> float:
    """Straight pull of a disc or ring magnet on thick flat steel across a gap, by the image method.

        F = pi Br^2 / mu0 * integral of (R J1(kR) - r J1(kr))^2 / k * (e^(-k g) - e^(-k (g + t)))^2 dk

    The square of twice the magnet's own field over 2 mu0, summed over the plate. Takes the plate as endless and never
    saturated and the magnet's recoil permeability as 1: about 5 % above finite elements. Good for gaps from a
    thousandth of the radius up; a gap of nothing is read as that, since no two faces touch all over.

    remanence_t  remanence of the grade, low end [T]
    diameter_mm  outside diameter [mm]
    thick_mm     thickness [mm]
    gap_mm       all that lies between magnet and steel [mm]
    hole_mm      diameter of the hole of a ring, 0 for a disc [mm]
    returns      pull [N]

    Source: textbook magnetostatics, image method and Maxwell stress (memory).
    """
    radius = diameter_mm / 2
    hole, thick, gap = hole_mm / diameter_mm, thick_mm / radius, max(gap_mm / radius, 0.001)
    area_m2 = (radius * 1e-3) ** 2
    return pi * remanence_t**2 * area_m2 / MU0 * _pull_integral(thick, gap, hole)


@lru_cache(maxsize=256)
def _pull_integral(thick: float, gap: float, hole: float) -> float:
    """The integral in the pull, with all lengths in radii of the magnet; Simpson's rule, then the mean of the tail.

        integral from 0 of (J1(x) - h J1(h x))^2 / x * (e^(-x g) - e^(-x (g + t)))^2 dx

    thick    thickness over radius [-]
    gap      gap over radius [-]
    hole     hole over diameter [-]
    returns  integral [-]

    Source: Simpson's rule; for large x the mean of J1^2 is 1 / (pi x).
    """
    last = min(300.0, 20 / gap)
    step = min(0.15, last / 40)
    count = 2 * int(last / (2 * step) + 1)
    total = 0.0
    for n in range(1, count + 1):
        x = n * step
        ring = bessel_j1(x) - (hole * bessel_j1(hole * x) if hole else 0.0)
        value = ring**2 / x * (exp(-x * gap) - exp(-x * (gap + thick))) ** 2
        total += value * (1 if n == count else 4 if n % 2 else 2)
    total *= step / 3

    end, mean, pieces = count * step, (1 + hole) / pi, 40
    tail = 0.0
    for n in range(1, pieces + 1):
        u = n / (pieces * end)
        tail += exp(-2 * gap / u) * (1 if n == pieces else 4 if n % 2 else 2)
    return total + mean * tail / (3 * pieces * end)


def pull_between_magnets_n(remanence_t: float, diameter_mm: float, thick_mm: float, gap_mm: float) -> float:
    """Straight pull between two like discs that face each other.

        the pull on steel at half the gap

    remanence_t  remanence of the grade, low end [T]
    diameter_mm  diameter of each [mm]
    thick_mm     thickness of each [mm]
    gap_mm       between the two faces [mm]
    returns      pull [N]

    Source: textbook magnetostatics: the steel mirrors the magnet at twice the gap (memory).
    """
    return pull_on_plate_n(remanence_t, diameter_mm, thick_mm, gap_mm / 2)


def sideways_hold_n(pull_n: float, share: float = 0.15) -> float:
    """What a magnet holds against sliding.

        F = share * pull

    A bare plated magnet on smooth steel: 0.15 to 0.25. Where the load is sideways, give it a lip or a pin instead.

    pull_n   straight pull at the real gap [N]
    share    friction [-]
    returns  force that begins to slide it [N]

    Source: common practice, no source.
    """
    return share * pull_n


def steel_to_carry_mm(remanence_t: float, diameter_mm: float, thick_mm: float, gap_mm: float) -> float:
    """Thickness of steel that carries off a disc's flux without saturating: thinner steel gives less than the pull.

        2 pi R T B_s = pi R^2 B    so    T = B R / (2 B_s),    B twice the magnet's own field on the axis

    An estimate on the thick side for thin discs: the field falls off towards the rim.

    remanence_t  remanence of the grade [T]
    diameter_mm  diameter [mm]
    thick_mm     thickness [mm]
    gap_mm       all that lies between magnet and steel [mm]
    returns      thickness of steel [mm]

    Source: textbook: the flux that enters under the disc leaves through the steel at its rim. B_s is practice.
    """
    field = 2 * axis_field_t(remanence_t, diameter_mm, thick_mm, gap_mm)
    return field * diameter_mm / 2 / (2 * SATURATION_T)


def flux_index_kg2mm2(surface_t: float, diameter_mm: float) -> float:
    """Flux index of a loose magnet: 50 and over is too strong for things sold to play with.

        index = (flux density at the pole in kilogauss)^2 * area of the pole

    surface_t    greatest flux density at the pole face [T]
    diameter_mm  diameter of the pole [mm]
    returns      index [kG2 mm2]

    Source: 16 CFR 1262.3 (limit read); the product of squared flux density and area, ASTM F963 (memory).
    """
    return (10 * surface_t) ** 2 * pi * diameter_mm**2 / 4
