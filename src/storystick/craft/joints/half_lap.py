"""Half lap: two boards of one thickness cross at a corner or in a tee, half of each cut away; the host shows whole."""

from storystick.craft.draft import Bench, Draft, JointWork, Wanted, minus, plus
from storystick.craft.fits import HOUSED
from storystick.craft.housing import slip
from storystick.craft.joints import JointKind
from storystick.craft.seat import Stretch, across, common, line
from storystick.ground.dim import Dim
from storystick.ground.fields import Fields
from storystick.ground.finding import wrong
from storystick.model.cut import Channel, Side, Spot
from storystick.model.joining import Fit, Joined


def grow(wanted: Wanted, bench: Bench) -> None:
    """Let the guest reach across the whole host."""
    if _lie_alike(wanted):
        wanted.guest.grow(wanted.axis, wanted.sign, wanted.host.span[wanted.axis], "it laps over the whole host")
        return
    says = f"{wanted.guest.name} and {wanted.host.name} do not lie in one plane, so neither can lap over the other."
    bench.mistakes.append(wrong(wanted.place, says, "Join them with dowels or pocket screws."))


def _lie_alike(wanted: Wanted) -> bool:
    over, host, guest = across(wanted), wanted.host, wanted.guest
    return host.thick == guest.thick == over and host.low[over].value == guest.low[over].value


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Cut half of the host away at its hidden side, and half of the guest's end at its face."""
    host, guest, over, along = wanted.host, wanted.guest, across(wanted), line(wanted)
    if _lie_alike(wanted):
        back = -host.faces
        half = host.whole(over) / 2
        end = guest.end(wanted.axis, wanted.sign)
        long = guest.grown[wanted.axis, wanted.sign].by
        reach = Stretch(minus(end, long), end) if wanted.sign > 0 else Stretch(end, plus(end, long))
        room = bench.once(f"half lap in {host.stock.name}", lambda: half, "half the board")
        seat = common(host, guest, along)
        across_host = Stretch(host.lower(wanted.axis), host.upper(wanted.axis))
        wide = (along, seat, guest.whole(along) + slip(bench, HOUSED))
        whole = (wanted.axis, across_host, host.whole(wanted.axis))
        channel = _step(wanted, host, host.side_toward(over, back), wide, whole, room, "half lap")
        host.cuts.append(channel)
        guest_wide = Stretch(guest.lower(along), guest.upper(along))
        side = guest.side_toward(over, -back)
        over_it = (along, guest_wide, guest.whole(along))
        left = minus(guest.whole(over), room)
        guest.cuts.append(_step(wanted, guest, side, (wanted.axis, reach, long), over_it, left, "half lap"))
        _, least, most = HOUSED.dims()
        gap = channel.width - guest.whole(along)
        bench.piece.fits.append(
            Fit(
                f"{wanted.name}.width", gap, least, most, "goes in by hand, then glue", guest.name, host.name,
                channel.name, HOUSED.source, wanted.place,
            )
        )  # fmt: skip
    return Joined(
        wanted.name, "half lap", "half lap", host.name, guest.name, wanted.axis, wanted.sign, True, ("glue",),
        wanted.place,
    )  # fmt: skip


type Run = tuple[int, Stretch, Dim]


def _step(wanted: Wanted, draft: Draft, side: Side, wide: Run, long: Run, deep: Dim, called: str) -> Channel:
    """A channel right across a board: `wide` across its run, `long` along it; axis, stretch and size of each."""
    spots = {draft.lies.index(axis): (draft.own(axis, s.low, s.high)[0], size) for axis, s, size in (wide, long)}
    first, second = sorted(spots)
    at: Spot = (spots[first][0], spots[second][0])
    size: Spot = (spots[first][1], spots[second][1])
    runs = 0 if first == draft.lies.index(long[0]) else 1
    name = f"{draft.name}.{wanted.name.rsplit('.', 1)[-1]}"
    return Channel(name, side, at, size, deep, runs, called, wanted.name, wanted.place)


KIND = JointKind(
    "half lap",
    JointWork("half lap", grow, cut),
    Fields("half lap", ()),
    says="half of each board is cut away where they cross",
    also=("halved", "halving", "half-lap"),
    seats=("frame",),
)
