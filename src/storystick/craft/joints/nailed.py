"""Nailed butt: glue, and brads or nails through the host into the guest's end."""

from storystick.craft.draft import JointWork
from storystick.craft.fastening import FASTENED
from storystick.craft.joints import JointKind
from storystick.craft.joints.butt import cut, grow
from storystick.ground.fields import Field, Fields, Flag

KIND = JointKind(
    "nails",
    JointWork("nails", grow, cut),
    Fields(
        "nails",
        (
            Field("glue", Flag, default="yes", help="glued as well"),
            *(f if f.name != "nails" else Field("nails", f.reads, default="yes", help=f.help) for f in FASTENED),
        ),
    ),
    says="glue, and brads through the host into the guest's end",
    also=("nailed", "nailed butt", "brads"),
    seats=("corner", "inside", "panel"),
)
