"""Frame: four legs, rails between them at the top and, if wanted, lower down.

frame: {wide: 40, deep: 20, high: 33, stock: pine, legs: 3, rails: 4, low rails at: 6}
"""

from storystick.craft.carcass import board, joined
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Kind, Task
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import Field, Fields, Filled, Length, NameOf, Node, Size
from storystick.ground.source import practice
from storystick.model.build import Span
from storystick.model.part import Assembly, Three
from storystick.model.stock import Stock

LEGS = practice("legs 75 mm (3 in) wide")
RAILS = practice("rails 100 mm (4 in) wide")
FIELDS = Fields(
    "frame",
    (
        Field("wide", Size, required=True, help="over the legs"),
        Field("deep", Size, required=True, help="over the legs"),
        Field("high", Size, required=True, help="to the top of the rails"),
        Field("stock", NameOf("stock"), required=True, help="what legs and rails are made of"),
        Field("legs", Size, default=("3 in", "75 mm"), source=LEGS, help="width of the legs"),
        Field("rails", Size, default=("4 in", "100 mm"), source=RAILS, help="width of the rails"),
        Field("low rails at", Length, help="from the floor to the underside of a lower set; none if not said"),
        Field("joint", Node, help="how rails meet legs; pocket screws if not said"),
    ),
)


def size(ask: Filled, scope: Scope, bench: Bench) -> Three | None:
    """As asked, over all."""
    wide, deep, high = (bench.settle(word, ask.length(word), "over all") for word in ("wide", "deep", "high"))
    return wide, deep, high


def make(task: Task) -> Assembly:
    """Lay the legs and the rails, and join them."""
    ask, bench = task.ask, task.bench
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    way = read_way(ask.node("joint"), "pocket screws", task.scope, bench, "corner", task.place)
    legs = _legs(task, stock)
    low = ask.maybe_length("low rails at")
    levels = [("top", task.size[Z] - ask.length("rails"))] + ([("low", low)] if low is not None else [])
    for word, height in levels:
        _rails(task, stock, legs, way, word, height)
    spots = tuple((leg.low[X] + leg.span[X] / 2, plus(leg.low[Y], leg.span[Y] / 2)) for leg in legs.values())
    return Assembly(
        name=task.name, kind="frame", at=task.at, size=task.size, turns=task.turns, feet=spots, place=task.place
    )


def _legs(task: Task, stock: Stock) -> dict[tuple[int, int], Draft]:
    """Four legs, their faces outward to front and back; by the signs of x and y."""
    wide, deep, high = task.size
    leg = task.ask.length("legs")
    found = {}
    why = {X: "as asked", Y: "the stock as measured", Z: "over all"}
    for y_word, y_sign, low_y in (("front", -1, NO_LENGTH), ("back", 1, minus(deep, stock.thickness))):
        for x_word, x_sign, low_x in (("left", -1, NO_LENGTH), ("right", 1, minus(wide, leg))):
            found[x_sign, y_sign] = board(
                task,
                f"{y_word} {x_word} leg",
                "leg",
                stock,
                (Z, X, Y),
                [low_x, low_y, NO_LENGTH],
                [leg, stock.thickness, high],
                dict(why),
                faces=y_sign,
            )
    return found


def _rails(task: Task, stock: Stock, legs: dict[tuple[int, int], Draft], way: Way, word: str, height: Dim) -> None:
    """Rails at one height: front and back between the legs' edges, left and right between their faces."""
    bench, thick = task.bench, stock.thickness
    wide, deep, _ = task.size
    leg, rail = task.ask.length("legs"), task.ask.length("rails")
    clear = wide - 2 * leg
    for name, sign, low_y in (("front", -1, NO_LENGTH), ("back", 1, minus(deep, thick))):
        why = {X: "between the legs", Y: "the stock as measured", Z: "as asked"}
        draft = board(
            task,
            f"{word} {name} rail",
            "rail",
            stock,
            (X, Z, Y),
            [leg, low_y, height],
            [clear, thick, rail],
            why,
            faces=sign,
        )
        joined(bench, draft, legs[-1, sign], X, -1, way)
        joined(bench, draft, legs[1, sign], X, 1, way)
        bench.piece.spans.append(Span(draft.name, clear, "rests", place=task.place))
    within = deep - 2 * thick
    for name, sign, low_x in (("left", -1, NO_LENGTH), ("right", 1, minus(wide, thick))):
        why = {X: "the stock as measured", Y: "between the legs", Z: "as asked"}
        draft = board(
            task,
            f"{word} {name} rail",
            "rail",
            stock,
            (Y, Z, X),
            [low_x, thick, height],
            [thick, within, rail],
            why,
            faces=sign,
        )
        joined(bench, draft, legs[sign, -1], Y, -1, way)
        joined(bench, draft, legs[sign, 1], Y, 1, way)


SAMPLE = """
title: A stand
units: mm
stock:
  pine: {board: scots pine, thickness: 32}
build:
  stand:
    frame: {wide: 900, deep: 500, high: 800, stock: pine, low rails at: 150}
"""
KIND = Kind(
    "frame", FIELDS, size, make, says="four legs with rails between them", also=("stand",), sample=SAMPLE
)
