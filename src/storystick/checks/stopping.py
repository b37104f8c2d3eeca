"""Stopping: how far a motion may go and stay clear of what it would come too near to."""

from collections.abc import Sequence
from dataclasses import replace

from storystick.shapes.motion import Carried, Motion, Slide, Swing
from storystick.shapes.pose import times
from storystick.shapes.solid import Solid
from storystick.shapes.sweep import least_gap

SWEEP_MM = 0.1
ROUNDS = 9  # halvings: to a five-hundredth of the way
TOUCH_MM = 0.05


def safe_share(moving: Sequence[Solid], others: Sequence[Solid], motion: Motion, keep: float) -> float:
    """The greatest share of a motion that stays clear by what is to be kept [mm], by halving, on the safe side.

    0 where it is too near before it begins to move.
    """

    def is_near(share: float) -> bool:
        near = max(keep, TOUCH_MM)
        way = shortened(motion, share)
        least = least_gap(moving, others, way, SWEEP_MM, within=near + SWEEP_MM, enough=near * 0.999)
        return least is not None and least.gap < near

    good, bad = 0.0, 1.0
    if is_near(0.0):
        return 0.0
    for _ in range(ROUNDS):
        middle = (good + bad) / 2
        good, bad = (good, middle) if is_near(middle) else (middle, bad)
    return good


def shortened(motion: Motion, share: float) -> Motion:
    """The same motion, ended after a share of its way."""
    match motion:
        case Swing(_, _, start, end, _):
            return replace(motion, end=start + (end - start) * share)
        case Slide(by, _):
            return replace(motion, by=times(by, share))
        case Carried(by, own):
            return Carried(by, shortened(own, share))
        case _:
            return motion
