"""Nailers: boards on edge across the back of a case, that it is screwed to a wall by."""

from storystick.craft.carcass import Carcass, board, joined
from storystick.craft.draft import X, Y, Z, minus, plus
from storystick.craft.fastening import centre
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Task
from storystick.craft.wall_screws import LOCAL, STUDS, bore_for_wall, lay_wall_screws
from storystick.ground.dim import Dim
from storystick.ground.fields import Choice, Field, Fields, Filled, NameOf, Size
from storystick.ground.source import practice

WIDE = practice("nailers are 80 mm (3 in) wide")
NAILERS = Fields(
    "nailers",
    (
        Field("where", Choice(("top", "bottom", "both"), also=(("yes", "top"),)), default="top", help="where they lie"),
        Field("stock", NameOf("stock"), help="what they are made of; the case's stock if not said"),
        STUDS,
        Field("wide", Size, default=("3 in", "80 mm"), source=WIDE, help="from lower to upper edge"),
    ),
    short="where",
)
NOTE = f"it hangs by this: {LOCAL}"


def thick_of(task: Task, ask: Filled) -> Dim:
    """How thick nailers are."""
    named = ask.maybe_text("stock")
    return task.bench.stock_of(named or task.ask.text("stock"), ask.place("stock")).thickness


def lay_nailers(task: Task, ask: Filled, carcass: Carcass) -> None:
    """Lay them between the sides: behind a back in a groove, before any other, flush with the rear if there is none."""
    named = ask.maybe_text("stock")
    stock = task.bench.stock_of(named or task.ask.text("stock"), ask.place("stock"))
    wide, room, thick = ask.length("wide"), carcass.room, stock.thickness
    record = task.ask.maybe_record("back")
    behind = record is None or record.choice("joint") == "groove"
    low_y = minus(carcass.left.upper(Y), thick) if behind else plus(room.low[Y], room.size[Y])
    way = read_way(None, "screws", task.scope, task.bench, "inside", task.place)
    said = ask.choice("where")
    back = next((draft for draft in task.bench.piece.drafts.values() if draft.name == f"{task.name}.back"), None)
    count, laid = 0, []
    for word, low_z in (("top", minus(plus(room.low[Z], room.size[Z]), wide)), ("bottom", room.low[Z])):
        if said not in (word, "both"):
            continue
        why = {X: "between the sides", Y: "the sheet as measured", Z: "as asked"}
        nailer = board(
            task, f"{word} nailer", "nailer", stock, (X, Z, Y), [room.low[X], low_y, low_z],
            [room.size[X], thick, wide], why, faces=-1,
        )  # fmt: skip
        nailer.notes.append(NOTE)
        joined(task.bench, nailer, carcass.left, X, -1, way)
        joined(task.bench, nailer, carcass.right, X, 1, way)
        through = [nailer] if back is None else [nailer, back]
        apart = ask.length("studs")
        count += bore_for_wall(task, through, apart, {Z: centre(nailer, Z)}, ask.place())
        laid = through
    lay_wall_screws(task, laid, count, ask.place())
