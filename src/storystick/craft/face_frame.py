"""A face frame: two stiles and two rails glued before the front edges of a case. It belongs to the case's depth."""

from dataclasses import dataclass

from storystick.craft.carcass import Carcass, Room, board, joined
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Task
from storystick.craft.truth import between
from storystick.ground.fields import Choice, Field, Fields, Filled, Length, NameOf, Node, Size
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice

WIDE = practice("stiles and rails of a face frame are 40 mm (1 1/2 in) wide")
FACE = Fields(
    "face frame",
    (
        Field("stock", NameOf("stock"), required=True, help="what it is made of"),
        Field("stiles", Size, default=("1 1/2 in", "40 mm"), source=WIDE, help="width of its upright boards"),
        Field("rails", Size, default=("1 1/2 in", "40 mm"), source=WIDE, help="width of its upper board"),
        Field("bottom rail", Size, help="width of its lower board, where it is another"),
        Field("overhang", Length, help="how far it stands out beyond the sides"),
        Field("joint", Node, help="how rails meet stiles: pocket screws, dowels or a stub tenon"),
        Field("fixed by", Choice(("glue", "nails")), default="glue", help="how it is held to the case"),
    ),
    short="stock",
)


@dataclass(frozen=True, slots=True, eq=False)
class FaceFrame:
    """Its boards by the side that they lie at, and the opening that they leave."""

    boards: dict[tuple[int, int], Draft]
    opening: Room


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
    _fix(task, ask, carcass, boards)
    bench.true("frame opening wide", lambda: between(bench, boards[Z, 1], boards[X, -1], boards[X, 1], X))
    opening = Room((inner, NO_LENGTH, plus(under, low)), (clear, room.size[Y], tall), boards)
    return FaceFrame(boards, opening)


def _fix(task: Task, ask: Filled, carcass: Carcass, boards: dict[tuple[int, int], Draft]) -> None:
    """Stiles on the sides' front edges, rails on those of top and bottom."""
    word = "nails" if ask.choice("fixed by") == "nails" else "butt"
    way = read_way(None, word, task.scope, task.bench, "panel", task.place)
    for key, host in (((X, -1), carcass.left), ((X, 1), carcass.right), ((Z, -1), carcass.bottom)):
        joined(task.bench, boards[key], host, Y, 1, way)
    if carcass.tops:
        joined(task.bench, boards[Z, 1], carcass.tops[0], Y, 1, way)
