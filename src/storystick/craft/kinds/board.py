"""Board: one board anywhere, flat, on edge, upright or as a side; cut to a slope, notched, its corners cut or rounded.

board: {long: 30, wide: 6, stock: birch18, lies: on edge}
board: {long: 40, slope: {from: 12, to: 5}, stock: birch18, lies: upright}
board: {long: 40, wide: 12, stock: birch18, notches: [{at: front left, long: 3, wide: 2}]}
"""

from storystick.craft.carcass import board
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z
from storystick.craft.joined_to import host_of, join_to, lay_in
from storystick.craft.kinds import Kind, Task
from storystick.craft.neighbours import beside, screw_to
from storystick.craft.sawn import NOTCH, cut_corner, cut_notch, round_corner, slope
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import (
    Choice,
    Either,
    Field,
    Fields,
    Filled,
    Length,
    ListOf,
    NameOf,
    Node,
    Record,
    Size,
    Table,
    Text,
)
from storystick.ground.finding import mistake
from storystick.ground.misread import nearest, one_of
from storystick.model.part import Assembly, Three

LIES = {
    "flat": (X, Y, Z), "on edge": (X, Z, Y), "upright": (Z, X, Y),
    "flat front to back": (Y, X, Z), "on edge front to back": (Y, Z, X), "as a side": (Z, Y, X),
}  # fmt: skip
ENDS = {X: ("left", "right"), Y: ("front", "back"), Z: ("bottom", "top")}
SLOPE = Fields(
    "slope",
    (
        Field("from", Size, required=True, help="its width at the left end, or at the bottom"),
        Field("to", Size, required=True, help="its width at the other end"),
    ),
)
FIELDS = Fields(
    "board",
    (
        Field("long", Size, required=True, help="along the grain", also=("length",)),
        Field("wide", Size, help="across the grain", also=("width",)),
        Field("slope", Record(SLOPE), help="two widths, one at each end, instead of one"),
        Field("stock", NameOf("stock"), required=True, help="what it is made of"),
        Field(
            "lies",
            Choice(tuple(LIES)),
            default="flat",
            help="flat, on edge, upright, or as a side of a case",
            also=("stands",),
        ),
        Field("notches", ListOf(Record(NOTCH)), help="rectangles sawn out at corners or edges"),
        Field("cut corners", Table(Length, "corners"), help="corners cut off at 45 degrees: {right front: 2}"),
        Field("rounded", Either((Length, Table(Length, "corners"))), help="the radius of all corners, or of some"),
        Field("screwed to", Text, help="the assembly that it touches and is screwed to"),
        Field("joined to", Text, help="the case that its ends or edges meet: it becomes a board of that"),
        Field("joint", Node, help="how it is joined to that; a dado if not said"),
        Field("screws", Text, default="yes", help="these screws: #8 x 1 1/4"),
    ),
)


def size(ask: Filled, scope: Scope, bench: Bench) -> Three | None:
    """Its length, width and thickness along the axes as it lies."""
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    wide, sloped = ask.maybe_length("wide"), ask.maybe_record("slope")
    if (wide is None) == (sloped is None):
        bench.mistakes.append(mistake(ask.place(), "", "wide or a slope for the board, one of the two", "wide: 6"))
        return None
    if sloped is not None:
        wide = max(sloped.length("from"), sloped.length("to"), key=lambda d: d.value)
    assert wide is not None
    own = (
        bench.settle("long", ask.length("long"), "as asked"),
        bench.settle("wide", wide, "as asked"),
        stock.thickness,
    )
    lies = LIES[ask.choice("lies")]
    along = {axis: own[i] for i, axis in enumerate(lies)}
    return along[X], along[Y], along[Z]


def make(task: Task) -> Assembly:
    """Lay the board, saw it to its outline, and screw it on."""
    ask, bench = task.ask, task.bench
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    lies = LIES[ask.choice("lies")]
    why = {lies[0]: "as asked", lies[1]: "as asked", lies[2]: "the stock as measured"}
    faces = -1 if lies[2] == Y else 1
    host = host_of(task) if ask.has("joined to") else None
    if host is not None:
        draft = lay_in(task, host, stock, lies, why, faces)
    else:
        low = [NO_LENGTH, NO_LENGTH, NO_LENGTH]
        draft = board(task, "board", "board", stock, lies, low, list(task.size), why, faces=faces)
    sloped = ask.maybe_record("slope")
    if sloped is not None:
        slope(draft, sloped.length("from"), sloped.length("to"), task.place)
    for index, record in enumerate(ask.records("notches"), 1):
        corner = _corner(task, draft, record.text("at"), record)
        if corner is not None:
            cut_notch(draft, corner, record, index)
    for key, by in ask.table("cut corners", Dim):
        corner = _corner(task, draft, key.text, ask)
        if corner is not None:
            cut_corner(draft, corner, by, task.place)
    _round(task, draft)
    if host is not None:
        return join_to(task, draft, host)
    held = _screw(task, draft) if ask.has("screwed to") else ()
    return Assembly(
        name=task.name, kind="board", at=task.at, size=task.size, turns=task.turns, held_by=held, place=task.place
    )


def _corner(task: Task, draft: Draft, said: str, ask: Filled) -> tuple[int, int] | None:
    """`left front` as the signs of length and width; None with a mistake noted for a corner it has not."""
    words = set(said.lower().split())
    first, second = ENDS[draft.lies[0]], ENDS[draft.lies[1]]
    known = [f"{a} {b}" for a in first for b in second]
    for a, one in enumerate(first):
        for b, other in enumerate(second):
            if words == {one, other}:
                return (2 * a - 1, 2 * b - 1)
    task.bench.mistakes.append(
        mistake(ask.place(), said, f"a corner of this board: {one_of(known)}", nearest(said, known))
    )
    return None


def _round(task: Task, draft: Draft) -> None:
    every = task.ask.maybe_length("rounded")
    if every is not None:
        for a in (-1, 1):
            for b in (-1, 1):
                round_corner(draft, (a, b), every, task.place)
        return
    for key, by in task.ask.table("rounded", Dim):
        corner = _corner(task, draft, key.text, task.ask)
        if corner is not None:
            round_corner(draft, corner, by, task.place)


def _screw(task: Task, draft: Draft) -> tuple[str, ...]:
    """Screws through the board's thickness into what it lies against."""
    name, place = task.ask.text("screwed to"), task.ask.place("screwed to")
    thing = beside(task, name, place)
    if thing is None:
        return ()
    axis = draft.thick
    for sign in (-1, 1):
        mine = draft.end(axis, sign)
        theirs = thing.low[axis] if sign > 0 else thing.high(axis)
        if abs(mine.value - theirs.value) <= 1:
            made = screw_to(task, draft, name, axis, sign, place, from_mine=True, said=task.ask.text("screws"))
            return tuple(one.name for one in made)
    task.bench.mistakes.append(mistake(place, name, "something that the board's face or back touches"))
    return ()


SAMPLE = """
title: A board on a case
units: mm
stock:
  birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm]}
build:
  cabinet:
    case: {wide: 600, deep: 400, high: 700, stock: birch18}
  fin:
    board:
      {long: 500, slope: {from: 200, to: 80}, stock: birch18, lies: on edge, rounded: {right bottom: 30},
       screwed to: cabinet}
    sits: {behind: cabinet, left at: 50, bottom at: 550}
"""
KIND = Kind("board", FIELDS, size, make, says="one board anywhere", also=("panel",), sample=SAMPLE)
