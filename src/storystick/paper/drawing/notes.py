"""What is written on a side: the numbers of its cuts, the marks that go on the wood."""

import math
from collections.abc import Iterator, Sequence

from storystick.model.cut import Bevel, Channel, Notch, Side
from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.drawing.families import Family
from storystick.paper.drawing.features import place_of
from storystick.paper.drawing.marks import RING, face_mark, grain_arrow, numbered_ring, ring_box
from storystick.paper.drawing.sight import FLAT, Sight


def number_cuts(
    canvas: Canvas, sight: Sight, alike: tuple[Family, ...], taken: list[Box], strips: Sequence[Box] = ()
) -> None:
    """A numbered ring by each cut of this side, off the sticks' `strips`; one for a whole family of bores."""
    placed: list[tuple[Spot, int]] = []
    for family in alike:
        is_bevel = isinstance(family.cuts[0], Bevel)
        if family.side is not sight.side and not (sight.side in FLAT and is_bevel):
            continue
        cuts = family.cuts if isinstance(family.cuts[0], Channel) else family.cuts[:1]
        for cut in cuts:
            box = place_of(sight, cut)
            inside = isinstance(cut, Channel | Notch | Bevel)
            at = _free_spot(canvas, box, taken, inside, sight.outline, strips)
            middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
            if not inside and math.dist(at, middle) > RING:
                gap = RING / math.dist(at, middle)
                canvas.line(middle, (at[0] + (middle[0] - at[0]) * gap, at[1] + (middle[1] - at[1]) * gap), "fine")
            placed.append((at, family.number))
            taken.append(ring_box(at, family.number))
    for at, number in placed:  # when all lines to them are drawn
        numbered_ring(canvas, at, number)


def _free_spot(
    canvas: Canvas, box: Box, taken: list[Box], inside: bool, wood: Box, strips: Sequence[Box]
) -> Spot:
    """A spot for a ring in or near a box: on the wood and off everything else that is drawn, as far as there is one."""
    spots = list(_spots(box, inside))
    others = [other for other in taken if other is not box and not _same(other, box)]
    whole = Box(wood.left - 0.1, wood.top - 0.1, wood.right + 0.1, wood.bottom + 0.1)
    free = [
        spot
        for spot in spots
        if canvas.is_free(ring := around(spot, 2 * RING, 2 * RING), 0.3) and not any(map(ring.meets, strips))
    ]
    for on_wood, clear in ((True, True), (False, True), (False, False)):
        for spot in free:
            ring = around(spot, 2 * RING, 2 * RING)
            if on_wood and not inside and not ring.within(whole):
                continue
            if not clear or not any(ring.meets(other, 0.2) for other in others):
                return spot
    return (free or spots)[0]


def _spots(box: Box, inside: bool) -> Iterator[Spot]:
    """Spots in a box along its longer way where it may be `inside`, then round about it, the nearest first."""
    x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    wide, high = box.right - box.left, box.bottom - box.top
    if inside:
        for share in (0.5, 0.38, 0.62, 0.28, 0.72, 0.18, 0.82, 0.08, 0.92):
            yield (x, box.top + share * high) if high > wide else (box.left + share * wide, y)
    close = 0.0 if inside else max(wide, high) / 2
    for reach in (close + 3.2, close + 4.5, close + 6.5, close + 9.0, close + 12.0):
        for dx, dy in ((0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7), (1, 0), (-1, 0), (0, -1), (0, 1)):
            yield x + dx * reach, y + dy * reach


def _same(one: Box, other: Box) -> bool:
    return abs(one.left - other.left) + abs(one.top - other.top) + abs(one.right - other.right) < 1e-6


def mark_wood(canvas: Canvas, sight: Sight, taken: list[Box]) -> None:
    """Face mark, reference edge mark and grain arrow, where nothing else is."""
    out = sight.outline
    way = 1.0 if sight.rightward else -1.0
    zero = out.left if sight.rightward else out.right
    inner = Box(out.left + 0.5, out.top + 0.3, out.right - 0.5, out.bottom + 0.1)
    loop = sight.side is Side.FACE  # the back has no face mark, but its reference edge is marked too
    tallest = min(9.0, sight.high * 0.6)
    sizes = [tallest, *(tall for tall in (6.5, 4.8) if tall < tallest)]
    for tall, step in ((tall, number) for tall in sizes for number in range(4, 95, 3)):
        foot = (zero + way * step / 100 * sight.wide, out.bottom)
        box = Box(foot[0] - 0.4 * tall, foot[1] - tall - 0.5, foot[0] + 0.5 * tall, foot[1])
        if box.within(inner) and _clear(canvas, box, taken):
            face_mark(canvas, foot, tall, loop)
            taken.append(box)
            break
    else:
        face_mark(canvas, (_least_in_the_way(canvas, sight, taken), out.bottom), min(4.8, sight.high * 0.6), loop)
    whole = max(min(30.0, sight.wide * 0.35), min(SHORTEST, sight.wide - 4.0))
    for long in (whole, *([0.7 * whole] if 0.7 * whole > SHORTEST else [])):
        for middle in _places(out):
            box = around(middle, long + 2.0, 3.4)
            if box.within(out) and _clear(canvas, box, taken):
                grain_arrow(canvas, middle, long)
                taken.append(box)
                return
    above = [(out.left + across * sight.wide, out.top - up) for up in (3.4, 4.6) for across in ACROSS]
    clear = (middle for middle in above if _clear(canvas, around(middle, whole + 2.0, 3.2), taken))
    grain_arrow(canvas, next(clear, above[0]), whole)


SHORTEST = 9.0  # a grain arrow is at least so long [mm]
ACROSS = (0.5, 0.36, 0.64, 0.25, 0.75, 0.15, 0.85)


def _places(out: Box) -> Iterator[Spot]:
    """Where a grain arrow may have its middle on a side."""
    for share in (0.62, 0.75, 0.5, 0.85, 0.38, 0.25, 0.15):
        for across in ACROSS:
            yield out.left + across * (out.right - out.left), out.bottom - share * (out.bottom - out.top)


def _least_in_the_way(canvas: Canvas, sight: Sight, taken: list[Box]) -> float:
    """How far along the lower edge a small face mark lies on least of what is drawn [mm of paper]."""
    out = sight.outline

    def covered(x: float) -> float:
        mark = Box(x - 2.0, out.bottom - 5.0, x + 2.4, out.bottom)
        return sum(
            max(0.0, min(mark.right, box.right) - max(mark.left, box.left))
            * max(0.0, min(mark.bottom, box.bottom) - max(mark.top, box.top))
            for box in (*taken, *canvas.lettering)
        )

    steps = [out.left + 2.5 + 0.5 * number for number in range(max(1, int(2 * (sight.wide - 5.0))))]
    return min(steps, key=lambda x: round(covered(x), 3))


def _clear(canvas: Canvas, box: Box, taken: list[Box]) -> bool:
    return canvas.is_free(box, 0.5) and not any(box.meets(other, 0.6) for other in taken)
