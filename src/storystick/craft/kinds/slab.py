"""Slab: a top of one or more layers, edged, channelled underneath for what stands up below it, held or lifted off.

slab: {stock: birch18, layers: 2, covers: cabinet, overhang: 1, edge: {stock: walnut}}
slab:
  wide: 40
  deep: 14
  stock: birch18
  channels: {over: [front way, back way], wider by: 1/8, deeper by: 1/16}
  held by: {magnets: {disc: 25 mm x 3 mm, on: bed}}
"""

from storystick.craft.carcass import board
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.edging import EDGE, Edging, lay_edging, read_edging
from storystick.craft.holding import HELD, hold_down
from storystick.craft.kinds import Kind, Task
from storystick.craft.tracks import TRACK, lay_tracks
from storystick.craft.troughs import CHANNELS, cut_channels
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim
from storystick.ground.fields import (
    Count,
    Either,
    Field,
    Fields,
    Filled,
    Flag,
    Length,
    ListOf,
    NameOf,
    Record,
    Size,
    Text,
)
from storystick.ground.finding import mistake
from storystick.model.joining import Joined
from storystick.model.part import Assembly, Three

SIDES = ("left", "right", "front", "back")
OVER = Fields("overhang", tuple(Field(side, Length, help=f"beyond the {side} of what it covers") for side in SIDES))
FIELDS = Fields(
    "slab",
    (
        Field("stock", NameOf("stock"), required=True, help="what its layers are made of"),
        Field("layers", Count, default="1", help="how many are glued up"),
        Field("wide", Size, help="over all, with its edging"),
        Field("deep", Size, help="over all, with its edging"),
        Field("covers", Text, help="the thing that it covers, instead of wide and deep"),
        Field("overhang", Either((Length, Record(OVER))), help="how far it goes beyond that, all round or by sides"),
        Field("edge", Record(EDGE), help="strips along its edges", also=("edging",)),
        Field("channels", Record(CHANNELS), help="troughs in its underside for what stands up below it"),
        Field("track", Either((Record(TRACK), ListOf(Record(TRACK)))), help="a bar let in flush with its upper side"),
        Field("held by", Record(HELD), help="magnets, screws or strips that keep it in its place"),
        Field("removable", Flag, default="no", help="lifts off"),
    ),
)


def size(ask: Filled, scope: Scope, bench: Bench) -> Three | None:
    """Wide and deep as asked, or those of what it covers with the overhang; as high as its layers."""
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    layers = ask.count("layers")
    if not 1 <= layers <= 6:
        bench.mistakes.append(mistake(ask.place("layers"), str(layers), "one to six layers", "2"))
        return None
    over = overhangs(ask)
    found: list[Dim] = []
    for word, ends in (("wide", SIDES[:2]), ("deep", SIDES[2:])):
        dim = _over_all(ask, scope, bench, word, tuple(over.get(end) for end in ends))
        if dim is not None:
            found.append(bench.settle(word, dim, "over all, with its edging"))
    if len(found) < 2:
        return None
    high = stock.thickness if layers == 1 else layers * stock.thickness
    return found[0], found[1], bench.settle("high", high, "its layers")


def _over_all(ask: Filled, scope: Scope, bench: Bench, word: str, over: tuple[Dim | None, ...]) -> Dim | None:
    asked, covers = ask.maybe_length(word), ask.maybe_text("covers")
    if asked is not None:
        return asked
    if covers is None:
        bench.mistakes.append(mistake(ask.place(), "", f"{word} for the slab, or what it covers", f"{word}: 24"))
        return None
    below = scope.find(f"{' '.join(covers.lower().split())}.{word}")
    if below is None:
        bench.mistakes.append(mistake(ask.place("covers"), covers, "a thing of this plan that the slab can cover"))
        return None
    for by in over:
        below = plus(below, by) if by is not None else below
    return below


def overhangs(ask: Filled) -> dict[str, Dim]:
    """How far it goes beyond what it covers, by side."""
    every = ask.maybe_length("overhang")
    if every is not None:
        return dict.fromkeys(SIDES, every)
    some = ask.maybe_record("overhang")
    return {side: by for side in SIDES if some is not None and (by := some.maybe_length(side)) is not None}


def make(task: Task) -> Assembly:
    """Lay the layers, edge them, cut what is let in, and hold it down."""
    ask = task.ask
    record = ask.maybe_record("edge")
    edging = read_edging(task, record) if record is not None else None
    layers = _lay_layers(task, edging)
    strips = tuple(lay_edging(task, edging, layers).values()) if edging is not None else ()
    channels = ask.maybe_record("channels")
    troughs = cut_channels(task, channels, layers, strips) if channels is not None else {}
    lay_tracks(task, ask, layers[-1])
    held_record = ask.maybe_record("held by")
    held = hold_down(task, held_record, layers, troughs) if held_record is not None else ()
    return Assembly(
        name=task.name,
        kind="slab",
        at=task.at,
        size=task.size,
        turns=task.turns,
        removable=ask.flag("removable") or (held_record is not None and not held_record.has("screws")),
        held_by=held,
        place=task.place,
    )


def _lay_layers(task: Task, edging: Edging | None) -> list[Draft]:
    """The layers from the lowest up, glued face to face; only the uppermost shows."""
    bench, ask = task.bench, task.ask
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    count = ask.count("layers")
    low = [edging.thick_at(X, -1) if edging else NO_LENGTH, edging.thick_at(Y, -1) if edging else NO_LENGTH]
    long = [task.size[X], task.size[Y]]
    if edging is not None:
        for axis in (X, Y):
            for sign in (-1, 1):
                long[axis] = minus(long[axis], edging.thick_at(axis, sign))
    wide = long[X].value >= long[Y].value
    why = dict.fromkeys((X, Y), "over all less its edging" if edging else "over all") | {Z: "the sheet as measured"}
    made: list[Draft] = []
    height: Dim = NO_LENGTH
    for index in range(count):
        name = "top" if index == count - 1 else ("lower layer" if count == 2 else f"layer {index + 1}")
        lies = (X, Y, Z) if wide else (Y, X, Z)
        draft = board(
            task,
            name,
            "top" if index == count - 1 else "layer",
            stock,
            lies,
            [*low, height],
            [*long, stock.thickness],
            dict(why),
            faces=1,
        )
        if count > 1:
            draft.notes.append("cut 10 mm (3/8 in) oversize each way and trim it when the layers are glued up")
        if made:
            below = made[-1]
            bench.piece.joined.append(
                Joined(
                    f"{task.name}.{name} on {below.name.rsplit('.', 1)[-1]}",
                    "butt",
                    "glued face to face",
                    below.name,
                    draft.name,
                    Z,
                    -1,
                    True,
                    ("glue",),
                    task.place,
                )
            )
        made.append(draft)
        height = plus(height, stock.thickness)
    return made


SAMPLE = """
title: A top for a cabinet
units: inch
stock:
  birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm]}
  walnut: {board: black walnut, thickness: 3/4}
build:
  cabinet:
    case: {wide: 30, deep: 18, high: 28, stock: birch18, top: rails}
  bench top:
    slab: {stock: birch18, layers: 2, covers: cabinet, overhang: 1, edge: {stock: walnut}, held by: {screws: cabinet}}
    sits: {on: cabinet, centred: cabinet}
"""
KIND = Kind("slab", FIELDS, size, make, says="a top of one or more layers", also=("top", "worktop"), sample=SAMPLE)
