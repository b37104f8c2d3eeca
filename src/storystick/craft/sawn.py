"""Outlines that are not rectangles: slopes, notches, corners cut off or rounded. All are sawn right through."""

from storystick.craft.draft import Draft, minus, plus
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Field, Fields, Filled, Length, Size, Text
from storystick.ground.finding import Place
from storystick.ground.source import practice
from storystick.model.cut import Corner, Notch

BEYOND = practice("the outline of a rounded corner is drawn 1 mm outside the board, where there is nothing to saw")
NOTCH = Fields(
    "notch",
    (
        Field("at", Text, required=True, help="the corner: left front, bottom left ..."),
        Field("long", Size, required=True, help="along the board's length"),
        Field("wide", Size, required=True, help="across it"),
        Field("in by", Length, help="how far along the length it begins, for one that is not at the corner"),
        Field("radius", Length, help="of its inner corners"),
    ),
)


def _short(draft: Draft) -> str:
    return draft.name.rsplit(".", 1)[-1]


def _point(draft: Draft, along: Dim, over: Dim) -> tuple[Dim, Dim]:
    """A point of the assembly's axes along the board's length and width in its own coordinates."""
    first, second = draft.lies[0], draft.lies[1]
    return draft.own_point(first, along), draft.own_point(second, over)


def _inward(draft: Draft, which: int, sign: int, by: Dim) -> Dim:
    """A place `by` inside the end `sign` of the board's length (0) or width (1), in the assembly's axes."""
    axis = draft.lies[which]
    end = draft.end(axis, sign)
    return minus(end, by) if sign > 0 else plus(end, by)


def slope(draft: Draft, first: Dim, last: Dim, place: Place) -> None:
    """Saw the far edge from one width at the low end of its length to another at the high end."""
    if first.value == last.value:
        return
    along, over = draft.lies[0], draft.lies[1]
    ends = (draft.lower(along), draft.upper(along))
    low, high = plus(draft.lower(over), first), plus(draft.lower(over), last)
    corner = (ends[0], draft.upper(over)) if first.value < last.value else (ends[1], draft.upper(over))
    points = [_point(draft, a, b) for a, b in ((ends[0], low), (ends[1], high), corner)]
    corners = tuple(Corner(u, v) for u, v in points)
    draft.cuts.append(Notch(f"{draft.name} slope", corners, "sloped edge", place=place))


def cut_notch(draft: Draft, corner: tuple[int, int], ask: Filled, number_: int) -> None:
    """Saw a rectangle out of a corner, or out of the edge some way along from it."""
    a, b = corner
    start = ask.maybe_length("in by")
    first = _inward(draft, 0, a, start) if start is not None else draft.end(draft.lies[0], a)
    inner = plus(start, ask.length("long")) if start is not None else ask.length("long")
    last = _inward(draft, 0, a, inner)
    edge, floor = draft.end(draft.lies[1], b), _inward(draft, 1, b, ask.length("wide"))
    radius = ask.maybe_length("radius")
    outer_radius = radius if start is not None else None
    points = (
        (_point(draft, first, edge), None),
        (_point(draft, first, floor), outer_radius),
        (_point(draft, last, floor), radius),
        (_point(draft, last, edge), None),
    )
    corners = tuple(Corner(u, v, r) for (u, v), r in points)
    draft.cuts.append(Notch(f"{draft.name} notch {number_}", corners, "notch", place=ask.place()))


def cut_out(
    draft: Draft, name: str, first: tuple[Dim, Dim], second: tuple[Dim, Dim], called: str, place: Place
) -> None:
    """Saw out a rectangle between two places along the board's length and two across it, in the assembly's axes."""
    places = ((first[0], second[0]), (first[1], second[0]), (first[1], second[1]), (first[0], second[1]))
    corners = tuple(Corner(*_point(draft, along, over)) for along, over in places)
    draft.cuts.append(Notch(f"{draft.name} {name}", corners, called, place=place))


def cut_corner(draft: Draft, corner: tuple[int, int], by: Dim, place: Place) -> None:
    """Saw a corner off at 45 degrees, `by` along each side."""
    a, b = corner
    tip = (draft.end(draft.lies[0], a), draft.end(draft.lies[1], b))
    points = (tip, (_inward(draft, 0, a, by), tip[1]), (tip[0], _inward(draft, 1, b, by)))
    corners = tuple(Corner(*_point(draft, along, over)) for along, over in points)
    draft.cuts.append(Notch(f"{draft.name} cut corner {_called(draft, corner)}", corners, "sloped corner", place=place))


def round_corner(draft: Draft, corner: tuple[int, int], radius: Dim, place: Place) -> None:
    """Saw a corner round: what lies outside the arc is taken away."""
    a, b = corner
    out = rule("outside the board", 1, BEYOND)
    tip = (draft.end(draft.lies[0], a), draft.end(draft.lies[1], b))
    beyond = (_inward(draft, 0, a, -out), _inward(draft, 1, b, -out))
    inner = (_inward(draft, 0, a, radius), _inward(draft, 1, b, radius))
    points = (
        ((beyond[0], beyond[1]), None),
        ((inner[0], beyond[1]), None),
        ((inner[0], tip[1]), None),
        (tip, radius),
        ((tip[0], inner[1]), None),
        ((beyond[0], inner[1]), None),
    )
    corners = tuple(Corner(*_point(draft, along, over), r) for (along, over), r in points)
    draft.cuts.append(
        Notch(f"{draft.name} round corner {_called(draft, corner)}", corners, "round corner", place=place)
    )


def _called(draft: Draft, corner: tuple[int, int]) -> str:
    words = {0: ("left", "right"), 1: ("front", "back"), 2: ("bottom", "top")}
    return " ".join(words[draft.lies[i]][(sign + 1) // 2] for i, sign in enumerate(corner))
