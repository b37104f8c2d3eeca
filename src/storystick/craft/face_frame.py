"""A face frame: stiles and rails glued before the front edges of a case. It belongs to the case's depth.

Where a bay has doors of its own or a drawer, the frame follows the bays: a middle stile stands before each divider, a
middle rail lies before each fixed shelf, its upper edge flush with the shelf's.
"""

from dataclasses import dataclass

from storystick.craft.carcass import Carcass, Room, board, joined
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Task
from storystick.craft.truth import between
from storystick.ground.dim import Dim
from storystick.ground.fields import Choice, Field, Fields, Filled, Length, NameOf, Node, Size
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.stock import Stock

WIDE = practice("stiles and rails of a face frame are 40 mm (1 1/2 in) wide")
FACE = Fields(
    "face frame",
    (
        Field("stock", NameOf("stock"), required=True, help="what it is made of"),
        Field("stiles", Size, default=("1 1/2 in", "40 mm"), source=WIDE, help="width of its upright boards"),
        Field("rails", Size, default=("1 1/2 in", "40 mm"), source=WIDE, help="width of its upper board"),
        Field("bottom rail", Size, help="width of its lower board, where it is another"),
        Field("middle boards", Size, help="width of the boards before dividers and shelves; as its rails if not said"),
        Field("overhang", Length, help="how far it stands out beyond the sides"),
        Field("joint", Node, help="how rails meet stiles: pocket screws, dowels or a stub tenon"),
        Field("fixed by", Choice(("glue", "nails")), default="glue", help="how it is held to the case"),
    ),
    short="stock",
)


@dataclass(frozen=True, slots=True, eq=False)
class FaceFrame:
    """The opening that its outer boards leave, and how middle ones are made: `middle` is their width.

    way, fixed: how its boards meet one another, and how they are held to the case
    """

    opening: Room
    stock: Stock
    middle: Dim
    way: Way
    fixed: Way

    def mid_stile(self, task: Task, name: str, divider: Draft, opening: Room) -> Draft:
        """An upright board before a divider, in the middle of it, as high as the opening that it parts."""
        start = plus(divider.lower(X), minus(divider.span[X], self.middle) / 2)
        low = [start, NO_LENGTH, opening.low[Z]]
        why = {X: "as asked", Y: "the stock as measured", Z: "between the rails"}
        span = [self.middle, self.stock.thickness, opening.size[Z]]
        return self._between(task, board(task, name, "mid stile", self.stock, (Z, X, Y), low, span, why, faces=-1),
                             divider, opening, Z)  # fmt: skip

    def mid_rail(self, task: Task, name: str, shelf: Draft, opening: Room) -> Draft:
        """A board before a fixed shelf, flush with it above, as wide as the opening that it parts."""
        low = [opening.low[X], NO_LENGTH, minus(shelf.upper(Z), self.middle)]
        why = {X: "between the stiles", Y: "the stock as measured", Z: "as asked"}
        span = [opening.size[X], self.stock.thickness, self.middle]
        rail = board(task, name, "mid rail", self.stock, (X, Z, Y), low, span, why, faces=-1, from_low=(True, False))
        return self._between(task, rail, shelf, opening, X)

    def _between(self, task: Task, middle: Draft, behind: Draft, opening: Room, axis: int) -> Draft:
        """Join a middle board to those at its ends, and fix it to the board behind it."""
        for sign in (-1, 1):
            host = opening.bounds.get((axis, sign))
            if host is not None:
                joined(task.bench, middle, host, axis, sign, self.way)
        if behind.lower(Y).value == self.stock.thickness.value:  # it does not stand back behind the front edges
            joined(task.bench, middle, behind, Y, 1, self.fixed)
        return middle


def parted(opening: Room, axis: int, at: Draft | Dim) -> tuple[Room, Room]:
    """The two openings below and beyond a middle board; or a height, where nothing stands between the two."""
    low, high = (at.low[axis], plus(at.low[axis], at.span[axis])) if isinstance(at, Draft) else (at, at)
    before = _part(opening, axis, opening.low[axis], low, (1, at))
    return before, _part(opening, axis, high, opening.high(axis), (-1, at))


def _part(opening: Room, axis: int, start: Dim, end: Dim, bound: tuple[int, Draft | Dim]) -> Room:
    """The part of an opening from `start` to `end`; `bound`: at which end it is parted, and what stands there."""
    sign, board_ = bound
    low, size = list(opening.low), list(opening.size)
    low[axis], size[axis] = start, minus(end, start)
    bounds = {key: value for key, value in opening.bounds.items() if key != (axis, sign)}
    if isinstance(board_, Draft):
        bounds[axis, sign] = board_
    return Room((low[X], low[Y], low[Z]), (size[X], size[Y], size[Z]), bounds)


def lay_face_frame(task: Task, ask: Filled, carcass: Carcass) -> FaceFrame | None:
    """Lay stiles and rails, join them, and fix them to the front edges of the case."""
    bench, room = task.bench, carcass.room
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    over = ask.maybe_length("overhang") or NO_LENGTH
    stile, top = ask.length("stiles"), ask.length("rails")
    low = ask.maybe_length("bottom rail") or top
    inner = minus(stile, over)
    if inner.value < carcass.stock.thickness.value:
        least = show(carcass.stock.thickness.value + over.value, bench.manner)
        said = show(stile.value, bench.manner)
        wanted = f"stiles that cover the sides: {least} or more"
        bench.mistakes.append(mistake(ask.place("stiles"), said, wanted, least))
        return None
    wide, high = task.size[X], minus(task.size[Z], carcass.under)
    clear = bench.settle("frame opening wide", wide - 2 * inner, "between the stiles")
    tall = bench.settle("frame opening high", high - top - low, "between the rails")
    thick, under = stock.thickness, carcass.under
    boards: dict[tuple[int, int], Draft] = {}
    start = -over if over is not NO_LENGTH else NO_LENGTH
    for word, sign, low_x, end in (("left", -1, start, False), ("right", 1, minus(wide, inner), True)):
        why = {X: "as asked", Y: "the stock as measured", Z: "as high as the case"}
        boards[X, sign] = board(
            task, f"{word} stile", "stile", stock, (Z, X, Y), [low_x, NO_LENGTH, under], [stile, thick, high], why,
            faces=-1, from_low=(True, end),
        )  # fmt: skip
    for word, sign, low_z, span in (("bottom", -1, under, low), ("top", 1, minus(task.size[Z], top), top)):
        why = {X: "between the stiles", Y: "the stock as measured", Z: "as asked"}
        boards[Z, sign] = board(
            task, f"{word} frame rail", "frame rail", stock, (X, Z, Y), [inner, NO_LENGTH, low_z], [clear, thick, span],
            why, faces=-1, from_low=(True, sign > 0),
        )  # fmt: skip
    way = read_way(ask.node("joint"), "pocket screws", task.scope, bench, "frame", ask.place("joint"))
    for sign in (-1, 1):
        for side in (-1, 1):
            joined(bench, boards[Z, sign], boards[X, side], X, side, way)
    fixed = read_way(
        None, "nails" if ask.choice("fixed by") == "nails" else "butt", task.scope, bench, "panel", task.place
    )
    _fix(task, carcass, boards, fixed)
    bench.true("frame opening wide", lambda: between(bench, boards[Z, 1], boards[X, -1], boards[X, 1], X))
    deep = plus(thick, room.size[Y])
    opening = Room((inner, NO_LENGTH, plus(under, low)), (clear, deep, tall), boards)
    middle = ask.maybe_length("middle boards") or top
    if middle.value < carcass.stock.thickness.value:
        least = show(carcass.stock.thickness.value, bench.manner)
        wanted = f"middle boards that cover the dividers: {least} or more"
        place = ask.place("middle boards" if ask.has("middle boards") else "rails")
        bench.mistakes.append(mistake(place, show(middle.value, bench.manner), wanted, least))
    return FaceFrame(opening, stock, middle, way, fixed)


def _fix(task: Task, carcass: Carcass, boards: dict[tuple[int, int], Draft], way: Way) -> None:
    """Stiles on the sides' front edges, rails on those of top and bottom."""
    for key, host in (((X, -1), carcass.left), ((X, 1), carcass.right), ((Z, -1), carcass.bottom)):
        joined(task.bench, boards[key], host, Y, 1, way)
    if carcass.tops:
        joined(task.bench, boards[Z, 1], carcass.tops[0], Y, 1, way)
