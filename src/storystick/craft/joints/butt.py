"""Butt: the guest's end against the host, held by glue alone, or glue and whatever is driven through the host."""

from storystick.craft.draft import Bench, JointWork, Wanted
from storystick.craft.fastening import FASTENED, fastened
from storystick.craft.joints import JointKind
from storystick.ground.fields import Field, Fields, Filled, Flag
from storystick.model.joining import Joined


def grow(wanted: Wanted, bench: Bench) -> None:
    """Nothing grows: the guest ends at the host."""


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Nothing is cut but the holes of what is driven."""
    options: Filled = wanted.options
    return fastened(wanted, bench, "butt", glued=options.flag("glue"))


KIND = JointKind(
    "butt",
    JointWork("butt", grow, cut),
    Fields("butt", (Field("glue", Flag, default="yes", help="glued"), *FASTENED)),
    says="the guest's end against the host",
    also=("glued butt",),
    seats=("corner", "inside", "panel"),
)
