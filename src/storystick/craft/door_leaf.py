"""One leaf of a door: a slab, or stiles and rails with a panel in grooves. In its own axes, from its low corner."""

from dataclasses import dataclass

from storystick.craft.carcass import board, joined
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Task
from storystick.craft.truth import between
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Filled
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.stock import Stock

SOLID_PLAY = practice("a panel of solid wood has 2.5 mm (3/32 in) at each edge to swell into")
CHEEK = 3  # wood that stays on both sides of a panel's groove [mm]


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """A leaf as laid: the boards at its left and right edge (one and the same for a slab), and all of them."""

    left: Draft
    right: Draft
    boards: tuple[Draft, ...]

    def at(self, sign: int) -> Draft:
        """The board at its left (-1) or right edge."""
        return self.left if sign < 0 else self.right

    @property
    def kilograms(self) -> float:
        """What it weighs, about [kg]."""
        return sum(
            float(d.span[X]) * float(d.span[Y]) * float(d.span[Z]) * 1e-9 * (d.stock.density or 650)
            for d in self.boards
        )


def lay_slab(own: Task, stock: Stock, wide: Dim, high: Dim, *, banded: bool) -> Leaf:
    """One board, its grain upright, its face to the front."""
    why = {X: "as wide as its place", Y: "the sheet as measured", Z: "as high as its place"}
    low = [NO_LENGTH, NO_LENGTH, NO_LENGTH]
    slab = board(own, "slab", "door", stock, (Z, X, Y), low, [wide, stock.thickness, high], why, faces=-1)
    slab.banded = ("reference end", "far end", "reference edge", "far edge") if banded else ()
    own.bench.true("wide", lambda: slab.whole(X))
    own.bench.true("high", lambda: slab.whole(Z))
    return Leaf(slab, slab, (slab,))


def lay_frame(own: Task, ask: Filled, stocks: tuple[Stock, Stock], wide: Dim, high: Dim) -> Leaf | None:
    """Two stiles that run past, two rails with stub tenons between them, a panel in the groove all round."""
    bench, (stock, panel_stock) = own.bench, stocks
    stile, rail, thick = ask.length("stiles"), ask.length("rails"), stock.thickness
    if panel_stock.thickness.value > thick.value - 2 * CHEEK:
        most = show(thick.value - 2 * CHEEK, bench.manner)
        said = show(panel_stock.thickness.value, bench.manner)
        bench.mistakes.append(
            mistake(ask.place("panel stock"), said, f"a panel that a groove can take: at most {most}")
        )
        return None
    clear = bench.settle("between the stiles", wide - 2 * stile, "the door less two stiles")
    tall = bench.settle("between the rails", high - 2 * rail, "the door less two rails")
    if clear.value <= 0 or tall.value <= 0:
        size = f"{show(wide.value, bench.manner)} x {show(high.value, bench.manner)}"
        bench.mistakes.append(mistake(own.place, size, "a door with room for a panel between its stiles and rails"))
        return None
    boards = _sticks(own, stock, (wide, high), (stile, rail, clear))
    why = {X: "between the stiles", Y: "the panel as measured", Z: "between the rails"}
    start = (thick - panel_stock.thickness) / 2
    panel = board(
        own, "panel", "door panel", panel_stock, (Z, X, Y), [stile, start, rail], [clear, panel_stock.thickness, tall],
        why, faces=-1,
    )  # fmt: skip
    _join(own, ask, boards, panel)
    left, right, top = boards["left stile"], boards["right stile"], boards["top rail"]
    bench.true("wide", lambda: _with_stiles(own, top, left, right))
    bench.true("high", lambda: left.whole(Z))
    return Leaf(left, right, (*boards.values(), panel))


def _with_stiles(own: Task, top: Draft, left: Draft, right: Draft) -> Dim | None:
    clear = between(own.bench, top, left, right, X)
    return None if clear is None else clear + left.whole(X) + right.whole(X)


def _sticks(own: Task, stock: Stock, size: tuple[Dim, Dim], parts: tuple[Dim, Dim, Dim]) -> dict[str, Draft]:
    (wide, high), (stile, rail, clear), thick = size, parts, stock.thickness
    found: dict[str, Draft] = {}
    for name, low_x, low_end in (("left stile", NO_LENGTH, False), ("right stile", minus(wide, stile), True)):
        why = {X: "as asked", Y: "the stock as measured", Z: "as high as the door"}
        low = [low_x, NO_LENGTH, NO_LENGTH]
        found[name] = board(
            own,
            name,
            "door stile",
            stock,
            (Z, X, Y),
            low,
            [stile, thick, high],
            why,
            faces=-1,
            from_low=(True, low_end),
        )
    for name, low_z, low_end in (("top rail", minus(high, rail), True), ("bottom rail", NO_LENGTH, False)):
        why = {X: "between the stiles", Y: "the stock as measured", Z: "as asked"}
        low = [stile, NO_LENGTH, low_z]
        found[name] = board(
            own,
            name,
            "door rail",
            stock,
            (X, Z, Y),
            low,
            [clear, thick, rail],
            why,
            faces=-1,
            from_low=(True, low_end),
        )
    return found


def _join(own: Task, ask: Filled, boards: dict[str, Draft], panel: Draft) -> None:
    """The panel into the grooves first, since the tenons are as thick as the grooves are wide."""
    bench, place = own.bench, own.place
    groove = ask.length("groove")
    bench.once(f"groove depth in {boards['left stile'].stock.name}", lambda: groove, "as deep as the panel wants")
    if panel.stock.solid:
        play = rule("play in a groove", bench.step("3/32", "5/2"), SOLID_PLAY)
        bench.once("play in a groove", lambda: play, "solid wood moves")
    into = read_way(None, "groove", own.scope, bench, "panel", place)
    for name, axis, sign in (("left stile", X, -1), ("right stile", X, 1), ("bottom rail", Z, -1), ("top rail", Z, 1)):
        joined(bench, panel, boards[name], axis, sign, into)
    tenon = read_way(None, "stub tenon", own.scope, bench, "frame", place)
    for rail in ("top rail", "bottom rail"):
        joined(bench, boards[rail], boards["left stile"], X, -1, tenon)
        joined(bench, boards[rail], boards["right stile"], X, 1, tenon)
