"""Patterns in true size: a piece of a board's side with what is sawn, routed and bored there, tiled over pages.

The board's own edges are drawn to lay it by; where they are far away, lines at a whole distance from them. Tiles lap,
and a ring with a cross lies on both where they meet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from storystick.ground.length import INCH, Manner, nearest
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Canvas
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.features import draw_cut, draw_wood
from storystick.paper.drawing.full_size import LAP, meeting
from storystick.paper.drawing.side import cuts_on
from storystick.paper.drawing.sight import FLAT, Sight, runs_rightward
from storystick.paper.lettering import said

ROUND = 8.0  # of wood shown round a cut [mm]
REACH = 25.0  # an edge of the board that is no farther than this is shown [mm]
WORDS = 6.0  # room below for what it is [mm]
PROVE = 8.5  # room above for the check line [mm]


@dataclass(frozen=True)
class Window:
    """A piece of a side: from and to along its first and second coordinate [mm]."""

    part: Part
    side: Side
    first: tuple[float, float]
    second: tuple[float, float]


def windows(part: Part, side: Side) -> list[Window]:
    """The pieces of a side that are worth a pattern: curves, slopes and small recesses."""
    boxes = [box for cut in cuts_on(part, side) if (box := _box(cut, part, side)) is not None]
    size = [float(part.size[axis]) for axis in side.axes]
    grown = [_grown(box, size) for box in boxes]
    merged: list[Box] = []
    for box in sorted(grown, key=lambda box: (box.left, box.top)):
        while touching := next((other for other in merged if box.meets(other)), None):
            merged.remove(touching)
            box = Box(
                min(box.left, touching.left), min(box.top, touching.top), max(box.right, touching.right),
                max(box.bottom, touching.bottom),
            )  # fmt: skip
        merged.append(box)
    return [Window(part, side, (box.left, box.right), (box.top, box.bottom)) for box in merged]


RECESS = 160.0  # a recess no longer than this has a pattern [mm]


def _box(cut: Cut, part: Part, side: Side) -> Box | None:
    """Where a cut lies, in the side's own coordinates; None for one that is laid out as well by rule."""
    match cut:
        case Notch(corners=corners) if side is Side.FACE:
            if not has_pattern(cut):
                return None
            xs, ys = [float(c.u) for c in corners], [float(c.v) for c in corners]
            return Box(min(xs), min(ys), max(xs), max(ys))
        case Channel() if cut.side is side and side in FLAT and _is_recess(cut, part):
            u, v = float(cut.at[0]), float(cut.at[1])
            return Box(u, v, u + float(cut.size[0]), v + float(cut.size[1]))
        case _:
            return None


def has_pattern(notch: Notch) -> bool:
    """True of a notch that is not straight and square all round."""
    spots = [(c.u.value, c.v.value) for c in notch.corners]
    slopes = any(a[0] != b[0] and a[1] != b[1] for a, b in zip(spots, (*spots[1:], spots[0]), strict=True))
    return slopes or any(c.radius and c.radius.value > 0 for c in notch.corners)


def _is_recess(cut: Channel, part: Part) -> bool:
    """True for a short channel that does not run right across the board."""
    along = cut.at[cut.runs].value
    whole = part.size[cut.side.axes[cut.runs]].value
    return max(map(float, cut.size)) <= RECESS and (along > 0 or along + cut.length.value < whole)


def _grown(box: Box, size: Sequence[float]) -> Box:
    """With some wood round it, up to the board's edges where these are near."""

    def low(at: float) -> float:
        return 0.0 if at <= REACH else at - ROUND

    def high(at: float, whole: float) -> float:
        return whole if whole - at <= REACH else at + ROUND

    left, right = max(0.0, box.left), min(size[0], box.right)
    top, bottom = max(0.0, box.top), min(size[1], box.bottom)
    return Box(low(left), low(top), high(right, size[0]), high(bottom, size[1]))


def pattern_tiles(window: Window, called: str, manner: Manner, wide: float, high: float) -> Iterator[Drawn]:
    """The pattern of a window on as many sheets as it takes, each at most so big [mm of what is printed true]."""
    part, side = window.part, window.side
    rightward = runs_rightward(part, side)
    long, broad = window.first[1] - window.first[0], window.second[1] - window.second[0]
    columns, across = _tiled(long, wide - 2.0)
    rows, up = _tiled(broad, high - WORDS - PROVE - 2.0)
    for row in range(rows):
        for column in range(columns):
            here = f"{called}, {row * columns + column + 1} of {rows * columns}" if rows * columns > 1 else called
            low = (window.first[0] + column * across, window.second[0] + row * up)
            top = (min(window.first[1], low[0] + across + LAP), min(window.second[1], low[1] + up + LAP))
            yield _tile(Window(part, side, (low[0], top[0]), (low[1], top[1])), window, here, manner, rightward, wide)


def _tiled(long: float, room: float) -> tuple[int, float]:
    """How many tiles go over a length, and how far it is from one to the next [mm]."""
    if long <= room:
        return 1, long
    step = floor(room - LAP)
    return ceil((long - LAP) / step), float(step)


def _tile(tile: Window, whole: Window, called: str, manner: Manner, rightward: bool, wide: float) -> Drawn:
    long, broad = tile.first[1] - tile.first[0], tile.second[1] - tile.second[0]
    part, side = tile.part, tile.side
    canvas = Canvas(max(long + 2.0, 62.0), broad + PROVE + WORDS)
    shift = tile.first[0] if rightward else float(part.size[side.axes[0]]) - tile.first[1]
    foot = PROVE + broad
    sight = Sight(part, side, 1.0, 1.0 - shift, foot + tile.second[0] - float(part.size[side.axes[1]]), rightward)
    inner = Canvas(canvas.wide, canvas.high)
    draw_wood(inner, sight)
    for cut in cuts_on(part, side):
        if not isinstance(cut, Bevel) and not (isinstance(cut, Bore) and _is_outside(cut, tile)):
            draw_cut(inner, sight, cut)
    frame = Box(1.0, PROVE, 1.0 + long, foot)
    canvas.inside(Box(frame.left - RIM, frame.top - RIM, frame.right + RIM, frame.bottom + RIM), inner.marks)
    canvas.box(frame, "pencil")
    _meetings(canvas, sight, tile, whole)
    _prove(canvas, manner)
    box = canvas.text((1.0, foot + WORDS - 1.6), called, 10.0, weight="semibold")
    for words, at in _lines(canvas, tile, sight, manner):
        says = None if at is None else {"mm": str(at), "along": "level"}
        box = canvas.text((box.right + 2.0, foot + WORDS - 1.6), words, 10.0, says=says)
    canvas.wide = min(wide, max(canvas.wide, *(box.right + 0.5 for box in canvas.lettering)))
    alt = f"Pattern in true size: {called}."
    return Drawn(canvas.svg(alt), alt, 1.0, canvas.wide, canvas.high, tuple(canvas.lettering))


RIM = 0.4  # round a tile, so that the board's own edges keep their whole line [mm]


def _is_outside(bore: Bore, tile: Window) -> bool:
    """True of a hole whose middle is not on the tile: a piece of its rim says nothing."""
    (left, right), (low, high) = tile.first, tile.second
    return not (left < float(bore.at[0]) < right and low < float(bore.at[1]) < high)


def _meetings(canvas: Canvas, sight: Sight, tile: Window, whole: Window) -> None:
    """Marks in the laps, at the same spots of the wood on both tiles."""
    middle = [(tile.first[0] + tile.first[1]) / 2, (tile.second[0] + tile.second[1]) / 2]
    for axis, (mine, all_of) in enumerate(((tile.first, whole.first), (tile.second, whole.second))):
        for at, is_rim in ((mine[0] + LAP / 2, mine[0] <= all_of[0]), (mine[1] - LAP / 2, mine[1] >= all_of[1])):
            if not is_rim:
                spot = (at, middle[1]) if axis == 0 else (middle[0], at)
                meeting(canvas, *sight.spot(*spot))


def _lines(canvas: Canvas, tile: Window, sight: Sight, manner: Manner) -> Iterator[tuple[str, Fraction | None]]:
    """Which edges of the board are in sight; where none is, a line to lay the tile by, and how far it is from where."""
    mark = INCH / 8 if manner.unit == "inch" else Fraction(1)
    hand, other = ("left", "right") if sight.rightward else ("right", "left")
    for axis, (low, high), way, datum in (
        (0, tile.first, "upright line", f"reference end ({hand})"),
        (1, tile.second, "level line", "reference edge (below)"),
    ):
        is_start, is_far = low <= 0, high >= float(tile.part.size[tile.side.axes[axis]])
        if is_start or is_far:
            near = (f"reference end at the {hand}", "reference edge below")
            far = (f"far end at the {other}", "far edge above")
            if not (is_start and is_far):
                yield (near if is_start else far)[axis], None
            continue
        at = nearest(Fraction((low + high) / 2), mark)
        a, b = ((float(at), v) for v in tile.second) if axis == 0 else ((u, float(at)) for u in tile.first)
        canvas.line(sight.spot(*a), sight.spot(*b), "hidden")
        yield f"{way} {said(at, manner)} from {datum}", at


def _prove(canvas: Canvas, manner: Manner) -> None:
    """A line that proves the scale, level, above the pattern."""
    long, word = (2 * float(INCH), '2"') if manner.unit == "inch" else (50.0, "50 mm")
    y = PROVE - 3.5
    canvas.line((1.0, y), (1.0 + long, y), "outline")
    for x in (1.0, 1.0 + long):
        canvas.line((x, y - 2.0), (x, y + 2.0), "outline")
    canvas.text((1.0 + long + 1.5, y + 1.3), word, 10.0, says={"mm": str(2 * INCH if manner.unit == "inch" else 50)})
