"""One side of a part, with everything that is cut from it, dimensioned from its reference end and edge."""

from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Canvas
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.families import families, side_of
from storystick.paper.drawing.features import draw_cut, draw_wood
from storystick.paper.drawing.measure import (
    AWAY,
    CLEAR,
    JOG,
    NUMBER,
    OVERALL,
    PITCH,
    STRIP,
    Tick,
    Upright,
    level_overall,
    level_stick,
    numbers_along,
    once_each,
    upright_overall,
    upright_sticks,
)
from storystick.paper.drawing.notes import mark_wood, number_cuts
from storystick.paper.drawing.scale import fitting
from storystick.paper.drawing.sight import FLAT, OPPOSITE, Sight, runs_rightward
from storystick.paper.glyphs import POINT
from storystick.paper.lettering import said, set_width


def draw_side(part: Part, side: Side, manner: Manner, wide: float, high: float, called: str = "") -> Drawn:
    """A side of a part in a drawing `wide` [mm], and not higher than `high` if that can be done."""
    ticks = distances(part, side)
    sight = laid_out(part, side, manner, wide, high)
    scale = sight.scale
    canvas = Canvas(wide, 1000.0)
    draw_wood(canvas, sight)
    drawn = [(cut, draw_cut(canvas, sight, cut)) for cut in cuts_on(part, side)]
    taken = [box for cut, box in drawn if not isinstance(cut, Bevel)]
    foot = _sticks(canvas, sight, ticks, manner)
    number_cuts(canvas, sight, families(part, manner), taken, _strips(sight))
    if side in FLAT:
        mark_wood(canvas, sight, taken)
    canvas.high = max(foot, sight.top + sight.high + 3.0, max(b.bottom for b in canvas.lettering) + 0.6)
    up = min(0.0, min(box.top for box in canvas.lettering))
    alt = _in_words(part, side, called or part.letter, manner)
    size = (canvas.wide, canvas.high - up)
    crowded = len(ticks[1]) * PITCH > 1.5 * sight.high + ABOVE
    return Drawn(canvas.svg(alt), alt, scale, *size, tuple(canvas.lettering), canvas.left_out, crowded)


ABOVE = 7.0  # paper left above a side [mm]


def laid_out(part: Part, side: Side, manner: Manner, wide: float, high: float) -> Sight:
    """Where a side lies in a drawing of that width and about that height, and at which scale."""
    ticks = distances(part, side)
    a, b = side.axes
    numbers = max((set_width(said(t, manner, bare=True), NUMBER) for t in ticks[1]), default=0.0)
    beside = AWAY + STRIP + (numbers + JOG + CLEAR + 0.2 if ticks[1] else 2.0)
    breadth = set_width(said(part.size[b], manner), OVERALL, "semibold")
    rightward = runs_rightward(part, side)

    def sight_at(scale: float) -> tuple[Sight, float]:
        level = breadth + 10.0 > float(part.size[b]) / scale  # the big number lies level beside the stick
        margin = beside + (breadth + 6.3 if level else OVERALL * POINT + 3.0)
        aside = max(0.0, (wide - 8.0 - margin - float(part.size[a]) / scale) / 2)
        left = margin + aside if rightward else max(6.0, wide - margin - aside - float(part.size[a]) / scale)
        spare = max(0.0, len(ticks[1]) * PITCH - float(part.size[b]) / scale - ABOVE)
        return Sight(part, side, scale, left, ABOVE + spare, rightward), margin

    margin = beside + OVERALL * POINT + 3.0
    scale = fitting(float(part.size[a]), wide - margin - 8.0)
    if sight_at(scale)[1] > margin:
        margin = sight_at(1e9)[1]
        scale = fitting(float(part.size[a]), wide - margin - 8.0)
    below = AWAY + STRIP + _room_below(ticks[0], manner, scale, wide) + OVERALL * POINT * 0.7 + 2.8
    scale = max(scale, fitting(float(part.size[b]), max(10.0, high - ABOVE - below)))
    if sight_at(scale)[1] > margin:
        scale = max(scale, fitting(float(part.size[a]), wide - sight_at(1e9)[1] - 8.0))
    return sight_at(scale)[0]


def _room_below(ticks: list[Dim], manner: Manner, scale: float, wide: float) -> float:
    spots = [Tick(tick, 20.0 + float(tick) / scale) for tick in ticks]
    return numbers_along(spots, manner, 10.0, wide - 2.0).deep + JOG + 1.0 if spots else 1.0


def cuts_on(part: Part, side: Side) -> list[Cut]:
    """Cuts that show on a side in full lines: its own, and what goes through to it."""
    return [
        cut
        for cut in part.cuts
        if side_of(cut) is side or (side in FLAT and isinstance(cut, Bevel | Notch))
        or (side in FLAT and isinstance(cut, Bore) and comes_out(cut) and cut.side is OPPOSITE[side])
    ]  # fmt: skip


def comes_out(cut: Bore) -> bool:
    """True for a hole that goes straight through to the opposite side."""
    return cut.depth is None and cut.lean == 0


def distances(part: Part, side: Side) -> tuple[list[Dim], list[Dim]]:
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
    strip = Upright(tuple(upright), out.bottom, out.top)
    reach = upright_sticks(canvas, [strip], manner, near, leftward, out.bottom + 1.5)
    foot = level_stick(canvas, level, manner, zero, far, strip_top)
    foot = level_overall(canvas, sight.size[0], manner, zero, far, foot + 0.5)
    upright_overall(canvas, sight.size[1], manner, out.bottom, out.top, reach, leftward)
    return foot


def _strips(sight: Sight) -> tuple[Box, Box]:
    """Where the two sticks are, with the bars and dots at their starts."""
    out, rim = sight.outline, 2.1
    left = out.left - AWAY - STRIP if sight.rightward else out.right + AWAY
    below, beside = out.bottom + AWAY, Box(left, out.top, left + STRIP, out.bottom + 1.0)
    zero = out.left if sight.rightward else out.right
    bar = Box(zero - 1.0, below + STRIP / 2 - rim, zero + 1.0, below + STRIP / 2 + rim)
    level = Box(min(out.left, bar.left), below, max(out.right, bar.right), below + STRIP)
    return level, Box(beside.left - 1.0, beside.top, beside.right + 1.0, beside.bottom)


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
                found.extend(float((c.v, c.u)[along]) for c in cut.corners if (c.u, c.v)[along].value == value)
    across = max(0.0, min(found, default=0.0))
    return sight.spot(0.0, across)[1] if along == 0 else sight.spot(across, 0.0)[0]


def _in_words(part: Part, side: Side, called: str, manner: Manner) -> str:
    a, b = side.axes
    size = f"{said(part.size[a], manner)} by {said(part.size[b], manner)}"
    count = len([cut for cut in part.cuts if side_of(cut) is side])
    return f"Part {called}, {part.role}: its {side.value}, {size}, with {count or 'no'} cut{'s' if count != 1 else ''}."
