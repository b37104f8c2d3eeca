"""The front of a drawer: inset in its opening or over the boards round it, with a notch or a pull to draw it by."""

from collections.abc import Mapping
from dataclasses import dataclass

from storystick.craft.carcass import Room, board
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import spot_on
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.kinds import Task
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Filled
from storystick.ground.finding import mistake
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.cut import Bore, Corner, Notch
from storystick.model.joining import Fit, Item, Joined
from storystick.model.stock import Stock
from storystick.shop.tables import find, nearest, pulls, screws
from storystick.shop.tables.rows import Pull

BEHIND = practice("6 mm (1/4 in) of air between a drawer and the back of its case")
COVER = practice("an overlay front covers a board that it shares to the middle, an outer board all over, less the gap")
NOTCH_WIDE = practice("a finger notch is 90 mm (3 1/2 in) wide and 30 mm (1 1/4 in) deep, a third of a low front")
FRONT_FIT = practice("an inset front rubs with less than 1 mm of gap at a side, and looks loose with more than 5 mm")
TALL = 90  # boxes from this height on [mm] get two rows of screws into their front
PULL_KG = 0.06  # a guess


@dataclass(frozen=True, slots=True, eq=False)
class Front:
    """A front as reckoned. `beyond`: how far it goes beyond the opening at the ends of x and z; minus where inset."""

    stock: Stock | None
    covers: bool
    beyond: Mapping[tuple[int, int], Dim]
    thick: Dim
    behind: Dim
    opening: Mapping[int, Dim]

    def before(self, axis: int) -> Dim:
        """Where the opening begins in the drawer's own axes."""
        return self.beyond[axis, -1] if self.covers else NO_LENGTH

    def at_y(self, room: Room) -> Dim:
        """Where the drawer's own axes begin, from front to back, in the case's."""
        return minus(room.low[Y], self.thick) if self.covers else room.low[Y]

    def depth_left(self, room: Room) -> Dim:
        """What is left of the depth for the box."""
        return (
            room.size[Y] - self.behind if self.covers or self.stock is None else room.size[Y] - self.thick - self.behind
        )


def plan_front(task: Task, ask: Filled, kind: str, stock: Stock, room: Room, opening: Mapping[int, Dim]) -> Front:
    """Reckon a front before anything is laid: the box behind it depends on it."""
    bench, reveal = task.bench, ask.length("reveal")
    behind = bench.once(
        "air behind", lambda: rule("air behind", bench.step("1/4", "6"), BEHIND), "between box and back"
    )
    if kind == "none":
        return Front(None, False, {}, NO_LENGTH, behind, opening)
    covers = kind == "overlay"
    beyond: dict[tuple[int, int], Dim] = {}
    for axis in (X, Z):
        for sign in (-1, 1):
            bound = room.bounds.get((axis, sign))
            if not covers or bound is None:
                beyond[axis, sign] = -reveal if bound is not None else -(reveal / 2)
            else:
                beyond[axis, sign] = ask.maybe_length("overhang") or _cover(bound, reveal)
    return Front(stock, covers, beyond, stock.thickness, behind, opening)


def _cover(bound: Draft, reveal: Dim) -> Dim:
    thick = bound.span[bound.thick]
    shared = bound.role in ("divider", "shelf")
    return thick / 2 - reveal / 2 if shared else thick - reveal


def lay_front(task: Task, ask: Filled, front: Front, box_front: Draft) -> Draft:
    """Lay the front before the box, screw it on from inside, and give it something to draw it by."""
    bench = task.bench
    assert front.stock is not None
    low, size = {}, {}
    for axis, word in ((X, "wide"), (Z, "high")):
        first, last = front.beyond[axis, -1], front.beyond[axis, 1]
        because = "over the boards round the opening" if front.covers else "the opening less the gap all round"
        size[axis] = bench.settle(f"front {word}", front.opening[axis] + first + last, because)
        low[axis] = NO_LENGTH if front.covers else -first
    why = {X: "as wide as its place", Y: "the sheet as measured", Z: "as high as its place"}
    face = board(
        task,
        "front",
        "drawer face",
        front.stock,
        (X, Z, Y),
        [low[X], NO_LENGTH, low[Z]],
        [size[X], front.thick, size[Z]],
        why,
        faces=-1,
    )
    bench.true("front wide", lambda: face.whole(X))
    screw_down(bench, f"{task.name}.front", box_front, face, Y, -1, _screw_spots(task, box_front), place=task.place)
    bench.piece.joined.append(
        Joined(
            f"{task.name}.front on box front",
            "screws",
            "screwed on from inside",
            box_front.name,
            face.name,
            Y,
            1,
            False,
            ("screws",),
            task.place,
        )
    )
    if not front.covers:
        least, most = (
            rule(f"{word} gap of an inset front", value, FRONT_FIT) for word, value in (("least", 2), ("most", 10))
        )
        bench.piece.fits.append(
            Fit(
                f"{task.name}.front in its opening",
                front.opening[X] - size[X],
                least,
                most,
                "locates",
                face.name,
                task.name.rsplit(".", 1)[0],
                source=FRONT_FIT,
                place=task.place,
            )
        )
    return face


def _screw_spots(task: Task, box_front: Draft) -> list[dict[int, Dim]]:
    xs = spread_along(Stretch(box_front.low[X], plus(box_front.low[X], box_front.span[X])), task.bench, None)
    pair = [xs[0], xs[-1]] if len(xs) > 1 else xs
    high, low = box_front.span[Z], box_front.low[Z]
    zs = [plus(low, high / 4), plus(low, high * 3 / 4)] if high.value >= TALL else [plus(low, high / 2)]
    return [{X: x, Z: z} for z in zs for x in pair]


def draw_by(task: Task, ask: Filled, face: Draft, box_front: Draft) -> None:
    """A finger notch in the upper edge, or a pull screwed on in the middle."""
    said = ask.text("pull").strip()
    word = " ".join(said.lower().split())
    if word in ("none", "no"):
        return
    if word in ("finger notch", "notch", "finger pull", "scoop"):
        _notch(task, face, box_front)
        return
    row = find(pulls(), word)
    if row is None:
        near = nearest(pulls(), word)
        task.bench.mistakes.append(
            mistake(
                ask.place("pull"),
                said,
                f"a finger notch or a pull: {one_of(pulls())}",
                near[0] if near else "finger notch",
            )
        )
        return
    _pull(task, row, face, box_front)


def _notch(task: Task, face: Draft, box_front: Draft) -> None:
    bench = task.bench
    wide = bench.settle("notch wide", rule("notch wide", bench.step("7/2", "90"), NOTCH_WIDE), "for a hand's fingers")
    usual = rule("notch deep", bench.step("5/4", "30"), NOTCH_WIDE)
    third = face.span[Z] / 3
    deep = bench.settle("notch deep", usual if usual.value <= third.value else third, "for a hand's fingers")
    middle, top = centre(face, X), face.upper(Z)
    for draft in {id(face): face, id(box_front): box_front}.values():
        if draft.upper(Z).value <= top.value - deep.value:
            continue
        ends = (draft.own_point(X, middle - wide / 2), draft.own_point(X, middle + wide / 2))
        floor, edge = draft.own_point(Z, top - deep), draft.own_point(Z, draft.upper(Z))
        corners = (
            Corner(ends[0], edge),
            Corner(ends[0], floor, deep),
            Corner(ends[1], floor, deep),
            Corner(ends[1], edge),
        )
        draft.cuts.append(Notch(f"{draft.name} finger notch", corners, "finger notch", place=task.place))


def _pull(task: Task, row: Pull, face: Draft, box_front: Draft) -> None:
    bench = task.bench
    screw = find(screws(), "m4 pull screw" if bench.manner.unit == "mm" or row.screw_mm == 4 else "8-32 pull screw")
    assert screw is not None
    wide = bench.settle(
        "hole for the pull",
        rule("hole for the pull", screw.clearance_bit_mm, screw.comes_from),
        f"{screw.name} goes through",
    )
    x, z = centre(face, X), centre(face, Z)
    apart = rule(f"{row.name}, screw to screw", row.centres_mm, row.comes_from) if row.centres_mm else None
    xs = [x - apart / 2, x + apart / 2] if apart else [x]
    for draft in {id(face): face, id(box_front): box_front}.values():
        if not draft.lower(Z).value < z.value < draft.upper(Z).value:
            continue
        side = draft.side_toward(Y, -1)
        for number_, at in enumerate(xs, 1):
            spot = spot_on(draft, side, {X: at, Z: z})
            draft.cuts.append(
                Bore(f"{draft.name} pull hole {number_}", side, spot, wide, None, "hole for a pull", place=task.place)
            )
    out = rule(f"{row.name} stands out", row.stands_out_mm, row.comes_from)
    over = plus(apart, wide) if apart else out
    box = ((x - over / 2, face.lower(Y) - out, z - out / 2), (over, out, out))
    bench.piece.items.append(
        Item(
            f"{task.name}.pull",
            row.name,
            row.name,
            1,
            task.name,
            (face.name,),
            box,
            False,
            PULL_KG,
            row.name,
            place=task.place,
        )
    )
