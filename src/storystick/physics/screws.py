"""Wood screws: sizes from the gauge, the holes they want, how far from an edge, how long, and what they hold.

Two families of loads are kept apart by name. `allowable_...` is a design value with the code's safety in it.
`failure_...` is the load at which a test screw lets go, about 5.5 times as much: never print one as the other. In end
grain count on neither (National Design Specification: no wood screw is loaded in withdrawal from end grain).
"""

from typing import NamedTuple

from storystick.physics.units import MM_PER_IN, MPA_PER_PSI

FULL_PENETRATION_DIAMETERS = 10.0
LEAST_PENETRATION_DIAMETERS = 6.0
"""Depth in the receiving piece for the full and for any lateral value, in diameters (NDS, memory) [-]."""

LATERAL_OLD_PSI: dict[str, float] = {"I": 4800.0, "II": 3960.0, "III": 3240.0, "IV": 2520.0}
"""C of the older allowable lateral load p = C D^2, by wood group (building-design handbook; III memory) [lbf/in2]."""

WOOD_GROUPS: tuple[tuple[str, float], ...] = (("I", 0.62), ("II", 0.51), ("III", 0.42), ("IV", 0.31))
"""The lightest wood of each group, ovendry specific gravity (older National Design Specification, memory) [-]."""

THREADS_PER_INCH: dict[int, int] = {
    0: 32, 1: 28, 2: 26, 3: 24, 4: 22, 5: 20, 6: 18, 7: 16, 8: 15, 9: 14, 10: 13, 12: 11, 14: 10, 16: 9, 18: 8, 20: 8,
    24: 7,
}  # fmt: skip
"""Threads of a wood screw by its gauge (ASME B18.6.1; 2, 5 and 6 read, the rest memory) [1/in]."""
SHANK_OVER_IN, SHANK_UNDER_IN = 0.004, 0.007
"""How much thicker and thinner than its gauge says a shank may be (ASME B18.6.1, read) [in]."""


class LateralRow(NamedTuple):
    """A line of Wood Handbook Table 8-4: woods of like density share a constant."""

    from_gravity: float
    to_gravity: float
    k_psi: float


LATERAL_HARDWOOD = (LateralRow(0.33, 0.47, 3360.0), LateralRow(0.48, 0.56, 4640.0), LateralRow(0.57, 0.74, 6400.0))
LATERAL_SOFTWOOD = (LateralRow(0.29, 0.42, 3380.0), LateralRow(0.43, 0.47, 4320.0), LateralRow(0.48, 0.52, 5280.0))
"""K of the proportional-limit lateral load p = K D^2 (Wood Handbook, Table 8-4, memory) [lbf/in2]."""


class Distances(NamedTuple):
    """Least distances of wood screws, all [mm]."""

    edge_mm: float
    end_pulled_mm: float
    """To the end that the load pulls towards."""
    end_pushed_mm: float
    along_mm: float
    """Between screws in a row along the grain."""
    across_mm: float
    rows_mm: float
    """Between rows, screws side by side."""
    rows_staggered_mm: float


def wood_group(gravity: float) -> str:
    """The group of the older rule that a wood is in; a density between two groups takes the lighter one.

        I from 0.62, II from 0.51, III from 0.42, else IV

    gravity  specific gravity of the wood, ovendry [-]
    returns  I, II, III or IV [-]

    Source: National Design Specification for Wood Construction, older editions, table of wood groups (memory).
    """
    return next((group for group, least in WOOD_GROUPS if gravity >= least), "IV")


def pitch_mm(gauge: int) -> float:
    """How far a wood screw goes in with one turn.

        25.4 / threads per inch

    gauge    number of the screw [-]
    returns  pitch of the thread [mm]

    Source: ASME B18.6.1 (2, 5 and 6 read, the rest memory).
    """
    return MM_PER_IN / THREADS_PER_INCH[gauge]


def gauge_diameter_mm(gauge: float) -> float:
    """Shank diameter of an American wood screw.

        D = 0.060 + 0.013 N    in inches

    gauge    number of the screw [-]
    returns  diameter of the shank [mm]

    >>> round(gauge_diameter_mm(8) / 25.4, 3)
    0.164

    Source: ASME B18.6.1 (memory).
    """
    return (0.060 + 0.013 * gauge) * MM_PER_IN


def british_gauge_diameter_mm(gauge: float) -> float:
    """Shank diameter of a British wood screw.

        D = 0.066 + 0.014 (N - 1)    in inches

    It meets the American size near No. 8 and runs thicker above.

    gauge    number of the screw [-]
    returns  diameter of the shank [mm]

    Source: a furniture-making text on the British screw gauge (read).
    """
    return (0.066 + 0.014 * (gauge - 1)) * MM_PER_IN


def clearance_bit_mm(gauge: float) -> float:
    """Bit that lets the shank through freely, by the trade's rule.

        (N + 3) sixty-fourths of an inch

    gauge    number of the screw [-]
    returns  diameter of the bit [mm]

    Source: a furniture-making text, the N + 3 rule (read).
    """
    return (gauge + 3) / 64 * MM_PER_IN


def withdrawal_pilot_mm(gravity: float, root_mm: float) -> float:
    """Lead hole for a screw that will be pulled.

        0.90 root from G 0.6 up, 0.70 root between 0.5 and 0.6, none needed below (0 is returned)

    gravity  specific gravity of the receiving wood [-]
    root_mm  root diameter of the thread [mm]
    returns  diameter of the hole, 0 where none is needed [mm]

    Source: National Design Specification for Wood Construction, wood screws (read).
    """
    if gravity >= 0.6:
        return 0.90 * root_mm
    return 0.70 * root_mm if gravity > 0.5 else 0.0


def lateral_holes_mm(gravity: float, shank_mm: float, root_mm: float) -> tuple[float, float]:
    """Holes for shank and thread of a screw that will be pushed sideways.

        G 0.6 and up: shank and root diameter; less dense wood: 7/8 of each

    gravity   specific gravity of the wood [-]
    shank_mm  diameter of the shank [mm]
    root_mm   root diameter of the thread [mm]
    returns   hole for the shank, hole for the thread [mm]

    Source: National Design Specification for Wood Construction, wood screws (read).
    """
    share = 1.0 if gravity >= 0.6 else 7 / 8
    return share * shank_mm, share * root_mm


def least_distances_mm(diameter_mm: float, bored: bool = True) -> Distances:
    """How near to an edge, an end and each other screws may stand before the wood splits.

        in diameters, with lead holes (without): edge 2.5 (2.5); end 10 (15) pulled, 5 (10) pushed;
        along the grain 10 (15), across 5 (10); rows 5, staggered 2.5

    diameter_mm  diameter of the shank [mm]
    bored        whether lead holes are bored [-]
    returns      the distances [mm]

    Source: National Design Specification for Wood Construction, commentary, wood screws (memory).
    """
    times = (2.5, 10.0, 5.0, 10.0, 5.0, 5.0, 2.5) if bored else (2.5, 15.0, 10.0, 15.0, 10.0, 5.0, 2.5)
    return Distances(*(diameter_mm * n for n in times))


def thread_mm(long_mm: float) -> float:
    """Length of thread of a cut-thread wood screw.

        two thirds of the length

    long_mm  length of the screw [mm]
    returns  length of thread, tip included [mm]

    Source: ASME B18.6.1 as quoted in handbooks (read).
    """
    return long_mm * 2 / 3


def thread_in_receiver_mm(long_mm: float, first_mm: float, thread_long_mm: float, tip_mm: float = 0.0) -> float:
    """Length of thread that holds in the second piece.

        min(length - first piece, thread) - tip, not below nothing

    long_mm         length of the screw, from the face it is driven flush with [mm]
    first_mm        thickness of the first piece under the head [mm]
    thread_long_mm  length of thread on the screw [mm]
    tip_mm          tapered tip, which is not counted for lag screws [mm]
    returns         thread that holds [mm]

    Source: geometry.
    """
    return max(0.0, min(long_mm - first_mm, thread_long_mm) - tip_mm)


def wanted_length_mm(first_mm: float, share_in_receiver: float = 2 / 3) -> float:
    """Length of screw that leaves two thirds of itself in the receiving piece.

        length = first piece / (1 - share)

    first_mm           thickness of the first piece under the head [mm]
    share_in_receiver  two thirds, or half in thick stock [-]
    returns            length of the screw [mm]

    Source: trade rule of two thirds (read).
    """
    return first_mm / (1 - share_in_receiver)


def allowable_withdrawal_n(gravity: float, diameter_mm: float, thread_held_mm: float) -> float:
    """What a screw in side grain may be pulled with: a design value, normal duration of load, dry.

        W = 2850 G^2 D    lbf for each inch of thread

    G of this formula is on ovendry weight and volume, a little higher than the handbook's at 12 %; the handbook's
    value is on the safe side.

    gravity         specific gravity of the receiving wood [-]
    diameter_mm     diameter of the shank [mm]
    thread_held_mm  thread in the receiving piece [mm]
    returns         allowable pull [N]

    Source: National Design Specification for Wood Construction, eq. 12.2-2 (read).
    """
    return 2850 * MPA_PER_PSI * gravity**2 * diameter_mm * thread_held_mm


def failure_withdrawal_n(gravity: float, diameter_mm: float, thread_held_mm: float) -> float:
    """Pull at which a screw in side grain lets go: a mean of tests, no safety in it.

        p = 15700 G^2 D L    (lbf, in)  =  108.25 G^2 D L    (N, mm)

    gravity         specific gravity of the receiving wood at 12 % [-]
    diameter_mm     diameter of the shank [mm]
    thread_held_mm  thread in the receiving piece [mm]
    returns         pull at failure [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 8-10 (memory).
    """
    return 15700 * MPA_PER_PSI * gravity**2 * diameter_mm * thread_held_mm


def old_allowable_lateral_n(group: str, diameter_mm: float) -> float:
    """What a screw may carry sideways by the older rule of wood groups, at full penetration.

        p = C D^2

    group        wood group I, II, III or IV [-]
    diameter_mm  diameter of the shank [mm]
    returns      allowable load across the screw [N]

    Source: building-design handbook, eq. 6.38 (read).
    """
    return LATERAL_OLD_PSI[group] * MPA_PER_PSI * diameter_mm**2


def proportional_lateral_n(gravity: float, diameter_mm: float, hardwood: bool) -> float:
    """Load across a screw up to which it springs back: neither a design value nor failure.

        p = K D^2,    K by the density of the wood

    Holds for 7 diameters of penetration at least. A density between two lines of the table takes the lower line; below
    the table it takes the first line scaled by the square of the density.

    gravity      specific gravity of the wood [-]
    diameter_mm  diameter of the shank [mm]
    hardwood     whether the wood is a hardwood [-]
    returns      load at the proportional limit [N]

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 8-4 (memory).
    """
    rows = LATERAL_HARDWOOD if hardwood else LATERAL_SOFTWOOD
    first = rows[0]
    k = first.k_psi * min(1.0, (gravity / first.from_gravity) ** 2)
    for row in rows:
        if gravity >= row.from_gravity:
            k = row.k_psi
    return k * MPA_PER_PSI * diameter_mm**2


def penetration_share(penetration_mm: float, diameter_mm: float) -> float:
    """Share of the lateral value that a screw of this depth is worth.

        1 at 10 diameters, in proportion down to 6, nothing below

    penetration_mm  depth in the receiving piece [mm]
    diameter_mm     diameter of the shank [mm]
    returns         share [-]

    Source: National Design Specification for Wood Construction, wood screws (memory).
    """
    deep = penetration_mm / diameter_mm
    return 0.0 if deep < LEAST_PENETRATION_DIAMETERS else min(1.0, deep / FULL_PENETRATION_DIAMETERS)
