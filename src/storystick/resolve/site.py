"""What is already there: bodies of the site, read to shapes, extents and the way they move.

bed:        {box: [48, 7, 3], at: [-6, 8, 33]}
stand:      {frame: [26, 20, 30], tube: 40 mm}
pipe:       {cylinder: {across: 2, long: 96, along: high}, sits: {on: floor, ...}}
left leg:   {outline: [[0, 0], [3, 0], [7, 34], [4, 34]], seen from: front, long: 18}
cover:      {box: [14, 10, 9], at: [...], swings: {about: back bottom, by: 75 deg, toward: front}}
pedal:      {box: [8, 10, 2], at: [...], slides: {way: down, by: 1 1/2}, keep clear: 1}
lathe:      {made of: {bed: {...}, headstock: {...}}}
"""

from dataclasses import replace

from storystick.craft.draft import NO_LENGTH, minus, plus
from storystick.ground.dim import Dim
from storystick.ground.fields import (
    Angle,
    Choice,
    Field,
    Fields,
    Filled,
    Flag,
    Length,
    ListOf,
    Node,
    Record,
    Size,
    Text,
    fill,
)
from storystick.ground.finding import NOWHERE, Finding, mistake
from storystick.ground.marked import Mapping, Marked, Sequence, plain
from storystick.ground.misread import one_of
from storystick.model.build import Move, Shape, SiteBody
from storystick.model.part import Three
from storystick.resolve.names import Names
from storystick.resolve.place import SIDES, read_place

WAYS: dict[str, tuple[float, float, float]] = {
    "left": (-1, 0, 0), "right": (1, 0, 0), "front": (0, -1, 0), "forward": (0, -1, 0), "out": (0, -1, 0),
    "back": (0, 1, 0), "in": (0, 1, 0), "down": (0, 0, -1), "up": (0, 0, 1),
}  # fmt: skip
SLIDES = Fields(
    "slide",
    (
        Field("way", Choice(tuple(WAYS)), required=True, help="which way it goes"),
        Field("by", Size, required=True, help="how far"),
    ),
)
SWINGS = Fields(
    "swing",
    (
        Field(
            "about", Text, required=True, help="the edge that it turns about, by its two sides: back top, left front"
        ),
        Field("by", Angle, required=True, help="how far it turns"),
        Field("toward", Choice(tuple(WAYS)), required=True, help="which way it sets off"),
    ),
)
CYLINDER = Fields(
    "cylinder",
    (
        Field("across", Size, required=True, help="its diameter"),
        Field("long", Size, required=True, help="its length"),
        Field("along", Choice(("wide", "deep", "high")), default="high", help="which way it lies"),
    ),
)
FORMS = ("box", "frame", "cylinder", "outline", "made of")
BODY = Fields(
    "site body",
    (
        Field("box", ListOf(Size, least=3, most=3), help="wide, deep, high"),
        Field("frame", ListOf(Size, least=3, most=3), help="a frame of tubes: wide, deep, high over all"),
        Field("tube", Size, help="how thick the tubes of a frame are"),
        Field("cylinder", Record(CYLINDER), help="a round bar or pipe"),
        Field("outline", ListOf(ListOf(Length, least=2, most=2), least=3), help="corners of its outline, in order"),
        Field("seen from", Choice(("front", "side", "above")), default="front", help="where the outline is seen from"),
        Field("long", Size, help="how far the outline reaches along the way one looks"),
        Field("made of", Node, help="several bodies under one name"),
        Field("at", ListOf(Length, least=3, most=3), help="left, front, bottom of it in the room"),
        Field("sits", Node, help="where it stands, by relations"),
        Field("keep clear", Length, help="room to leave all round it"),
        Field("stays free", Flag, default="no", help="not a thing, but room that nothing may enter"),
        Field("slides", Record(SLIDES), help="it slides", also=("travels",)),
        Field("swings", Record(SWINGS), help="it swings about an edge, with what stands on it", also=("tilts",)),
        Field("says", Text, help="a note"),
    ),
)  # fmt: skip
VIEWS = {"front": (1, (0, 2)), "side": (0, (1, 2)), "above": (2, (0, 1))}


def read_body(name: str, node: Marked, names: Names, mistakes: list[Finding]) -> SiteBody | None:
    """One body of the site, its ends and sizes lent to the plan's sums; None when it can't be read."""
    filled = fill(BODY, node, names, mistakes)
    if filled is None:
        return None
    said = [form for form in FORMS if filled.has(form)]
    if len(said) != 1:
        mistakes.append(mistake(node.place, name, f"given one form: {one_of(FORMS)}", "box: [24, 20, 30]"))
        return None
    shapes = _shapes(name, said[0], filled, names, mistakes)
    if not shapes:
        return None
    low, size = _around(shapes)
    own = (low, size)
    if filled.has("at") and filled.has("sits"):
        mistakes.append(mistake(filled.place("sits"), "sits", "only one of at and sits"))
        return None
    at = low
    if filled.has("at"):
        by = filled.lengths("at")
        at = (
            (plus(by[0], low[0]), plus(by[1], low[1]), plus(by[2], low[2]))
            if said[0] in ("outline", "made of")
            else (by[0], by[1], by[2])
        )
    elif filled.has("sits"):
        placed = read_place(filled.node("sits"), names, size, node.place, mistakes)
        if placed is None:
            return None
        at = placed.at
    shapes = tuple(_shift(shape, own[0], at) for shape in shapes)
    settled = names.place(name, at, size)
    if said[0] == "frame":
        _lend_inside(name, filled, names)
    body = SiteBody(
        name,
        shapes,
        settled.at,
        settled.size,
        filled.maybe_length("keep clear"),
        None,
        filled.flag("stays free"),
        node.place,
    )
    return replace(body, move=_move(body, filled, mistakes))


def _shapes(name: str, form: str, filled: Filled, names: Names, mistakes: list[Finding]) -> tuple[Shape, ...]:
    nothing: Three = (NO_LENGTH, NO_LENGTH, NO_LENGTH)
    match form:
        case "box":
            w, d, h = filled.lengths("box")
            return (Shape("box", nothing, (w, d, h)),)
        case "frame":
            return _frame(filled, mistakes)
        case "cylinder":
            record = filled.record("cylinder")
            axis = ("wide", "deep", "high").index(record.choice("along"))
            size = [record.length("across")] * 3
            size[axis] = record.length("long")
            return (Shape("cylinder", nothing, (size[0], size[1], size[2]), axis),)
        case "outline":
            return _outline(filled, mistakes)
        case _:
            return _made_of(name, filled.node("made of"), names, mistakes)


def _frame(filled: Filled, mistakes: list[Finding]) -> tuple[Shape, ...]:
    tube = filled.maybe_length("tube")
    if tube is None:
        mistakes.append(mistake(filled.place("frame"), "", "tube: how thick the frame's tubes are", "tube: 1 1/2"))
        return ()
    sizes = filled.lengths("frame")
    shapes = []
    for axis in range(3):
        a, b = (other for other in range(3) if other != axis)
        for first in (False, True):
            for second in (False, True):
                at, size = [NO_LENGTH] * 3, [tube] * 3
                size[axis] = sizes[axis]
                at[a] = sizes[a] - tube if first else NO_LENGTH
                at[b] = sizes[b] - tube if second else NO_LENGTH
                shapes.append(Shape("box", (at[0], at[1], at[2]), (size[0], size[1], size[2])))
    return tuple(shapes)


def _lend_inside(name: str, filled: Filled, names: Names) -> None:
    tube = filled.length("tube")
    for word, size in zip(("wide", "deep", "high"), filled.lengths("frame"), strict=True):
        names.settle(f"{name}.inside.{word}", size - 2 * tube, "clear between the tubes")
    for low, high in (("left", "right"), ("front", "back"), ("bottom", "top")):
        names.settle(f"{name}.inside.{low}", names.lengths[plain(f"{name}.{low}")] + tube, "inside the tubes")
        names.settle(f"{name}.inside.{high}", names.lengths[plain(f"{name}.{high}")] - tube, "inside the tubes")


def _outline(filled: Filled, mistakes: list[Finding]) -> tuple[Shape, ...]:
    long = filled.maybe_length("long")
    if long is None:
        mistakes.append(mistake(filled.place("outline"), "", "long: how far the outline reaches", "long: 18"))
        return ()
    node = filled.node("outline")
    corners = _pairs(filled, node)
    axis, (a, b) = VIEWS[filled.choice("seen from")]
    at, size = [NO_LENGTH] * 3, [long] * 3
    for own, index in ((a, 0), (b, 1)):
        low = min((c[index] for c in corners), key=lambda d: d.value)
        high = max((c[index] for c in corners), key=lambda d: d.value)
        at[own], size[own] = low, minus(high, low)
    if any(dim.value <= 0 for dim in size):
        mistakes.append(mistake(filled.place("outline"), "", "an outline that encloses something"))
        return ()
    return (Shape("prism", (at[0], at[1], at[2]), (size[0], size[1], size[2]), axis, corners),)


def _pairs(filled: Filled, node: Marked | None) -> tuple[tuple[Dim, Dim], ...]:
    assert isinstance(node, Sequence)
    values = filled.listed("outline", tuple)
    return tuple((pair[0], pair[1]) for pair in values)


def _made_of(name: str, node: Marked | None, names: Names, mistakes: list[Finding]) -> tuple[Shape, ...]:
    if not isinstance(node, Mapping) or not len(node):
        mistakes.append(
            mistake(node.place if node else NOWHERE, "", "names with bodies, as made of: {bed: {box: [...]}}")
        )
        return ()
    shapes: list[Shape] = []
    for key, inner in node.entries:
        body = read_body(f"{name}.{key.text}", inner, names, mistakes)
        if body is not None:
            shapes.extend(body.shapes)
    return tuple(shapes)


def _around(shapes: tuple[Shape, ...]) -> tuple[Three, Three]:
    """Low corner and size of all shapes together."""
    low, size = [], []
    for axis in range(3):
        first = min((shape.at[axis] for shape in shapes), key=lambda d: d.value)
        last_shape = max(shapes, key=lambda s: s.at[axis].value + s.size[axis].value)
        whole = (
            plus(last_shape.at[axis], last_shape.size[axis])
            if last_shape.at[axis] is not first
            else last_shape.size[axis]
        )
        low.append(first)
        size.append(whole if last_shape.at[axis] is first else minus(whole, first))
    return (low[0], low[1], low[2]), (size[0], size[1], size[2])


def _shift(shape: Shape, from_low: Three, to_low: Three) -> Shape:
    if all(a is b for a, b in zip(from_low, to_low, strict=True)):
        return shape
    by = [minus(b, a) for a, b in zip(from_low, to_low, strict=True)]
    at = tuple(plus(a, b) for a, b in zip(shape.at, by, strict=True))
    outline = shape.outline
    if outline:
        a, b = (axis for axis in range(3) if axis != shape.axis)
        outline = tuple((plus(p, by[a]), plus(q, by[b])) for p, q in outline)
    return replace(shape, at=(at[0], at[1], at[2]), outline=outline)


def _move(body: SiteBody, filled: Filled, mistakes: list[Finding]) -> Move | None:
    slides, swings = filled.maybe_record("slides"), filled.maybe_record("swings")
    if slides is not None:
        way = WAYS[slides.choice("way")]
        return Move(
            f"{body.name} slides", "slide", (body.name,), way, slides.length("by"), place=filled.place("slides")
        )
    return _swing(body, swings, mistakes) if swings is not None else None


def _swing(body: SiteBody, swings: Filled, mistakes: list[Finding]) -> Move | None:
    sides = [SIDES.get(word) for word in plain(swings.text("about")).split()]
    known = [s for s in sides if s is not None]
    if len(sides) != 2 or len(known) != 2 or known[0][0] == known[1][0]:
        mistakes.append(mistake(swings.place("about"), swings.text("about"), "an edge, by its two sides", "back top"))
        return None
    axis = ({0, 1, 2} - {known[0][0], known[1][0]}).pop()
    about = list(body.at)
    middle = [float(body.at[i].value + body.size[i].value / 2) for i in range(3)]
    for own, sign in known:
        about[own] = plus(body.at[own], body.size[own]) if sign > 0 else body.at[own]
    arm = [middle[i] - float(about[i]) for i in range(3)]
    toward = WAYS[swings.choice("toward")]
    turn = _cross_with_axis(axis, arm)
    way = sum(t * w for t, w in zip(turn, toward, strict=True))
    if abs(way) < 1e-6:
        mistakes.append(
            mistake(swings.place("toward"), swings.text("toward"), "a way that it can set off in from that edge")
        )
        return None
    degrees = float(swings.angle("by").degrees)
    return Move(
        f"{body.name} swings", "swing", (body.name,), about=(about[0], about[1], about[2]), axis=axis,
        degrees=(0.0, degrees if way > 0 else -degrees), place=swings.place(),
    )  # fmt: skip


def _cross_with_axis(axis: int, arm: list[float]) -> tuple[float, float, float]:
    """Where a point goes first when it turns right-handed about an axis."""
    unit = [float(axis == i) for i in range(3)]
    return (
        unit[1] * arm[2] - unit[2] * arm[1], unit[2] * arm[0] - unit[0] * arm[2], unit[0] * arm[1] - unit[1] * arm[0],
    )  # fmt: skip
