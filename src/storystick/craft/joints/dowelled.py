"""Dowels: round pegs glued half into the guest's end, half into the host's side; nothing shows outside."""

from fractions import Fraction

from storystick.craft.draft import Bench, Draft, JointWork, Wanted, minus, plus
from storystick.craft.driving import grain, spot_on
from storystick.craft.fastening import centre, spread_along
from storystick.craft.joints import JointKind
from storystick.craft.seat import across, common, guest_side, host_side, line
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.fields import Field, Fields, Length, Text
from storystick.ground.finding import mistake
from storystick.ground.length import Unit, down_to
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Three
from storystick.shop.tables import dowels, find, nearest
from storystick.shop.tables.rows import Dowel

THICK = practice("a dowel is at most half as thick as the thinner board")
INTO = practice("a dowel goes two thirds into the side of a board at most, and 5 mm (3/16 in) of wood stays behind it")
LONG = practice("the longest dowel sold of which half goes into the host, or as much of it as there is room for")
USUAL: dict[Unit, tuple[str, ...]] = {
    "inch": ("3/8 in dowel", "5/16 in dowel", "1/4 in dowel"),
    "mm": ("10 mm dowel", "8 mm dowel", "6 mm dowel"),
}


def grow(wanted: Wanted, bench: Bench) -> None:
    """Nothing grows: the guest ends at the host."""


def cut(wanted: Wanted, bench: Bench) -> Joined:
    """Bore both boards and put the dowels in."""
    host, guest, axis, sign = wanted.host, wanted.guest, wanted.axis, wanted.sign
    over, along = across(wanted), line(wanted)
    row = _row(wanted, bench)
    called = f"{row.name} thick"
    thick = bench.once(called, lambda: rule(called, row.diameter_mm, row.comes_from), row.name)
    room = host.whole(axis)
    spare = bench.once(
        f"bored deeper for a {row.name}",
        lambda: rule(f"bored deeper for a {row.name}", row.spare_depth_mm, row.comes_from),
        "room for glue",
    )
    most = min(room.value * 2 / 3, room.value - bench.step("3/16", "5"))
    fitting = [long for long in row.lengths_mm if long / 2 <= most] or [min(row.lengths_mm)]
    long = bench.once(f"{row.name} long into {host.stock.name}", lambda: chosen(max(fitting), LONG, room), "as sold")
    half = long / 2
    if half.value > most:
        half = bench.once(
            f"{row.name} into {host.stock.name}",
            lambda: chosen(down_to(most, bench.step("1/32", "1/2")), INTO, room),
            "wood stays behind it",
        )
    spots = spread_along(common(host, guest, along), bench, wanted.options)
    middle = centre(guest, over)
    shoulder = guest.end(axis, sign)
    for number_, at in enumerate(spots, 1):
        name, spot = f"{wanted.name} dowel {number_}", {along: at, over: middle}
        for board, side, deep in (
            (host, host_side(wanted), half + spare), (guest, guest_side(wanted), minus(long, half) + spare)
        ):  # fmt: skip
            cut_name = f"{name} hole in {board.name.rsplit('.', 1)[-1]}"
            at_spot = spot_on(board, side, spot)
            bore = Bore(cut_name, side, at_spot, thick, deep, "dowel hole", joint=wanted.name, place=wanted.place)
            board.cuts.append(bore)
        back = minus(long, half)
        head = dict(spot) | {axis: minus(shoulder, back) if sign > 0 else plus(shoulder, back)}
        bench.piece.fasteners.append(_dowel(wanted, row, name, (thick, long), (head[0], head[1], head[2])))
    return Joined(
        wanted.name, "dowels", "dowels", host.name, guest.name, axis, sign, True, ("glue", "dowels"), wanted.place
    )  # fmt: skip


def _dowel(wanted: Wanted, row: Dowel, name: str, size: tuple[Dim, Dim], head: Three) -> Fastener:
    way = [0.0, 0.0, 0.0]
    way[wanted.axis] = float(wanted.sign)
    return Fastener(
        name, "dowel", row.name, size[0], size[1], wanted.guest.name, wanted.host.name, head, (way[0], way[1], way[2]),
        wanted.host.assembly, wanted.name, grain(wanted.host, wanted.axis), wanted.place,
    )  # fmt: skip


def _row(wanted: Wanted, bench: Bench) -> Dowel:
    """The dowel that the plan asks for; else the thickest that is no more than half the thinner board."""
    said = wanted.options.maybe_text("size")
    if said is not None:
        found = find(dowels(), said) or find(dowels(), f"{said} dowel")
        if found is not None:
            return found
        near = nearest(dowels(), said)
        known = f"a dowel of the table: {one_of(list(dowels()))}"
        bench.mistakes.append(mistake(wanted.options.place("size"), said, known, near[0] if near else ""))
    thin = min(_thin(wanted.guest), _thin(wanted.host))
    rows = [dowels()[name] for name in USUAL[bench.manner.unit]]
    return next((row for row in rows if 2 * row.diameter_mm <= thin + Fraction(1, 2)), rows[-1])


def _thin(draft: Draft) -> Fraction:
    return draft.span[draft.thick].value


KIND = JointKind(
    "dowels",
    JointWork("dowels", grow, cut),
    Fields(
        "dowels",
        (
            Field("size", Text, help="3/8 in, 8 mm; half as thick as the thinner board if not said"),
            Field("spacing", Length, help="no farther apart than this"),
            Field("from ends", Length, help="how far the first and last stand from the ends of the joint"),
        ),
    ),
    says="dowels, half in the guest's end and half in the host",
    also=("dowel", "dowelled", "doweled"),
    seats=("corner", "inside", "frame"),
)
