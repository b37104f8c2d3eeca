"""Case: two sides, a top and a bottom, a back; bays of columns and rows inside; something to stand on underneath.

The height is over all, with what it stands on. Sides run past top and bottom unless the plan says otherwise. Everything
inside is reckoned from the clear room between the boards as they really are.
"""

from dataclasses import replace

from storystick.craft.bays import Bay, read_bays
from storystick.craft.carcass import Around, Carcass, lay_carcass
from storystick.craft.draft import NO_LENGTH, Bench
from storystick.craft.face_frame import FACE, lay_face_frame
from storystick.craft.furnish import furnish
from storystick.craft.kinds import Kind, Task
from storystick.craft.nailers import NAILERS, lay_nailers, thick_of
from storystick.craft.standing import lay_standing, read_standing
from storystick.craft.wall_screws import HELD
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import Choice, Field, Fields, Filled, Length, NameOf, Node, Record, Size
from storystick.ground.finding import wrong
from storystick.ground.marked import Scalar
from storystick.model.part import Assembly, Three

BACK_JOINT = Choice(("groove", "rabbet", "screwed on"), also=(("rebate", "rabbet"), ("overlaid", "screwed on")))
BACK = Fields(
    "back",
    (
        Field("stock", NameOf("stock"), required=True, help="what the back is made of"),
        Field("joint", BACK_JOINT, default="groove", help="how it is held"),
        Field("in by", Length, help="how far its outer face lies in from the rear edges, when it is in a groove"),
        Field("called", NameOf("any"), help="a name for it"),
    ),
)
FIELDS = Fields(
    "case",
    (
        Field("wide", Size, help="over all, from outside to outside"),
        Field("deep", Size, required=True, help="over all, with the back"),
        Field("high", Size, help="over all, with what it stands on"),
        Field("inside wide", Size, help="clear width instead of the width over all"),
        Field("inside high", Size, help="clear height instead of the height over all"),
        Field("stock", NameOf("stock"), required=True, help="what the sides, top, bottom and dividers are made of"),
        Field("run past", Choice(("sides", "top and bottom")), default="sides", help="which boards run past"),
        Field("joint", Node, help="how the corners are joined"),
        Field("shelf joint", Node, help="how fixed shelves and dividers are joined"),
        Field("top", Choice(("board", "rails", "none")), default="board", help="a whole top, two rails, or no top"),
        Field("back", Record(BACK), help="a back, if it has one"),
        Field("face frame", Record(FACE), help="stiles and rails before its front edges"),
        Field("nailers", Record(NAILERS), help="boards at its back that it is screwed to a wall by", also=("nailer",)),
        Field("bays", Node, help="what is inside, in columns and rows"),
        Field("drawers", Node, help="how all drawers are made that do not say otherwise"),
        Field("doors", Node, help="how all doors are made; they close it all if no bay has any", also=("door",)),
        Field("stands on", Node, help="castors, feet, a plinth, a toe kick or a base panel"),
        Field("lip", Node, help="how lips are made that do not say otherwise"),
        Field("shelf setback", Length, help="how far shelves and dividers stay behind the front edge"),
    ),
)


def size(ask: Filled, scope: Scope, bench: Bench) -> Three | None:
    """Wide, deep and high over all; from the clear width or height where the plan gives that instead."""
    thick = bench.stock_of(ask.text("stock"), ask.place("stock")).thickness
    standing = read_standing(ask.node("stands on"), scope, bench)
    under = standing.high if standing else NO_LENGTH
    deep = ask.length("deep")
    wide = _over_all(ask, bench, "wide", 2 * thick, "two sides stand beside the clear width")
    boards = 2 * thick if ask.choice("top") != "none" else thick
    above = boards if under is NO_LENGTH else boards + under
    high = _over_all(ask, bench, "high", above, "top and bottom and what it stands on, beside the clear height")
    if wide is None or high is None:
        return None
    return (
        bench.settle("wide", wide, "over all"),
        bench.settle("deep", deep, "over all, with the back"),
        bench.settle("high", high, "over all, with what it stands on"),
    )


def _over_all(ask: Filled, bench: Bench, word: str, boards: Dim, because: str) -> Dim | None:
    outer, inner = ask.maybe_length(word), ask.maybe_length(f"inside {word}")
    if outer is not None and inner is not None:
        says = f"The case is given both {word} and inside {word}: one follows from the other."
        bench.mistakes.append(wrong(ask.place(f"inside {word}"), says, "Take one of them out."))
    if outer is None and inner is None:
        bench.mistakes.append(wrong(ask.place(), f"The case needs {word} or inside {word}.", f"Write {word}: 24 in."))
    return outer if outer is not None or inner is None else inner + boards


def make(task: Task) -> Assembly:
    """Lay the carcass, then what is in its bays, then what it stands on."""
    ask, bench = task.ask, task.bench
    standing = read_standing(ask.node("stands on"), task.scope, bench)
    under = bench.settle("room underneath", standing.high, "what it stands on") if standing else NO_LENGTH
    frame, nailers = ask.maybe_record("face frame"), ask.maybe_record("nailers")
    around = Around(
        under,
        standing is not None and standing.kind == "toe kick",
        bench.stock_of(frame.text("stock"), frame.place("stock")).thickness if frame else NO_LENGTH,
        thick_of(task, nailers) if nailers else NO_LENGTH,
    )
    carcass: Carcass = lay_carcass(task, around)
    if nailers is not None:
        lay_nailers(task, nailers, carcass)
    face = lay_face_frame(task, frame, carcass) if frame is not None else None
    tree = _tree(task)
    if tree is not None:
        furnish(task, carcass, tree, face)
    feet = lay_standing(task, carcass, standing) if standing else None
    return Assembly(
        name=task.name,
        kind="case",
        at=task.at,
        size=task.size,
        turns=task.turns,
        feet=feet.spots if feet else (),
        swivels=feet.swivels if feet else 0.0,
        held_by=(HELD,) if nailers is not None else (),
        place=task.place,
    )


def _tree(task: Task) -> Bay | None:
    """The bays; the case's doors close all of it where no bay has doors of its own."""
    bays, doors = task.ask.node("bays"), task.ask.node("doors")
    tree = read_bays(bays, task.scope, task.bench.mistakes) if bays is not None else None
    if doors is None or (bays is not None and (tree is None or tree.has_doors)):
        return tree
    yes = Scalar("yes", doors.place)
    return replace(tree, doors=yes) if tree is not None else Bay("open", doors.place, doors=yes)


SAMPLE = """
title: A case
units: inch
stock:
  birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm]}
  birch6: {sheet: birch plywood, sold as: 6 mm, readings: [5.7 mm]}
build:
  cabinet:
    case:
      wide: 30
      deep: 18
      high: 28
      stock: birch18
      back: {stock: birch6}
      bays: [drawer 6, fixed shelf, open]
"""
KIND = Kind(
    "case",
    FIELDS,
    size,
    make,
    says="a carcass of sheet goods with bays, a back, and something to stand on",
    also=("carcass", "cabinet", "carcase"),
    sample=SAMPLE,
    lends=("inside wide", "inside high", "inside deep"),
)
