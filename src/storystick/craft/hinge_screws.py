"""Short screws through a hinge, a plate or a slide into one board: their pilots, and where their heads are."""

from fractions import Fraction

from storystick.craft.draft import Bench, Draft, minus, plus
from storystick.craft.driving import grain, pilot_size, spot_on
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.finding import Place
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Fastener
from storystick.model.part import Three
from storystick.shop.tables.rows import Screw

METAL = practice("a hinge or its plate is 1.5 mm (1/16 in) thick under the screws")
NEARLY = practice("screws of hinges are short: their points stay a millimetre inside the far face")


def screw_through(
    bench: Bench,
    name: str,
    item: str,
    screw: Screw,
    into: Draft,
    axis: int,
    sign: int,
    spot: dict[int, Dim],
    most: Fraction,
    place: Place,
    sunk: Dim | None = None,
) -> None:
    """One screw through a bought thing into a board, going up `axis` for sign +1.

    spot  where, along the two other axes of the board's own assembly;  most  the longest that will do [mm]
    sunk  how deep the thing is let into the board there
    """
    called = "metal under a hinge's screws"
    metal = bench.once(called, lambda: rule(called, bench.step("1/16", "3/2"), METAL), "what lies under their heads")
    lip = metal if sunk is None else metal - sunk
    room = into.span[axis] + lip - rule("wood before a hinge screw's point", 1, NEARLY)
    fitting = [long for long in screw.lengths_mm if long <= min(room.value, most)]
    length = chosen(max(fitting, default=min(screw.lengths_mm)), NEARLY, room)
    side = into.side_toward(axis, -sign)
    deep = length - metal
    start = plus(deep, sunk) if sunk is not None else deep
    into.cuts.append(
        Bore(
            f"{name} pilot", side, spot_on(into, side, spot), pilot_size(bench, screw, into.stock), start, "pilot hole",
            place=place,
        )
    )  # fmt: skip
    face = into.end(axis, -sign)
    head = minus(face, lip) if sign > 0 else plus(face, lip)
    at = dict(spot) | {axis: head}
    corner: Three = (at[0], at[1], at[2])
    way = [0.0, 0.0, 0.0]
    way[axis] = float(sign)
    diameter = rule(f"{screw.name} thick", screw.thread_mm, screw.comes_from)
    bench.piece.fasteners.append(
        Fastener(
            name, "screw", screw.name, diameter, length, item, into.name, corner, (way[0], way[1], way[2]),
            into.assembly, grain=grain(into, axis), place=place,
        )
    )  # fmt: skip
