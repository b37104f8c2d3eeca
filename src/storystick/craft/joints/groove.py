"""Groove: a channel along the host that takes the edge of a thin panel: a back, a drawer bottom. It stays unglued."""

from fractions import Fraction

from storystick.craft.draft import Bench, JointWork, Wanted, minus
from storystick.craft.fits import BETWEEN_FLOORS, LOOSE_PANEL
from storystick.craft.housing import depth, reach_fit, slip, width_fit
from storystick.craft.joints import JointKind
from storystick.craft.seat import Stretch, common, line, trough
from storystick.ground.dim import rule
from storystick.ground.fields import Field, Fields, Filled, Flag, Length
from storystick.ground.source import practice
from storystick.model.joining import Joined

DEPTH = practice("a groove is a third of the host deep, rounded down")
PLAY = practice("a panel is a whisker smaller than the floors of its grooves: 1 mm shy at each edge")


def grow(wanted: Wanted, bench: Bench) -> None:
    """Let the panel reach into the groove, a whisker short of its floor."""
    options: Filled = wanted.options
    deep = depth(wanted, bench, "groove", options.maybe_length("depth"), Fraction(1, 3), DEPTH)
    name = "play in a groove"
    play = bench.once(name, lambda: rule(name, 1, PLAY), "so that the panel never bottoms out")
    into = f"reach into grooves in {wanted.host.stock.name}"
    reach = bench.once(into, lambda: minus(deep, play), "the groove less the play")
    wanted.guest.grow(wanted.axis, wanted.sign, reach, "a groove takes this edge")


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Plough the groove: right through the host's length, or only as long as the panel if it is stopped."""
    options: Filled = wanted.options
    deep = depth(wanted, bench, "groove", options.maybe_length("depth"), Fraction(1, 3), DEPTH)
    along = line(wanted)
    through = not options.flag("stopped")
    stretch = common(wanted.host, wanted.guest, along)
    if through:
        stretch = Stretch(wanted.host.lower(along), wanted.host.upper(along))
    channel = trough(wanted, deep, slip(bench, LOOSE_PANEL), "groove" if through else "stopped groove", stretch)
    wanted.host.cuts.append(channel)
    bench.piece.fits.append(width_fit(wanted, channel, LOOSE_PANEL, "slides in its groove"))
    bench.piece.fits.extend(reach_fit(wanted, bench, deep, BETWEEN_FLOORS, "stays clear of the grooves' floors"))
    glued = options.flag("glue")
    holds = ("glue", "captured") if glued else ("captured",)
    return Joined(
        wanted.name, "groove", channel.called, wanted.host.name, wanted.guest.name, wanted.axis, wanted.sign, glued,
        holds, wanted.place,
    )  # fmt: skip


KIND = JointKind(
    "groove",
    JointWork("groove", grow, cut),
    Fields(
        "groove",
        (
            Field("depth", Length, help="how deep; a third of the host if not said"),
            Field("stopped", Flag, default="no", help="only as long as the panel, not right through"),
            Field("glue", Flag, default="no", help="glued in; a plywood panel may be, a solid one never"),
        ),
    ),
    says="a channel along the host takes the edge of a thin panel",
    also=("grooves", "plough"),
    seats=("panel", "inside"),
)
