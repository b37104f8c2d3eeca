"""A toe kick: a case's sides stand on the floor, their front corners notched for the toes; a board closes the gap."""

from storystick.craft.carcass import Carcass, board, joined
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, plus
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Task
from storystick.craft.sawn import cut_out
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim
from storystick.ground.fields import Field, Fields, Filled, Length, NameOf, Size
from storystick.ground.finding import Place
from storystick.ground.source import practice

HIGH = practice("a toe kick is 100 mm (4 in) high")
DEEP = practice("a toe kick is 75 mm (3 in) deep, so that toes go under")
KICK = Fields(
    "toe kick",
    (
        Field("high", Size, default=("4 in", "100 mm"), source=HIGH, help="from the floor to the bottom"),
        Field("deep", Length, default=("3 in", "75 mm"), source=DEEP, help="how far its board stands back"),
        Field("stock", NameOf("stock"), help="what its board is made of; the case's own stock if not said"),
    ),
    short="high",
)


def lay_toe_kick(
    task: Task, carcass: Carcass, how: Filled | None, screws: str, place: Place
) -> tuple[tuple[Dim, Dim], ...]:
    """Notch the sides, and lay the board between them under the bottom. Gives the spots where the sides stand."""
    assert how is not None
    bench, (high, deep) = task.bench, (how.length("high"), how.length("deep"))
    named = how.maybe_text("stock")
    stock = bench.stock_of(named, how.place("stock")) if named else carcass.stock
    for side in (carcass.left, carcass.right):
        front = side.lower(Y)
        cut_out(side, "toe notch", (NO_LENGTH, high), (front, plus(front, deep)), "toe notch", place)
    why = {X: "between the sides", Y: "the sheet as measured", Z: "from the floor to the bottom"}
    low = [carcass.room.low[X], plus(carcass.left.lower(Y), deep), NO_LENGTH]
    span = [carcass.room.size[X], stock.thickness, high]
    kick: Draft = board(task, "toe kick", "toe kick", stock, (X, Z, Y), low, span, why, faces=-1)
    way = read_way(None, "butt", task.scope, bench, "inside", place)
    joined(bench, kick, carcass.left, X, -1, way)
    joined(bench, kick, carcass.right, X, 1, way)
    inner = Stretch(kick.low[X], plus(kick.low[X], kick.span[X]))
    spots = [{X: x, Y: centre(kick, Y)} for x in spread_along(inner, bench, None, far_in=True)]
    screw_down(bench, f"{kick.name} top", carcass.bottom, kick, Z, -1, spots, said=screws, place=place)
    rear = carcass.bottom.upper(Y)
    return tuple((x, y) for y in (low[1], rear) for x in (NO_LENGTH, task.size[X]))
