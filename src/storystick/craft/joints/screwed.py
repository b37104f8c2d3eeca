"""Screwed butt: screws through the host into the guest's end, with clearance hole, countersink and pilot."""

from storystick.craft.draft import JointWork
from storystick.craft.fastening import FASTENED
from storystick.craft.joints import JointKind
from storystick.craft.joints.butt import cut, grow
from storystick.ground.fields import Field, Fields, Flag

KIND = JointKind(
    "screws",
    JointWork("screws", grow, cut),
    Fields(
        "screws",
        (
            Field("glue", Flag, default="yes", help="glued as well"),
            *(f if f.name != "screws" else Field("screws", f.reads, default="yes", help=f.help) for f in FASTENED),
        ),
    ),
    says="screws through the host into the guest's end",
    also=("screwed", "screwed butt", "butt and screws"),
    seats=("corner", "inside", "panel"),
)
