"""A section through a joint: both parts cut across where they meet, with the sizes of the joint's own channels.

Cut faces are hatched at 45 degrees, each part the other way; broken ends are left open. Source: ISO 128-3, sections.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import dist

from shapely import LineString, Point, Polygon, box, unary_union

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.body import own_pose, spot_of, way_in
from storystick.model.cut import Bore, Channel
from storystick.model.joining import Joined
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.drawing.dimension import Dimensions
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.scale import scale_said
from storystick.paper.folder import Folder
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import set_width
from storystick.shapes.pose import Pose, Vector, apply, compose, direct, invert
from storystick.shapes.solid import Solid, moved
from storystick.shapes.view import FRONT, RIGHT, TOP, View, on_paper

LOOKS: dict[int, tuple[View, str]] = {0: (RIGHT, "the right"), 1: (FRONT, "the front"), 2: (TOP, "above")}
SCALES = (0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0)
SIDE, TOP_ROOM = 21.0, 13.0  # paper left beside and above a section for its numbers [mm]
FAR = 500.0  # from the middle of a trial sheet to its edges [mm]
RIM = 1.5  # paper left round a section and its numbers [mm]
HATCH = 2.0  # between hatching lines [mm of paper]
ROUND = 1.15  # of wood shown round a joint, in thicknesses of the thicker part


@dataclass(frozen=True)
class Across:
    """Where a joint is cut through: the view along the cut, and the middle of what is shown [mm of the real thing]."""

    look: View
    seen_from: str
    at: float
    middle: Spot
    reach: float
    poses: dict[str, Pose]


def draw_section(folder: Folder, joint: Joined, wide: float, high: float) -> Drawn | None:
    """The section through a joint in a drawing of a given size [mm]; None where the two parts do not meet."""
    host, guest = folder.build.part(joint.host), folder.build.part(joint.guest)
    across = where_across(folder, joint, host, guest)
    if across is None:
        return None
    sizes = measured(joint, (host, guest), across)
    manner = folder.build.manner
    room = min((wide - 2 * SIDE) / 2, (high - TOP_ROOM - 4.0) / 2)
    first = next((scale for scale in SCALES if across.reach / scale <= room), across.reach / room)
    for scale in (first, *(scale for scale in SCALES if scale > first)):
        half = across.reach / scale
        left, above, right, below = _needs(sizes, across, scale, manner)
        if left + right <= wide and above + below <= high:
            break
    canvas = Canvas(wide, above + below)
    centre = (min(max(left, wide / 2), wide - right), above)
    at = _laid(across, scale, centre)
    window = Box(centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)
    woods = []
    for number, part in enumerate((host, guest)):
        face = cut_face(folder.scene.own_solids[part.name], across, part.name)
        shown = [Polygon([at(spot) for spot in ring]) for ring in face]
        woods.append((folder.letter_of[part.name], _wood(canvas, shown, window, rising=number == 0)))
    witnesses = _sizes(canvas, sizes, at, window, manner)
    for letter, widest in woods:
        if widest is not None:
            _letter(canvas, widest, letter, witnesses)
    letters = " and ".join(folder.letter_of[name] for name in (joint.guest, joint.host))
    alt = f"Section through {joint.called}: {letters}, seen from {across.seen_from}, {scale_said(scale)}."
    return Drawn(canvas.svg(alt), alt, scale, wide, canvas.high, tuple(canvas.lettering))


def _laid(across: Across, scale: float, centre: Spot) -> Callable[[Spot], Spot]:
    """Where a point of the section falls on the paper, the middle of what is shown being at `centre`."""

    def at(spot: Spot) -> Spot:
        x, y = spot[0] - across.middle[0], spot[1] - across.middle[1]
        return centre[0] + x / scale, centre[1] - y / scale

    return at


def _needs(
    sizes: Sequence["Measured"], across: Across, scale: float, manner: Manner
) -> tuple[float, float, float, float]:
    """The paper that a section takes up left of, above, right of and below its middle, with its numbers [mm]."""
    trial = Canvas(2 * FAR, 2 * FAR)
    half = across.reach / scale
    window = Box(FAR - half, FAR - half, FAR + half, FAR + half)
    _sizes(trial, sizes, _laid(across, scale, (FAR, FAR)), window, manner)
    left = min([window.left, *(box.left for box in trial.lettering)])
    top = min([window.top, *(box.top for box in trial.lettering)])
    right = max([window.right, *(box.right for box in trial.lettering)])
    foot = max([window.bottom, *(box.bottom for box in trial.lettering)])
    return FAR - left + RIM, FAR - top + RIM, right - FAR + RIM, foot - FAR + RIM


def where_across(folder: Folder, joint: Joined, host: Part, guest: Part) -> Across | None:
    """Across which line of the assembly a joint is cut, clear of every hole."""
    assembly = folder.scene.poses[host.assembly]
    back = invert(assembly)
    poses = {
        part.name: compose(back, compose(folder.scene.poses[part.assembly], own_pose(part))) for part in (host, guest)
    }
    thin = guest.lies[2]
    axis = host.lies[0] if thin == joint.axis else 3 - joint.axis - thin
    boxes = [_bounds(part, poses[part.name]) for part in (host, guest)]
    low = [max(a, b) for a, b in zip(boxes[0][0], boxes[1][0], strict=True)]
    top = [min(a, b) for a, b in zip(boxes[0][1], boxes[1][1], strict=True)]
    if any(b - a < -1.0 for a, b in zip(low, top, strict=True)):
        return None
    look, seen_from = LOOKS[axis]
    holes = [spot for part in (host, guest) for spot in _holes(part, poses[part.name], axis)]
    at = _clear_of(holes, low[axis], top[axis])
    reach = ROUND * max(float(host.thickness), float(guest.thickness))
    corners = [on_paper(look, (low[0], low[1], low[2])), on_paper(look, (top[0], top[1], top[2]))]
    middle = [0.0, 0.0]
    for i in range(2):
        a, b = sorted((corners[0][i], corners[1][i]))
        middle[i] = (a + b) / 2 if b - a <= 1.6 * reach else a + 0.7 * reach
    return Across(look, seen_from, at, (middle[0], middle[1]), reach, poses)


def _bounds(part: Part, pose: Pose) -> tuple[Vector, Vector]:
    size = (float(part.size[0]), float(part.size[1]), float(part.size[2]))
    a, b = apply(pose, (0.0, 0.0, 0.0)), apply(pose, size)
    low, top = ([pick(p, q) for p, q in zip(a, b, strict=True)] for pick in (min, max))
    return (low[0], low[1], low[2]), (top[0], top[1], top[2])


def _holes(part: Part, pose: Pose, axis: int) -> Iterator[tuple[float, float]]:
    """Where along an axis each hole of a part is, and how far it reaches to either side."""
    size = (float(part.size[0]), float(part.size[1]), float(part.size[2]))
    for cut in part.cuts:
        if isinstance(cut, Bore):
            spot = apply(pose, spot_of(cut.side, (float(cut.at[0]), float(cut.at[1])), size))
            lean = abs(direct(pose, way_in(cut))[axis]) * (float(cut.depth) if cut.depth else max(size))
            yield spot[axis], float(cut.sink or cut.diameter) / 2 + lean


def _clear_of(holes: Sequence[tuple[float, float]], low: float, top: float) -> float:
    """A place between two ends that cuts through no hole, as near to the middle as can be."""
    for share in (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8):
        at = low + share * (top - low)
        if all(abs(at - spot) > reach + 0.5 for spot, reach in holes):
            return at
    return low + 0.5 * (top - low)


def cut_face(solid: Solid, across: Across, name: str) -> list[list[Spot]]:
    """The outlines of what is cut, on paper before scaling; a part's section is one or more rings."""
    look = across.look
    axis = next(i for i, c in enumerate(look.toward) if c)
    nearness = across.at * look.toward[axis]
    turned = moved(solid, compose(look.pose, across.poses[name]))
    rings = turned.body.slice(nearness).to_polygons()
    return sorted([[(float(x), float(y)) for x, y in ring] for ring in rings], key=min)


def _wood(canvas: Canvas, shown: Sequence[Polygon], window: Box, rising: bool) -> Polygon | None:
    """The cut face of one part inside the window: hatched, outlined but where it is broken off; its largest piece."""
    frame = box(window.left, window.top, window.right, window.bottom)
    inside = unary_union([ring.buffer(0) for ring in shown]).intersection(frame)
    pieces = [
        piece for piece in getattr(inside, "geoms", [inside]) if piece.geom_type == "Polygon" and piece.area > 0.01
    ]
    for piece in pieces:
        canvas.areas([list(piece.exterior.coords)[:-1]], "wood")
        for line in _hatching(piece, rising):
            canvas.line(*line, "fine")
        rim = piece.exterior.difference(frame.exterior.buffer(1e-6))
        for run in getattr(rim, "geoms", [rim]):
            if run.length > 1e-3:
                canvas.run(list(run.coords), "outline")
    return max(pieces, key=lambda piece: piece.area, default=None)


LETTER = 13.0  # size of a part's letter [pt]
TRIES = 7  # by so many spots each way a letter is tried


def _letter(canvas: Canvas, wood: Polygon, letter: str, witnesses: Sequence[Box]) -> None:
    """A part's letter on its wood, as near the middle as can be, off every witness line and all other lettering."""
    high = LETTER * POINT
    wide = set_width(letter, LETTER, "semibold")
    left, top, right, bottom = wood.bounds
    middle = wood.centroid
    grid = [
        (left + (right - left) * (i + 0.5) / TRIES, top + (bottom - top) * (j + 0.5) / TRIES)
        for i in range(TRIES)
        for j in range(TRIES)
    ]
    spots = sorted(((middle.x, middle.y), *grid), key=lambda at: round(dist(at, (middle.x, middle.y)), 6))

    def fits(at: Spot, rim: float) -> bool:
        box = around(at, wide + 1.2, high * 0.75)
        free = canvas.is_free(box, 0.3) and not any(box.meets(line, 0.2) for line in witnesses)
        return free and wood.buffer(-rim).contains(Point(at))

    inside = wood.representative_point()
    rims = (min(wide, high) / 2 + 0.7, 0.8)
    at = next((at for rim in rims for at in spots if fits(at, rim)), (inside.x, inside.y))
    canvas.text((at[0], at[1] + high * 0.33), letter, LETTER, "middle", "semibold", ground=True)


def _hatching(piece: Polygon, rising: bool) -> Iterator[tuple[Spot, Spot]]:
    """Thin lines at 45 degrees over an area, on a grid of the paper so that one part's areas match."""
    left, top, right, bottom = piece.bounds
    way = 1.0 if rising else -1.0
    step = HATCH * 2**0.5
    long = (right - left) + (bottom - top)
    first = int(min(left + way * top, left + way * bottom) / step) - 1
    for number in range(first, first + int(2 * long / step) + 3):
        c = number * step  # x + way * y = c
        line = LineString([(left - 1.0, way * (c - left + 1.0)), (right + 1.0, way * (c - right - 1.0))])
        cut = line.intersection(piece)
        for run in getattr(cut, "geoms", [cut]):
            if run.geom_type == "LineString" and run.length > 0.3:
                a, b = run.coords[0], run.coords[-1]
                yield (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))


@dataclass(frozen=True)
class Measured:
    """A size to be shown: its number, and its two ends, seen along the cut [mm of the real thing]."""

    length: Dim
    a: Spot
    b: Spot
    fits: bool = False
    leftward: bool = True  # an upright one stands on the left, where its part is

    @property
    def is_level(self) -> bool:
        """True where its ends lie side by side rather than one above the other."""
        return abs(self.a[1] - self.b[1]) < abs(self.a[0] - self.b[0])


def measured(joint: Joined, parts: tuple[Part, Part], across: Across) -> tuple[Measured, ...]:
    """The sizes that a section shows: width and depth of the joint's channels, the guest's thickness; each once."""
    host, guest = (sum(spot[0] for spot in _outer(part, across)) for part in parts)
    found = [
        replace(one, leftward=(host <= guest) == (part is parts[0]))
        for part in parts
        for one in _measured(part, joint, across)
    ]
    level = sorted((m for m in found if m.is_level), key=lambda m: dist(m.a, m.b))
    upright = sorted((m for m in found if not m.is_level), key=lambda m: dist(m.a, m.b))
    return (*_once(level)[:2], *_once(upright)[:4])


def _outer(part: Part, across: Across) -> tuple[Spot, Spot]:
    """Two corners of a part, seen along the cut."""
    low, top = _bounds(part, across.poses[part.name])
    return on_paper(across.look, low), on_paper(across.look, top)


def _once(sizes: Sequence[Measured]) -> list[Measured]:
    """Sizes that lie one over the other once: a tongue and the slot that it fills are as long as one another."""
    kept: list[Measured] = []
    for one in sizes:
        along = 0 if one.is_level else 1
        ends = sorted((one.a[along], one.b[along]))
        same = [m for m in kept if m.length.value == one.length.value and m.fits == one.fits]
        if not any(dist(ends, sorted((m.a[along], m.b[along]))) < 0.5 for m in same):
            kept.append(one)
    return kept


def _sizes(
    canvas: Canvas, sizes: Sequence[Measured], at: Callable[[Spot], Spot], window: Box, manner: Manner
) -> list[Box]:
    """Level sizes above the section, upright ones beside it; where their witness lines are."""
    row = window.top - 3.0
    columns = {True: window.left - 3.0, False: window.right + 3.0}
    put = Dimensions(canvas, manner)

    def near(spot: Spot) -> Spot:
        """A size may end out of sight: its witness line begins where the wood is broken off."""
        x, y = at(spot)
        return min(max(x, window.left), window.right), min(max(y, window.top), window.bottom)

    for number, m in enumerate(sizes):
        a, b = at(m.a), at(m.b)
        c, d = near(m.a), near(m.b)
        a, b = ((a[0], c[1]), (b[0], d[1])) if m.is_level else ((c[0], a[1]), (d[0], b[1]))
        if m.is_level:
            others = [at(spot)[0] for other in sizes[number + 1 :] if other.is_level for spot in (other.a, other.b)]
            row = put.level(m.length, a, b, row, m.fits, others)
        else:
            columns[m.leftward] = put.upright(m.length, a, b, columns[m.leftward], m.leftward, m.fits)
    put.set_numbers()
    return put.witnesses


def _measured(part: Part, joint: Joined, across: Across) -> Iterator[Measured]:
    """The sizes of one part that a section shows, those seen as points left out."""
    size = (float(part.size[0]), float(part.size[1]), float(part.size[2]))
    pose = across.poses[part.name]

    def spot(point: Vector) -> Spot:
        return on_paper(across.look, apply(pose, point))

    for cut in part.cuts:
        if isinstance(cut, Channel) and cut.joint == joint.name:
            yield from _of_channel(cut, size, spot)
    ends = spot((0.0, 0.0, 0.0)), spot((0.0, 0.0, size[2]))
    if part.name == joint.guest and dist(*ends) > 1.0:
        yield Measured(part.thickness, *ends)


def _of_channel(cut: Channel, size: Vector, spot: Callable[[Vector], Spot]) -> Iterator[Measured]:
    first, last = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for axis, start, long in zip(cut.side.axes, cut.at, cut.size, strict=True):
        first[axis] = last[axis] = float(start)
        if axis == cut.side.axes[1 - cut.runs]:
            last[axis] = float(start.value + long.value)
    mouth = size[cut.side.normal] if cut.side.is_far else 0.0
    first[cut.side.normal] = last[cut.side.normal] = mouth
    floor = list(first)
    floor[cut.side.normal] = mouth + (-1.0 if cut.side.is_far else 1.0) * float(cut.depth)
    a, b, c = (spot((p[0], p[1], p[2])) for p in (first, last, floor))
    if dist(a, b) > 0.5:
        yield Measured(cut.width, a, b, fits=True)
    if dist(a, c) > 0.3:
        yield Measured(cut.depth, a, c)
