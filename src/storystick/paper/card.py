"""A part's card: which of its sides are drawn, how large, and how they stand together so that the card stays small."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from storystick.ground.length import Manner
from storystick.model.cut import Side
from storystick.model.part import Part
from storystick.paper.blocks import Table
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.side import distances, draw_side
from storystick.paper.drawing.sight import FLAT, OPPOSITE, runs_rightward, sides_to_draw
from storystick.paper.lettering import closely, lines_in
from storystick.paper.press import Paper

HEAD, CAPTION, GAP = 25.0, 6.0, 6.0  # of a card's head, of what stands under a drawing, between two side by side [mm]
MARGINS = 34.0  # above and below on a page [mm]
SPARE = 4.0  # by so much a card comes out smaller than reckoned [mm]
LEAST = 26.0  # room for a flat side [mm]
ENDS = 31.0  # of a row of edges or ends with its caption [mm]
BARE = 46.0  # of the drawing of a part that is only sawn to size [mm]
BARE_SHARE = 0.42  # of the page's width, for that drawing
LONGEST_SIDE = 44.0  # a flat side is drawn at least so long [mm]
SMALL = 12.0  # at a smaller scale than this more of the page is given to it
FULL = 2.5  # or at least at this scale
SEEN = {
    Side.FACE: "face",
    Side.BACK: "back",
    Side.EDGE: "reference edge",
    Side.FAR_EDGE: "far edge",
    Side.END: "reference end",
    Side.FAR_END: "far end",
}


@dataclass(frozen=True)
class Shown:
    """A drawing of one side, and the sides that it stands for: two ends that are bored alike are drawn once."""

    sides: tuple[Side, ...]
    drawn: Drawn


@dataclass(frozen=True)
class Card:
    """A part's drawings in rows."""

    part: Part
    rows: tuple[tuple[Shown, ...], ...]

    @property
    def drawings(self) -> tuple[tuple[Side, Drawn], ...]:
        """Each drawing with the side it shows."""
        return tuple((shown.sides[0], shown.drawn) for row in self.rows for shown in row)


def arranged(part: Part, letter: str, manner: Manner, paper: Paper, beside: float) -> Card:
    """The drawings of a part, as small as stays easy to read; `beside` [mm] of the page is taken by other things."""
    sides = sides_to_draw(part)
    flat = tuple(side for side in sides if side in FLAT)
    narrow = alike_once(part, [side for side in sides if side not in FLAT])
    if not part.cuts:
        drawn = draw_side(part, flat[0], manner, paper.room * BARE_SHARE - GAP, BARE, letter)
        return Card(part, ((Shown((flat[0],), drawn),),))
    used = beside + ENDS * ceil(len(narrow) / 2)
    ends = ends_of(part, letter, manner, paper, narrow)
    half = (paper.high - MARGINS) / 2 + SPARE  # two cards go on a page
    for page in (half, paper.depth * 0.62, paper.depth):
        room = min(page - used - CAPTION, 120.0)
        if room < LEAST:
            continue
        wide = (paper.room - GAP) / 2 if len(flat) == 2 else paper.room
        cut_at = [distances(part, side) for side in flat]
        deep = {side: room if any(cut) else min(room, BARE + 12.0) for side, cut in zip(flat, cut_at, strict=True)}
        row = tuple(Shown((side,), draw_side(part, side, manner, wide, deep[side], letter)) for side in flat)
        if page < paper.depth * 0.6 and any(shown.drawn.scale > SMALL for shown in row):
            continue
        if all(legible(part, shown.drawn, any(cut)) for shown, cut in zip(row, cut_at, strict=True)):
            return Card(part, (row, *ends))
    share = max(50.0, (paper.depth - used) / len(flat) - CAPTION)
    stacked = tuple((Shown((side,), by_itself(part, side, letter, manner, paper, share)),) for side in flat)
    return Card(part, (*stacked, *ends))


def by_itself(part: Part, side: Side, letter: str, manner: Manner, paper: Paper, share: float) -> Drawn:
    """A flat side across the page: as low as can be read, in its share of the height [mm], or more if it must be."""
    for room in sorted((36.0, 46.0, share, 90.0, 130.0, paper.depth - HEAD - CAPTION)):
        drawn = draw_side(part, side, manner, paper.room, room, letter)
        if legible(part, drawn, any(distances(part, side))):
            break
    return drawn


def legible(part: Part, drawn: Drawn, is_cut: bool) -> bool:
    """True where all numbers found room and the side is drawn large enough; one without cuts may be small."""
    long = float(max(part.size[0].value, part.size[1].value))
    least = LONGEST_SIDE if is_cut else LONGEST_SIDE / 2
    return not drawn.left_out and not drawn.crowded and (drawn.scale <= FULL or long / drawn.scale >= least)


def ends_of(
    part: Part, letter: str, manner: Manner, paper: Paper, narrow: Sequence[tuple[Side, ...]]
) -> list[tuple[Shown, ...]]:
    """Edges and ends, two in a row where there are two."""
    wide = (paper.room - GAP) / 2 if len(narrow) > 1 else paper.room * 0.62
    shown = [Shown(sides, draw_side(part, sides[0], manner, wide, ENDS, letter)) for sides in narrow]
    if any(one.drawn.left_out for one in shown):
        return [(Shown(sides, draw_side(part, sides[0], manner, paper.room, ENDS, letter)),) for sides in narrow]
    return [tuple(shown[i : i + 2]) for i in range(0, len(shown), 2)]


def alike_once(part: Part, sides: Sequence[Side]) -> list[tuple[Side, ...]]:
    """Sides to draw; one for both where opposite sides are cut alike."""
    found: list[tuple[Side, ...]] = []
    for side in sides:
        twin = OPPOSITE[side]
        if (twin,) in found and cut_alike(part, side) == cut_alike(part, twin):
            found[found.index((twin,))] = (twin, side)
        else:
            found.append((side,))
    return found


def cut_alike(part: Part, side: Side) -> tuple[object, ...]:
    """What two opposite sides have in common that one drawing shows."""
    kinds = sorted((type(c).__name__, c.called) for c in part.cuts if getattr(c, "side", None) is side)
    return (kinds, *([length.value for length in lengths] for lengths in distances(part, side)))


def caption(part: Part, shown: Shown) -> str:
    """Which side is seen, at which scale, and where the distances start."""
    side = shown.sides[0]
    hand = "left" if runs_rightward(part, side) else "right"
    start = "reference edge" if side in (Side.END, Side.FAR_END) else "reference end"
    below = "reference edge" if side in FLAT else "face"
    seen = SEEN[side].capitalize()
    if len(shown.sides) > 1:
        seen += f"; the {SEEN[shown.sides[1]]} alike, mirrored"
    return f"{seen}, {scale_said(shown.drawn.scale)}; from {start} ({hand}), {below} (below)."


LINE, CAPITAL, INSET = 4.7, 2.5, 2.6  # of a dense table's rows: pitch of lines, height of the first, above and below


def depth_of(table: Table, room: float) -> float:
    """About how high a dense table of plain cells comes out on a page with so much width [mm]."""
    fixed = sum(9.0 for column in table.columns if not column.share)
    whole = sum(column.share for column in table.columns) or 1.0
    high = 5.0 + INSET + 3.0
    for row in table.rows:
        lines = 1
        for column, cell in zip(table.columns, row, strict=True):
            wide = (room - fixed) * column.share / whole - 3.0
            if column.share and isinstance(cell, str):
                lines = max(lines, lines_in(closely(cell), 10.5, max(5.0, wide)))
        high += CAPITAL + INSET + LINE * (lines - 1)
    return high
