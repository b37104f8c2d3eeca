"""A part's card: which of its sides are drawn, how large, and how they stand together so that the card stays small."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import inf

from storystick.ground.length import Manner
from storystick.model.cut import Side
from storystick.model.part import Part
from storystick.paper.blocks import Table
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.side import distances, draw_side, laid_out
from storystick.paper.drawing.sight import FLAT, OPPOSITE, runs_rightward, sides_to_draw
from storystick.paper.forms import CardHead
from storystick.paper.lettering import closely, lines_in, set_width
from storystick.paper.press import Paper

GAP = 6.0  # between two drawings side by side [mm]
APART = 3.4  # between two cards [mm]
MARGINS = 34.0  # above and below on a page [mm]
UNBROKEN = 14.5  # a card that is so much lower than a page is never broken [mm]
LEAST = 26.0  # room for a flat side [mm]
ENDS = 31.0  # of a row of edges or ends with its caption [mm]
BARE, BARE_MOST = 46.0, 72.0  # of the drawing of a part that is only sawn to size: at first, where there is room [mm]
BARE_SHARE = 0.42  # of the page's width, for that drawing
MOST = 110.0  # no flat side is drawn higher [mm]
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

# How high what is printed comes out [mm]: a line of small words, of a caption, of a large name; the head of a card with
# its table's head, and of one that stands beside its drawing; a caution's rims; the rims of a row of drawings.
LINE, CAPTION_LINE, NAME_LINE, CARD_HEAD, NARROW_HEAD, NOTE, ROW = 4.75, 4.52, 6.9, 24.8, 24.0, 0.9, 1.4


@dataclass(frozen=True)
class Shown:
    """A drawing of one side, and the sides that it stands for: two ends that are bored alike are drawn once."""

    sides: tuple[Side, ...]
    drawn: Drawn


@dataclass(frozen=True)
class Card:
    """A part's drawings in rows, beside whose height something else takes up [mm]; `narrow` where it stands beside."""

    part: Part
    rows: tuple[tuple[Shown, ...], ...]
    beside: float = 0.0
    room: float = 180.0  # width of the page [mm]

    @property
    def drawings(self) -> tuple[tuple[Side, Drawn], ...]:
        """Each drawing with the side it shows."""
        return tuple((shown.sides[0], shown.drawn) for row in self.rows for shown in row)

    @property
    def high(self) -> float:
        """How high it comes out on the page [mm]."""
        if not self.part.cuts:
            return max(self.beside, row_high(self.part, self.rows[0], self.room * BARE_SHARE - GAP))
        rows = (row_high(self.part, row, (self.room - GAP * (len(row) - 1)) / len(row)) for row in self.rows)
        return self.beside + sum(rows)

    @property
    def coarsest(self) -> float:
        """The smallest scale of a flat side that is cut from, as the millimetres of the thing to one of paper."""
        flat = [drawn.scale for side, drawn in self.drawings if side in FLAT and any(distances(self.part, side))]
        return max(flat or [drawn.scale for side, drawn in self.drawings if side in FLAT], default=0.0)


def row_high(part: Part, row: Sequence[Shown], wide: float) -> float:
    """How high drawings side by side come out with what stands below them, each so wide [mm]."""
    return ROW + max(shown.drawn.high + CAPTION_LINE * lines_in(caption(part, shown), 10, wide) for shown in row)


def head_high(head: CardHead, room: float, is_narrow: bool) -> float:
    """How high the head of a card comes out, with its remarks, in a room so wide [mm]."""
    aside = set_width(head.letter, 34, "semibold") + 6.0 + 9.0
    aside += max(set_width(f"make {head.count}", 14, "semibold"), 5.6 * min(head.count, 3 if is_narrow else 12))
    names = lines_in(head.name, 15, room - aside)
    lines = sum(lines_in(closely(remark), 10.5, room) for remark in head.remarks)
    if head.provisional:
        lines += lines_in(closely(f"Provisional.  {head.provisional}"), 10.5, room - 5.5)
    fixed = (NARROW_HEAD if is_narrow else CARD_HEAD) + (NOTE if head.provisional else 0.0)
    if not is_narrow:
        wide = sum(set_width(number, 17, "semibold") + 1.2 + set_width(word, 10) + 7.0 for number, word in head.sizes)
        fixed += CAPTION_LINE if wide - 5.0 > room - aside else 0.0
    return fixed + NAME_LINE * (names - 1) + LINE * lines


@dataclass(frozen=True)
class Task:
    """A card to be laid out: its part, by which letter, how high all else on it is [mm]."""

    part: Part
    letter: str
    manner: Manner
    paper: Paper
    beside: float

    @property
    def flat(self) -> tuple[Side, ...]:
        """The flat sides to draw."""
        return tuple(side for side in sides_to_draw(self.part) if side in FLAT)

    @property
    def narrow(self) -> list[tuple[Side, ...]]:
        """The edges and ends to draw."""
        return alike_once(self.part, [side for side in sides_to_draw(self.part) if side not in FLAT])

    def drawn(self, side: Side, wide: float, high: float) -> Shown:
        """One flat side in a drawing so wide and about so high [mm]."""
        return Shown((side,), draw_side(self.part, side, self.manner, wide, high, self.letter))

    def coarsest(self, wide: float, high: float) -> float:
        """At which scale the flat sides that are cut from would come out in drawings of that size [mm]."""
        cut_from = [side for side in self.flat if any(distances(self.part, side))]
        return max((laid_out(self.part, side, self.manner, wide, high).scale for side in cut_from), default=0.0)

    def card(self, *rows: tuple[Shown, ...]) -> Card:
        """The card with these rows."""
        return Card(self.part, rows, self.beside, self.paper.room)


def arranged(task: Task, taken: float = 0.0) -> Card:
    """The drawings of a part, as small as stays easy to read, on a page of which so much is `taken` [mm]."""
    part, paper = task.part, task.paper
    if not part.cuts:
        return bare(task, BARE)
    ends = ends_of(task)
    page = paper.high - MARGINS - taken
    card = None
    for high in ((page - APART) / 2, page * 0.62, page - UNBROKEN):
        card = side_by_side(task, ends, high, SMALL if high < page * 0.6 else inf)
        if card is None or card.high > high:
            continue
        if is_legible(card):
            return card
    used = task.card(*ends).high
    share = max(50.0, (page - UNBROKEN - used) / len(task.flat) - ROW - CAPTION_LINE)
    stacked = task.card(*((by_itself(task, side, share),) for side in task.flat), *ends)
    complete = card is not None and not any(drawn.left_out or drawn.crowded for _, drawn in card.drawings)
    return card if card is not None and complete and stacked.high > page - UNBROKEN >= card.high else stacked


def bare(task: Task, high: float) -> Card:
    """The card of a part that is only sawn to size: its drawing stands beside its head."""
    return task.card((task.drawn(task.flat[0], task.paper.room * BARE_SHARE - GAP, high),))


def side_by_side(task: Task, ends: Sequence[tuple[Shown, ...]], high: float, most: float = inf) -> Card | None:
    """The flat sides in one row, the whole card about so high [mm]; None where there is no room for them.

    Nor where a side that is cut from would be drawn at a smaller scale than 1 to `most`.
    """
    flat = task.flat
    lines = 2 if len(flat) == 2 else 1
    room = min(high - task.card(*ends).high - ROW - CAPTION_LINE * lines, MOST)
    if room < LEAST:
        return None
    wide = (task.paper.room - GAP) / 2 if len(flat) == 2 else task.paper.room
    deep = [room if any(distances(task.part, side)) else min(room, BARE + 12.0) for side in flat]
    if task.coarsest(wide, room) > most:
        return None
    return task.card(tuple(task.drawn(side, wide, each) for side, each in zip(flat, deep, strict=True)), *ends)


def one_below_the_other(task: Task, ends: Sequence[tuple[Shown, ...]], high: float, most: float = inf) -> Card | None:
    """The same with two flat sides each in a row of its own."""
    flat = task.flat
    room = (high - task.card(*ends).high) / len(flat) - ROW - CAPTION_LINE
    if len(flat) < 2 or room < LEAST or task.coarsest(task.paper.room, min(room, MOST)) > most:
        return None
    return task.card(*((task.drawn(side, task.paper.room, min(room, MOST)),) for side in flat), *ends)


def enlarged(task: Task, card: Card, high: float) -> Card:
    """The same card with larger drawings, if it can have them and be no higher than `high` [mm]."""
    if not card.part.cuts:
        tries = [bare(task, min(BARE_MOST, high - ROW - 2 * CAPTION_LINE))]
    else:
        ends = [row for row in card.rows if row[0].sides[0] not in FLAT]
        ways = (side_by_side, one_below_the_other)
        made = [way(task, ends, high, 0.95 * card.coarsest) for way in ways]
        tries = [one for one in made if one is not None and is_legible(one)]
    fit = [one for one in tries if one.high <= high and one.coarsest < 0.95 * card.coarsest]
    return min(fit, key=lambda one: (round(one.coarsest, 3), one.high), default=card)


def on_pages(tasks: Sequence[Task], cards: Sequence[Card], first: float) -> list[Card]:
    """Cards in their order, each page's drawings as large as the page has room for; `first` is taken on page one [mm].
    """
    found: list[Card] = []
    page = tasks[0].paper.high - MARGINS if tasks else 0.0
    room = page - first
    for count in shared_out([card.high for card in cards], page, first):
        rest = cards[len(found) : len(found) + count]
        spare = room - sum(card.high + APART for card in rest) + APART
        for number, card in enumerate(rest):
            task = tasks[len(found)]
            give = spare / (count - number)
            grown = enlarged(task, card, min(card.high + give, room - UNBROKEN)) if give > 4.0 else card
            spare -= grown.high - card.high
            found.append(grown)
        room = page
    return found


def shared_out(heights: Sequence[float], page: float, first: float) -> list[int]:
    """How many things of these heights go on each page [mm], in their order, of whose first so much is taken.

    As many on each as fit; but a page that would be under a third full gets the last of the page before it, where
    that one keeps enough.
    """
    counts: list[int] = []
    rest, room = list(heights), page - first
    while rest:
        ends = list(accumulate(high + APART for high in rest))
        counts.append(max(1, sum(end - APART <= room for end in ends)))
        rest, room = rest[counts[-1] :], page
    starts = [0, *accumulate(counts)]
    for k in range(1, len(counts)):
        before, here = heights[starts[k - 1] : starts[k]], heights[starts[k] : starts[k + 1]]
        together = sum(here) + before[-1] + APART * len(here)
        if sum(here) < page / 3 and sum(before[:-1]) + (first if k == 1 else 0.0) >= page / 3 and together <= page:
            starts[k] -= 1
    return [end - start for start, end in pairwise(starts)]


def by_itself(task: Task, side: Side, share: float) -> Shown:
    """A flat side across the page: as low as can be read, in its share of the height [mm], or more if it must be."""
    paper = task.paper
    for room in sorted((36.0, 46.0, 52.0, 60.0, share, 90.0, 130.0, paper.depth - CARD_HEAD - CAPTION_LINE)):
        shown = task.drawn(side, paper.room, room)
        if legible(task.part, shown.drawn, any(distances(task.part, side))):
            break
    return shown


def is_legible(card: Card) -> bool:
    """True where every flat side of a card is easy to read."""
    flat = ((side, drawn) for side, drawn in card.drawings if side in FLAT)
    return all(legible(card.part, drawn, any(distances(card.part, side))) for side, drawn in flat)


def legible(part: Part, drawn: Drawn, is_cut: bool) -> bool:
    """True where all numbers found room and the side is drawn large enough; one without cuts may be small."""
    long = float(max(part.size[0].value, part.size[1].value))
    least = LONGEST_SIDE if is_cut else LONGEST_SIDE / 2
    return not drawn.left_out and not drawn.crowded and (drawn.scale <= FULL or long / drawn.scale >= least)


def ends_of(task: Task) -> list[tuple[Shown, ...]]:
    """Edges and ends, two in a row where there are two."""
    narrow, room = task.narrow, task.paper.room

    def drawn(sides: tuple[Side, ...], wide: float) -> Shown:
        return Shown(sides, task.drawn(sides[0], wide, ENDS).drawn)

    shown = [drawn(sides, (room - GAP) / 2 if len(narrow) > 1 else room * 0.62) for sides in narrow]
    if any(one.drawn.left_out for one in shown):
        return [(drawn(sides, room),) for sides in narrow]
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
    below = "edge" if side in FLAT else "face"
    seen = SEEN[side].capitalize()
    if len(shown.sides) > 1:
        seen += f"; the {SEEN[shown.sides[1]]} alike, mirrored"
    return f"{seen}, {scale_said(shown.drawn.scale)}; from {start} ({hand}) and {below} (below)."


HEADS = 8.4  # of a dense table's heads, with what is left free above and below it [mm]
INSET = 3.0  # beside the words of a cell [mm]


def depth_of(table: Table, room: float) -> float:
    """How high a dense table of plain cells comes out on a page with so much width [mm]."""
    return HEADS + LINE * lines_of_table(table, room)


def lines_of_table(table: Table, room: float) -> int:
    """How many lines the rows of a dense table of plain cells take on a page with so much width [mm]."""
    columns = table.columns
    fixed = sum(
        INSET + max((set_width(row[n], 10.5) for row in table.rows if isinstance(row[n], str)), default=0.0)
        for n, column in enumerate(columns)
        if not column.share
    )
    whole = sum(column.share for column in columns) or 1.0
    return sum(
        max(
            lines_in(closely(cell), 10.5, max(5.0, (room - fixed) * column.share / whole - INSET))
            if column.share and isinstance(cell, str)
            else 1
            for column, cell in zip(columns, row, strict=True)
        )
        for row in table.rows
    )
