"""Marks that are put on the wood, drawn as they are written on it: face, reference edge, grain; and numbered rings."""

from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.glyphs import POINT

RING = 2.5
RING_NUMBER = 9.0


def numbered_ring(canvas: Canvas, at: Spot, number: int | str) -> Box:
    """A ring with a number in it, on clear paper."""
    text, outline = str(number), ring_box(at, number)
    if len(text) == 1:
        canvas.ring(at, RING, "fine", "paper")
    else:
        canvas.pill(outline, "fine", "paper")
    canvas.text((at[0], at[1] + RING_NUMBER * POINT * 0.33), text, RING_NUMBER, "middle", "semibold")
    return outline


def ring_box(at: Spot, number: int | str) -> Box:
    """The paper that a ring with a number takes up; longer for one of several figures."""
    wide = RING + 0.75 * max(0, len(str(number)) - 1)
    return around(at, 2 * wide, 2 * RING)


def face_mark(canvas: Canvas, foot: Spot, high: float, loop: bool = True) -> None:
    """The face mark: a loop whose tail runs down to the reference edge at `foot`, and the edge mark at its end.

    Without `loop` the edge mark alone.
    """
    x, y = foot
    top = y - high
    canvas.run([(x - 1.3, y + 2.3), (x, y), (x + 1.3, y + 2.3)], "edge")
    if not loop:
        return
    canvas.curve(
        f"M{x:.3f} {y:.3f}C{x - 0.4 * high:.3f} {y - 0.45 * high:.3f} {x + 0.55 * high:.3f} {top + 0.1 * high:.3f} "
        f"{x + 0.1 * high:.3f} {top:.3f}C{x - 0.32 * high:.3f} {top - 0.02 * high:.3f} {x - 0.2 * high:.3f} "
        f"{y - 0.35 * high:.3f} {x + 0.2 * high:.3f} {y - 0.42 * high:.3f}",
        "edge",
    )


def grain_arrow(canvas: Canvas, middle: Spot, long: float, upright: bool = False) -> None:
    """Which way the grain runs: a long slender arrow with half a barb at each end."""
    x, y = middle
    half, barb = long / 2, 1.1
    if upright:
        canvas.run([(x + barb, y - half + 2.4), (x, y - half), (x, y + half), (x - barb, y + half - 2.4)], "edge")
    else:
        canvas.run([(x - half + 2.4, y - barb), (x - half, y), (x + half, y), (x + half - 2.4, y + barb)], "edge")
