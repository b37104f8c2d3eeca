"""Drawers and trays: a box of its own that runs in an opening of a case, with a front before it.

    drawers: {stock: birch12, bottom stock: birch6, front: inset, runs on: slides, joint: rabbet, pull: finger notch}

What the case's `drawers:` says holds for all; what a bay says of its own drawer goes before it. The drawer's own axes
begin at the low corner of the whole, front included. Its sizes are reckoned from the opening, so they are cut to the
opening as built.
"""

from collections.abc import Mapping
from dataclasses import replace

from storystick.craft.asking import own_before_usual
from storystick.craft.bays import Bay
from storystick.craft.carcass import Carcass, Room
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, plus
from storystick.craft.drawer_box import Box, lay_box
from storystick.craft.fronts import Front, draw_by, lay_front, plan_front
from storystick.craft.kinds import Task
from storystick.craft.packing import Packing, lay_packing, packed_out
from storystick.craft.runners import lay_below, lay_grooved
from storystick.craft.runs import Run, read_run
from storystick.craft.slides import lay_slides
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.fields import Choice, Field, Fields, Filled, Flag, Length, NameOf, Node, Size, Text
from storystick.ground.finding import mistake
from storystick.ground.length import down_to, show
from storystick.ground.source import practice
from storystick.model.build import Slider
from storystick.model.joining import Fit
from storystick.model.part import Assembly, Three
from storystick.model.stock import Stock

AIR = practice("a drawer box has 12 mm (1/2 in) of air above it and below")
ROUND = practice("box heights go down to the next 5 mm (1/4 in), so that few settings serve many drawers")
TRAY_HIGH = practice("a tray's sides are 60 mm (2 1/2 in) high")
REVEAL = practice("3 mm (1/8 in) of gap round an inset front")
DRAWER = Fields(
    "drawer",
    (
        Field("stock", NameOf("stock"), help="what its box is made of; the case's stock if not said"),
        Field("bottom stock", NameOf("stock"), help="what its bottom is made of"),
        Field(
            "front",
            Choice(("inset", "overlay", "none")),
            help="a front within the opening, one before the case, or none",
        ),
        Field("front stock", NameOf("stock"), help="what its front is made of; the case's stock if not said"),
        Field("runs on", Node, help="slides or runners"),
        Field("packed out", Length, help="how far slides or runners stand in from the boards beside them, on strips"),
        Field("joint", Node, help="how the corners of the box are joined"),
        Field(
            "run past",
            Choice(("sides", "front and back")),
            default="sides",
            help="which boards of the box run past the others",
        ),
        Field("bottom", Choice(("groove", "under")), default="groove", help="in a groove all round, or under the box"),
        Field("pull", Text, default="none", help="finger notch, knob, 3 inch pull ... or none", also=("handle",)),
        Field("reveal", Length, default=("1/8 in", "3 mm"), source=REVEAL, help="the gap round the front"),
        Field("overhang", Length, help="how far an overlay front covers the boards round the opening"),
        Field("match", Flag, default="no", help="fronts above one another follow on in their grain"),
        Field("high", Size, help="height of the box"),
        Field("deep", Size, help="depth of the box, instead of the deepest that runs"),
    ),
)


def lay_drawer(
    task: Task, name: str, bay: Bay, room: Room, carcass: Carcass, packed: Mapping[int, Packing] | None = None
) -> None:
    """Lay one drawer or tray in its opening: box, bottom, front, and what it runs on.

    packed  what stands back behind the opening at its sides, where it is one in a face frame
    """
    bench, tray = task.bench.within(name), bay.holds == "tray"
    ask = own_before_usual(task, DRAWER, bay.how, task.ask.node("drawers"))
    if ask is None:
        return
    own = replace(task, name=bench.name, bench=bench, place=bay.place)
    box_stock = _stock(task, ask, "stock", carcass.stock)
    bottom_stock = _stock(task, ask, "bottom stock", carcass.back.stock if carcass.back else box_stock)
    opening = {
        X: bench.once("opening wide", lambda: room.size[X], "clear between the boards"),
        Z: bench.once("opening high", lambda: room.size[Z], "clear between the boards"),
    }
    face = ask.maybe_text("front") or ("none" if tray else "inset")
    front = plan_front(own, ask, face, _stock(task, ask, "front stock", carcass.stock), room, opening)
    run = read_run(task, ask.node("runs on"), bay.place)
    out = ask.maybe_length("packed out")
    if out is not None:
        run, packed = run.packed_out(out), packed_out(room, packed, out, run.stock or carcass.stock)
    if run.kind == "in groove" and ask.choice("run past") != "sides":
        task.bench.mistakes.append(
            mistake(
                ask.place("run past"),
                "front and back",
                "sides that run past: runners go in along their grooves",
                "run past: sides",
            )
        )
        return
    box = _box(own, ask, run, front, room, opening, (box_stock, bottom_stock), tray)
    if box is None:
        return
    boards = lay_box(own, ask, box)
    before = boards["box front"]
    if front.stock is not None:
        before = lay_front(own, front, before, boards["bottom"])
        left = room.bounds.get((X, -1))
        before.match = f"{task.name} fronts by {left.name}" if ask.flag("match") and left is not None else ""
    draw_by(own, ask, before, boards["box front"])
    for draft in {id(d): d for d in (*boards.values(), before)}.values():
        draft.fit_to, draft.place = f"{task.name}.{name}", bay.place
    at = (
        front.start(X, room.low[X]),
        front.at_y(room),
        front.start(Z, room.low[Z]),
    )
    bench.piece.assemblies.append(
        Assembly(
            name=bench.name,
            kind=bay.holds,
            at=at,
            size=(front.over_all(X), plus(box.deep, front.thick), front.over_all(Z)),
            inside_of=task.name,
            removable=True,
            stands_on=task.name,
            place=bay.place,
        )
    )
    _lay_run(task, own, run, room, packed, at, box.low, (box.wide, box.deep, box.high), boards)
    _promise(task, bench, run, box, opening[X], bay)


def _stock(task: Task, ask: Filled, word: str, usual: Stock) -> Stock:
    named = ask.maybe_text(word)
    return task.bench.stock_of(named, ask.place(word)) if named else usual


def _box(
    own: Task,
    ask: Filled,
    run: Run,
    front: Front,
    room: Room,
    opening: dict[int, Dim],
    stocks: tuple[Stock, Stock],
    tray: bool,
) -> Box | None:
    """Reckon the box: as wide as the opening less what it runs on, as deep as that, as high as there is air for."""
    bench, manner, before = own.bench, own.bench.manner, len(own.bench.mistakes)
    side = run.side
    wide = bench.settle("box wide", opening[X] - 2 * side, f"the opening less {run.words} at each side")
    within = bench.settle(
        "room for the box", front.depth_left(room), "from the front to the back, less the front and air behind"
    )
    deep = run.deep(bench, within, ask.maybe_length("deep"))
    high = _high(own, ask, run, opening[Z], tray)
    if deep is None or high is None or wide.value <= 4 * stocks[0].thickness.value:
        clear = f"{show(opening[X].value, manner)} x {show(opening[Z].value, manner)}"
        what = f"a {clear} opening, {show(within.value, manner)} deep"
        room_for = f"room enough for a drawer on {run.row.name}s"
        if len(bench.mistakes) == before:
            bench.mistakes.append(mistake(own.place, what, room_for, "a larger bay, or a smaller drawer"))
        return None
    low = (
        front.within(X, side),
        front.thick,
        front.within(Z, run.lift if run.lift is not NO_LENGTH else _air(bench)),
    )
    return Box(low, wide, bench.settle("box deep", deep, "as long as what it runs on"), high, *stocks)


def _air(bench: Bench) -> Dim:
    return bench.once(
        "air round the box", lambda: rule("air round the box", bench.step("1/2", "12"), AIR), "above it and below"
    )


def _high(own: Task, ask: Filled, run: Run, opening: Dim, tray: bool) -> Dim | None:
    bench = own.bench
    below = run.lift if run.lift is not NO_LENGTH else _air(bench)
    most = opening - below - _air(bench)
    asked = ask.maybe_length("high")
    if asked is not None:
        if asked.value > opening.value - below.value:
            bench.mistakes.append(
                mistake(
                    ask.place("high"),
                    show(asked.value, bench.manner),
                    "a box that goes into its opening",
                    show(most.value, bench.manner),
                )
            )
            return None
        return bench.settle("box high", asked, "as asked")
    high = chosen(down_to(most.value, bench.step("1/4", "5")), ROUND, most)
    if tray:
        low = rule("tray high", bench.step("5/2", "60"), TRAY_HIGH)
        high = low if low.value < high.value else high
    return bench.settle("box high", high, "what the opening leaves") if high.value > 0 else None


def _promise(task: Task, bench: Bench, run: Run, box: Box, opening: Dim, bay: Bay) -> None:
    """What the drawer must keep: room at its sides for what it runs on, and how far it comes out."""
    opening = opening if run.out is NO_LENGTH else opening - 2 * run.out
    gap = bench.settle("room at each side", (opening - box.wide) / 2, f"for {run.words}")
    least, most = run.wants
    bench.piece.sliders.append(
        Slider(
            bench.name, bench.name, bench.name, run.travel(bench, box.deep), gap, (least, most), run.row.name, bay.place
        )
    )
    bench.piece.fits.append(
        Fit(
            f"{bench.name}.box in its opening",
            opening - box.wide,
            2 * least,
            2 * most,
            "slides",
            bench.name,
            task.name,
            source=run.row.comes_from,
            place=bay.place,
        )
    )


def _lay_run(
    task: Task,
    own: Task,
    run: Run,
    room: Room,
    packed: Mapping[int, Packing] | None,
    at: Three,
    low: tuple[Dim, Dim, Dim],
    size: Three,
    boards: dict[str, Draft],
) -> None:
    """Lay what a drawer runs on: in the case's axes what is fixed to the case, in the drawer's own what is fixed to it.

    at    where the drawer's own axes begin in the case's; low and size are of the box in its own axes
    """
    hosts = {sign: room.bounds[X, sign] for sign in (-1, 1) if (X, sign) in room.bounds}
    back = {sign: pack.by for sign, pack in (packed or {}).items()}
    if packed is not None and run.kind != "slides":
        hosts = {sign: pack.host for sign, pack in packed.items()}
    elif packed is not None:
        ends = (plus(at[Y], low[Y]), plus(plus(at[Y], low[Y]), size[Y]))
        hosts = lay_packing(own, task, packed, ends, plus(at[Z], plus(low[Z], size[Z] / 2)))
    if run.kind == "slides":
        lay_slides(task, own, run, hosts, at, low, size, boards)
    elif run.kind == "in groove":
        lay_grooved(task, own, run, room, hosts, back, at, low, size, boards)
    else:
        lay_below(task, own, run, room, hosts, back, at, low, size)
