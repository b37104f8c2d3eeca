"""A loose shelf on pins: a little shorter than its bay, with rows of pin holes in the two boards beside it."""

from fractions import Fraction

from storystick.craft.carcass import Carcass, Room, board
from storystick.craft.draft import Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import spot_on
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.finding import Place
from storystick.ground.length import down_to
from storystick.ground.source import practice
from storystick.model.build import Span
from storystick.model.cut import Bore
from storystick.model.joining import Fit, Item
from storystick.shop.tables import shelf_pins
from storystick.shop.tables.rows import ShelfPin

PLAY = practice("a loose shelf is 1.5 mm (1/16 in) shy at each side")
LEAST = practice("a loose shelf that has less than 1 mm in all binds when it is lifted out")
MOST = practice("a loose shelf with more than 6 mm in all can slip off its pins")
MEET = practice("pin holes from both sides of one board stay 2 mm apart")
HOLES = 2  # holes above the shelf's place, and as many below
CLEAR = Fraction(2)  # spacings that the first and last hole stand off from the ends of the bay
PIN_KG = 0.005  # a guess


def lay_pins(
    task: Task,
    name: str,
    low: list[Dim],
    span: list[Dim],
    why: dict[int, str],
    room: Room,
    carcass: Carcass,
    place: Place,
) -> Draft:
    """Lay a shelf on four pins where a fixed one would be; holes above and below let it be moved."""
    bench, row = task.bench, _row(task.bench)
    play = bench.once(
        "play of a loose shelf", lambda: rule("play of a loose shelf", bench.step("1/16", "1.5"), PLAY), "at each side"
    )
    low, span, why = list(low), list(span), dict(why)
    low[X] = plus(low[X], play)
    span[X] = bench.settle(f"{name} long", span[X] - 2 * play, "its bay less the play at each side")
    why[X] = "clear between its sides, less the play at each side"
    shelf = board(task, name, "shelf", carcass.stock, (X, Y, Z), low, span, why, faces=1)
    shelf.place = place
    bench.true(f"{name} long", lambda: shelf.whole(X))
    hosts = [(sign, host) for sign in (-1, 1) if (host := room.bounds.get((X, sign))) is not None]
    for sign, host in hosts:
        for cut in _holes(bench, shelf, host, sign, room, row):
            host.cuts.append(cut)
    pieces = bench.piece
    pieces.items.append(
        Item(
            f"{shelf.name} pins",
            row.name,
            row.name,
            4,
            task.name,
            tuple(h.name for _, h in hosts),
            kilograms=PIN_KG,
            price_key=row.name,
            place=place,
        )
    )
    least, most = rule("least gap of a loose shelf", 1, LEAST), rule("most gap of a loose shelf", 6, MOST)
    pieces.fits.append(
        Fit(
            f"{shelf.name}.length",
            room.size[X] - shelf.span[X],
            least,
            most,
            "drops in",
            shelf.name,
            hosts[0][1].name if hosts else task.name,
            source=PLAY,
            place=place,
        )
    )
    pieces.spans.append(Span(shelf.name, room.size[X], "rests", place=place))
    return shelf


def _row(bench: Bench) -> ShelfPin:
    return shelf_pins()["1/4 inch shelf pin" if bench.manner.unit == "inch" else "5 mm shelf pin"]


def _holes(bench: Bench, shelf: Draft, host: Draft, sign: int, room: Room, row: ShelfPin) -> list[Bore]:
    """The rows of holes in one board beside the shelf: near its front and near its back."""
    said = row.name
    wide = bench.once(f"hole for a {said}", lambda: rule(f"hole for a {said}", row.hole_mm, row.comes_from), said)
    apart = bench.once(f"{said} holes apart", lambda: rule(f"{said} holes apart", row.spacing_mm, row.comes_from), said)
    setback = bench.once(
        f"{said} setback",
        lambda: rule(f"{said} setback", row.setback_mm, row.comes_from),
        "from the shelf's front and back",
    )
    if 3 * setback.value > shelf.span[Y].value:
        setback = shelf.span[Y] / 4
    deep = _depth(bench, host, row)
    side = host.side_toward(X, -sign)
    centre = minus(shelf.low[Z], wide / 2)  # the pin is under the shelf
    ends = (plus(shelf.low[Y], setback), plus(shelf.low[Y], shelf.span[Y]) - setback)
    clear = CLEAR * apart.value
    found = []
    for word, y in zip(("front", "rear"), ends, strict=True):
        number_ = 0
        for step in range(-HOLES, HOLES + 1):
            z = centre if step == 0 else (centre + apart * step if step > 0 else centre - apart * -step)
            if step and not room.low[Z].value + clear <= z.value <= room.high(Z).value - clear:
                continue
            number_ += 1
            found.append(
                Bore(
                    f"{shelf.name} {word} pin hole {number_} in {host.name.rsplit('.', 1)[-1]}",
                    side,
                    spot_on(host, side, {Y: y, Z: z}),
                    wide,
                    deep,
                    "shelf pin hole",
                    place=shelf.place,
                )
            )
    return found


def _depth(bench: Bench, host: Draft, row: ShelfPin) -> Dim:
    """As deep as the pin wants; in a divider no deeper than leaves wood between holes from both sides."""
    thick = host.span[host.thick]
    deep = rule(f"depth for a {row.name}", row.deep_mm, row.comes_from)
    if host.role != "divider" or 2 * row.deep_mm + 2 <= thick.value:
        return bench.once(f"depth for a {row.name}", lambda: deep, row.name)
    half = (thick.value - 2) / 2
    return bench.once(
        f"depth for a {row.name} in {host.stock.name} dividers",
        lambda: chosen(down_to(half, bench.step("1/32", "1/2")), MEET, thick, deep),
        "holes may come from both sides",
    )
