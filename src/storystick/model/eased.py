"""A part a hair smaller all round, its round holes filled: for what slides past what.

Boards that touch, and a board in a trough as wide as itself, are free to slide along one another; so both are taken a
hair under their size, and no sliver of touching faces is ever in the way. Nothing of wood goes into a round hole.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from storystick.ground.kept import Kept
from storystick.model.body import BEYOND, form_of, tools_of
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch
from storystick.model.part import Part
from storystick.shapes.outline import smeared
from storystick.shapes.pose import Vector, shifted
from storystick.shapes.rounding import rounded
from storystick.shapes.solid import Bounds, Solid, box_between, minus, moved, prism

HAIR = 0.05
"""How far every face is set back [mm]. Practice: a part that is tight by less than twice that goes in with a tap."""


@dataclass(frozen=True, slots=True)
class Eased:
    """A part as boxes in its own coordinates; `exact` where they are all of it, not hulls of another shape.

    sound  boxes that are all wood, whatever its shape: the same ones where these are exact
    """

    boxes: tuple[Bounds, ...]
    exact: bool
    sound: tuple[Bounds, ...]


_BOXES: Kept[Eased] = Kept(256)
_SOLIDS: Kept[Solid] = Kept(256)


def eased_boxes(part: Part) -> Eased:
    """The part as boxes; what is notched to another shape than a rectangle, or bevelled, is taken as whole there."""
    return _BOXES.of(form_of(part), lambda: _as_boxes(part))


def _as_boxes(part: Part) -> Eased:
    size = _size(part)
    boxes = [_outer(size)]
    others = []
    for cut in part.cuts:
        taken = _taken(cut, size)
        if taken is not None:
            boxes = [left for one in boxes for left in _less(one, taken)]
        elif not isinstance(cut, Bore):
            others += [_larger(tool.bounds) for tool in tools_of(cut, size)]
    sound = boxes
    for taken in others:
        sound = [left for one in sound for left in _less(one, taken)]
    return Eased(tuple(boxes), not others, tuple(sound))


def eased_solid(part: Part) -> Solid:
    """The part as a body in its own coordinates, with every cut but its round holes."""
    return _SOLIDS.of(form_of(part), lambda: _as_solid(part))


def _as_solid(part: Part) -> Solid:
    size = _size(part)
    low, high = _outer(size)
    tools = []
    for cut in part.cuts:
        if (taken := _taken(cut, size)) is not None:
            tools.append(box_between(*taken))
        elif isinstance(cut, Notch):
            tools += _wider(cut, size)
        elif not isinstance(cut, Bore):  # drawn out along one of the axes, beyond the board: shifts across that will do
            shifts = [shifted((x, y, z)) for x, y, z in _across(cut)]
            tools += [moved(tool, shift) for tool in tools_of(cut, size) for shift in shifts]
    return minus(box_between(low, high), tools)


def _wider(cut: Notch, size: Vector) -> list[Solid]:
    """What a notch takes away, a hair wider to four sides: through the board from one face to beyond the other."""
    corners = [(float(c.u), float(c.v)) for c in cut.corners]
    outline = rounded(corners, [float(c.radius) if c.radius else 0.0 for c in cut.corners])
    high = size[2] + 2 * BEYOND
    return [moved(prism(one, high), shifted((0.0, 0.0, -BEYOND))) for one in smeared(outline, HAIR)]


def _across(cut: Cut) -> Iterator[Vector]:
    """Shifts by a hair, to four sides across the way that a cut is drawn out: through the board, or along its side."""
    along = 1 - cut.side.normal if isinstance(cut, Bevel) else 2
    for one, other in product((-HAIR, HAIR), repeat=2):
        shift = [one, other]
        shift.insert(along, 0.0)
        yield (shift[0], shift[1], shift[2])


def _size(part: Part) -> Vector:
    return (float(part.size[0]), float(part.size[1]), float(part.size[2]))


def _outer(size: Vector) -> Bounds:
    thin = [min(HAIR, side / 4) for side in size]
    return (thin[0], thin[1], thin[2]), (size[0] - thin[0], size[1] - thin[1], size[2] - thin[2])


def _taken(cut: Cut, size: Vector) -> Bounds | None:
    """The box that a cut takes away, a hair larger all round; None where it is no box."""
    match cut:
        case Channel():
            (tool,) = tools_of(cut, size)
            return _larger(tool.bounds)
        case Notch():
            return _rectangle(cut, size)
        case Bore() | Bevel():
            return None


def _rectangle(cut: Notch, size: Vector) -> Bounds | None:
    corners = [(float(c.u), float(c.v)) for c in cut.corners]
    us, vs = sorted({u for u, _ in corners}), sorted({v for _, v in corners})
    if len(corners) != 4 or len(us) != 2 or len(vs) != 2 or any(c.radius and float(c.radius) > 0 for c in cut.corners):
        return None
    return _larger(((us[0], vs[0], -BEYOND), (us[1], vs[1], size[2] + BEYOND)))


def _larger(taken: Bounds) -> Bounds:
    (a, b, c), (d, e, f) = taken
    return (a - HAIR, b - HAIR, c - HAIR), (d + HAIR, e + HAIR, f + HAIR)


def _less(one: Bounds, taken: Bounds) -> list[Bounds]:
    """What is left of a box when another is taken out of it: up to six boxes."""
    low, high = list(one[0]), list(one[1])
    if any(taken[1][a] <= low[a] or taken[0][a] >= high[a] for a in range(3)):
        return [one]
    left: list[Bounds] = []
    for axis in range(3):
        for first, last in ((low[axis], taken[0][axis]), (taken[1][axis], high[axis])):
            if last > first:
                near, far = [*low], [*high]
                near[axis], far[axis] = first, last
                left.append(((near[0], near[1], near[2]), (far[0], far[1], far[2])))
        low[axis], high[axis] = max(low[axis], taken[0][axis]), min(high[axis], taken[1][axis])
    return left
