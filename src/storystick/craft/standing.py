"""What a case stands on: castors, levelling feet, a plinth, a toe kick, or a base panel with castors under it.

stands on: castors                      stands on: {plinth: {high: 4, toe: 3, stock: birch18}}
stands on: {castors: 3}                 stands on: {base panel: {stock: birch18, castors: 75 mm}}
stands on: {feet: heavy levelling foot}
"""

from dataclasses import dataclass
from typing import Literal

from storystick.craft.carcass import Carcass, board, joined
from storystick.craft.castors import CASTORS, Castors, place_castors, read_castors
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import spot_on
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.jointing import read_way
from storystick.craft.kinds import Task
from storystick.craft.seat import Stretch
from storystick.craft.toe_kick import KICK, lay_toe_kick
from storystick.ground.arithmetic import Scope
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Field, Fields, Filled, Length, NameOf, Node, Record, Size, Text, fill
from storystick.ground.finding import Finding, Place, mistake
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Item
from storystick.shop.tables import feet, find, nearest
from storystick.shop.tables.rows import Foot

PLINTH_HIGH = practice("a plinth is 100 mm (4 in) high")
FROM_BELOW = practice(
    "a base panel is screwed on from below while the case lies on its head, before its castors: a driver gets there "
    "whatever stands in the case, and no head shows inside"
)
CLEAR = practice("a plinth's rear board stands before the back, so that its screws miss the rabbet or groove of that")
TOE = practice("a plinth stands back 75 mm (3 in), so that toes go under")
FOOT_IN = practice("levelling feet stand 40 mm (1 1/2 in) in from the outsides")
FOOT_KG = 0.08  # a guess
PLINTH = Fields(
    "plinth",
    (
        Field("high", Size, default=("4 in", "100 mm"), source=PLINTH_HIGH, help="from the floor to the case"),
        Field("toe", Length, default=("3 in", "75 mm"), source=TOE, help="how far its front stands back"),
        Field("stock", NameOf("stock"), help="what it is made of; the case's own stock if not said"),
    ),
    short="high",
)
BASE = Fields(
    "base panel",
    (
        Field("stock", NameOf("stock"), required=True, help="what it is made of"),
        Field("castors", Record(CASTORS), help="castors under it", also=("casters",)),
        Field("overhang", Length, help="how far it stands out beyond the case on all sides"),
    ),
)
STANDING = Fields(
    "stands on",
    (
        Field("castors", Node, help="castors under the bottom: their size", also=("casters",)),
        Field("feet", Node, help="levelling feet under the bottom"),
        Field("plinth", Node, help="a frame set back under the case", also=("base",)),
        Field("toe kick", Node, help="the sides go down to the floor, notched for the toes; a board between them"),
        Field("base panel", Record(BASE), help="a panel under the case, with castors below it"),
        Field("screws", Text, help="the screws that hold the case on it"),
    ),
)
WORDS = ("castors", "feet", "plinth", "toe kick", "base panel")


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """What a case stands on, as asked for, and how high that is."""

    kind: Literal["castors", "feet", "plinth", "toe kick", "base panel"]
    high: Dim
    place: Place
    castors: Castors | None = None
    foot: Foot | None = None
    how: Filled | None = None
    screws: str = "yes"


@dataclass(frozen=True, slots=True, eq=False)
class Feet:
    """Where it touches the floor: spots in the case's own axes (none: its whole outline), and how far castors swing."""

    spots: tuple[tuple[Dim, Dim], ...]
    swivels: float = 0.0


def read_standing(node: Marked | None, scope: Scope, bench: Bench) -> Standing | None:
    """What `stands on:` asks for; None where there is nothing, or where it can't be read. Mistakes are noted once."""
    if node is None:
        return None
    found: list[Finding] = []
    standing = _read(node, scope, bench, found)
    bench.mistakes.extend(one for one in found if one not in bench.mistakes)
    return standing


def _read(node: Marked, scope: Scope, bench: Bench, mistakes: list[Finding]) -> Standing | None:
    if isinstance(node, Scalar):
        word = " ".join(node.text.lower().split())
        if word in ("floor", "none", "no"):
            return None
        if STANDING.find(word) is None or word == "base panel":
            mistakes.append(mistake(node.place, node.text, f"something a case stands on: {one_of(WORDS)}"))
            return None
        node = Mapping(((node, Mapping((), node.place)),), node.place)
    ask = fill(STANDING, node, scope, mistakes)
    if ask is None:
        return None
    said = [word for word in WORDS if ask.has(word)]
    if len(said) != 1:
        mistakes.append(mistake(node.place, " and ".join(said), f"one thing a case stands on: {one_of(WORDS)}"))
        return None
    inner = ask.node(said[0])
    assert inner is not None
    screws = ask.maybe_text("screws") or "yes"
    match said[0]:
        case "castors":
            castors = read_castors(inner, scope, bench, mistakes)
            return Standing("castors", castors.high, node.place, castors, screws=screws) if castors else None
        case "feet":
            return _feet(inner, mistakes, screws)
        case "plinth":
            how = fill(PLINTH, inner, scope, mistakes)
            return Standing("plinth", how.length("high"), node.place, how=how, screws=screws) if how else None
        case "toe kick":
            how = fill(KICK, inner, scope, mistakes)
            return Standing("toe kick", how.length("high"), node.place, how=how, screws=screws) if how else None
        case _:
            return _base_panel(ask.record("base panel"), scope, bench, mistakes, screws)


def _feet(node: Marked, mistakes: list[Finding], screws: str) -> Standing | None:
    said = node.text if isinstance(node, Scalar) else ""
    row = find(feet(), said or "light levelling foot")
    if row is None:
        near = nearest(feet(), said)
        mistakes.append(mistake(node.place, said, f"a foot of the table: {one_of(feet())}", near[0] if near else ""))
        return None
    high = (row.least_high_mm + row.most_high_mm) / 2
    return Standing(
        "feet", rule(f"{row.name}, half screwed out", high, row.comes_from), node.place, foot=row, screws=screws
    )


def _base_panel(how: Filled, scope: Scope, bench: Bench, mistakes: list[Finding], screws: str) -> Standing | None:
    thick = bench.stock_of(how.text("stock"), how.place("stock")).thickness
    inner = how.node("castors")
    if inner is None:
        return Standing("base panel", thick, how.place(), how=how, screws=screws)
    castors = read_castors(inner, scope, bench, mistakes)
    if castors is None:
        return None
    return Standing("base panel", castors.high + thick, how.place(), castors, how=how, screws=screws)


def lay_standing(task: Task, carcass: Carcass, standing: Standing) -> Feet:
    """Lay what the case stands on, fix it to the bottom, and say where it touches the floor."""
    match standing.kind:
        case "castors":
            assert standing.castors is not None
            outline = ((NO_LENGTH, task.size[X]), (carcass.bottom.lower(Y), carcass.bottom.upper(Y)))
            return Feet(*place_castors(task, standing.castors, carcass.bottom, outline, carcass.stock.thickness))
        case "feet":
            return _lay_feet(task, carcass, standing)
        case "plinth":
            return _lay_plinth(task, carcass, standing)
        case "toe kick":
            return Feet(lay_toe_kick(task, carcass, standing.how, standing.screws, standing.place))
        case "base panel":
            return _lay_base(task, carcass, standing)


def _lay_feet(task: Task, carcass: Carcass, standing: Standing) -> Feet:
    """Four levelling feet, screwed into sleeves in the bottom."""
    row, bench, bottom = standing.foot, task.bench, carcass.bottom
    assert row is not None
    inset = rule("feet in from the outsides", bench.step("3/2", "40"), FOOT_IN)
    thread = rule(f"hole for a {row.name}", row.thread_mm, row.comes_from)
    pad = rule(f"pad of a {row.name}", row.pad_mm, row.comes_from)
    xs = (inset, task.size[X] - inset)
    ys = (plus(bottom.lower(Y), inset), bottom.upper(Y) - inset)
    spots = [(x, y) for y in ys for x in xs]
    side = bottom.side_toward(Z, -1)
    for number_, (x, y) in enumerate(spots, 1):
        name = f"{task.name}.foot {number_}"
        bottom.cuts.append(
            Bore(
                f"{name} hole",
                side,
                spot_on(bottom, side, {X: x, Y: y}),
                thread,
                None,
                "hole for a levelling foot",
                place=standing.place,
            )
        )
        box = ((x - pad / 2, y - pad / 2, NO_LENGTH), (pad, pad, standing.high))
        bench.piece.items.append(
            Item(
                name,
                row.name,
                row.name,
                1,
                task.name,
                (bottom.name,),
                box,
                True,
                FOOT_KG,
                row.name,
                place=standing.place,
            )
        )
    return Feet(tuple(spots))


def _lay_plinth(task: Task, carcass: Carcass, standing: Standing) -> Feet:
    """A frame of four boards on edge: front and rear run past, two between them; screwed to the bottom from inside."""
    how, bench = standing.how, task.bench
    assert how is not None
    named = how.maybe_text("stock")
    stock = bench.stock_of(named, how.place("stock")) if named else carcass.stock
    high, toe, thick = how.length("high"), how.length("toe"), stock.thickness
    deep = carcass.bottom.upper(Y)
    if carcass.back is not None and carcass.back.low[Y].value < deep.value:
        deep = carcass.back.low[Y]  # its rear board clear of what the back lies in: see CLEAR
    within = deep - toe - 2 * thick
    why = {X: "as wide as the case", Y: "the sheet as measured", Z: "from the floor to the case"}
    between = {X: "the sheet as measured", Y: "between the plinth's front and rear", Z: "from the floor to the case"}
    wide = task.size[X]
    front = board(
        task,
        "plinth front",
        "plinth",
        stock,
        (X, Z, Y),
        [NO_LENGTH, toe, NO_LENGTH],
        [wide, thick, high],
        why,
        faces=-1,
    )
    rear = board(
        task,
        "plinth rear",
        "plinth",
        stock,
        (X, Z, Y),
        [NO_LENGTH, deep - thick, NO_LENGTH],
        [wide, thick, high],
        dict(why),
        faces=1,
    )
    way = read_way(None, "screws", task.scope, bench, "corner", standing.place)
    sides: list[Draft] = []
    for word, low_x, faces in (("left", NO_LENGTH, -1), ("right", minus(wide, thick), 1)):
        side = board(
            task,
            f"plinth {word}",
            "plinth",
            stock,
            (Y, Z, X),
            [low_x, plus(toe, thick), NO_LENGTH],
            [thick, within, high],
            dict(between),
            faces=faces,
        )
        joined(bench, side, front, Y, -1, way)
        joined(bench, side, rear, Y, 1, way)
        sides.append(side)
    inner = Stretch(carcass.bottom.low[X], plus(carcass.bottom.low[X], carcass.bottom.span[X]))
    for one in (front, rear):
        middle = centre(one, Y)
        spots = [{X: x, Y: middle} for x in spread_along(inner, bench, None, far_in=True)]
        screw_down(
            bench, f"{one.name} top", carcass.bottom, one, Z, -1, spots, said=standing.screws, place=standing.place
        )
    corners = tuple((x, y) for y in (toe, deep) for x in (NO_LENGTH, wide))
    return Feet(corners)


def _lay_base(task: Task, carcass: Carcass, standing: Standing) -> Feet:
    """A panel under the case, screwed to it from below; castors below the panel. Source: FROM_BELOW."""
    how, bench = standing.how, task.bench
    assert how is not None
    stock = bench.stock_of(how.text("stock"), how.place("stock"))
    over = how.maybe_length("overhang")
    deep = carcass.bottom.upper(Y)
    low = -over if over is not None else NO_LENGTH
    span_x = task.size[X] + 2 * over if over is not None else task.size[X]
    span_y = deep + 2 * over if over is not None else deep
    under = standing.castors.high if standing.castors else NO_LENGTH
    why = {X: "as wide as the case", Y: "as deep as the case", Z: "the sheet as measured"}
    panel = board(
        task,
        "base panel",
        "base",
        stock,
        (X, Y, Z),
        [low, low, under],
        [span_x, span_y, stock.thickness],
        why,
        faces=-1,
    )
    panel.place = standing.place
    bottom = carcass.bottom
    inner = Stretch(bottom.low[X], plus(bottom.low[X], bottom.span[X]))
    spots = [
        {X: x, Y: y}
        for y in spread_along(Stretch(bottom.lower(Y), bottom.upper(Y)), bench, None)
        for x in _two(spread_along(inner, bench, None, far_in=True))
    ]
    screw_down(bench, f"{panel.name} up", panel, bottom, Z, 1, spots, said=standing.screws, place=standing.place)
    if standing.castors is None:
        return Feet(())
    outline = ((panel.lower(X), panel.upper(X)), (panel.lower(Y), panel.upper(Y)))
    return Feet(*place_castors(task, standing.castors, panel, outline, NO_LENGTH))


def _two(spots: list[Dim]) -> list[Dim]:
    return [spots[0], spots[-1]] if len(spots) > 1 else spots
