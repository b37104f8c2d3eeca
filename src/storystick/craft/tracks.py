"""Recessed track: a bar let into a top so that it lies flush or a little below."""

from storystick.craft.carcass import board
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Choice, Field, Fields, Filled, Length, NameOf
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.cut import Channel
from storystick.model.joining import Fit, Joined

SLIP = practice("a track's recess is 0.3 mm wider than the track")
BELOW = practice("a track lies 0.4 mm (1/64 in) below the surface")
TRACK = Fields(
    "track",
    (
        Field("stock", NameOf("stock"), required=True, help="the bar or track, with its width and thickness"),
        Field("along", Choice(("wide", "deep")), default="wide", help="which way it runs"),
        Field("from front", Length, help="its middle from the front, when it runs wide"),
        Field("from left", Length, help="its middle from the left, when it runs deep"),
        Field("long", Length, help="its length; right across if not said"),
    ),
    short="stock",
)


def lay_tracks(task: Task, ask: Filled, top: Draft) -> None:
    """Lay every track asked for in the uppermost layer."""
    one = ask.maybe_record("track")
    for index, record in enumerate((one,) if one else ask.records("track"), 1):
        _lay(task, record, top, "track" if one else f"track {index}")


def _lay(task: Task, ask: Filled, top: Draft, name: str) -> None:
    bench = task.bench
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    below = rule("track below the surface", bench.step("1/64", "0.4"), BELOW)
    slip = rule("slip of a track", bench.step("1/64", "0.3"), SLIP)
    if stock.width is None or stock.thickness.value + below.value > top.span[Z].value - 3:
        room = show(top.span[Z].value - 3 - below.value, bench.manner)
        bench.mistakes.append(mistake(ask.place("stock"), stock.name, f"a bar with a width, at most {room} thick"))
        return
    along, word = (X, "from front") if ask.choice("along") == "wide" else (Y, "from left")
    over = Y if along == X else X
    middle = ask.maybe_length(word) or plus(top.low[over], top.span[over] / 2)
    wide = bench.settle(f"{name} recess wide", stock.width + slip, "the track and its slip")
    deep = bench.settle(f"{name} recess deep", stock.thickness + below, "so that it lies below the surface")
    long: Dim = ask.maybe_length("long") or top.span[along]
    start = top.low[along] if long is top.span[along] else plus(top.low[along], minus(top.span[along], long) / 2)
    floor = minus(plus(top.low[Z], top.span[Z]), deep)
    low, span = [NO_LENGTH, NO_LENGTH, floor], [stock.width, stock.width, stock.thickness]
    low[along], span[along] = start, long
    low[over] = middle - stock.width / 2
    why = {along: "as long as its recess", over: "as wide as it is sold", Z: "as thick as it is"}
    bar = board(task, name, "track", stock, (along, over, Z), low, span, why, faces=1)
    edge = middle - wide / 2
    spots = {along: top.own(along, start, plus(start, long)), over: (top.own(over, edge, edge + wide)[0], wide)}
    own = sorted((along, over), key=top.lies.index)
    cut = Channel(
        f"{task.name}.{name} recess",
        top.side_toward(Z, 1),
        (spots[own[0]][0], spots[own[1]][0]),
        (spots[own[0]][1], spots[own[1]][1]),
        deep,
        own.index(along),
        "recess",
        place=ask.place(),
    )
    top.cuts.append(cut)
    least, most = rule("least gap of a track", 0, SLIP), rule("most gap of a track", 1, SLIP)
    bench.piece.fits.append(
        Fit(
            f"{bar.name}.width",
            wide - stock.width,
            least,
            most,
            "drops in",
            bar.name,
            top.name,
            cut.name,
            SLIP,
            ask.place(),
        )
    )
    bench.piece.joined.append(
        Joined(
            f"{bar.name} in {top.name.rsplit('.', 1)[-1]}",
            "recess",
            "let in",
            top.name,
            bar.name,
            Z,
            -1,
            False,
            ("screws",),
            ask.place(),
        )
    )
