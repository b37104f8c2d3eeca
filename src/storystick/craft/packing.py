"""Behind a face frame: the opening that a drawer gets there, and the strips that bring its slides out to the frame.

Stiles stand before the sides and into the opening. A drawer passes between them, so its slides are packed out from
the sides by as much as the stiles stand in.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from storystick.craft.carcass import Room, board
from storystick.craft.draft import Draft, X, Y, Z, minus, plus
from storystick.craft.fastening import centre, screw_down
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim, number
from storystick.ground.finding import Place, wrong
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.joining import Joined
from storystick.model.stock import Stock

THIN = practice("a packing strip under 8 mm (5/16 in) splits at its screws")


@dataclass(frozen=True, slots=True, eq=False)
class Packing:
    """What stands back behind one side of an opening in a face frame: the board of the case, and by how much."""

    host: Draft
    by: Dim
    stock: Stock


def passing(room: Room, opening: Room, *, closed: bool) -> Room:
    """The clear room of a bay for what must pass its opening in the frame; `closed`: it stays behind a door."""
    low, size, bounds = list(room.low), list(room.size), dict(room.bounds)
    for axis in (X, Z):
        for sign in (-1, 1):
            edge, frame = (r.low[axis] if sign < 0 else r.high(axis) for r in (room, opening))
            if sign * (frame.value - edge.value) > 0:
                continue  # the frame stands back behind the bay's own board: a rail that is flush with its shelf
            bound = opening.bounds.get((axis, sign))
            if bound is not None:
                bounds[axis, sign] = bound
            if sign < 0:
                low[axis] = frame
        top = min((room.high(axis), opening.high(axis)), key=lambda dim: dim.value)
        whole = low[axis] is opening.low[axis] and top.value == opening.high(axis).value
        same = low[axis] is room.low[axis] and top.value == room.high(axis).value
        size[axis] = opening.size[axis] if whole else room.size[axis] if same else minus(top, low[axis])
    if not closed:
        low[Y], size[Y] = opening.low[Y], minus(room.high(Y), opening.low[Y])
    return Room((low[X], low[Y], low[Z]), (size[X], size[Y], size[Z]), bounds)


def packings(task: Task, room: Room, through: Room, stock: Stock, place: Place) -> dict[int, Packing] | None:
    """What slides at each side must be packed out by; None where that is too little for a strip (told)."""
    found = {}
    for sign in (-1, 1):
        host = room.bounds.get((X, sign))
        edge, face = (r.low[X] if sign < 0 else r.high(X) for r in (through, room))
        by = minus(edge, face) if sign < 0 else minus(face, edge)
        if host is None:
            continue
        if 0 < by.value < task.bench.step("5/16", "8"):
            says = f"The frame stands {show(by.value, task.bench.manner)} into the opening at {host.name}."
            fix = "Make its stiles and middle boards flush with the boards behind them, or wider."
            task.bench.mistakes.append(wrong(place, f"{says} Slides can't be packed out by so little.", fix))
            return None
        found[sign] = Packing(host, by, stock)
    return found


def packed_out(room: Room, packs: Mapping[int, Packing] | None, out: Dim, stock: Stock) -> dict[int, Packing]:
    """The same packed out by so much more; without a frame, from the boards beside the opening."""
    if packs is None:
        sides = {sign: room.bounds[X, sign] for sign in (-1, 1) if (X, sign) in room.bounds}
        return {sign: Packing(host, out, stock) for sign, host in sides.items()}
    return {sign: Packing(pack.host, plus(pack.by, out), pack.stock) for sign, pack in packs.items()}


def lay_packing(
    own: Task, task: Task, packs: Mapping[int, Packing], ends: tuple[Dim, Dim], middle: Dim
) -> dict[int, Draft]:
    """Lay a strip behind each slide that needs one; the boards that slides are screwed to, by side.

    ends  where the slides begin and end, from front to back;  middle  the height of their screws
    """
    hosts = {}
    for sign, pack in packs.items():
        if pack.by.value == 0:
            hosts[sign] = pack.host
            continue
        word, short = "left" if sign < 0 else "right", own.name.rsplit(".", 1)[-1]
        thick = pack.stock.thickness
        front = thick if ends[0].value < thick.value else ends[0]  # from the frame's back on
        start = pack.host.end(X, 1) if sign < 0 else minus(pack.host.end(X, -1), pack.by)
        why = {X: "as far as the frame stands in", Y: "behind the slide", Z: "the stock as measured"}
        strip = board(
            task, f"{short} {word} packing", "packing strip", pack.stock, (Y, X, Z),
            [start, front, minus(middle, thick / 2)], [pack.by, minus(ends[1], front), thick], why,
            faces=1, from_low=(True, sign < 0),
        )  # fmt: skip
        strip.place = own.place
        _screw_on(task, strip, pack.host, sign, ends)
        hosts[sign] = strip
    return hosts


def _screw_on(task: Task, strip: Draft, host: Draft, sign: int, ends: tuple[Dim, Dim]) -> None:
    """Two screws, where the slide has none; those of two strips on one divider stand apart too."""
    long, parts = minus(ends[1], ends[0]), 4 if sign < 0 else 3
    spots = [{Y: plus(ends[0], long * number(Fraction(n, parts))), Z: centre(strip, Z)} for n in (1, parts - 1)]
    screw_down(task.bench, strip.name, strip, host, X, sign, spots, place=strip.place)
    short = host.name.rsplit(".", 1)[-1]
    held = Joined(
        f"{strip.name} on {short}", "screws", "screwed on", host.name, strip.name, X, sign, False, ("screws",),
        strip.place,
    )  # fmt: skip
    task.bench.piece.joined.append(held)
