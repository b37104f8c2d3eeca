"""Stub tenon: a rail's end is cut to a tongue that goes into the groove along a stile, or into a slot of its own."""

from fractions import Fraction

from storystick.craft.draft import Bench, Draft, JointWork, Wanted, minus, plus
from storystick.craft.fits import TENON
from storystick.craft.housing import depth, slip
from storystick.craft.joints import JointKind
from storystick.craft.seat import Stretch, across, common, host_side, line, trough
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.fields import Field, Fields, Length
from storystick.ground.length import down_to
from storystick.ground.source import practice
from storystick.model.cut import Channel, Side, Spot
from storystick.model.joining import Fit, Joined

SHORT = practice("a stub tenon ends 0.5 mm (1/64 in) short of the floor of its groove")
DEPTH = practice("a slot for a stub tenon is a third of its host deep, rounded down")
THIRD = practice("a tenon of its own slot is a third of its rail thick, rounded down")


def grow(wanted: Wanted, bench: Bench) -> None:
    """Let the rail reach into the groove, a whisker short of its floor."""
    deep = _deep(wanted, bench)
    name = f"stub tenon long in {wanted.host.stock.name}"
    short = rule("short of the floor", bench.step("1/64", "1/2"), SHORT)
    long = bench.once(name, lambda: deep - short, "the groove's depth, a whisker short of its floor")
    wanted.guest.grow(wanted.axis, wanted.sign, long, "a stub tenon goes into the groove")


def _deep(wanted: Wanted, bench: Bench) -> Dim:
    return depth(wanted, bench, "groove", wanted.options.maybe_length("depth"), Fraction(1, 3), DEPTH)


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Cut both cheeks of the tenon to the groove that is there; where there is none, a slot for it."""
    host, guest, over, along = wanted.host, wanted.guest, across(wanted), line(wanted)
    groove = _groove(wanted)
    if groove is None:
        groove = _slot(wanted, bench)
        host.cuts.append(groove)
    low, wide = _across_host(host, groove, over)
    cheeks = (
        (-1, minus(low, guest.lower(over))),
        (1, minus(guest.upper(over), plus(low, wide)) + slip(bench, TENON)),
    )
    thick = guest.whole(over)
    for sign, deep in cheeks:
        if deep.value > 0:
            guest.cuts.append(_cheek(wanted, sign, deep, along))
            thick = thick - deep
    _, least, most = TENON.dims()
    bench.piece.fits.append(
        Fit(
            f"{wanted.name}.thickness", wide - thick, least, most, "goes in by hand, then glue", guest.name, host.name,
            groove.name, TENON.source, wanted.place,
        )
    )  # fmt: skip
    return Joined(
        wanted.name, "stub tenon", "stub tenon", host.name, guest.name, wanted.axis, wanted.sign, True, ("glue",),
        wanted.place,
    )  # fmt: skip


def _groove(wanted: Wanted) -> Channel | None:
    """The groove that runs along the host's side where the guest comes to it."""
    side = host_side(wanted)
    own_line = wanted.host.lies.index(line(wanted))
    for one in wanted.host.cuts:
        if (
            isinstance(one, Channel)
            and one.side is side
            and one.side.axes[one.runs] == own_line
            and one.called == "groove"
        ):
            return one
    return None


def _slot(wanted: Wanted, bench: Bench) -> Channel:
    """A slot in the middle of the host's side, as long as the guest is wide and a third of it thick."""
    guest, over = wanted.guest, across(wanted)
    thick = guest.whole(over)
    third = bench.once(
        f"tenon thick in {guest.stock.name}",
        lambda: chosen(down_to(thick.value / 3, bench.step("1/16", "1")), THIRD, thick),
        "a third of the rail",
    )
    stretch = common(wanted.host, guest, line(wanted))
    whole = trough(wanted, _deep(wanted, bench), third, "slot", stretch)
    start = plus(guest.lower(over), (thick - third) / 2)
    own = wanted.host.own(over, start, plus(start, third))[0]
    which = 1 - whole.runs
    at: Spot = (own, whole.at[1]) if which == 0 else (whole.at[0], own)
    size: Spot = (third, whole.size[1]) if which == 0 else (whole.size[0], third)
    return Channel(whole.name, whole.side, at, size, whole.depth, whole.runs, "slot", wanted.name, wanted.place)


def _across_host(host: Draft, groove: Channel, over: int) -> tuple[Dim, Dim]:
    """Where a groove begins across the joint, along the assembly's axis, and how wide it is."""
    which = groove.side.axes.index(host.lies.index(over))
    at, wide = groove.at[which], groove.size[which]
    return (plus(host.lower(over), at) if host.datum_low(over) else minus(minus(host.upper(over), at), wide)), wide


def _cheek(wanted: Wanted, sign: int, deep: Dim, along: int) -> Channel:
    """The step that is taken off one side of the guest's end."""
    guest, axis, over = wanted.guest, wanted.axis, across(wanted)
    long = guest.grown[axis, wanted.sign].by
    end = guest.end(axis, wanted.sign)
    reach = (minus(end, long), end) if wanted.sign > 0 else (end, plus(end, long))
    across_it = Stretch(guest.lower(along), guest.upper(along))
    own_axis, own_along = guest.lies.index(axis), guest.lies.index(along)
    spots = {
        own_axis: (guest.own(axis, *reach)[0], long),
        own_along: (guest.own(along, across_it.low, across_it.high)[0], guest.whole(along)),
    }
    side: Side = guest.side_toward(over, sign)
    first, second = sorted(spots)
    at: Spot = (spots[first][0], spots[second][0])
    size: Spot = (spots[first][1], spots[second][1])
    runs = 0 if first == own_along else 1
    word = "near" if sign < 0 else "far"
    name = f"{guest.name}.{wanted.name.rsplit('.', 1)[-1]}, {word} cheek"
    return Channel(name, side, at, size, deep, runs, "tenon cheek", wanted.name, wanted.place)


KIND = JointKind(
    "stub tenon",
    JointWork("stub tenon", grow, cut),
    Fields("stub tenon", (Field("depth", Length, help="how deep the groove is; a third of the host if not said"),)),
    says="the rail's end is a tongue in the stile's groove",
    also=("tongue", "tongue and groove"),
    seats=("frame",),
)
