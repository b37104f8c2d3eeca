"""Mitre: two strips meet at a corner, each sawn at 45 degrees; both grow to the outer corner."""

from storystick.craft.draft import Bench, Draft, JointWork, Wanted
from storystick.craft.joints import JointKind
from storystick.ground.fields import Field, Fields, Flag
from storystick.model.cut import Bevel
from storystick.model.joining import Joined

DEGREES = 45.0


def grow(wanted: Wanted, bench: Bench) -> None:
    """Let both strips reach the outer corner: each by the other's thickness."""
    host, guest = wanted.host, wanted.guest
    because = "mitred: it reaches the outer corner"
    guest.grow(wanted.axis, wanted.sign, host.span[host.thick], because)
    host.grow(host.lies[0], _corner(wanted), guest.span[guest.thick], because)


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Saw both ends so that they are full at the outer face and lean in toward the inner one."""
    _saw(wanted, wanted.guest, wanted.axis, wanted.sign)
    _saw(wanted, wanted.host, wanted.host.lies[0], _corner(wanted))
    glued = wanted.options.flag("glue")
    return Joined(
        wanted.name,
        "mitre",
        "mitre",
        wanted.host.name,
        wanted.guest.name,
        wanted.axis,
        wanted.sign,
        glued,
        ("glue",) if glued else (),
        wanted.place,
    )


def _corner(wanted: Wanted) -> int:
    """At which end of the host the guest stands."""
    axis = wanted.host.lies[0]
    middle = wanted.host.low[axis].value + wanted.host.span[axis].value / 2
    return 1 if wanted.guest.low[axis].value + wanted.guest.span[axis].value / 2 > middle else -1


def _saw(wanted: Wanted, draft: Draft, axis: int, sign: int) -> None:
    side = draft.side_toward(axis, sign)
    name = f"{wanted.name} at {draft.name.rsplit('.', 1)[-1]}"
    draft.cuts.append(Bevel(name, side, DEGREES, "mitre", joint=wanted.name, place=wanted.place))


KIND = JointKind(
    "mitre",
    JointWork("mitre", grow, cut),
    Fields("mitre", (Field("glue", Flag, default="yes", help="glued"),)),
    says="two strips meet at 45 degrees",
    also=("miter", "mitred", "mitered"),
    seats=("edging",),
)
