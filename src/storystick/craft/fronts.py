"""The front of a drawer: inset in its opening or over the boards round it, with a notch or a pull to draw it by."""

from collections.abc import Mapping
from dataclasses import dataclass

from storystick.craft.carcass import Room, board
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.kinds import Task
from storystick.craft.pulls import fix_pull, pull_of
from storystick.craft.reveals import Lie, lie
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Filled
from storystick.ground.source import practice
from storystick.model.cut import Corner, Notch
from storystick.model.joining import Fit, Joined
from storystick.model.stock import Stock

BEHIND = practice("6 mm (1/4 in) of air between a drawer and the back of its case")
NOTCH_WIDE = practice("a finger notch is 90 mm (3 1/2 in) wide and 30 mm (1 1/4 in) deep, a third of a low front")
FRONT_FIT = practice("an inset front rubs with less than 1 mm of gap at a side, and looks loose with more than 5 mm")
ABOVE = practice("a front's screws share out what is free above the drawer's bottom, so that a driver gets at them")
TALL = 90  # boxes from this height on [mm] get two rows of screws into their front


@dataclass(frozen=True, slots=True, eq=False)
class Front:
    """A front as reckoned. `lie`: how it lies to its opening; None where there is no front."""

    stock: Stock | None
    covers: bool
    lie: Lie | None
    thick: Dim
    behind: Dim
    opening: Mapping[int, Dim]

    def within(self, axis: int, at: Dim) -> Dim:
        """A place in the opening in the drawer's own axes, which begin with an overlay front, else with the opening."""
        if not self.covers or self.lie is None:
            return at
        edge = self.lie.edges[axis, -1]
        return plus(edge.by, at) if edge.out else at - edge.by

    def start(self, axis: int, opening: Dim) -> Dim:
        """Where the drawer's own axes begin in the case's, for an opening that begins there."""
        return self.lie.start(axis, opening) if self.covers and self.lie is not None else opening

    def over_all(self, axis: int) -> Dim:
        """The size of opening and front together."""
        opening = self.opening[axis]
        return self.lie.size(axis, opening) if self.covers and self.lie is not None else opening

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
        return Front(None, False, None, NO_LENGTH, behind, opening)
    covers = kind == "overlay"
    how = lie(room, reveal, ask.maybe_length("overhang"), covers=covers)
    return Front(stock, covers, how, stock.thickness, behind, opening)


def lay_front(task: Task, front: Front, box_front: Draft, bottom: Draft) -> Draft:
    """Lay the front before the box and screw it on from inside, above the bottom: that is in by then."""
    bench = task.bench
    assert front.stock is not None
    assert front.lie is not None
    low, size = {}, {}
    for axis, word in ((X, "wide"), (Z, "high")):
        because = "over the boards round the opening" if front.covers else "the opening less the gap all round"
        size[axis] = bench.settle(f"front {word}", front.lie.size(axis, front.opening[axis]), because)
        low[axis] = NO_LENGTH if front.covers else front.lie.edges[axis, -1].by
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
    bench.true("front high", lambda: face.whole(Z))
    spots = _screw_spots(task, box_front, bottom)
    screw_down(bench, f"{task.name}.front", box_front, face, Y, -1, spots, place=task.place)
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
        for axis, word in ((X, "front in its opening"), (Z, "front in the height of its opening")):
            bench.piece.fits.append(
                Fit(
                    f"{task.name}.{word}", front.opening[axis] - size[axis], least, most, "locates", face.name,
                    task.name.rsplit(".", 1)[0], source=FRONT_FIT, place=task.place,
                )
            )  # fmt: skip
    return face


def _screw_spots(task: Task, box_front: Draft, bottom: Draft) -> list[dict[int, Dim]]:
    """Two screws, four in a tall box, shared out over what is free of the box front above the bottom. Source: ABOVE."""
    xs = spread_along(Stretch(box_front.low[X], plus(box_front.low[X], box_front.span[X])), task.bench, None)
    pair = [xs[0], xs[-1]] if len(xs) > 1 else xs
    low, top = box_front.low[Z], plus(box_front.low[Z], box_front.span[Z])
    floor = plus(bottom.low[Z], bottom.span[Z])
    if low.value < floor.value < top.value:
        low = floor
    free, tall = minus(top, low), box_front.span[Z].value >= TALL
    zs = [plus(low, free / 4), plus(low, free * 3 / 4)] if tall else [plus(low, free / 2)]
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
    row = pull_of(task, ask, "finger notch")
    if row is not None:
        boards = list({id(face): face, id(box_front): box_front}.values())
        fix_pull(task, row, boards, {X: centre(face, X), Z: centre(face, Z)}, X)


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
