"""The box of a drawer: two sides, front and back, and a bottom in grooves or under it."""

from dataclasses import dataclass

from storystick.craft.carcass import board, joined
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Task
from storystick.craft.truth import between, over_all
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Filled
from storystick.ground.source import practice
from storystick.model.stock import Stock

BOTTOM_UP = practice("a drawer bottom's groove begins 10 mm (3/8 in) above the lower edge")
SET_IN = practice("boards in dadoes stand 12 mm (1/2 in) in from the ends of a drawer's sides")


@dataclass(frozen=True, slots=True, eq=False)
class Box:
    """The box as reckoned, in the drawer's own axes: low corner, size, and the stock of its boards and bottom."""

    low: tuple[Dim, Dim, Dim]
    wide: Dim
    deep: Dim
    high: Dim
    stock: Stock
    bottom: Stock


def lay_box(own: Task, ask: Filled, box: Box) -> dict[str, Draft]:
    """Lay the four boards and the bottom, and join them."""
    bench, scope, thick = own.bench, own.scope, box.stock.thickness
    way = read_way(ask.node("joint"), "rabbet", scope, bench, "corner", ask.place("joint"))
    under = ask.choice("bottom") == "under"
    past = ask.choice("run past") == "sides"
    low_z = plus(box.low[Z], box.bottom.thickness) if under else box.low[Z]
    high = box.high - box.bottom.thickness if under else box.high
    inset = _set_in(bench, way) if past else NO_LENGTH
    x, y = box.low[X], box.low[Y]
    inside_wide = bench.settle("inside wide", box.wide - 2 * thick, "two sides stand between the box's outsides")
    clear = box.deep - 2 * thick
    side_low = y if past else plus(y, thick)
    why = {
        X: "the sheet as measured",
        Y: "as deep as the box" if past else "between front and back",
        Z: "as high as the box",
    }
    deep = box.deep if past else clear
    left = board(
        own, "left side", "drawer side", box.stock, (Y, Z, X), [x, side_low, low_z], [thick, deep, high], why, faces=1
    )
    right = board(
        own,
        "right side",
        "drawer side",
        box.stock,
        (Y, Z, X),
        [plus(x, box.wide) - thick, side_low, low_z],
        [thick, deep, high],
        dict(why),
        faces=-1,
    )
    across = inside_wide if past else box.wide
    low_x = plus(x, thick) if past else x
    why = {
        X: "between the sides" if past else "as wide as the box",
        Y: "the sheet as measured",
        Z: "as high as the box",
    }
    front = board(
        own,
        "box front",
        "drawer front",
        box.stock,
        (X, Z, Y),
        [low_x, plus(y, inset), low_z],
        [across, thick, high],
        why,
        faces=1,
    )
    rear = minus(plus(y, box.deep) - thick, inset) if inset is not NO_LENGTH else plus(y, box.deep) - thick
    back = board(
        own,
        "box back",
        "drawer back",
        box.stock,
        (X, Z, Y),
        [low_x, rear, low_z],
        [across, thick, high],
        dict(why),
        faces=-1,
    )
    for end, sign in ((front, -1), (back, 1)):
        for side, way_x in ((left, -1), (right, 1)):
            if past:
                joined(bench, end, side, X, way_x, way)
            else:
                joined(bench, side, end, Y, sign, way)
    bench.true("inside wide", lambda: between(bench, front, left, right, X))
    bench.true("box wide", lambda: over_all(bench, front, left, right, X) if past else front.whole(X))
    boards = {"left side": left, "right side": right, "box front": front, "box back": back}
    inside_deep = clear if inset is NO_LENGTH else clear - 2 * inset
    boards["bottom"] = _lay_bottom(own, box, boards, under, (inside_wide, inside_deep, plus(plus(y, inset), thick)))
    return boards


def _set_in(bench: Bench, way: Way) -> Dim:
    """Boards that go into dadoes leave wood between the dado and the end of the side."""
    if way.kind.name != "dado":
        return NO_LENGTH
    return bench.settle("set in", rule("set in", bench.step("1/2", "12"), SET_IN), "wood behind the dado")


def _lay_bottom(own: Task, box: Box, boards: dict[str, Draft], under: bool, inside: tuple[Dim, Dim, Dim]) -> Draft:
    bench, thick = own.bench, box.bottom.thickness
    hosts = (("left side", X, -1), ("right side", X, 1), ("box front", Y, -1), ("box back", Y, 1))
    if under:
        why = {X: "as wide as the box", Y: "as deep as the box", Z: "the sheet as measured"}
        bottom = board(
            own,
            "bottom",
            "drawer bottom",
            box.bottom,
            (X, Y, Z),
            list(box.low),
            [box.wide, box.deep, thick],
            why,
            faces=1,
        )
        way = read_way(None, "nails", own.scope, bench, "panel", own.place)
        for word, _, _ in hosts:
            joined(bench, bottom, boards[word], Z, 1, way)
        return bottom
    up = bench.settle("bottom up", rule("bottom up", bench.step("3/8", "10"), BOTTOM_UP), "wood left below the groove")
    why = {X: "between the sides", Y: "between front and back", Z: "the sheet as measured"}
    low = [plus(boards["left side"].low[X], box.stock.thickness), inside[2], plus(box.low[Z], up)]
    bottom = board(
        own, "bottom", "drawer bottom", box.bottom, (X, Y, Z), low, [inside[0], inside[1], thick], why, faces=1
    )
    way = read_way(None, "groove", own.scope, bench, "panel", own.place)
    for word, axis, sign in hosts:
        joined(bench, bottom, boards[word], axis, sign, way)
    return bottom
