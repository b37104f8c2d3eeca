"""Pocket screws: the guest is drilled from one face at 15 degrees, and screwed through its end into the host."""

from fractions import Fraction
from math import cos, radians, sin, tan

from storystick.craft.draft import Bench, JointWork, Wanted, minus, plus
from storystick.craft.driving import grain, pilot_size, size
from storystick.craft.fastening import spread_along
from storystick.craft.joints import JointKind
from storystick.craft.seat import across, common, line
from storystick.ground.dim import Dim, chosen, number, rule
from storystick.ground.fields import Choice, Field, Fields, Flag, Length
from storystick.ground.source import practice
from storystick.model.cut import Bore, Side, Spot
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Three
from storystick.shop.tables import pocket_lengths, screws
from storystick.shop.tables.rows import Screw

SLOPE = 15.0
ANGLE = practice("pocket holes lean 15 degrees from the face, toward the middle of the end")
LAND = practice("the pocket stops 16 mm (5/8 in) short of the end, measured along the screw")
POINT = practice("the point of a pocket screw stays 2 mm (1/16 in) short of the far side")
POINT_MM = 2.0
FINE = 600.0  # solid wood heavier than this [kg/m3] takes a fine thread


def grow(wanted: Wanted, bench: Bench) -> None:
    """Nothing grows: the guest ends at the host."""


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Bore the pockets and their pilots in the guest, and drive the screws."""
    options, guest = wanted.options, wanted.guest
    row = screws()["fine pocket screw" if guest.stock.solid and guest.stock.density > FINE else "coarse pocket screw"]
    side = Side.FACE if options.choice("from") == "face" else Side.BACK
    over, along = across(wanted), line(wanted)
    length = _length(wanted, row)
    spots = spread_along(common(wanted.host, guest, along), bench, options)
    if guest.thick == over and wanted.axis != guest.thick:
        for number_, at in enumerate(spots, 1):
            bench.piece.fasteners.append(
                _one(wanted, bench, row, side, at, f"{wanted.name} pocket screw {number_}", length)
            )
    holds = ("glue", "pocket screws") if options.flag("glue") else ("pocket screws",)
    return Joined(
        wanted.name,
        "pocket screws",
        "pocket screws",
        wanted.host.name,
        guest.name,
        wanted.axis,
        wanted.sign,
        options.flag("glue"),
        holds,
        wanted.place,
    )


def _ratio(value: float) -> Dim:
    return number(Fraction(value).limit_denominator(10**6))


def _land(bench: Bench) -> Dim:
    return bench.once(
        "land of pocket screws",
        lambda: rule("land of pocket screws", bench.step("5/8", "16"), LAND),
        "wood under the head",
    )


def _length(wanted: Wanted, row: Screw) -> Dim:
    """By the thickness of the guest, and no longer than stays inside the host."""
    thick, room = wanted.guest.whole(wanted.guest.thick), wanted.host.whole(wanted.axis)
    rows = sorted(pocket_lengths().values(), key=lambda r: r.stock_mm)
    usual = next((r for r in reversed(rows) if r.stock_mm <= thick.value + 2), rows[0])
    most = 16 + (float(room) - POINT_MM) / cos(radians(SLOPE))
    fitting = [long for long in row.lengths_mm if long <= usual.screw_mm and long <= most]
    return chosen(max(fitting, default=min(row.lengths_mm)), POINT if fitting else usual.comes_from, thick, room)


def _one(wanted: Wanted, bench: Bench, row: Screw, side: Side, at: Dim, name: str, length: Dim) -> Fastener:
    """One pocket: from the marked side at a slant to the middle of the end."""
    guest, axis, sign, along = wanted.guest, wanted.axis, wanted.sign, line(wanted)
    half, end = guest.whole(guest.thick) / 2, guest.end(axis, sign)
    reach, slant = half * _ratio(1 / tan(radians(SLOPE))), half * _ratio(1 / sin(radians(SLOPE)))
    mouth = minus(end, reach) if sign > 0 else plus(end, reach)
    own = {guest.lies.index(axis): guest.own_point(axis, mouth), guest.lies.index(along): guest.own_point(along, at)}
    spot: Spot = (own[0], own[1])
    way = sign if guest.datum_low(axis) else -sign
    toward = (way, 0) if guest.lies.index(axis) == 0 else (0, way)
    wide = size(bench, "pocket hole", row.clearance_bit_mm, row)
    land = _land(bench)
    for called, diameter, deep in (
        ("pocket hole", wide, slant - land),
        ("pilot hole", pilot_size(bench, row, guest.stock), slant),
    ):
        guest.cuts.append(
            Bore(
                f"{name} {called}",
                side,
                spot,
                diameter,
                deep,
                called,
                90.0 - SLOPE,
                toward,
                joint=wanted.name,
                place=wanted.place,
            )
        )
    return _screw(wanted, row, side, at, name, length, land)


def _screw(wanted: Wanted, row: Screw, side: Side, at: Dim, name: str, length: Dim, land: Dim) -> Fastener:
    guest, axis, sign, along = wanted.guest, wanted.axis, wanted.sign, line(wanted)
    looks = guest.faces if side is Side.FACE else -guest.faces
    middle = plus(guest.lower(guest.thick), guest.whole(guest.thick) / 2)
    back, up = land * _ratio(cos(radians(SLOPE))), land * _ratio(sin(radians(SLOPE)))
    end = guest.end(axis, sign)
    head = {
        axis: minus(end, back) if sign > 0 else plus(end, back),
        guest.thick: plus(middle, up) if looks > 0 else minus(middle, up),
        along: at,
    }
    way = [0.0, 0.0, 0.0]
    way[axis], way[guest.thick] = sign * cos(radians(SLOPE)), -looks * sin(radians(SLOPE))
    spot: Three = (head[0], head[1], head[2])
    diameter = rule(f"{row.name} thick", row.thread_mm, row.comes_from)
    return Fastener(
        name,
        "pocket screw",
        row.name,
        diameter,
        length,
        guest.name,
        wanted.host.name,
        spot,
        (way[0], way[1], way[2]),
        wanted.host.assembly,
        wanted.name,
        grain(wanted.host, axis),
        wanted.place,
    )


KIND = JointKind(
    "pocket screws",
    JointWork("pocket screws", grow, cut),
    Fields(
        "pocket screws",
        (
            Field(
                "from",
                Choice(("face", "back")),
                default="back",
                help="which side of the board is drilled: the hidden one",
            ),
            Field("glue", Flag, default="yes", help="glued as well"),
            Field("spacing", Length, help="no farther apart than this"),
            Field("from ends", Length, help="how far the first and last stand from the ends of the joint"),
        ),
    ),
    says="screws at a slant out of the guest's end into the host",
    also=("pocket", "pocket screwed", "pocket holes", "pocket screw"),
    seats=("corner", "inside", "frame"),
)
