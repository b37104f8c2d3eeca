"""Holding power: what one screw, nail or dowel may be pulled and pushed with where it is; allowable, not failure.

By the board that holds it and by the side of that board: face, edge or end grain. Where only the load is published at
which it fails, that is divided by what lies between failure and allowable for screws in wood.
"""

from storystick.checks.driven import EDGE, END, FACE, Drive, Inside, inside
from storystick.checks.masses import gravity_of
from storystick.model.check import Asked
from storystick.model.part import Part
from storystick.model.stock import Stock
from storystick.physics import dowels, lags, nails, particleboard
from storystick.physics.screws import (
    allowable_withdrawal_n,
    failure_withdrawal_n,
    old_allowable_lateral_n,
    penetration_share,
    thread_in_receiver_mm,
    wood_group,
)
from storystick.shop.tables import find, panels, woods

LIGHTEST_GROUP = "IV"  # panels: on the safe side for every one of them
THIN_DIAMETERS = 20.0  # in a panel under six diameters thick the table gives nothing: half in proportion is practice
END_GRAIN = 0.67  # sideways in end grain: National Design Specification, factor C_eg (memory)
FAILS_OVER_ALLOWED = failure_withdrawal_n(0.5, 4, 20) / allowable_withdrawal_n(0.5, 4, 20)  # about 5.5
EDGE_OVER_FACE = 2055 / 2655  # a screw between plies, as in the edge of particleboard: practice


def allowed_pull_n(asked: Asked, drive: Drive) -> float:
    """What a screw, nail or dowel may be pulled with [N]; nothing for screws and nails in end grain."""
    part = asked.build.parts_by_name.get(drive.of.into)
    where = inside(asked, drive, drive.of.into)
    if part is None or where is None:
        return 0.0
    thick, end = float(drive.of.diameter), _in_end_grain(part, where)
    if drive.of.kind == "dowel":
        return dowels.allowable_withdrawal_n(thick, _deep(drive, where))
    if drive.of.kind == "lag screw":
        held = lags.allowable_withdrawal_n(gravity_of(part.stock), thick, _thread(drive, where))
        return held * (lags.END_GRAIN_SHARE if end else 1.0)
    if end:
        return 0.0
    if drive.of.kind in ("nail", "brad"):
        return nails.allowable_withdrawal_n(gravity_of(part.stock), thick, _deep(drive, where)) * _side(part, where)
    return allowable_screw_n(part.stock, where.into, thick, _thread(drive, where))


def allowable_screw_n(stock: Stock, side: int, thick: float, held: float) -> float:
    """What a screw may be pulled with [N]: `side` of the board that it is in, its diameter, thread held [mm].

    In particleboard and fibreboard the lesser of two rules; in the edge of plywood less than in its face.
    """
    row = find(panels(), stock.material)
    allowed = allowable_withdrawal_n(gravity_of(stock), thick, held)
    if row is None or row.grain:
        return allowed * (EDGE_OVER_FACE if row and row.layered and side != FACE else 1.0)
    fails = particleboard.face_failure_withdrawal_n if side == FACE else particleboard.edge_failure_withdrawal_n
    return min(allowed, fails(gravity_of(stock), thick, held) / FAILS_OVER_ALLOWED)


def allowed_push_n(asked: Asked, drive: Drive) -> float:
    """What a screw, nail or dowel may carry across its line [N]."""
    part = asked.build.parts_by_name.get(drive.of.into)
    where = inside(asked, drive, drive.of.into)
    if where is None or part is None:
        return 0.0
    thick, deep = float(drive.of.diameter), _deep(drive, where)
    if drive.of.kind == "dowel":
        return dowels.allowable_lateral_n(thick)
    share = penetration_share(deep, thick) or deep / (THIN_DIAMETERS * thick)
    share *= END_GRAIN if _in_end_grain(part, where) else 1.0
    through = asked.build.parts_by_name.get(drive.of.through)
    stocks = [part.stock, *([through.stock] if through else [])]
    if drive.of.kind in ("nail", "brad"):
        return min(_nail_across_n(stock, thick) for stock in stocks) * share
    return min(old_allowable_lateral_n(group_of(stock), thick) for stock in stocks) * share


def group_of(stock: Stock) -> str:
    """The wood group of a stock by the older rule: of solid wood by its density, of a panel the lightest."""
    return wood_group(gravity_of(stock)) if stock.solid else LIGHTEST_GROUP


def _nail_across_n(stock: Stock, thick: float) -> float:
    row = find(woods(), stock.material)
    if not stock.solid or row is None:
        return nails.allowable_lateral_n(thick)
    return nails.allowable_lateral_n(thick, row.gravity, row.hard)


def _side(part: Part, where: Inside) -> float:
    """Share that a nail is worth: between the plies, or in the edge of a board without any, less than in a face."""
    row = find(panels(), part.stock.material)
    return EDGE_OVER_FACE if row is not None and where.into in (END, EDGE) else 1.0


def _thread(drive: Drive, where: Inside) -> float:
    """Thread in the second board [mm]."""
    return min(thread_in_receiver_mm(drive.long, where.enters, drive.thread), where.leaves - where.enters)


def _deep(drive: Drive, where: Inside) -> float:
    """How much of it is in the second board [mm]."""
    return max(0.0, min(drive.long, where.leaves) - where.enters)


def _in_end_grain(part: Part, where: Inside) -> bool:
    return part.stock.solid and where.into == END
