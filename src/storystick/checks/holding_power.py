"""Holding power: what one screw, nail or dowel may be pulled and pushed with where it is; allowable, not failure."""

from storystick.checks.driven import Drive, Inside, inside
from storystick.checks.masses import gravity_of
from storystick.model.check import Asked
from storystick.physics import dowels, nails
from storystick.physics.screws import (
    allowable_withdrawal_n,
    old_allowable_lateral_n,
    penetration_share,
    thread_in_receiver_mm,
)

GROUP = "IV"  # the weakest of the wood groups that were read: on the safe side for every wood and panel
THIN_DIAMETERS = 20.0  # in a panel under six diameters thick the table gives nothing: half in proportion is practice
END_GRAIN = 0.67  # sideways in end grain: National Design Specification, factor C_eg (memory)


def allowed_pull_n(asked: Asked, drive: Drive) -> float:
    """What a screw, nail or dowel may be pulled with [N]; nothing for screws and nails in end grain."""
    part = asked.build.parts_by_name.get(drive.of.into)
    where = inside(asked, drive, drive.of.into)
    if part is None or where is None or (_in_end_grain(asked, drive, where) and drive.of.kind != "dowel"):
        return 0.0
    thick = float(drive.of.diameter)
    if drive.of.kind == "dowel":
        return dowels.allowable_withdrawal_n(thick, _deep(drive, where))
    if drive.of.kind in ("nail", "brad"):
        return nails.allowable_withdrawal_n(gravity_of(part.stock), thick, _deep(drive, where))
    held = thread_in_receiver_mm(drive.long, where.enters, drive.thread)
    held = min(held, where.leaves - where.enters)
    return allowable_withdrawal_n(gravity_of(part.stock), thick, held)


def allowed_push_n(asked: Asked, drive: Drive) -> float:
    """What a screw, nail or dowel may carry across its line [N]."""
    where = inside(asked, drive, drive.of.into)
    if where is None:
        return 0.0
    thick, deep = float(drive.of.diameter), _deep(drive, where)
    if drive.of.kind == "dowel":
        return dowels.allowable_lateral_n(thick)
    share = penetration_share(deep, thick) or deep / (THIN_DIAMETERS * thick)
    share *= END_GRAIN if _in_end_grain(asked, drive, where) else 1.0
    if drive.of.kind in ("nail", "brad"):
        return nails.allowable_lateral_n(thick) * share
    return old_allowable_lateral_n(GROUP, thick) * share


def _deep(drive: Drive, where: Inside) -> float:
    """How much of it is in the second board [mm]."""
    return max(0.0, min(drive.long, where.leaves) - where.enters)


def _in_end_grain(asked: Asked, drive: Drive, where: Inside) -> bool:
    part = asked.build.parts_by_name.get(drive.of.into)
    return part is not None and part.stock.solid and where.into == 0
