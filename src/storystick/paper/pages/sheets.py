"""Sheet maps: each sheet to scale with its pieces and numbered cuts, and the cuts in order."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from storystick.ground.length import Manner, with_unit
from storystick.model.cutting import Cut, CutTree, Purpose, Way
from storystick.model.work import Cutting
from storystick.paper.blocks import Block, Column, Figure, Heading, Large, Table, Text, Tick, Whole, in_columns
from storystick.paper.card import LINE, lines_of_table
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.sheet import draw_sheet
from storystick.paper.folder import Folder
from storystick.paper.lettering import closely, lines_in, said
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import sentence, stock_said
from storystick.paper.spoken import aloud

COLUMNS = (Column("cut", 0, "right"), Column("", 0), Column("set to", 1.45), Column("frees", 1.45))
LEGEND = (
    "The near edge of each sheet is below: it runs along the fence when a strip is ripped, and the left end lies "
    "against the stop when one is crosscut. Hatched is waste, a dashed cut trims an edge, red is every other cut; the "
    "figure in a ring is the cut's place in the order, over all the sheets of one stock. What is trimmed later is "
    "larger here than on its card, which says so."
)
TO_FIT = (
    "A cut that names a step for its size is made in that step, at what was measured; until then the map keeps a "
    "little more room for it than its card has."
)


FEW = 8
"""A sheet with so few cuts gets a small map."""


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """Each sheet with its map and its cuts on one page, as many to a page as go on it."""
    first = True
    for cutting in folder.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            blocks = tuple(one_sheet(folder, cutting, number, tree, paper))
            yield Whole((Text(legend_of(folder), "quiet"), *blocks), first=True) if first else Whole(blocks)
            first = False
        if cutting.layout.unplaced:
            names = ", ".join(f"{folder.letter_of.get(key, key)} ({key})" for key in cutting.layout.unplaced)
            yield Text(f"No {cutting.stock.name} is left for: {names}.", "caution")


def legend_of(folder: Folder) -> str:
    """How to read a map."""
    return f"{LEGEND} {TO_FIT}" if folder.fitted_in else LEGEND


def one_sheet(folder: Folder, cutting: Cutting, number: int, tree: CutTree, paper: Paper) -> Iterator[Block]:
    """The map, what the scale is, the cuts in order, the leftovers."""
    manner = folder.build.manner
    of = f" {number} of {len(cutting.layout.trees)}" if len(cutting.layout.trees) > 1 else ""
    sold = ", ".join(w for w in (stock_said(cutting.stock, manner), with_unit(tree.sheet.name, manner)) if w)
    yield Heading(f"{cutting.stock.name}{of}: {sold}{', on hand' if tree.sheet.on_hand else ''}")
    drawn = sheet_map(folder, cutting, number, tree, paper)
    scale = scale_said(drawn.scale) if drawn.scale > 0 else "width not to scale"
    yield Figure(drawn, f"{scale.capitalize()}; kerf {said(cutting.kerf, manner)}.")
    yield Text(f"Pieces on this {cutting.stock.form}: {pieces_said(folder, tree)}.")
    for columns in in_columns(cuts_of(folder, cutting, tree), 2):
        yield Whole((columns,))  # else a column would go on overleaf
    keeps = len(tree.leftovers) > 0
    for n, text in enumerate(words_below(folder, cutting, number, tree)):
        yield Text(text, "" if keeps and not n else "quiet")


def cuts_of(folder: Folder, cutting: Cutting, tree: CutTree) -> Table:
    """The cuts of a sheet in their order."""
    cuts = sorted(tree.cuts, key=lambda c: c.number)
    steps = [folder.fitted_in.get((cutting.stock.name, cut.number)) for cut in cuts]
    manner = folder.build.manner
    rows = (cut_row(cut, tree, folder.letter_of, manner, step) for cut, step in zip(cuts, steps, strict=True))
    return Table(COLUMNS, tuple(rows), dense=True)


def words_below(folder: Folder, cutting: Cutting, number: int, tree: CutTree) -> tuple[str, ...]:
    """What is said below the cuts of a sheet: first what is kept of it, where anything is."""
    manner, found = folder.build.manner, []
    kept = Counter(f"{said(left.long, manner)} x {said(left.wide, manner)}" for left in tree.leftovers)
    if kept:
        them = ", ".join(f"{count} of {size}" if count > 1 else size for size, count in kept.items())
        found.append(f"Keep, and write on {'it' if kept.total() == 1 else 'each'} what it is: {them}.")
    if number == len(cutting.layout.trees):  # what is said of all sheets of a stock stands once, below the last
        found.append(" ".join(sentence(in_units(aloud(note, folder.names), manner)) for note in cutting.notes))
    return tuple(text for text in found if text)


MILLIMETRES = re.compile(r"(\d+(?:\.\d+)?) mm")


def in_units(note: str, manner: Manner) -> str:
    """A note of the layout with its lengths in the units of the plan."""
    return MILLIMETRES.sub(lambda found: said(Fraction(found[1]), manner), note)


def pieces_said(folder: Folder, tree: CutTree) -> str:
    """Every piece with its size, along the sheet's grain first, those alike together."""
    manner = folder.build.manner
    alike: dict[tuple[str, str], list[str]] = {}
    for piece in tree.blanks:
        size = (said(piece.long, manner), said(piece.wide, manner))
        alike.setdefault(size, []).append(folder.letter_of.get(piece.blank, piece.blank))
    return "; ".join(f"{', '.join(counted(letters))} {long} x {wide}" for (long, wide), letters in alike.items())


def counted(letters: Iterable[str]) -> list[str]:
    """Letters, one that comes several times with its count: "A", "5 x K"."""
    return [letter if count == 1 else f"{count} x {letter}" for letter, count in Counter(letters).items()]


def sheet_map(folder: Folder, cutting: Cutting, number: int, tree: CutTree, paper: Paper) -> Drawn:
    """The drawing of one sheet."""
    pieces = ", ".join(folder.letter_of.get(piece.blank, piece.blank) for piece in tree.blanks)
    alt = f"Map of {cutting.stock.name}, sheet {number}: pieces {pieces}; {len(tree.cuts)} cuts."
    if len(tree.cuts) <= FEW:
        return draw_sheet(tree, folder.letter_of, folder.build.manner, paper.room, paper.depth * 0.3, alt)
    slim = min((min(piece.long, piece.wide) for piece in tree.blanks), default=tree.sheet.wide)
    legible = LEGIBLE * float(tree.sheet.wide / slim)
    usual = paper.depth - (50.0 if is_first(folder, cutting, number) else 30.0) - 4.2 * len(tree.cuts)
    whole = paper.high - MARGINS - SPARE - words_high(folder, cutting, number, tree, paper)
    high = 130.0  # its cuts go on overleaf
    if whole >= max(LOWER * min(125.0, usual), LOWEST, legible):  # all that is said of it stands below it
        high = min(125.0, max(usual, 80.0), whole)
    return draw_sheet(tree, folder.letter_of, folder.build.manner, paper.room, high, alt)


LOWER, LOWEST = 0.7, 75.0
"""By no more is a map made lower so that all that is said of its sheet stands on its page, and never below that [mm].
"""


def is_first(folder: Folder, cutting: Cutting, number: int) -> bool:
    """True of the sheet that stands below the section's heading and the legend."""
    return folder.cuttings[0] is cutting and number == 1


# How high what is printed comes out [mm]: what a sheet that is kept on a page leaves of it, the page's margins; the
# sheet's heading, the rims of its map with the caption, a line of the text, what is free below it, the rims of the
# table with its heads, a row of it set close, what one of several lines is less than these; the section's own heading.
SPARE, MARGINS, HEAD, RIMS, TEXT_LINE, BELOW, TABLE, ROW, LESS = 4.0, 34.0, 12.0, 8.5, 5.2, 0.9, 8.4, 5.9, 0.9
TITLE = 13.5


def words_high(folder: Folder, cutting: Cutting, number: int, tree: CutTree, paper: Paper) -> float:
    """How high all that stands with the map of a sheet comes out [mm]."""
    room = paper.room
    texts = words_below(folder, cutting, number, tree)
    texts = (f"Pieces on this {cutting.stock.form}: {pieces_said(folder, tree)}.", *texts)
    high = HEAD + RIMS + sum(TEXT_LINE * lines_in(closely(text), 11.5, room) + BELOW for text in texts)
    if is_first(folder, cutting, number):
        high += TITLE + LINE * lines_in(legend_of(folder), 10.5, room)
    table = cuts_of(folder, cutting, tree)
    wide = (room - 6.0) / 2
    rows = [max(ROW, LINE * lines_of_table(replace(table, rows=(row,)), wide) - LESS) for row in table.rows]
    half = -(-len(rows) // 2)
    return high + TABLE + max(sum(rows[:half]), sum(rows[half:]))


LEGIBLE = 3.2
"""A blank that would come out narrower has its map larger [mm]."""


def cut_row(
    cut: Cut, tree: CutTree, letters: Mapping[str, str], manner: Manner, step: int | None = None
) -> tuple[str | Tick | Large, ...]:
    """One cut: its number, how, what the fence or stop is set to (or the step that has it measured), what it frees."""
    if step is not None:
        stands: str | Large = f"{cut.way}: step {step}"
    elif cut.setting is not None:
        stands = Large(said(cut.setting, manner, bare=manner.unit == "mm"), str(cut.way), beside=True)
    elif cut.purpose is Purpose.TRIM:
        stands = f"{cut.way}, just clean"
    else:
        piece = next(piece for piece in tree.pieces if piece.number == cut.piece)
        line = cut.at - (piece.y if cut.way is Way.RIP else piece.x)
        stands = f"rough {cut.way}: line {said(line, manner)} from the {edge_said(cut, tree)}"
    return (str(cut.number), Tick(), stands, freed_said(cut, tree, letters))


def edge_said(cut: Cut, tree: CutTree, trimmed: bool = False) -> str:
    """The edge of its piece that a cut is measured from, or that it trims: "near edge", "sawn left end"."""
    piece = next(piece for piece in tree.pieces if piece.number == cut.piece)
    rip = cut.way is Way.RIP
    start, size, whole = (piece.y, piece.wide, tree.sheet.wide) if rip else (piece.x, piece.long, tree.sheet.long)
    is_far = trimmed and cut.at - start > start + size - cut.at - cut.kerf
    name = ("near edge", "far edge")[is_far] if rip else ("left end", "right end")[is_far]
    off = whole - start - size if is_far else start
    return name if off <= 0 else f"{'trimmed' if off <= ONLY_TRIMMED else 'sawn'} {name}"


ONLY_TRIMMED = 26
"""What a trim takes off a sheet at most [mm]."""


def freed_said(cut: Cut, tree: CutTree, letters: Mapping[str, str]) -> str:
    """What a cut frees: pieces by letter, strips by the letters in them, what is kept, what is waste."""
    if cut.purpose is Purpose.TRIM:
        return f"the {edge_said(cut, tree, trimmed=True)}"
    words = [piece_said(number, tree, letters) for number in cut.frees]
    return "; ".join(word for word in words if word != "waste") or "waste"


def piece_said(number: int, tree: CutTree, letters: Mapping[str, str]) -> str:
    """A piece in words."""
    piece = next(piece for piece in tree.pieces if piece.number == number)
    if piece.blank:
        return letters.get(piece.blank, piece.blank)
    inside = blanks_inside(number, tree, letters)
    if inside:
        return f"strip for {', '.join(counted(inside))}"
    return "keep" if piece.keep or keeps_inside(number, tree) else "waste"


def inside(number: int, tree: CutTree) -> list[int]:
    """Numbers of all pieces that come out of a piece, itself first, in the order of the cuts."""
    found = [number]
    for cut in sorted(tree.cuts, key=lambda c: c.number):
        if cut.piece in found:
            found.extend(cut.frees)
    return found


def blanks_inside(number: int, tree: CutTree, letters: Mapping[str, str]) -> list[str]:
    """Letters of all blanks that come out of a piece."""
    numbers = inside(number, tree)
    by_number = {piece.number: piece for piece in tree.pieces}
    return [letters.get(by_number[n].blank, by_number[n].blank) for n in numbers if by_number[n].blank]


def keeps_inside(number: int, tree: CutTree) -> bool:
    """True where something worth keeping comes out of a piece."""
    numbers = inside(number, tree)
    return any(piece.keep for piece in tree.pieces if piece.number in numbers)


PAGE = Page("sheets", 60, "Sheet maps", make)
