"""Sheet maps: a sheet or stick to scale, its pieces lettered and sized, its cuts numbered in their order."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.length import Manner
from storystick.model.cutting import Cut, CutTree, Piece, Purpose, Way
from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.marks import RING, grain_arrow, numbered_ring, ring_box
from storystick.paper.drawing.scale import fitting
from storystick.paper.glyphs import POINT, Weight
from storystick.paper.lettering import said, set_width

LEFT = 13.0
TOP = 9.5
SLIM = 16.0  # a stick is drawn at least so high [mm]


@dataclass(frozen=True)
class Lie:
    """How a sheet lies on the paper; a stick is drawn wider than its scale."""

    along: float
    across: float
    left: float
    top: float
    high: float

    def box(self, piece: Piece) -> Box:
        """Where a piece falls on the paper; the sheet's near edge is below."""
        x0, x1 = float(piece.x), float(piece.x + piece.long)
        y0, y1 = float(piece.y), float(piece.y + piece.wide)
        bottom = self.top + self.high
        return Box(
            self.left + x0 / self.along,
            bottom - y1 / self.across,
            self.left + x1 / self.along,
            bottom - y0 / self.across,
        )


def draw_sheet(tree: CutTree, letters: Mapping[str, str], manner: Manner, wide: float, high: float, alt: str) -> Drawn:
    """The map of one sheet in a drawing `wide` and at most about `high` [mm]; `letters` by the key of a blank."""
    long, deep = float(tree.sheet.long), float(tree.sheet.wide)
    scale = max(fitting(long, wide - LEFT - 2.0), fitting(deep, high - TOP - 4.0))
    across = scale if deep / scale >= SLIM else deep / SLIM
    lie = Lie(scale, across, LEFT, TOP, deep / across)
    canvas = Canvas(wide, TOP + lie.high + 4.0)
    sheet = lie.box(Piece(0, Fraction(0), Fraction(0), tree.sheet.long, tree.sheet.wide))
    canvas.box(sheet, "none", "hatch")
    for piece in (*tree.leftovers, *tree.blanks):
        canvas.box(lie.box(piece), "edge", "wood" if piece.blank else "paper")
    for flaw in tree.sheet.defects:
        box = lie.box(Piece(0, flaw.x, flaw.y, flaw.long, flaw.wide))
        canvas.box(box, "hidden", "shade")
    canvas.box(sheet, "outline")
    _whole(canvas, sheet, tree, manner)
    named = [(piece, letters.get(piece.blank, piece.blank)) for piece in tree.blanks]
    small = [(piece, letter) for piece, letter in named if not _lettered(canvas, lie.box(piece), letter, piece, manner)]
    for piece in tree.leftovers:
        _lettered(canvas, lie.box(piece), "keep", piece, manner)
    lines = _cuts(canvas, lie, tree)
    blanks = [lie.box(piece) for piece in tree.blanks]
    taken: list[Box] = []
    rims = [rim for box in (sheet, *map(lie.box, tree.leftovers)) for rim in _rims(box)]
    for piece, letter in small:
        taken += _pointed_out(canvas, lie.box(piece), letter, [*rims, *((a, b) for _, a, b in lines)], blanks)
    _number_cuts(canvas, lines, taken)
    return Drawn(
        canvas.svg(alt), alt, scale if across == scale else -scale, canvas.wide, canvas.high, tuple(canvas.lettering)
    )


def _whole(canvas: Canvas, sheet: Box, tree: CutTree, manner: Manner) -> None:
    """The sheet's own size outside, the grain's way beside it."""
    base = sheet.top - 3.0
    box = canvas.text(
        (sheet.left, base), said(tree.sheet.long, manner), 14, "start", "semibold", says={"mm": str(tree.sheet.long)}
    )
    grain_arrow(canvas, (box.right + 22.0, base - 1.6), 30.0)
    canvas.text((box.right + 40.0, base), "grain", 11, "start")
    canvas.text(
        (sheet.left - 3.5, (sheet.top + sheet.bottom) / 2), said(tree.sheet.wide, manner), 14, "middle", "semibold",
        upright=True, says={"mm": str(tree.sheet.wide)},
    )  # fmt: skip


def _lettered(canvas: Canvas, box: Box, letter: str, piece: Piece, manner: Manner) -> bool:
    """A piece's letter in its middle, its long size along the top, the other along its left side, where they go.

    False for a blank that is too small for its letter.
    """
    wide, high = box.right - box.left, box.bottom - box.top
    middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
    keep, small = piece.keep, False
    weight: Weight = "regular" if keep else "semibold"
    for size in (12.0, 10.0, 8.0) if keep else (20.0, 16.0, 12.0, 10.0, 8.0):
        if set_width(letter, size) + 2 <= wide and size * POINT * 0.9 + 1 <= high:
            canvas.text((middle[0], middle[1] + size * POINT * 0.33), letter, size, "middle", weight)
            break
    else:
        small = not keep
    for size in (11.0, 10.0):
        text = said(piece.long, manner, bare=True)
        at = (middle[0], box.top + size * POINT * 0.95 + 0.4)
        trial = around((middle[0], at[1] - size * POINT * 0.3), set_width(text, size) + 1, size * POINT)
        if trial.within(box) and canvas.is_free(trial, 0.2):
            canvas.text(at, text, size, "middle", says={"mm": str(piece.long)})
            break
    for size in (11.0, 10.0):
        text = said(piece.wide, manner, bare=True)
        at = (box.left + size * POINT * 0.95 + 2.4, middle[1])
        trial = around((at[0] - size * POINT * 0.3, middle[1]), size * POINT, set_width(text, size) + 1)
        if trial.within(box) and canvas.is_free(trial, 0.2):
            canvas.text(at, text, size, "middle", upright=True, says={"mm": str(piece.wide)})
            break
    return not small


def _pointed_out(
    canvas: Canvas, box: Box, letter: str, lines: Sequence[tuple[Spot, Spot]], blanks: Sequence[Box]
) -> list[Box]:
    """The letter of a small blank where there is room for it, off all lettering and `lines`, a line to its blank.

    On no other blank if it can be. Returns what is taken up by both.
    """
    wide, high = set_width(letter, SMALL, "semibold") + 1.0, SMALL * POINT
    targets = list(_targets(box))
    middle = targets[0]
    spots = [(middle[0] + 4.0 * i, middle[1] + 3.0 * j) for i in range(-14, 15) for j in range(-14, 15)]
    spots.sort(key=lambda at: (round(math.dist(at, middle), 6), at))
    found = (spots[0], middle)
    free = [at for at in spots if canvas.is_free(around(at, wide, high), 0.4)]
    for own in (around(at, wide, high) for at in free):
        if any(_passes(*line, own) for line in lines) or own.meets(box, 0.4):
            continue
        at = ((own.left + own.right) / 2, (own.top + own.bottom) / 2)
        to = next((to for to in targets if not any(_passes(at, to, other) for other in canvas.lettering)), None)
        if to is not None:
            found = (at, to)
            if not any(own.meets(other) for other in blanks):
                break
    at, to = found
    way = max(abs(at[0] - to[0]) / (wide / 2 + 0.6), abs(at[1] - to[1]) / (high / 2 + 0.4), 1.0)
    start = (at[0] + (to[0] - at[0]) / way, at[1] + (to[1] - at[1]) / way)
    canvas.line(start, to, "fine")
    canvas.ring(to, 0.6, "none", "ink")
    canvas.text((at[0], at[1] + high * 0.33), letter, SMALL, "middle", "semibold")
    steps = max(1, int(math.dist(start, to) / 2.0))
    return [
        around((start[0] + (to[0] - start[0]) * n / steps, start[1] + (to[1] - start[1]) * n / steps), 1.2, 1.2)
        for n in range(steps + 1)
    ]


def _rims(box: Box) -> Iterator[tuple[Spot, Spot]]:
    """The four sides of a box."""
    for x in (box.left, box.right):
        yield (x, box.top), (x, box.bottom)
    for y in (box.top, box.bottom):
        yield (box.left, y), (box.right, y)


def _targets(box: Box) -> Iterator[Spot]:
    """Where in a blank the line from its letter may end."""
    wide, high = box.right - box.left, box.bottom - box.top
    for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
        if wide > high:
            yield box.left + share * wide, (box.top + box.bottom) / 2
        else:
            yield (box.left + box.right) / 2, box.top + share * high


def _passes(a: Spot, b: Spot, box: Box) -> bool:
    """True where a line runs through a box, or nearly."""
    low, high = 0.0, 1.0
    sides = ((a[0], b[0], box.left - 0.2, box.right + 0.2), (a[1], b[1], box.top - 0.2, box.bottom + 0.2))
    for start, end, near, far in sides:
        way = end - start
        if abs(way) < 1e-9:
            if not near < start < far:
                return False
            continue
        one, two = (near - start) / way, (far - start) / way
        low, high = max(low, min(one, two)), min(high, max(one, two))
    return low < high


SMALL = 11.0
"""Size of a letter that stands off its blank [pt]."""


def _cuts(canvas: Canvas, lie: Lie, tree: CutTree) -> list[tuple[Cut, Spot, Spot]]:
    """Every cut as a line across its piece."""
    pieces = {piece.number: piece for piece in tree.pieces}
    lines = [(cut, *_line(lie, pieces[cut.piece], cut)) for cut in tree.cuts if cut.piece in pieces]
    for cut, a, b in lines:
        canvas.line(a, b, "cut" if cut.purpose is not Purpose.TRIM else "hidden")
    return lines


def _number_cuts(canvas: Canvas, lines: Sequence[tuple[Cut, Spot, Spot]], taken: Sequence[Box]) -> None:
    """The number of every cut on its line, off what is taken; short ones choose their spot first."""
    rings: list[Box] = list(taken)
    placed: list[tuple[Spot, int]] = []
    for cut, a, b in sorted(lines, key=lambda line: (math.dist(line[1], line[2]), line[0].number)):
        spot = _on_line(canvas, a, b, rings)
        near = _nearest(spot, a, b)
        gap = math.dist(spot, near)
        if gap > RING:
            canvas.line(
                (spot[0] + (near[0] - spot[0]) * RING / gap, spot[1] + (near[1] - spot[1]) * RING / gap), near, "fine"
            )
        rings.append(ring_box(spot, cut.number))
        placed.append((spot, cut.number))
    for spot, number in placed:  # when all lines to them are drawn
        numbered_ring(canvas, spot, number)


def _line(lie: Lie, piece: Piece, cut: Cut) -> tuple[Spot, Spot]:
    box = lie.box(piece)
    middle = float(cut.at + cut.kerf / 2)
    if cut.way is Way.RIP:
        y = lie.top + lie.high - middle / lie.across
        return (box.left, y), (box.right, y)
    x = lie.left + middle / lie.along
    return (x, box.bottom), (x, box.top)


def _on_line(canvas: Canvas, a: Spot, b: Spot, rings: list[Box]) -> Spot:
    """A spot on a cut for its number: near its start, off all lettering."""
    long = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 or 1.0
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    steps = [0.0, *(0.5 * n for n in range(1, int(long * 2) + 1))]
    offsets = (0.0, -5.4, 5.4, -9.0, 9.0, -13.0, 13.0, -18.0, 18.0)
    for aside in offsets:
        for step in steps:
            spot = (a[0] + way[0] * (step + 3.0) - way[1] * aside, a[1] + way[1] * (step + 3.0) + way[0] * aside)
            if not _is_free(canvas, spot, rings):
                continue
            if abs(aside) <= RING or _is_clear(canvas, spot, _nearest(spot, a, b), rings):
                return spot
    return _round_about(canvas, a, b, rings)


def _nearest(spot: Spot, a: Spot, b: Spot) -> Spot:
    """The spot of a level or upright line that is nearest to another."""
    return min(max(spot[0], min(a[0], b[0])), max(a[0], b[0])), min(max(spot[1], min(a[1], b[1])), max(a[1], b[1]))


def _is_clear(canvas: Canvas, spot: Spot, near: Spot, rings: list[Box]) -> bool:
    """True where a line from a ring to its cut crosses no lettering and no other ring."""
    return not any(_passes(spot, near, other) for other in (*canvas.lettering, *rings))


def _round_about(canvas: Canvas, a: Spot, b: Spot, rings: list[Box]) -> Spot:
    """The nearest free spot in any direction from the middle of a cut; the middle itself where there is none."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    free: list[Spot] = []
    for reach in range(6, 90, 2):
        for turn in range(24):
            angle = math.tau * turn / 24
            spot = (middle[0] + reach * math.cos(angle), middle[1] + reach * math.sin(angle))
            if _is_free(canvas, spot, rings):
                if _is_clear(canvas, spot, _nearest(spot, a, b), rings):
                    return spot
                free.append(spot)
    return (free or [middle])[0]


def _is_free(canvas: Canvas, spot: Spot, rings: list[Box]) -> bool:
    """True where a ring finds room at a spot."""
    box = around(spot, 2 * RING + 1.6, 2 * RING)
    return canvas.is_free(box, 0.2) and not any(box.meets(ring, 0.2) for ring in rings)
