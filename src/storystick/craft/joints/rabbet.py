"""Rabbet: a step along the host's edge or end that takes the guest flush with it."""

from fractions import Fraction

from storystick.craft.draft import Bench, JointWork, Wanted
from storystick.craft.fastening import FASTENED, fastened
from storystick.craft.fits import DROP_IN
from storystick.craft.housing import depth, flush_across, reach_fit
from storystick.craft.joints import JointKind
from storystick.craft.seat import Stretch, common, line, trough
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Field, Fields, Filled, Flag, Length
from storystick.ground.source import practice
from storystick.model.joining import Joined

PLAY = practice("a back is 1 mm (1/32 in) smaller than its rabbets each way, so that it drops in")
DEPTH = practice("a rabbet is half the host's thickness deep, rounded down")


def grow(wanted: Wanted, bench: Bench) -> None:
    """Let the guest reach the wall of the step; a back stays a whisker short of it all round."""
    deep = _deep(wanted, bench)
    if wanted.guest.role == "back":
        play = bench.once(
            "play in a rabbet", lambda: rule("play in a rabbet", bench.step("1/64", "0.5"), PLAY), "so that it drops in"
        )
        name = f"reach into rabbets in {wanted.host.stock.name}"
        deep = bench.once(name, lambda: deep - play, "the rabbet less the play")
    wanted.guest.grow(wanted.axis, wanted.sign, deep, "a rabbet takes this end")


def _deep(wanted: Wanted, bench: Bench) -> Dim:
    return depth(wanted, bench, "rabbet", wanted.options.maybe_length("depth"), Fraction(1, 2), DEPTH)


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Cut the step, open to the host's edge; right through the host unless it is stopped at the guest's ends."""
    options: Filled = wanted.options
    deep = _deep(wanted, bench)
    along = line(wanted)
    stretch = common(wanted.host, wanted.guest, along)
    if not options.flag("stopped"):
        stretch = Stretch(wanted.host.lower(along), wanted.host.upper(along))
    channel = trough(wanted, deep, DROP_IN.dims()[0], "rabbet", stretch, open_to=flush_across(wanted) or 1)
    wanted.host.cuts.append(channel)
    if wanted.guest.role == "back":
        bench.piece.fits.extend(reach_fit(wanted, bench, deep, DROP_IN, "drops into its rabbets"))
    return fastened(wanted, bench, "rabbet", glued=options.flag("glue"))


KIND = JointKind(
    "rabbet",
    JointWork("rabbet", grow, cut),
    Fields(
        "rabbet",
        (
            Field("depth", Length, help="how deep into the host's thickness; half of it if not said"),
            Field("stopped", Flag, default="no", help="only as long as the guest, not right through"),
            Field("glue", Flag, default="yes", help="glued"),
            *FASTENED,
        ),
    ),
    says="a step along the host's edge takes the guest flush with it",
    also=("rebate", "rabbets", "rebates"),
    seats=("corner", "panel"),
)
