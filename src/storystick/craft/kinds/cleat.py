"""Cleat: a pair of bevelled strips that hook into one another; one on the back of a thing, the other on the wall.

cleat: {long: 24, wide: 3, stock: birch18, on: cabinet}
"""

from dataclasses import replace

from storystick.craft.carcass import board
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus
from storystick.craft.fastening import centre
from storystick.craft.kinds import Kind, Task
from storystick.craft.neighbours import beside, screw_to
from storystick.craft.wall_screws import HELD, LOCAL, STUDS, bore_for_wall, lay_wall_screws
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import Field, Fields, Filled, NameOf, Size, Text
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.cut import Bevel
from storystick.model.part import Assembly, Three

DEGREES = 45.0
WIDE = practice("a cleat's strips are 80 mm (3 in) wide, measured on their longer face")
WALL = f"goes on the wall: level, its long face away from it, {LOCAL}"
FIELDS = Fields(
    "cleat",
    (
        Field("long", Size, required=True, help="of both strips"),
        Field("wide", Size, default=("3 in", "80 mm"), source=WIDE, help="of each strip, on its longer face"),
        Field("stock", NameOf("stock"), required=True, help="what the strips are made of"),
        Field("on", Text, required=True, help="the thing whose back the upper strip is on", also=("screwed to",)),
        Field("screws", Text, default="yes", help="those into that thing: #8 x 1 1/4"),
        STUDS,
    ),
)


def size(ask: Filled, scope: Scope, bench: Bench) -> Three | None:
    """As long as asked; as high as both strips, which overlap by their thickness at 45 degrees."""
    stock, wide = bench.stock_of(ask.text("stock"), ask.place("stock")), ask.length("wide")
    if wide.value <= 2 * stock.thickness.value:
        least = show(2 * stock.thickness.value, bench.manner)
        said = show(wide.value, bench.manner)
        wanted = f"strips wider than twice their thickness: over {least}"
        bench.mistakes.append(mistake(ask.place("wide"), said, wanted))
        return None
    high = bench.settle("high", 2 * wide - stock.thickness, "both strips, hooked into one another")
    return bench.settle("long", ask.length("long"), "as asked"), stock.thickness, high


def make(task: Task) -> Assembly:
    """Lay both strips, bevel them, screw the upper one on, and bore the lower one for the wall."""
    ask, bench = task.ask, task.bench
    stock, wide = bench.stock_of(ask.text("stock"), ask.place("stock")), ask.length("wide")
    on_wall = replace(task, name=f"{task.name}.wall", bench=bench.within("wall"))
    upper, lower = _strip(task, "upper", 1, wide), _strip(on_wall, "lower", -1, wide)
    thing = beside(task, ask.text("on"), ask.place("on"))
    held: tuple[str, ...] = ()
    if thing is not None and abs(thing.high(Y).value) > 1:
        near = f"behind: {ask.text('on')}"
        bench.mistakes.append(mistake(ask.place("on"), ask.text("on"), "something just in front of the cleat", near))
    elif thing is not None:
        made = screw_to(
            task, upper, ask.text("on"), Y, -1, ask.place("on"), from_mine=True, said=ask.text("screws")
        )  # fmt: skip
        held = tuple(one.name for one in made)
    across = {Z: centre(lower, Z) - stock.thickness / 2}
    count = bore_for_wall(task, [lower], ask.length("studs"), across, task.place)
    lay_wall_screws(on_wall, [lower], count, task.place)
    lower.notes.append(WALL)
    here = (NO_LENGTH, NO_LENGTH, NO_LENGTH)
    bench.piece.assemblies.append(
        Assembly(on_wall.name, "cleat", here, task.size, inside_of=task.name, held_by=(HELD,), place=task.place)
    )
    return Assembly(
        name=task.name, kind="cleat", at=task.at, size=task.size, turns=task.turns, held_by=held or (HELD,),
        place=task.place,
    )  # fmt: skip


def _strip(task: Task, word: str, sign: int, wide: Dim) -> Draft:
    """The upper strip's long face looks to the wall and its lower edge is bevelled; the lower one is its twin."""
    stock = task.bench.stock_of(task.ask.text("stock"), task.ask.place("stock"))
    why = {X: "as asked", Y: "the stock as measured", Z: "as asked"}
    low = [NO_LENGTH, NO_LENGTH, minus(task.size[Z], wide) if sign > 0 else NO_LENGTH]
    draft = board(
        task, f"{word} strip", "cleat", stock, (X, Z, Y), low, [task.size[X], stock.thickness, wide], why,
        faces=sign, from_low=(True, sign < 0),
    )  # fmt: skip
    side = draft.side_toward(Z, -sign)
    draft.cuts.append(Bevel(f"{draft.name} bevel", side, DEGREES, "bevel", place=task.place))
    return draft


SAMPLE = """
title: A cabinet on a cleat
units: mm
stock:
  birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm]}
build:
  cabinet:
    case: {wide: 600, deep: 250, high: 700, stock: birch18, back: {stock: birch18, joint: rabbet}}
    sits: {bottom at: 1200, held by: [cleat]}
  hanger:
    cleat: {long: 540, stock: birch18, on: cabinet}
    sits: {behind: cabinet, left at: 30, level: cabinet.top - 30}
"""
SAYS = "a pair of bevelled strips that a thing hangs by"
KIND = Kind("cleat", FIELDS, size, make, says=SAYS, also=("wall cleat",), sample=SAMPLE)
