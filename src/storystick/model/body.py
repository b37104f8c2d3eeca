"""A part as a solid: a board less its cuts, in the part's own coordinates (u, v, w), or placed in its assembly."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.kept import Kept, This
from storystick.model.build import Shape
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.model.drilled import Hole, drilled
from storystick.model.part import Assembly, Part
from storystick.shapes.outline import polygon
from storystick.shapes.pose import Pose, Vector, Z, compose, facing, framed, shifted, turned
from storystick.shapes.rounding import rounded
from storystick.shapes.solid import (
    Bounds,
    Drilled,
    Solid,
    box,
    box_between,
    cylinder,
    minus,
    moved,
    prism,
    revolved,
    union,
)

BEYOND = 1.0  # tools stand out of the board by so much, so that no skin is left [mm]


_SOLIDS: Kept[Solid] = Kept(256)
_SHAPES: Kept[Solid] = Kept(1024)
_JOINED: Kept[Solid] = Kept(256)

type Form = tuple[object, ...]

_FORMS: Kept[Form] = Kept(512)


def solid_of(part: Part) -> Solid:
    """The finished part in its own coordinates: u along the length, v across the width, w from the face down [mm]."""

    def cut_out() -> Solid:
        size = (float(part.size[0]), float(part.size[1]), float(part.size[2]))
        board, tooled = box(*size), [(cut, tools_of(cut, size)) for cut in part.cuts]
        whole = minus(board, [tool for _, tools in tooled for tool in tools])
        if not any(isinstance(cut, Bore) for cut in part.cuts):
            return whole
        plain = minus(board, [tool for cut, tools in tooled if not isinstance(cut, Bore) for tool in tools])
        return replace(whole, around=plain, drilled=_drilled(tooled, size))

    return _SOLIDS.of(form_of(part), cut_out)


def _drilled(tooled: Sequence[tuple[Cut, Sequence[Solid]]], size: Vector) -> Drilled:
    """What the round holes take out; each cut with its tools."""
    holes, slanting, troughs, others = list[Hole](), list[Bounds](), list[Bounds](), list[Bounds]()
    for cut, tools in tooled:
        if isinstance(cut, Bore) and not cut.lean:
            outline = tuple((radius, long - BEYOND) for radius, long in _outline_of_bore(cut, size))
            holes.append(Hole(cut.side, (float(cut.at[0]), float(cut.at[1])), outline, size))
        else:
            into = slanting if isinstance(cut, Bore) else troughs if isinstance(cut, Channel) else others
            into += [tool.bounds for tool in tools]
    return drilled(holes, slanting, troughs, others)


def form_of(part: Part) -> Form:
    """All that a part's solid rests on: its size and its cuts, by their plain values [mm]."""
    return _FORMS.of(This(part), lambda: (*_exact(part.size), *(_form(cut) for cut in part.cuts)))


def _form(cut: Cut) -> Form:
    match cut:
        case Channel():
            return (cut.side, *_exact((*cut.at, *cut.size, cut.depth)))
        case Bore():
            deep = () if cut.depth is None else _exact((cut.depth,))
            mouth = () if cut.sink is None else _exact((cut.sink,))
            spot = _exact((*cut.at, cut.diameter))
            return (cut.side, *spot, deep, cut.lean, cut.toward, mouth, _exact(cut.step or ()))
        case Notch():
            return tuple(_exact((c.u, c.v, *((c.radius,) if c.radius else ()))) for c in cut.corners)
        case Bevel():
            return (cut.side, cut.degrees, cut.from_back)


def _exact(dims: Iterable[Dim]) -> tuple[tuple[int, int], ...]:
    return tuple(dim.value.as_integer_ratio() for dim in dims)


def own_pose(part: Part) -> Pose:
    """From the part's own coordinates to its assembly's axes; mirrored for a left-handed part."""
    ways: list[Vector] = []
    origin = [0.0, 0.0, 0.0]
    for own, axis in enumerate(part.lies):
        up = part.datum[own] > 0 if own < 2 else part.datum[2] < 0
        way = [0.0, 0.0, 0.0]
        way[axis] = 1.0 if up else -1.0
        ways.append((way[0], way[1], way[2]))
        origin[axis] = float(part.low(axis) if up else part.high(axis))
    return framed(ways[0], ways[1], ways[2], (origin[0], origin[1], origin[2]))


def pose_in_parent(one: Assembly) -> Pose:
    """From an assembly's own axes to those of what it belongs to (the room, or the assembly it is inside of)."""
    at = (float(one.at[0]), float(one.at[1]), float(one.at[2]))
    wide, deep = float(one.size[0]), float(one.size[1])
    back = {0: (0.0, 0.0, 0.0), 1: (deep, 0.0, 0.0), 2: (wide, deep, 0.0), 3: (0.0, wide, 0.0)}[one.turns % 4]
    pose = compose(shifted(back), turned(Z, 90.0 * one.turns))
    if one.lean is not None:
        axis = [0.0, 0.0, 0.0]
        axis[one.lean.axis] = 1.0
        pose = compose(turned((axis[0], axis[1], axis[2]), one.lean.degrees), pose)
    return compose(shifted(at), pose)


def solid_of_shapes(shapes: Sequence[Shape]) -> Solid:
    """Plain bodies as one, in the axes of what they belong to."""
    return _JOINED.of(
        tuple(form_of_shape(shape) for shape in shapes), lambda: union(solid_of_shape(shape) for shape in shapes)
    )


def solid_of_shape(shape: Shape) -> Solid:
    """A plain body in the axes of what it belongs to."""
    return _SHAPES.of(form_of_shape(shape), lambda: _solid_of_shape(shape))


def form_of_shape(shape: Shape) -> Form:
    """All that a plain body rests on, by its plain values [mm]."""
    outline = tuple(_exact(point) for point in shape.outline)
    return (shape.form, shape.axis, _exact(shape.at), _exact(shape.size), outline)


def _solid_of_shape(shape: Shape) -> Solid:
    at = (float(shape.at[0]), float(shape.at[1]), float(shape.at[2]))
    size = (float(shape.size[0]), float(shape.size[1]), float(shape.size[2]))
    if shape.form == "box":
        return moved(box(*size), shifted(at))
    a, b = (axis for axis in range(3) if axis != shape.axis)
    if shape.form == "cylinder":
        bar = cylinder(min(size[a], size[b]), size[shape.axis])
        middle = [at[i] + size[i] / 2 for i in range(3)]
        middle[shape.axis] = at[shape.axis]
        return moved(bar, facing(_unit(shape.axis), (middle[0], middle[1], middle[2])))
    outline = polygon([(float(p), float(q)) for p, q in shape.outline])
    start = [0.0, 0.0, 0.0]
    start[shape.axis] = at[shape.axis]
    return moved(
        prism(outline, size[shape.axis]), framed(_unit(a), _unit(b), _unit(shape.axis), (start[0], start[1], start[2]))
    )


def _unit(axis: int) -> Vector:
    return (float(axis == 0), float(axis == 1), float(axis == 2))


def tools_of(cut: Cut, size: Vector) -> list[Solid]:
    """What a cut takes away from a part of that length, width and thickness, in the part's own coordinates."""
    match cut:
        case Channel():
            return [_channel(cut, size)]
        case Bore():
            return _bore(cut, size)
        case Notch():
            corners = [(float(c.u), float(c.v)) for c in cut.corners]
            radii = [float(c.radius) if c.radius else 0.0 for c in cut.corners]
            return [moved(prism(rounded(corners, radii), size[2] + 2 * BEYOND), shifted((0.0, 0.0, -BEYOND)))]
        case Bevel():
            return [_bevel(cut, size)]


def _channel(cut: Channel, size: Vector) -> Solid:
    low, high = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for axis, start, long in zip(cut.side.axes, cut.at, cut.size, strict=True):
        first, last = float(start), float(start.value + long.value)
        low[axis] = first - BEYOND if first <= 0 else first
        high[axis] = last + BEYOND if start.value + long.value >= Fraction(size[axis]) - Fraction(1, 10**6) else last
    down = cut.side.normal
    deep = float(cut.depth)
    low[down], high[down] = (size[down] - deep, size[down] + BEYOND) if cut.side.is_far else (-BEYOND, deep)
    return box_between((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def way_in(cut: Bore) -> Vector:
    """The direction of a bore in the part's own coordinates, unit vector pointing into the wood."""
    from math import cos, radians, sin

    way = [0.0, 0.0, 0.0]
    way[cut.side.normal] = (-1.0 if cut.side.is_far else 1.0) * cos(radians(cut.lean))
    for axis, toward in zip(cut.side.axes, cut.toward, strict=True):
        way[axis] = toward * sin(radians(cut.lean))
    return (way[0], way[1], way[2])


def spot_of(side: Side, at: tuple[float, float], size: Vector) -> Vector:
    """A spot on a side as a point of the part's own coordinates."""
    point = [0.0, 0.0, 0.0]
    for axis, value in zip(side.axes, at, strict=True):
        point[axis] = value
    point[side.normal] = size[side.normal] if side.is_far else 0.0
    return (point[0], point[1], point[2])


def _bore(cut: Bore, size: Vector) -> list[Solid]:
    way = way_in(cut)
    spot = spot_of(cut.side, (float(cut.at[0]), float(cut.at[1])), size)
    start = tuple(p - BEYOND * w for p, w in zip(spot, way, strict=True))
    pose = facing(way, (start[0], start[1], start[2]))
    if cut.lean > 45:  # a slanting hole starts well outside, so that its mouth is open
        diameter = float(cut.diameter)
        back = diameter * 4
        pose = facing(way, tuple(p - back * w for p, w in zip(spot, way, strict=True)))  # type: ignore[arg-type]
        return [moved(cylinder(diameter, _deep(cut, size) + back), pose)]
    return [moved(revolved(_outline_of_bore(cut, size)), pose)]


def _deep(cut: Bore, size: Vector) -> float:
    """How deep a bore goes; where it goes right through, to beyond the board."""
    if cut.depth is not None:
        return float(cut.depth)
    return size[cut.side.normal] / abs(way_in(cut)[cut.side.normal]) + BEYOND


def _outline_of_bore(cut: Bore, size: Vector) -> tuple[tuple[float, float], ...]:
    """A bore's outline for turning as (radius, length), from `BEYOND` outside the board to its bottom."""
    return _profile(cut, float(cut.diameter), _deep(cut, size))


def _profile(cut: Bore, diameter: float, deep: float) -> tuple[tuple[float, float], ...]:
    """A bore's outline for turning, from outside the board to its bottom: one for every bore of its size."""
    half, mouth = diameter / 2, []
    if cut.sink is not None and float(cut.sink) > diameter:
        wide = float(cut.sink) / 2
        down = min(wide - half, deep)
        mouth = [(wide, BEYOND), (wide - down, BEYOND + down)]
    elif cut.step is not None:
        wide, step_deep = float(cut.step[0]) / 2, min(float(cut.step[1]), deep)
        mouth = [(wide, BEYOND + step_deep), (half, BEYOND + step_deep)]
    first = mouth[0][0] if mouth else half
    return ((first, 0.0), *mouth, (half, deep + BEYOND))


def _bevel(cut: Bevel, size: Vector) -> Solid:
    from math import radians, tan

    along = cut.side.normal  # 0 for ends, 1 for edges
    other = 1 - along
    lean = size[2] * tan(radians(cut.degrees))
    edge = size[along] if cut.side.is_far else 0.0
    inward = -1.0 if cut.side.is_far else 1.0
    at_face, at_back = (lean, 0.0) if cut.from_back else (0.0, lean)
    slope = (at_back - at_face) / size[2]
    out = edge - inward * (abs(lean) + 5 * BEYOND)
    corners = [
        (out, -BEYOND),
        (edge + inward * (at_face - slope * BEYOND), -BEYOND),
        (edge + inward * (at_back + slope * BEYOND), size[2] + BEYOND),
        (out, size[2] + BEYOND),
    ]
    start = [0.0, 0.0, 0.0]
    start[other] = -BEYOND
    pose = framed(_unit(along), _unit(2), _unit(other), (start[0], start[1], start[2]))
    return moved(prism(polygon(corners), size[other] + 2 * BEYOND), pose)
