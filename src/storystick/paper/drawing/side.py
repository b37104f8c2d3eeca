"""One side of a part, with everything that is cut from it, dimensioned from its reference end and edge."""

import math
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Bevel, Bore, Channel, Notch, Side
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.drawing.families import Family, families, side_of
from storystick.paper.drawing.marks import RING, face_mark, grain_arrow, numbered_ring
from storystick.paper.drawing.measure import (
    AWAY,
    NUMBER,
    OVERALL,
    STRIP,
    Tick,
    level_overall,
    level_stick,
    numbers_along,
    once_each,
    upright_overall,
    upright_stick,
)
from storystick.paper.drawing.scale import fitting
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import said, set_width

OPPOSITE = {
    Side.FACE: Side.BACK, Side.BACK: Side.FACE, Side.EDGE: Side.FAR_EDGE, Side.FAR_EDGE: Side.EDGE,
    Side.END: Side.FAR_END, Side.FAR_END: Side.END,
}  # fmt: skip
FLAT = (Side.FACE, Side.BACK)


@dataclass(frozen=True)
class Drawn:
    """A finished drawing: its SVG, what it shows in words, its scale, and the boxes of its lettering [mm]."""

    svg: str
    alt: str
    scale: float
    wide: float
    high: float
    lettering: tuple[Box, ...] = ()


def runs_rightward(part: Part, side: Side) -> bool:
    """True where the side, looked at from outside with its second coordinate up, has its first one running to the right."""
    a, b = side.axes
    even = (a, b, side.normal) != (0, 2, 1)
    signs = (1 if even else -1) * (1 if side.is_far else -1) * (1 if part.is_left_handed else -1)
    return signs > 0


def sides_to_draw(part: Part) -> tuple[Side, ...]:
    """The face, and every other side that is cut from."""
    cut_from = {side_of(cut) for cut in part.cuts if not isinstance(cut, Bevel)}
    return tuple(side for side in Side if side is Side.FACE or side in cut_from)


@dataclass(frozen=True)
class Sight:
    """A side of a part laid out on paper: where its coordinates fall."""

    part: Part
    side: Side
    scale: float
    left: float
    top: float
    rightward: bool

    @property
    def size(self) -> tuple[Dim, Dim]:
        """Of the side, along its two coordinates."""
        a, b = self.side.axes
        return self.part.size[a], self.part.size[b]

    @property
    def wide(self) -> float:
        """On paper [mm]."""
        return float(self.size[0]) / self.scale

    @property
    def high(self) -> float:
        """On paper [mm]."""
        return float(self.size[1]) / self.scale

    def spot(self, first: float, second: float) -> Spot:
        """Where a point of the side falls on the paper."""
        along = first / self.scale
        return (self.left + (along if self.rightward else self.wide - along), self.top + self.high - second / self.scale)

    def span(self, at: tuple[Dim, Dim], size: tuple[Dim, Dim]) -> Box:
        """Where a rectangle of the side falls on the paper."""
        a = self.spot(float(at[0]), float(at[1]))
        b = self.spot(float(at[0].value + size[0].value), float(at[1].value + size[1].value))
        return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))

    @property
    def outline(self) -> Box:
        """The side itself."""
        return Box(self.left, self.top, self.left + self.wide, self.top + self.high)


def draw_side(part: Part, side: Side, manner: Manner, wide: float, high: float, called: str = "") -> Drawn:
    """A side of a part in a drawing `wide` [mm], and not higher than `high` if that can be done."""
    ticks = _distances(part, side)
    a, b = side.axes
    numbers = max((set_width(said(t, manner, bare=True), NUMBER) for t in ticks[1]), default=0.0)
    beside = AWAY + STRIP + (numbers + 5.0 if ticks[1] else 2.0)
    breadth = set_width(said(part.size[b], manner), OVERALL, "semibold")
    rightward = runs_rightward(part, side)

    def sight_at(scale: float) -> tuple[Sight, float]:
        level = breadth + 9.0 > float(part.size[b]) / scale  # the big number lies level beside the stick
        margin = beside + (breadth + 5.0 if level else OVERALL * POINT + 3.0)
        aside = max(0.0, (wide - 8.0 - margin - float(part.size[a]) / scale) / 2)
        left = margin + aside if rightward else max(6.0, wide - margin - aside - float(part.size[a]) / scale)
        return Sight(part, side, scale, left, 7.0, rightward), margin

    margin = sight_at(1e9)[1]
    scale = fitting(float(part.size[a]), wide - margin - 8.0)
    below = AWAY + STRIP + _room_below(ticks[0], manner, scale, wide) + OVERALL * POINT + 4.0
    scale = max(scale, fitting(float(part.size[b]), max(10.0, high - 7.0 - below)))
    sight = sight_at(scale)[0]
    canvas = Canvas(wide, 1000.0)
    _wood(canvas, sight)
    taken = [box for cut in _here(part, side) if (box := _features(canvas, sight, cut)) is not None]
    foot = _sticks(canvas, sight, ticks, manner)
    _numbers(canvas, sight, families(part, manner), taken)
    if side is Side.FACE:
        _wood_marks(canvas, sight, taken)
    canvas.high = max(foot, sight.top + sight.high + 3.0, max(b.bottom for b in canvas.lettering) + 0.6)
    up = min(0.0, min(box.top for box in canvas.lettering))
    alt = _in_words(part, side, called or part.letter, manner)
    return Drawn(canvas.svg(alt), alt, scale, canvas.wide, canvas.high - up, tuple(canvas.lettering))


def _room_below(ticks: list[Dim], manner: Manner, scale: float, wide: float) -> float:
    spots = [Tick(tick, 20.0 + float(tick) / scale) for tick in ticks]
    return numbers_along(spots, manner, 10.0, wide - 2.0).deep + 5.0 if spots else 2.0


def _here(part: Part, side: Side) -> list[Channel | Bore | Notch | Bevel]:
    """Cuts that show on a side in full lines: its own, and what goes through to it."""
    return [
        cut
        for cut in part.cuts
        if side_of(cut) is side or (side in FLAT and isinstance(cut, Bevel | Notch))
        or (side in FLAT and isinstance(cut, Bore) and cut.depth is None and cut.lean == 0 and cut.side is OPPOSITE[side])
    ]  # fmt: skip


def _distances(part: Part, side: Side) -> tuple[list[Dim], list[Dim]]:
    """The numbers on the two sticks: where each cut of this side begins, or has its middle if it is round."""
    first: list[Dim] = []
    second: list[Dim] = []
    for cut in part.cuts:
        match cut:
            case Channel() if cut.side is side:
                for out, at, size in zip((first, second), cut.at, cut.size, strict=True):
                    out.append(at if at.value > 0 else size)
            case Bore() if cut.side is side:
                first.append(cut.at[0])
                second.append(cut.at[1])
            case Notch() if side is Side.FACE:
                first.extend(corner.u for corner in cut.corners)
                second.extend(corner.v for corner in cut.corners)
    a, b = side.axes
    return once_each(first, part.size[a].value), once_each(second, part.size[b].value)


def _wood(canvas: Canvas, sight: Sight) -> None:
    """The side as it is left by what is sawn away."""
    from shapely import Polygon, box, unary_union

    from storystick.shapes.outline import points
    from storystick.shapes.rounding import rounded

    outline = sight.outline
    wood = box(outline.left, outline.top, outline.right, outline.bottom)
    gone = []
    if sight.side in FLAT:
        for notch in (cut for cut in sight.part.cuts if isinstance(cut, Notch)):
            corners = [(float(c.u), float(c.v)) for c in notch.corners]
            line = points(rounded(corners, [float(c.radius) if c.radius else 0.0 for c in notch.corners]))
            gone.append(Polygon([sight.spot(u, v) for u, v in line]))
    left = wood.difference(unary_union(gone)) if gone else wood
    if gone:
        canvas.run(_round(outline), "pencil", closed=True)
    for piece in getattr(left, "geoms", [left]):
        canvas.run(list(piece.exterior.coords)[:-1], "outline", "wood", closed=True)
        for hole in piece.interiors:
            canvas.run(list(hole.coords)[:-1], "outline", "paper", closed=True)


def _round(box: Box) -> list[Spot]:
    return [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]


def _features(canvas: Canvas, sight: Sight, cut: Channel | Bore | Notch | Bevel) -> Box | None:
    """Draw a cut; the paper that it takes up."""
    match cut:
        case Channel():
            box = sight.span(cut.at, cut.size)
            out = sight.outline
            box = Box(max(box.left, out.left), max(box.top, out.top), min(box.right, out.right), min(box.bottom, out.bottom))
            canvas.box(box, "edge", "shade")
            return box
        case Bore():
            at = sight.spot(float(cut.at[0]), float(cut.at[1]))
            radius = max(0.55, float(cut.diameter) / sight.scale / 2)
            outer = cut.step[0] if cut.step is not None else cut.sink
            wide = radius
            if outer is not None and cut.side is sight.side:
                wide = max(radius + 0.45, float(outer) / sight.scale / 2)
                canvas.ring(at, wide, "fine", "paper")
            canvas.ring(at, radius, "edge", "paper" if cut.depth is None else "shade")
            _cross(canvas, at, wide + 1.0)
            return around(at, 2 * wide + 1.0, 2 * wide + 1.0)
        case Notch():
            corners = [sight.spot(float(c.u), float(c.v)) for c in cut.corners]
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            return Box(min(xs), min(ys), max(xs), max(ys))
        case Bevel():
            return _bevel(canvas, sight, cut)


def _cross(canvas: Canvas, at: Spot, reach: float) -> None:
    canvas.line((at[0] - reach, at[1]), (at[0] + reach, at[1]), "fine")
    canvas.line((at[0], at[1] - reach), (at[0], at[1] + reach), "fine")


def _bevel(canvas: Canvas, sight: Sight, cut: Bevel) -> Box:
    """The edge that a bevel leaves on this side: in full where it is cut back here, dashed where it is on the other side."""
    lean = float(sight.part.thickness) * math.tan(math.radians(cut.degrees))
    along = cut.side.normal
    whole = float(sight.part.size[along])
    at = whole - lean if cut.side.is_far else lean
    over = float(sight.part.size[1 - along])
    ends = [(at, 0.0), (at, over)] if along == 0 else [(0.0, at), (over, at)]
    seen_here = (sight.side is Side.BACK) != cut.from_back
    a, b = (sight.spot(*end) for end in ends)
    canvas.line(a, b, "edge" if seen_here else "hidden")
    edge = whole if cut.side.is_far else 0.0
    c = sight.spot(edge, 0.0) if along == 0 else sight.spot(0.0, edge)
    return Box(min(a[0], b[0], c[0]), min(a[1], b[1], c[1]), max(a[0], b[0], c[0]), max(a[1], b[1], c[1]))


def _sticks(canvas: Canvas, sight: Sight, ticks: tuple[list[Dim], list[Dim]], manner: Manner) -> float:
    """Both sticks with their leading lines, and the whole sizes; where the drawing ends below [mm]."""
    out, leftward = sight.outline, sight.rightward
    zero = out.left if sight.rightward else out.right
    far = out.right if sight.rightward else out.left
    strip_top = out.bottom + AWAY
    level = [Tick(length, sight.spot(float(length), 0.0)[0]) for length in ticks[0]]
    upright = [Tick(length, sight.spot(0.0, float(length))[1]) for length in ticks[1]]
    near = zero - AWAY if leftward else zero + AWAY
    for tick in level:
        canvas.line((tick.at, _nearest(sight, 0, tick.length.value)), (tick.at, strip_top), "pencil")
    for tick in upright:
        canvas.line((_nearest(sight, 1, tick.length.value), tick.at), (near, tick.at), "pencil")
    reach = upright_stick(canvas, upright, manner, out.bottom, out.top, near, leftward)
    foot = level_stick(canvas, level, manner, zero, far, strip_top)
    foot = level_overall(canvas, sight.size[0], manner, zero, far, foot + 0.5)
    upright_overall(canvas, sight.size[1], manner, out.bottom, out.top, reach, leftward)
    return foot


def _nearest(sight: Sight, along: int, value: Fraction) -> float:
    """Where on the paper the cut nearest to the datum stands that a distance belongs to, across that distance."""
    found: list[float] = []
    for cut in sight.part.cuts:
        match cut:
            case Channel() | Bore() if cut.side is sight.side:
                reached = cut.at[along].value
                if isinstance(cut, Channel) and reached <= 0:
                    reached = cut.size[along].value
                if reached == value:
                    found.append(float(cut.at[1 - along]))
            case Notch():
                found.extend(
                    float((c.v, c.u)[along]) for c in cut.corners if (c.u, c.v)[along].value == value
                )
    across = max(0.0, min(found, default=0.0))
    return sight.spot(0.0, across)[1] if along == 0 else sight.spot(across, 0.0)[0]


def _numbers(canvas: Canvas, sight: Sight, alike: tuple[Family, ...], taken: list[Box]) -> None:
    """A numbered ring by each cut of this side; one for a whole family of bores."""
    for family in alike:
        if family.side is not sight.side:
            if not (sight.side is Side.FACE and isinstance(family.cuts[0], Bevel)):
                continue
        cuts = family.cuts if isinstance(family.cuts[0], Channel) else family.cuts[:1]
        for cut in cuts:
            box = _place_of(sight, cut)
            inside = isinstance(cut, Channel | Notch | Bevel)
            at = _free_spot(canvas, box, taken, inside)
            middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
            if not inside and math.dist(at, middle) > RING:
                gap = RING / math.dist(at, middle)
                canvas.line(middle, (at[0] + (middle[0] - at[0]) * gap, at[1] + (middle[1] - at[1]) * gap), "fine")
            taken.append(numbered_ring(canvas, at, family.number))


def _place_of(sight: Sight, cut: Channel | Bore | Notch | Bevel) -> Box:
    blank = Canvas(0, 0)
    box = _features(blank, sight, cut)
    assert box is not None
    return box


def _free_spot(canvas: Canvas, box: Box, taken: list[Box], inside: bool) -> Spot:
    """A spot for a ring in or near a box, off everything else that is drawn if there is one."""
    x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    wide, high = box.right - box.left, box.bottom - box.top
    spots: list[Spot] = []
    if inside:
        for share in (0.5, 0.38, 0.62, 0.28, 0.72, 0.18, 0.82, 0.08, 0.92):
            spots.append((x, box.top + share * high) if high > wide else (box.left + share * wide, y))
    close = 0.0 if inside else max(wide, high) / 2
    for reach in (close + 3.2, close + 4.5, close + 6.5, close + 9.0, close + 12.0):
        for dx, dy in ((0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7), (1, 0), (-1, 0), (0, -1), (0, 1)):
            spots.append((x + dx * reach, y + dy * reach))
    for strict in (True, False):
        for spot in spots:
            ring = around(spot, 2 * RING, 2 * RING)
            others = [other for other in taken if other is not box and not _same(other, box)]
            if canvas.is_free(ring, 0.3) and (not strict or not any(ring.meets(other, 0.2) for other in others)):
                return spot
    return spots[0]


def _same(one: Box, other: Box) -> bool:
    return abs(one.left - other.left) + abs(one.top - other.top) + abs(one.right - other.right) < 1e-6


def _wood_marks(canvas: Canvas, sight: Sight, taken: list[Box]) -> None:
    """Face mark, reference edge mark and grain arrow, where nothing else is."""
    out = sight.outline
    way = 1.0 if sight.rightward else -1.0
    zero = out.left if sight.rightward else out.right
    inner = Box(out.left + 0.5, out.top + 0.3, out.right - 0.5, out.bottom + 0.1)
    for tall, step in ((min(9.0, sight.high * 0.6), number) for number in range(4, 95, 3)):
        foot = (zero + way * step / 100 * sight.wide, out.bottom)
        box = Box(foot[0] - 0.4 * tall, foot[1] - tall - 0.5, foot[0] + 0.5 * tall, foot[1])
        if box.within(inner) and _clear(canvas, box, taken):
            face_mark(canvas, foot, tall)
            taken.append(box)
            break
    else:
        face_mark(canvas, (zero + way * sight.wide * 0.5, out.bottom), min(6.0, sight.high * 0.6))
    long = min(30.0, sight.wide * 0.35)
    for share in (0.62, 0.75, 0.5, 0.85, 0.38, 0.25, 0.15):
        for across in (0.5, 0.36, 0.64, 0.25, 0.75, 0.15, 0.85):
            middle = (out.left + across * sight.wide, out.bottom - share * sight.high)
            box = around(middle, long + 2.0, 3.4)
            if box.within(out) and _clear(canvas, box, taken):
                grain_arrow(canvas, middle, long)
                taken.append(box)
                return
    grain_arrow(canvas, ((out.left + out.right) / 2, out.top - 3.4), long)


def _clear(canvas: Canvas, box: Box, taken: list[Box]) -> bool:
    return canvas.is_free(box, 0.5) and not any(box.meets(other, 0.6) for other in taken)


def _in_words(part: Part, side: Side, called: str, manner: Manner) -> str:
    a, b = side.axes
    size = f"{said(part.size[a], manner)} by {said(part.size[b], manner)}"
    count = len([cut for cut in part.cuts if side_of(cut) is side])
    return f"Part {called}, {part.role}: its {side.value}, {size}, with {count or 'no'} cut{'s' if count != 1 else ''}."
