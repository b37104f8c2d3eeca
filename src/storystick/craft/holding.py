"""What keeps a top in its place: magnets let in from below, screws from below, strips round what it lies on, hinges."""

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import hypot, pi

from storystick.craft.carcass import board
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import spot_on
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.kinds import Task
from storystick.craft.lids import LID, hang_lid
from storystick.craft.neighbours import Beside, beside, screw_to
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim, Leaf, Spread, chosen, rule
from storystick.ground.fields import Choice, Count, Field, Fields, Filled, Length, NameOf, Record, Text
from storystick.ground.finding import mistake
from storystick.ground.length import Unit, read_length
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Fit, Item, Joined
from storystick.shop.tables import find, magnets, nearest, workmanship
from storystick.shop.tables.rows import Magnet

BORE = practice("a magnet goes into a bore of its own size: a bit cuts a little over, a magnet measures a little under")
BELOW = practice("a magnet lies 0.3 mm (1/64 in) below the surface, so that it does not scratch")
PLAY = practice("strips under a lift-off top stand 1.5 mm (1/16 in) off what they go round")
LIFTS = practice("strips under a lift-off top leave 1 to 8 mm of play in all")
STRIP = practice("strips under a lift-off top are 40 mm (1 1/2 in) wide and end 20 mm (3/4 in) from its ends")
IN = practice("magnets sit their own diameter in from the edge of the steel")
STEEL_KG_M3 = 7500.0
MAGNETS = Fields(
    "magnets",
    (
        Field("disc", Text, required=True, help="diameter x thickness: 25 mm x 3 mm"),
        Field("on", Text, required=True, help="the steel thing that they hold to", also=("to",)),
        Field("at", Choice(("corners", "ends")), default="corners", help="four at the corners, or two at the ends"),
        Field("count", Count, help="how many, along the middle of what they hold to"),
    ),
)
STRIPS = Fields(
    "strips",
    (
        Field("stock", NameOf("stock"), required=True, help="what they are made of"),
        Field("round", Text, required=True, help="what they go round"),
        Field("play", Length, default=("1/16 in", "1.5 mm"), source=PLAY, help="the gap at each side"),
    ),
)
HELD = Fields(
    "held by",
    (
        Field("hinges", Record(LID), help="hinges at one of its edges: a lid that swings up"),
        Field("magnets", Record(MAGNETS), help="disc magnets let into the underside"),
        Field("screws", Text, help="the assembly that it is screwed to from below"),
        Field("size", Text, default="yes", help="the screws: #8 x 1 1/4"),
        Field("strips", Record(STRIPS), help="strips under it that keep it from sliding"),
    ),
)


def hold_down(task: Task, ask: Filled, layers: Sequence[Draft], troughs: Mapping[str, Dim]) -> tuple[str, ...]:
    """Lay what holds the top; the names of what holds it. `troughs` says how deep the channels over things are."""
    held: list[str] = []
    record = ask.maybe_record("magnets")
    if record is not None:
        held += _magnets(task, record, layers, troughs)
    if ask.has("screws"):
        made = screw_to(
            task, layers[0], ask.text("screws"), Z, -1, ask.place("screws"), from_mine=False,
            said=ask.text("size"), said_at=ask.place("size"),
        )  # fmt: skip
        held += [one.name for one in made]
    lid = ask.maybe_record("hinges")
    if lid is not None:
        hang_lid(task, lid, layers)
    strips = ask.maybe_record("strips")
    if strips is not None:
        held += _strips(task, strips, layers[0])
    return tuple(held)


def _magnets(task: Task, ask: Filled, layers: Sequence[Draft], troughs: Mapping[str, Dim]) -> list[str]:
    """Bores from below with a magnet in each, over the steel; in the floor of a channel where there is one."""
    bench, name = task.bench, ask.text("on")
    row = _magnet(task, ask)
    thing = beside(task, name, ask.place("on"))
    if row is None or thing is None:
        return []
    across = rule(f"{row.name} wide", row.diameter_mm, row.comes_from)
    thick = rule(f"{row.name} thick", row.thick_mm, row.comes_from)
    wide = bench.settle("magnet bore wide", chosen(row.diameter_mm, BORE, across), "the magnet's own size")
    let_in = bench.settle(
        "magnet bore deep",
        thick + rule("magnet below the surface", bench.step("1/64", "0.3"), BELOW),
        "just below the surface",
    )
    floor = next((deep for over, deep in troughs.items() if over.lower() == name.lower()), NO_LENGTH)
    depth = plus(floor, let_in)
    if depth.value > task.size[Z].value - 2:
        says = "a magnet that leaves 2 mm of wood above it"
        bench.mistakes.append(mistake(ask.place("disc"), ask.text("disc"), says, "a thinner disc, or more layers"))
        return []
    lowest, names = layers[0], []
    for index, (x, y) in enumerate(_spots(task, ask, thing, lowest, across), 1):
        called = f"{task.name}.magnet {index}"
        _bore(ask, called, layers, {X: x, Y: y}, wide, depth)
        box = ((x - across / 2, y - across / 2, depth - thick), (across, across, thick))
        weight = STEEL_KG_M3 * pi / 4 * float(across) ** 2 * float(thick) * 1e-9
        on = tuple(layer.name for layer in layers[: 1 if depth.value <= lowest.span[Z].value else 2])
        bench.piece.items.append(
            Item(called, row.name, row.name, 1, task.name, on, box, True, weight, row.name, place=ask.place())
        )
        names.append(called)
    return names


def _bore(ask: Filled, called: str, layers: Sequence[Draft], spot: dict[int, Dim], wide: Dim, depth: Dim) -> None:
    """A bore from below, going on into the next layer where the lowest is thinner than it is deep."""
    rest = depth
    for layer in layers:
        if rest.value <= 0:
            return
        side, thick = layer.side_toward(Z, -1), layer.span[Z]
        deep = rest if rest.value < thick.value else None
        at = spot_on(layer, side, spot)
        layer.cuts.append(Bore(f"{called} bore", side, at, wide, deep, "bore for a magnet", place=ask.place()))
        rest = rest - thick


def _magnet(task: Task, ask: Filled) -> Magnet | None:
    said = ask.text("disc")
    plain = re.sub(r"\s+", " ", said.lower().replace("×", "x")).strip()
    row = find(magnets(), plain) or find(magnets(), f"{plain} disc")
    if row is None:
        near = _near(plain, task.bench.manner.unit)
        known = one_of(list(magnets())[:3])
        task.bench.mistakes.append(mistake(ask.place("disc"), said, f"a disc of the table, such as {known}", near))
    return row


def _near(said: str, bare: Unit) -> str:
    """The disc of the table nearest in diameter and thickness; the nearest name where the sizes can't be read."""
    try:
        across, thick = (read_length(size, bare) for size in said.removesuffix(" disc").split(" x "))
    except ValueError:
        names = nearest(magnets(), f"{said} disc")
        return names[0].removesuffix(" disc") if names else ""
    rows = [row for row in magnets().values() if (" mm " in row.name) == (bare == "mm")]
    close = min(rows, key=lambda r: abs(r.diameter_mm - across) + abs(r.thick_mm - thick))
    return close.name.removesuffix(" disc")


def _spots(task: Task, ask: Filled, thing: Beside, lowest: Draft, across: Dim) -> list[tuple[Dim, Dim]]:
    """Where magnets sit: at the corners, at the ends or along the middle of what slab and steel share."""
    ends: dict[int, tuple[Dim, Dim]] = {}
    for axis in (X, Y):
        low = max((lowest.lower(axis), thing.low[axis]), key=lambda d: d.value)
        high = min((lowest.upper(axis), thing.high(axis)), key=lambda d: d.value)
        if high.value - low.value < across.value:
            task.bench.mistakes.append(
                mistake(ask.place("on"), ask.text("on"), f"steel wide enough under {task.name} for the magnets")
            )
            return []
        room = minus(high, low)
        inset = across if room.value >= 4 * across.value else room / 4
        ends[axis] = (plus(low, inset), minus(high, inset))
    middle = {axis: (low + high) / 2 for axis, (low, high) in ends.items()}
    count = ask.maybe_count("count")
    along = X if ends[X][1].value - ends[X][0].value >= ends[Y][1].value - ends[Y][0].value else Y
    if count is None and ask.choice("at") == "corners":
        return [(x, y) for y in ends[Y] for x in ends[X]]
    number_ = max(count or 2, 1)
    first, last = ends[along]
    places = [middle[along]] if number_ == 1 else [first + (last - first) * i / (number_ - 1) for i in range(number_)]
    return [(at, middle[Y]) if along == X else (middle[X], at) for at in places]


def _strips(task: Task, ask: Filled, lowest: Draft) -> list[str]:
    """Two strips under the top, along the two longer sides of what it lies on."""
    bench = task.bench
    thing = beside(task, ask.text("round"), ask.place("round"))
    if thing is None:
        return []
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    along = X if thing.size[X].value >= thing.size[Y].value else Y
    over = Y if along == X else X
    wide = bench.settle("strip wide", rule("strip wide", bench.step("3/2", "40"), STRIP), "wide enough to screw on")
    short = rule("strip from the ends", bench.step("3/4", "20"), STRIP)
    names: list[str] = []
    for sign, word in ((-1, "front" if over == Y else "left"), (1, "back" if over == Y else "right")):
        edge = thing.low[over] - ask.length("play") - wide if sign < 0 else thing.high(over) + ask.length("play")
        if edge.value < lowest.lower(over).value or edge.value + wide.value > lowest.upper(over).value:
            bench.mistakes.append(
                mistake(
                    ask.place("round"),
                    ask.text("round"),
                    f"something that leaves room for a strip at the {word} of the slab",
                )
            )
            continue
        low, span = [NO_LENGTH, NO_LENGTH, -stock.thickness], [wide, wide, stock.thickness]
        low[along], span[along] = plus(lowest.lower(along), short), lowest.span[along] - 2 * short
        low[over] = edge
        why = {along: "nearly as long as the top", over: "wide enough to screw on", Z: "the stock as measured"}
        strip = board(task, f"{word} strip", "strip", stock, (along, over, Z), low, span, why, faces=-1)
        middle = centre(strip, over)
        spots = [
            {along: at, over: middle}
            for at in spread_along(Stretch(strip.lower(along), strip.upper(along)), bench, None)
        ]
        screw_down(bench, strip.name, strip, lowest, Z, 1, spots, place=ask.place())
        bench.piece.joined.append(
            Joined(
                f"{strip.name} on {lowest.name.rsplit('.', 1)[-1]}",
                "screws",
                "screwed on",
                lowest.name,
                strip.name,
                Z,
                1,
                False,
                ("screws",),
                ask.place(),
            )
        )
        names.append(strip.name)
    if len(names) == 2:
        _strips_fit(task, ask, thing.size[over])
    return names


def _strips_fit(task: Task, ask: Filled, size: Dim) -> None:
    """What the strips go round goes between them: they are set to what is printed, as well as marks are set by hand."""
    bench, off = task.bench, workmanship()["bore place"]
    name = "between the strips"
    apart = bench.settle(name, size + 2 * ask.length("play"), "what they go round, and the play at both sides")

    spread = Spread(hypot(off.setting_mm, off.own_mm))

    def mark(word: str) -> Dim:
        says = f"how well the {word} strip of {task.name} is set to its mark"
        return Dim(Fraction(0), Leaf(f"{task.name}: {word} strip", "setting", says, spread), 1)

    printed = Dim(apart.value, Leaf(f"{apart.name} as printed", "given", "as printed"), 1)
    bench.true(name, lambda: printed + mark("one") + mark("other"))
    least, most = (rule(f"{said} play of a lid's strips", by, LIFTS) for said, by in (("least", 1), ("most", 8)))
    bench.piece.fits.append(
        Fit(f"{task.name} {name}", apart - size, least, most, "lifts off and drops on", ask.text("round"), task.name,
            source=LIFTS, place=ask.place("round"))
    )  # fmt: skip
