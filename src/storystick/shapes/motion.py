"""Motion: how a body moves. Swings, slides, rolls along a path, and bodies carried by others that move.

A motion takes a body from where it is given to where it has moved. It runs over a share from 0 to 1, set by one of two
drives: two motions on one drive go together (a stay with its lid), on two drives each goes as it likes (a drawer in a
cart that may tip).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from storystick.shapes.pose import HERE, Pose, Vector, compose, dot, invert, less, shifted, times, turned, unit

Floats = NDArray[np.float64]
Shares = tuple[float, float]
DRIVES = (0, 1)


@dataclass(frozen=True)
class Still:
    """No motion at all."""


@dataclass(frozen=True)
class Swing:
    """A turn about a line through `about` along `axis`, from one angle to another [degrees], right-hand rule.

    Doors, lids, a piece that is tipped up on its edge.
    """

    axis: Vector
    about: Vector
    start: float
    end: float
    drive: int = 0


@dataclass(frozen=True)
class Slide:
    """Straight along a vector [mm]: a drawer, a piece pushed into place."""

    by: Vector
    drive: int = 0


@dataclass(frozen=True)
class Path:
    """From pose to pose, in equal shares: the body's own origin goes straight, and it turns evenly the short way.

    The body is given in its own coordinates. ValueError for under two poses, or poses of both hands.
    """

    poses: tuple[Pose, ...]
    drive: int = 0

    def __post_init__(self) -> None:
        if len(self.poses) < 2:
            raise ValueError("a path needs two poses at least")
        if len({pose.is_mirrored for pose in self.poses}) > 1:
            raise ValueError("no path leads from a body to its mirror image")


@dataclass(frozen=True)
class Carried:
    """A body with a motion of its own, given where its carrier is at rest, that goes along with the carrier."""

    by: "Motion"
    own: "Motion"


Motion = Still | Swing | Slide | Path | Carried


@dataclass(frozen=True)
class Moment:
    """A motion at one moment: point -> turn @ point + at; and how both change with each of the two shares."""

    turn: Floats
    at: Floats
    turn_rates: tuple[Floats, Floats]
    at_rates: tuple[Floats, Floats]


@dataclass(frozen=True)
class Rates:
    """Upper bounds that hold all through a motion, for rows of points given at rest.

    speed (2, n)     way for each whole share of either drive [mm]
    bend (2, 2, n)   second derivatives of the place [mm]
    spin (2,), twist (2, 2)   the same of the turn alone [rad]
    """

    speed: Floats
    bend: Floats
    spin: Floats
    twist: Floats


def tilt(axis: Vector, about: Vector, degrees: float, drive: int = 0) -> Swing:
    """Tipped from level through an angle about an edge."""
    return Swing(axis, about, 0.0, degrees, drive)


def pose_at(motion: Motion, shares: Shares) -> Pose:
    """Where a motion has taken the body at these shares of the two drives."""
    match motion:
        case Still():
            return HERE
        case Swing(axis, about, start, end, drive):
            return turned(axis, start + (end - start) * shares[drive], about)
        case Slide(by, drive):
            return shifted(times(by, shares[drive]))
        case Path(poses, drive):
            leg, share = _leg(poses, shares[drive])
            return _between(poses[leg], poses[leg + 1], share)
        case Carried(by, own):
            return compose(pose_at(by, shares), pose_at(own, shares))


def breaks(motion: Motion, drive: int) -> tuple[float, ...]:
    """The shares at which a motion changes its way, with 0 and 1; it runs smoothly in between."""
    match motion:
        case Path(poses, driven) if driven == drive:
            legs = len(poses) - 1
            return tuple(i / legs for i in range(legs + 1))
        case Carried(by, own):
            return tuple(sorted({*breaks(by, drive), *breaks(own, drive)}))
        case _:
            return (0.0, 1.0)


def moment(motion: Motion, shares: Shares) -> Moment:
    """A motion and its first derivatives at these shares; at a break, those of the leg that follows."""
    none = (np.zeros((3, 3)), np.zeros(3))
    match motion:
        case Still():
            return _moment(HERE, 0, *none)
        case Swing(axis, about, start, end, drive):
            pose = pose_at(motion, shares)
            turn_rate = math.radians(end - start) * _spinner(axis) @ np.array(pose.turn)
            return _moment(pose, drive, turn_rate, -turn_rate @ np.array(about))
        case Slide(by, drive):
            return _moment(pose_at(motion, shares), drive, none[0], np.array(by))
        case Path(poses, drive):
            leg, _ = _leg(poses, shares[drive])
            axis, angle = _way_round(poses[leg], poses[leg + 1])
            pose, legs = pose_at(motion, shares), len(poses) - 1
            step = np.array(less(poses[leg + 1].origin, poses[leg].origin))
            return _moment(pose, drive, legs * angle * _spinner(axis) @ np.array(pose.turn), legs * step)
        case Carried(by, own):
            a, b = moment(by, shares), moment(own, shares)
            turns = [a.turn_rates[i] @ b.turn + a.turn @ b.turn_rates[i] for i in DRIVES]
            places = [a.turn_rates[i] @ b.at + a.turn @ b.at_rates[i] + a.at_rates[i] for i in DRIVES]
            return Moment(a.turn @ b.turn, a.turn @ b.at + a.at, (turns[0], turns[1]), (places[0], places[1]))


@dataclass(frozen=True)
class Moments:
    """The same at several moments, one a row; the rates by drive first."""

    turn: Floats
    at: Floats
    turn_rates: Floats
    at_rates: Floats


def moments(motion: Motion, shares: Floats) -> Moments:
    """A motion and its first derivatives at many shares (moments, 2); at a break, those of the leg that follows."""
    many = len(shares)
    turn, at = np.tile(np.eye(3), (many, 1, 1)), np.zeros((many, 3))
    turn_rates, at_rates = np.zeros((2, many, 3, 3)), np.zeros((2, many, 3))
    match motion:
        case Swing(axis, about, start, end, drive):
            angle, line, spinner = np.radians(start + (end - start) * shares[:, drive]), unit(axis), _spinner(axis)
            c, s = np.cos(angle)[:, None, None], np.sin(angle)[:, None, None]
            turn = c * np.eye(3) + (1 - c) * np.outer(line, line) + s * spinner
            turn_rates[drive] = math.radians(end - start) * spinner @ turn
            at, at_rates[drive] = np.array(about) - turn @ np.array(about), -turn_rates[drive] @ np.array(about)
        case Slide(by, drive):
            at, at_rates[drive] = shares[:, drive, None] * np.array(by), np.array(by)
        case Carried(by, own):
            a, b = moments(by, shares), moments(own, shares)
            turn_rates = a.turn_rates @ b.turn + a.turn @ b.turn_rates
            spots = b.at[:, :, None]
            at_rates = (a.turn_rates @ spots + a.turn @ b.at_rates[..., None])[..., 0] + a.at_rates
            return Moments(a.turn @ b.turn, (a.turn @ spots)[..., 0] + a.at, turn_rates, at_rates)
        case Path():
            found = [moment(motion, (float(one), float(other))) for one, other in shares]
            turn, at = np.array([one.turn for one in found]), np.array([one.at for one in found])
            turn_rates = np.array([one.turn_rates for one in found]).swapaxes(0, 1)
            at_rates = np.array([one.at_rates for one in found]).swapaxes(0, 1)
        case Still():
            pass
    return Moments(turn, at, turn_rates, at_rates)


def rates(motion: Motion, points: Floats) -> Rates:
    """How fast, and with how much of a bend, each point moves at most."""
    count = len(points)
    match motion:
        case Still():
            return Rates(np.zeros((2, count)), np.zeros((2, 2, count)), np.zeros(2), np.zeros((2, 2)))
        case Swing(axis, about, start, end, drive):
            arms = np.linalg.norm(np.cross(points - np.array(about), np.array(unit(axis))), axis=1)
            angle = abs(math.radians(end - start))
            return _driven(drive, angle * arms, angle**2 * arms, angle)
        case Slide(by, drive):
            return _driven(drive, np.full(count, math.hypot(*by)), np.zeros(count), 0.0)
        case Path(poses, drive):
            legs = [(a, b, _way_round(a, b)[1]) for a, b in pairwise(poses)]
            arms, many = np.linalg.norm(points, axis=1), len(legs)
            ways = [math.dist(a.origin, b.origin) + angle * arms for a, b, angle in legs]
            speed: Floats = np.stack(ways).max(axis=0)
            fastest = max(angle for _, _, angle in legs)
            return _driven(drive, many * speed, (many * fastest) ** 2 * arms, many * fastest)
        case Carried(by, own):
            return _carried(rates(own, points), by, _moved(points, pose_at(own, (0.0, 0.0))))


def _carried(own: Rates, by: Motion, points: Floats) -> Rates:
    """Bounds of one motion inside another: the chain rule, with the carrier's bounds wherever its load may get to."""
    outer = rates(by, points)
    strays = own.speed.sum(axis=0)
    crossed = outer.spin[:, None, None] * own.speed[None]
    twisted = np.outer(outer.spin, own.spin)
    return Rates(
        outer.speed + outer.spin[:, None] * strays + own.speed,
        outer.bend + outer.twist[:, :, None] * strays + crossed + crossed.transpose(1, 0, 2) + own.bend,
        outer.spin + own.spin,
        outer.twist + twisted + twisted.T + own.twist,
    )


def _driven(drive: int, speed: Floats, bend: Floats, spin: float) -> Rates:
    found = Rates(np.zeros((2, len(speed))), np.zeros((2, 2, len(speed))), np.zeros(2), np.zeros((2, 2)))
    found.speed[drive], found.bend[drive, drive] = speed, bend
    found.spin[drive], found.twist[drive, drive] = spin, spin**2
    return found


def _moment(pose: Pose, drive: int, turn_rate: Floats, at_rate: Floats) -> Moment:
    turns, places = [np.zeros((3, 3)), np.zeros((3, 3))], [np.zeros(3), np.zeros(3)]
    turns[drive], places[drive] = turn_rate, at_rate
    return Moment(np.array(pose.turn), np.array(pose.origin), (turns[0], turns[1]), (places[0], places[1]))


def _moved(points: Floats, pose: Pose) -> Floats:
    return np.asarray(points @ np.array(pose.turn).T + np.array(pose.origin))


def _spinner(axis: Vector) -> Floats:
    """The matrix that takes a place to its velocity in a turn of 1 rad about an axis through the origin."""
    x, y, z = unit(axis)
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])


def _leg(poses: Sequence[Pose], share: float) -> tuple[int, float]:
    legs = len(poses) - 1
    leg = min(legs - 1, max(0, math.floor(share * legs + 1e-12)))
    return leg, share * legs - leg


def _between(first: Pose, last: Pose, share: float) -> Pose:
    axis, angle = _way_round(first, last)
    turn = compose(turned(axis, math.degrees(angle * share)), Pose(first.turn)).turn
    step = times(less(last.origin, first.origin), share)
    return Pose(turn, (first.origin[0] + step[0], first.origin[1] + step[1], first.origin[2] + step[2]))


def _way_round(first: Pose, last: Pose) -> tuple[Vector, float]:
    """The axis and the angle [rad] of the turn that takes the first pose to the last, the short way."""
    (a, b, c), (d, e, f), (g, h, i) = compose(Pose(last.turn), invert(Pose(first.turn))).turn
    twice_sine = math.hypot(h - f, c - g, d - b)
    angle = math.atan2(twice_sine, a + e + i - 1)
    if twice_sine > 1e-9:
        return unit((h - f, c - g, d - b)), angle
    if angle < 1:
        return (0.0, 0.0, 1.0), 0.0
    columns = ((a + 1, d, g), (b, e + 1, h), (c, f, i + 1))  # half a turn: twice the axis times itself
    return unit(max(columns, key=lambda column: dot(column, column))), math.pi
