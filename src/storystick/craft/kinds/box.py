"""Box: five boards, open at the top or at the front, on its own or hung with screws on something that it touches.

box: {wide: 8, deep: 5, high: 26, stock: birch12, screwed to: cabinet}
"""

from storystick.craft.carcass import board, joined
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Kind, Task
from storystick.craft.neighbours import beside, screw_to
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import Choice, Field, Fields, Filled, NameOf, Node, Size, Text
from storystick.ground.finding import mistake
from storystick.ground.source import practice
from storystick.model.part import Assembly, Three
from storystick.model.stock import Stock

GRAIN = practice(
    "the grain of a box's walls runs one way in all of them, along their length: round the box, or upright in one that "
    "is higher than it is wide and deep; sides, bottom and top of one that is open at the front are a ring of their own"
)
FIELDS = Fields(
    "box",
    (
        Field("wide", Size, required=True, help="over all"),
        Field("deep", Size, required=True, help="over all"),
        Field("high", Size, required=True, help="over all"),
        Field("front high", Size, help="height of the front of one that is open at the top, where it is lower"),
        Field("stock", NameOf("stock"), required=True, help="what its boards are made of"),
        Field("bottom stock", NameOf("stock"), help="what its bottom is made of, where it is another"),
        Field("open", Choice(("top", "front")), default="top", help="which side has no board"),
        Field("joint", Node, help="how its corners are joined; glue and brads if not said"),
        Field("screwed to", Text, help="the assembly it touches and hangs on", also=("hung on",)),
        Field("screws", Text, default="yes", help="the screws that it hangs on: #8 x 1 1/4"),
    ),
)


def size(ask: Filled, scope: Scope, bench: Bench) -> Three | None:
    """As asked, over all."""
    wide, deep, high = (bench.settle(word, ask.length(word), "over all") for word in ("wide", "deep", "high"))
    return wide, deep, high


def make(task: Task) -> Assembly:
    """Lay the boards, and hang it."""
    ask, bench = task.ask, task.bench
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    way = read_way(ask.node("joint"), "nails", task.scope, bench, "corner", task.place)
    boards = _lay(task, stock, way)
    held = _hang(task, boards) if ask.has("screwed to") else ()
    return Assembly(
        name=task.name, kind="box", at=task.at, size=task.size, turns=task.turns, held_by=held, place=task.place
    )


def _lay(task: Task, stock: Stock, way: Way) -> dict[tuple[int, int], Draft]:
    """Two sides run past everything; the other boards stand between them. The boards by the side that they close.

    Which way their grain runs: GRAIN.
    """
    ask, bench, thick = task.ask, task.bench, stock.thickness
    wide, deep, high = task.size
    named = ask.maybe_text("bottom stock")
    base = bench.stock_of(named, ask.place("bottom stock")) if named else stock
    within = bench.settle("inside wide", wide - 2 * thick, "two sides stand between the outsides")
    why = {X: "the sheet as measured", Y: "over all", Z: "over all"}
    is_open_top = ask.choice("open") == "top"
    upright = is_open_top and high.value > max(wide.value, deep.value)
    side_lies = (Z, Y, X) if upright or not is_open_top else (Y, Z, X)
    wall_lies = (Z, X, Y) if upright else (X, Z, Y)
    left = board(
        task,
        "left side",
        "side",
        stock,
        side_lies,
        [NO_LENGTH, NO_LENGTH, NO_LENGTH],
        [thick, deep, high],
        why,
        faces=1,
    )
    right = board(
        task,
        "right side",
        "side",
        stock,
        side_lies,
        [wide - thick, NO_LENGTH, NO_LENGTH],
        [thick, deep, high],
        dict(why),
        faces=-1,
    )
    boards = {(X, -1): left, (X, 1): right}
    between = {X: "between the sides", Y: "the sheet as measured", Z: "over all"}
    back = board(
        task,
        "back",
        "back",
        stock,
        wall_lies,
        [thick, deep - thick, NO_LENGTH],
        [within, thick, high],
        between,
        faces=-1,
    )
    boards[Y, 1] = back
    if is_open_top:
        front_high = ask.maybe_length("front high") or high
        boards[Y, -1] = board(
            task,
            "front",
            "front",
            stock,
            wall_lies,
            [thick, NO_LENGTH, NO_LENGTH],
            [within, thick, front_high],
            dict(between),
            faces=1,
        )
    flat = {X: "between the sides", Y: "between front and back", Z: "the sheet as measured"}
    start = thick if (Y, -1) in boards else NO_LENGTH
    inner = minus(deep - thick, start)
    boards[Z, -1] = board(
        task,
        "bottom",
        "bottom",
        base,
        (X, Y, Z),
        [thick, start, NO_LENGTH],
        [within, inner, base.thickness],
        flat,
        faces=1,
    )
    if ask.choice("open") == "front":
        boards[Z, 1] = board(
            task,
            "top",
            "top",
            stock,
            (X, Y, Z),
            [thick, start, high - thick],
            [within, inner, thick],
            dict(flat),
            faces=-1,
        )
    for end, guest in boards.items():
        if end[0] != X:
            joined(bench, guest, left, X, -1, way)
            joined(bench, guest, right, X, 1, way)
    for level in (-1, 1):
        shelf = boards.get((Z, level))
        for sign in (-1, 1):
            wall = boards.get((Y, sign))
            if shelf is not None and wall is not None:
                joined(bench, shelf, wall, Y, sign, way)
    return boards


def _hang(task: Task, boards: dict[tuple[int, int], Draft]) -> tuple[str, ...]:
    """Screws from inside the box, through the board that touches, into the assembly that it hangs on."""
    ask, name = task.ask, task.ask.text("screwed to")
    place = ask.place("screwed to")
    thing = beside(task, name, place)
    if thing is None:
        return ()
    for axis in (Y, X, Z):
        for sign in (-1, 1):
            mine: Dim = task.size[axis] if sign > 0 else NO_LENGTH
            theirs = thing.low[axis] if sign > 0 else thing.high(axis)
            if abs(mine.value - theirs.value) <= 1 and (axis, sign) in boards:
                made = screw_to(
                    task, boards[axis, sign], name, axis, sign, place, from_mine=True, said=ask.text("screws")
                )
                return tuple(one.name for one in made)
    near = f"sits: {{hung on: back of {name}}}"
    task.bench.mistakes.append(mistake(place, name, "something that a closed side of the box touches", near))
    return ()


SAMPLE = """
title: A box on the back of a cabinet
units: inch
stock:
  birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm]}
  birch12: {sheet: birch plywood, sold as: 12 mm, readings: [11.8 mm]}
build:
  cabinet:
    case: {wide: 30, deep: 18, high: 28, stock: birch18, back: {stock: birch12, joint: rabbet}}
  gouge box:
    box: {wide: 12, deep: 5, high: 16, stock: birch12, screwed to: cabinet}
    sits: {hung on: back of cabinet, bottom at: 6, left at: 0}
"""
KIND = Kind("box", FIELDS, size, make, says="an open box of five boards", also=("bin",), sample=SAMPLE)
