"""Dado: a channel across one panel, the host, that takes the end of another, the guest.

The channel is as wide as the guest really is, plus a slip; the guest grows by its depth. A stopped one begins short of
the host's front, and the guest's front corner is notched to pass it.
"""

from fractions import Fraction

from storystick.craft.draft import Bench, JointWork, Wanted
from storystick.craft.fastening import FASTENED, fastened
from storystick.craft.fits import HOUSED
from storystick.craft.housing import depth, flush_across, slip, stop_short, width_fit
from storystick.craft.joints import JointKind
from storystick.craft.seat import Stretch, common, line, trough
from storystick.ground.fields import Field, Fields, Filled, Flag, Length
from storystick.ground.source import practice
from storystick.model.joining import Joined

DEPTH = practice("a third of the host's thickness, rounded down")


def grow(wanted: Wanted, bench: Bench) -> None:
    """Let the guest reach the channel's floor."""
    options: Filled = wanted.options
    deep = depth(wanted, bench, "dado", options.maybe_length("depth"), Fraction(1, 3), DEPTH)
    takes = "a rabbet takes this end" if flush_across(wanted) else "a dado takes this end"
    wanted.guest.grow(wanted.axis, wanted.sign, deep, takes)


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Cut the channel in the host; stopped ones begin short of the front.

    Where the guest lies flush with the host's end no wood is left beyond it: the channel is a rabbet, open to that end.
    """
    options: Filled = wanted.options
    deep = wanted.guest.grown[wanted.axis, wanted.sign].by
    along = line(wanted)
    stretch = common(wanted.host, wanted.guest, along)
    stop = options.maybe_length("stopped")
    if stop is not None:
        stop_short(wanted, bench, -1, stop, deep)
        stretch = Stretch(stretch.low + stop, stretch.high)
    flush = flush_across(wanted)
    called = ("stopped " if stop else "") + ("rabbet" if flush else "dado")
    channel = trough(wanted, deep, slip(bench, HOUSED), called, stretch, open_to=flush)
    wanted.host.cuts.append(channel)
    if not flush:
        bench.piece.fits.append(width_fit(wanted, channel, HOUSED, "goes in by hand, then glue"))
    return fastened(wanted, bench, channel.called, glued=options.flag("glue"), also=() if flush else ("captured",))


KIND = JointKind(
    "dado",
    JointWork("dado", grow, cut),
    Fields(
        "dado",
        (
            Field("depth", Length, help="how deep the host is cut; a third of its thickness if not said"),
            Field("stopped", Length, help="how far short of the front it begins; right through if not said"),
            Field("glue", Flag, default="yes", help="glued"),
            *FASTENED,
        ),
    ),
    says="a channel across the host takes the guest's end",
    also=("housing", "dadoes"),
    seats=("inside", "corner"),
)
