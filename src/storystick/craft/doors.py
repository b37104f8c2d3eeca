"""Doors before a bay or a whole case: slabs, or frames with a panel; one or a pair; inset or overlay.

    doors: {stock: birch18, set: overlay, hinges: cup hinges, pull: knob}
    bays: [{doors: pair, rows: [open, loose shelf, open]}, drawer 5]

What the case's `doors:` says holds for all doors; if no bay asks for doors, they close the whole case.
A door is cut to its opening as built. It swings about its hinged front edge.
"""

from dataclasses import dataclass, replace

from storystick.craft.asking import own_before_usual
from storystick.craft.butt_hinges import DOOR_LEFT, DOOR_RIGHT, hang_on_butts
from storystick.craft.carcass import Carcass, Room
from storystick.craft.cup_hinges import hang_on_cups
from storystick.craft.door_leaf import Leaf, lay_frame, lay_slab
from storystick.craft.draft import NO_LENGTH, X, Y, Z, minus, plus
from storystick.craft.fronts import FRONT_FIT
from storystick.craft.hinging import Hanging, along_edge, hinge_of
from storystick.craft.kinds import Task
from storystick.craft.pulls import fix_pull, pull_of
from storystick.craft.reveals import Lie, lie
from storystick.craft.swinging import swing
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Angle, Choice, Count, Field, Fields, Filled, Flag, Length, NameOf, Size, Text
from storystick.ground.finding import Place, wrong
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.ground.source import practice
from storystick.model.build import Opening
from storystick.model.joining import Fit, Item
from storystick.model.part import Assembly, Three
from storystick.model.stock import Stock

REVEAL = practice("3 mm (1/8 in) of gap round a door and between two")
PAIR = practice("over an opening wider than 600 mm (24 in) a pair of doors")
STILE = practice("stiles and rails of a door are 60 mm (2 1/4 in) wide")
GROOVE = practice("a door's panel goes into grooves 10 mm (3/8 in) deep")
BETWEEN_TWO = practice("two doors that meet rub with less than 1 mm between them; 2 mm more than meant looks uneven")
AIR = practice("what is behind an inset door stays 3 mm (1/8 in) clear of it")
PULL_IN = practice(
    "a door's pull stands 35 mm (1 3/8 in) in from its closing edge, 75 mm (3 in) from the end nearest to the hand"
)
OUTER = practice("a lone door beside a divider hangs on the outer side of the case, clear of what runs next to it")
CATCH_KG = 0.03  # a guess
ALSO = (("single", "one"), ("1", "one"), ("two", "pair"), ("double", "pair"), ("2", "pair"))
DOOR = Fields(
    "door",
    (
        Field(
            "leaves",
            Choice(("one", "pair"), also=ALSO),
            help="one door or a pair; a pair over wide openings",
        ),
        Field("made as", Choice(("slab", "frame and panel")), default="slab", help="one board, or frame and panel"),
        Field("stock", NameOf("stock"), help="of the slab or the frame; the case's stock if not said"),
        Field("panel stock", NameOf("stock"), help="of the panel; the back's stock if not said"),
        Field("set", Choice(("overlay", "inset")), default="overlay", help="over the boards round it, or within"),
        Field("reveal", Length, default=("1/8 in", "3 mm"), source=REVEAL, help="the gap round it and between two"),
        Field("overhang", Length, help="how far an overlay door covers the boards round the opening"),
        Field("stiles", Size, default=("2 1/4 in", "60 mm"), source=STILE, help="width of its upright boards"),
        Field("rails", Size, default=("2 1/4 in", "60 mm"), source=STILE, help="width of the boards across"),
        Field("groove", Size, default=("3/8 in", "10 mm"), source=GROOVE, help="depth of the groove for the panel"),
        Field("banded", Flag, default="no", help="edge band all round a slab"),
        Field("hinges", Text, default="cup hinges", help="cup hinges, butt hinges, or one of the table"),
        Field("hinge count", Count, help="how many; by height and weight if not said"),
        Field(
            "hinged", Choice(("left", "right")), default="left",
            help="the side of its hinges, of one alone; if not said the outer side of the case, the left of two",
        ),
        Field("opens", Angle, help="how far it opens; as far as its hinges let it if not said"),
        Field("pull", Text, default="none", help="knob, 96 mm pull ... or none", also=("handle",)),
        Field("pull at", Choice(("top", "middle", "bottom")), default="middle", help="where the hand takes it"),
        Field("catch", Choice(("magnet", "none")), help="what keeps it shut; a magnet with butt hinges"),
    ),
    short="leaves",
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Doors:
    """Doors as asked for, before anything is laid: their lines, stock, and how they lie to the opening."""

    ask: Filled
    stock: Stock
    panel: Stock
    covers: bool
    lie: Lie
    room: Room
    place: Place
    pair: bool


def plan_doors(task: Task, carcass: Carcass, node: Marked, room: Room) -> Doors | None:
    """What a bay's `doors:` asks for, the case's own behind it; None where it can't be read."""
    place = node.place
    if isinstance(node, Scalar):
        yes = node.text.strip().lower() in ("yes", "true", "")
        node = Mapping(() if yes else ((Scalar("leaves", place), node),), place)
    ask = own_before_usual(task, DOOR, node, _lines(task.ask.node("doors")))
    if ask is None:
        return None
    stock, panel = (_stock(task, ask, word, usual) for word, usual in (
        ("stock", carcass.stock), ("panel stock", carcass.back.stock if carcass.back else carcass.stock)
    ))  # fmt: skip
    covers = ask.choice("set") == "overlay"
    how = lie(room, ask.length("reveal"), ask.maybe_length("overhang"), covers=covers)
    wide = room.size[X].value > task.bench.step("24", "600")
    pair = ask.choice("leaves") == "pair" if ask.has("leaves") else wide
    return Doors(ask, stock, panel, covers, how, room, place, pair)


def _lines(node: Marked | None) -> Marked | None:
    """The case's `doors: pair` as a group of lines."""
    if isinstance(node, Scalar) and node.text.strip().lower() not in ("yes", "true", ""):
        return Mapping(((Scalar("leaves", node.place), node),), node.place)
    return node


def _stock(task: Task, ask: Filled, word: str, usual: Stock) -> Stock:
    named = ask.maybe_text(word)
    return task.bench.stock_of(named, ask.place(word)) if named else usual


def behind(task: Task, doors: Doors, room: Room) -> Room:
    """What is left of the room behind doors: inset ones take their thickness and some air of the depth."""
    bench = task.bench
    if doors.covers or room.low[Y].value >= doors.room.low[Y].value + doors.stock.thickness.value:
        return room
    air = rule("air behind a door", bench.step("1/8", "3"), AIR)
    taken = bench.once(
        f"room for doors of {doors.stock.name}", lambda: doors.stock.thickness + air, "a door and some air"
    )
    low = (room.low[X], plus(room.low[Y], taken), room.low[Z])
    return Room(low, (room.size[X], minus(room.size[Y], taken), room.size[Z]), room.bounds)


def lay_doors(task: Task, doors: Doors, names: tuple[str, ...]) -> None:
    """Lay one leaf or two before the opening, with hinges, pulls and catches. `names` are those of the leaves."""
    ask, room = doors.ask, doors.room
    sides = (-1, 1) if doors.pair else (_hinged(doors),)
    made: list[Task] = []
    start = doors.lie.start(X, room.low[X])
    for name, sign in zip(names, sides, strict=True):
        own = _lay_leaf(task, doors, name, sign, start, len(sides), names[0])
        if own is None:
            return
        made.append(own)
        start = plus(plus(start, own.size[X]), ask.length("reveal"))
    if not doors.covers:
        _fits(task, doors, made)
    elif doors.pair:
        _between_two(doors, made[0], made[1])


def _hinged(doors: Doors) -> int:
    """The side that one leaf hangs on. Source: OUTER."""
    if doors.ask.has("hinged"):
        return -1 if doors.ask.choice("hinged") == "left" else 1
    left, right = (board.role if board else "" for board in (doors.room.bounds.get((X, sign)) for sign in (-1, 1)))
    return 1 if left == "divider" and right == "side" else -1


def _lay_leaf(task: Task, doors: Doors, name: str, sign: int, start: Dim, count: int, first: str) -> Task | None:
    """One leaf where it begins from left to right: its boards, and what it hangs on."""
    ask, room, bench = doors.ask, doors.room, task.bench.within(name)
    opening = {axis: bench.once(f"opening {word}", lambda axis=axis: room.size[axis], "clear between the boards")  # type: ignore[misc]
               for axis, word in ((X, "wide"), (Z, "high"))}  # fmt: skip
    because = "over the boards round the opening" if doors.covers else "the opening less the gap all round"
    wide = doors.lie.size(X, opening[X])
    if count == 2:
        wide = bench.settle("both wide", wide, because)
        wide, because_wide = (wide - ask.length("reveal")) / 2, "half of both, less the gap between them"
    else:
        because_wide = because
    size = (
        bench.settle("wide", wide, because_wide), doors.stock.thickness,
        bench.settle("high", doors.lie.size(Z, opening[Z]), because),
    )  # fmt: skip
    if min(size[X].value, size[Z].value) <= 0:
        bench.mistakes.append(
            wrong(doors.place, f"There is no room for {bench.name} in its opening.", "Make the bay larger.")
        )
        return None
    front = minus(room.low[Y], size[Y]) if doors.covers else room.low[Y]
    at: Three = (start, front, doors.lie.start(Z, room.low[Z]))
    own = replace(task, name=bench.name, bench=bench, size=size, place=doors.place)
    banded = ask.flag("banded")
    leaf = (
        lay_slab(own, doors.stock, size[X], size[Z], banded=banded)
        if ask.choice("made as") == "slab"
        else lay_frame(own, ask, (doors.stock, doors.panel), size[X], size[Z])
    )
    if leaf is None:
        return None
    for draft in leaf.boards:
        draft.fit_to, draft.place = f"{task.name}.{first}", doors.place
    if name == first:
        bench.piece.openings.append(Opening(own.name, "door", task.name, room.low, room.size, doors.place))
    bench.piece.assemblies.append(
        Assembly(own.name, "door", at, size, inside_of=task.name, stands_on=task.name, place=doors.place)
    )
    _hang(task, own, doors, leaf, at, sign)
    _draw_by(own, ask, leaf, sign)
    return own


def _hang(task: Task, own: Task, doors: Doors, leaf: Leaf, at: Three, sign: int) -> None:
    """Hinges on the board beside the opening, a catch at the other edge, and the way that the leaf swings."""
    ask, bench, fixed = doors.ask, own.bench, doors.room.bounds.get((X, sign))
    if fixed is None:
        bench.mistakes.append(wrong(doors.place, f"Nothing stands beside {own.name} that it could hang on."))
        return
    said = ask.text("hinges")
    row = hinge_of(bench, ask, said, covers=doors.covers, thick=own.size[Y], kinds=("cup", "butt"))
    if row is None:
        return
    if row.kind == "butt" and doors.covers:
        bench.mistakes.append(
            wrong(
                ask.place("hinges"),
                f"A {row.name} can't hang a door that lies over the case.",
                "Write set: inset, or cup hinges.",
            )
        )
        return
    hang = Hanging(leaf.at(sign), fixed, at, NO_LENGTH, own.size[Z], leaf.kilograms, doors.place)
    spots = along_edge(bench, hang, ask.maybe_count("hinge count"), Z)
    spots = [bench.settle(f"hinge {number_} up", z, "from the door's lower end") for number_, z in enumerate(spots, 1)]
    if row.kind == "cup":
        hang_on_cups(bench, row, hang, spots, sign, task.name, inset=not doors.covers)
    else:
        hang_on_butts(bench, row, hang, spots, DOOR_LEFT if sign < 0 else DOOR_RIGHT, task.name)
    edge = at[X] if sign < 0 else plus(at[X], own.size[X])
    asked = ask.maybe_angle("opens")
    degrees = float(asked.degrees) if asked is not None else min(row.opens_deg, 110.0)
    swing(task, own.name, own.name, (edge, at[Y], at[Z]), Z, sign * degrees)
    if (ask.maybe_text("catch") or ("none" if row.kind == "cup" else "magnet")) == "magnet":
        shut_on = doors.room.bounds.get((X, -sign)) or doors.room.bounds.get((Z, 1)) or fixed
        bench.piece.items.append(
            Item(f"{own.name}.magnet catch", "", "magnet catch with its plate", 1, task.name,
                 (leaf.at(-sign).name, shut_on.name), kilograms=CATCH_KG, carries=own.name, place=doors.place)
        )  # fmt: skip


def _draw_by(own: Task, ask: Filled, leaf: Leaf, sign: int) -> None:
    """A pull near the closing edge, upright."""
    if ask.text("pull").strip().lower() in ("none", "no"):
        return
    row = pull_of(own, ask)
    if row is None:
        return
    bench, face = own.bench, leaf.at(-sign)
    inward = rule("pull from the edge", bench.step("11/8", "35"), PULL_IN)
    if face is not leaf.at(sign):
        inward = face.span[X] / 2
    x = plus(face.lower(X), inward) if sign > 0 else minus(face.upper(X), inward)
    near = rule("pull from the end", bench.step("3", "75"), PULL_IN)
    if row.centres_mm:
        near = near + rule(f"{row.name}, screw to screw", row.centres_mm, row.comes_from) / 2
    z = {"top": minus(own.size[Z], near), "bottom": near, "middle": own.size[Z] / 2}[ask.choice("pull at")]
    if not 0 < z.value < own.size[Z].value:
        z = own.size[Z] / 2
    fix_pull(own, row, (face,), {X: x, Z: z}, Z)


def _fits(task: Task, doors: Doors, made: list[Task]) -> None:
    """Gaps of inset doors in their opening: across all leaves, and in height."""
    first = made[0].bench
    gap = first.book.pages[f"{made[0].name}.opening wide"]
    for own in made:
        gap = gap - own.size[X]
    pages = first.book.pages
    for word, dim, gaps in (
        ("width", gap, len(made) + 1), ("height", pages[f"{made[0].name}.opening high"] - made[0].size[Z], 2)
    ):  # fmt: skip
        least, most = (
            rule(f"{said} gap of an inset door, {gaps} gaps", value * gaps, FRONT_FIT)
            for said, value in (("least", 1), ("most", 5))
        )
        first.piece.fits.append(
            Fit(f"{made[0].name}.{word} in its opening", dim, least, most, "locates", made[0].name, task.name,
                source=FRONT_FIT, place=doors.place)
        )  # fmt: skip


def _between_two(doors: Doors, left: Task, right: Task) -> None:
    """The gap between two doors over the case: what their hinges leave them of the opening and of the boards beside it.

    An outer edge lies over its board as far as its hinges are set to hold it; what is over or short is in the middle.
    """
    opening, reveal = left.bench.book.pages[f"{left.name}.opening wide"], doors.ask.length("reveal")
    gap = doors.lie.size(X, opening) - left.size[X] - right.size[X]
    least = rule("least gap between two doors", 1, BETWEEN_TWO)
    if reveal.value <= least.value:
        least = reveal / 2
    most = reveal + rule("more than the gap that was meant", 2, BETWEEN_TWO)
    left.bench.piece.fits.append(
        Fit(f"{left.name}.gap between the two", gap, least, most, "clears the other", left.name, right.name,
            source=BETWEEN_TWO, place=doors.place)
    )  # fmt: skip
