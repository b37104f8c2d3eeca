"""Where a guest meets its host, in the host's own coordinates; and the trough that takes it."""

from dataclasses import dataclass

from storystick.craft.draft import Draft, Wanted, minus, plus
from storystick.ground.dim import Dim
from storystick.model.cut import Channel, Side, Spot


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of one of the assembly's axes."""

    low: Dim
    high: Dim


def common(one: Draft, other: Draft, axis: int) -> Stretch:
    """Where two boards lie beside each other along an axis."""
    low = max((one.lower(axis), other.lower(axis)), key=lambda d: d.value)
    high = min((one.upper(axis), other.upper(axis)), key=lambda d: d.value)
    return Stretch(low, high)


def host_side(wanted: Wanted) -> Side:
    """The side of the host that looks at the guest."""
    return wanted.host.side_toward(wanted.axis, -wanted.sign)


def guest_side(wanted: Wanted) -> Side:
    """The side of the guest that goes to the host: an end or an edge as a rule."""
    return wanted.guest.side_toward(wanted.axis, wanted.sign)


def across(wanted: Wanted) -> int:
    """The axis across the joint: the guest's thickness; where it lies flat on the host, the host's."""
    thick = wanted.guest.thick if wanted.guest.thick != wanted.axis else wanted.host.thick
    return thick if thick != wanted.axis else next(a for a in range(3) if a != wanted.axis)


def line(wanted: Wanted) -> int:
    """The axis along the joint: neither the way in nor across."""
    return next(a for a in range(3) if a not in (wanted.axis, across(wanted)))


def trough(
    wanted: Wanted, depth: Dim, slip: Dim, called: str, stretch: Stretch, *, open_to: int = 0
) -> Channel:
    """The channel in the host that takes the guest: the guest's thickness plus `slip`, along `stretch`, `depth` deep.

    The guest's face nearer to the host's datum stays on its line; the slip is all on the far side.
    `open_to` +1 or -1: the trough is open to the host's edge that way across (a rabbet), and has no slip.
    """
    host, guest, over, along = wanted.host, wanted.guest, across(wanted), line(wanted)
    low, high = guest.lower(over), guest.upper(over)
    if open_to > 0:
        high = host.upper(over)
    elif open_to < 0:
        low = host.lower(over)
    elif host.datum_low(over):
        high = plus(high, slip)
    else:
        low = minus(low, slip)
    spots = {over: host.own(over, low, high), along: host.own(along, stretch.low, stretch.high)}
    if not open_to:
        spots[over] = (spots[over][0], guest.whole(over) + slip)
    own_axis = {axis: host.lies.index(axis) for axis in (over, along)}
    first, second = sorted((over, along), key=lambda a: own_axis[a])
    at: Spot = (spots[first][0], spots[second][0])
    size: Spot = (spots[first][1], spots[second][1])
    side = host_side(wanted)
    runs = 0 if first == along else 1
    name = f"{host.name}.{wanted.name.rsplit('.', 1)[-1]}"
    return Channel(name, side, at, size, depth, runs, called, wanted.name, wanted.place)
