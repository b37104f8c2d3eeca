"""Edging: strips of solid wood glued along the edges of a top, mitred or butted where two of them meet."""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.craft.carcass import board, joined
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim
from storystick.ground.fields import Choice, Field, Fields, Filled, ListOf, NameOf
from storystick.model.joining import Joined
from storystick.model.stock import Stock

SIDES = {"front": (Y, -1), "right": (X, 1), "back": (Y, 1), "left": (X, -1)}
EDGE = Fields(
    "edge",
    (
        Field("stock", NameOf("stock"), required=True, help="solid wood; the strip is as thick as the stock"),
        Field("on", ListOf(Choice(("all", "front", "right", "back", "left"))), help="which edges; all if not said"),
        Field(
            "corners",
            Choice(("mitre", "butt"), also=(("miter", "mitre"), ("mitred", "mitre"))),
            default="mitre",
            help="how strips meet",
        ),
    ),
    short="stock",
)


@dataclass(frozen=True, slots=True, eq=False)
class Edging:
    """Edging as asked for: its stock, the sides it goes on, how it meets at corners."""

    stock: Stock
    on: tuple[str, ...]
    corners: str

    def thick_at(self, axis: int, sign: int) -> Dim:
        """How much of the top it takes at an end of an axis: nothing where there is no strip."""
        return self.stock.thickness if any(SIDES[side] == (axis, sign) for side in self.on) else NO_LENGTH


def read_edging(task: Task, ask: Filled) -> Edging:
    """What `edge:` asks for."""
    said = ask.texts("on")
    on = tuple(SIDES) if not said or "all" in said else tuple(side for side in SIDES if side in said)
    return Edging(task.bench.stock_of(ask.text("stock"), ask.place("stock")), on, ask.choice("corners"))


def lay_edging(task: Task, edging: Edging, layers: Sequence[Draft]) -> dict[str, Draft]:
    """Lay the strips round the layers, as high as all of them together, and join them."""
    core, bench = layers[0], task.bench
    strips: dict[str, Draft] = {}
    for side in edging.on:
        strips[side] = _strip(task, edging, side, core)
        axis, sign = SIDES[side]
        bench.piece.joined.append(
            Joined(
                f"{strips[side].name} on {core.name.rsplit('.', 1)[-1]}",
                "butt",
                "glued on",
                core.name,
                strips[side].name,
                axis,
                -sign,
                True,
                ("glue",),
                task.place,
            )
        )
    if edging.corners == "mitre":
        way = read_way(None, "mitre", task.scope, bench, "edging", task.place)
        for long in ("front", "back"):
            for short in ("left", "right"):
                if long in strips and short in strips:
                    joined(bench, strips[long], strips[short], X, SIDES[short][1], way)
    return strips


def _strip(task: Task, edging: Edging, side: str, core: Draft) -> Draft:
    """One strip, its face outward. Butted ones at front and back run past those at the sides."""
    axis, sign = SIDES[side]
    along, thick = (X if axis == Y else Y), edging.stock.thickness
    low = [NO_LENGTH, NO_LENGTH, NO_LENGTH]
    span = [thick, thick, task.size[Z]]
    low[along], span[along] = core.low[along], core.span[along]
    low[axis] = NO_LENGTH if sign < 0 else plus(core.low[axis], core.span[axis])
    if edging.corners == "butt" and along == X:
        low[X], span[X] = NO_LENGTH, task.size[X]
    words = {along: "as long as the edge", axis: "the stock as measured", Z: "as high as the top"}
    lies = (along, Z, axis)
    strip = board(task, f"{side} edge", "edging", edging.stock, lies, low, span, words, faces=sign)
    if minus(span[Z], thick).value and edging.stock.width is not None and edging.stock.width.value > span[Z].value:
        strip.notes.append("leave it a whisker proud and trim it flush when it is glued")
    return strip
