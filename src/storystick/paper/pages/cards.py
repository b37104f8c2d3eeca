"""Part cards: one for each different part, with every cut dimensioned from its reference end and edge."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Bore, Notch, Side
from storystick.model.part import Part
from storystick.paper.blocks import Block, Column, Figure, Row, Table, Text, Whole
from storystick.paper.card import (
    BARE_SHARE,
    GAP,
    LINE,
    Card,
    Task,
    arranged,
    caption,
    head_high,
    lines_of_table,
    on_pages,
)
from storystick.paper.drawing.families import Family, families, places
from storystick.paper.drawing.pattern import has_pattern
from storystick.paper.drawing.sight import OPPOSITE
from storystick.paper.folder import Folder
from storystick.paper.forms import CardHead
from storystick.paper.lettering import lines_in, lines_of, rounding_key, said, set_width, word_widths
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import named, provisional, remarks, sizes

WORDS = (
    "Every distance is measured from the black dot: the reference end along the part, the reference edge (the V of the "
    "face mark) across it, the face into its thickness. Channels are measured to their near side, holes to their "
    "middle. A figure in a ring is the cut's line in the table, whose last number is the step that makes it. The back "
    "is drawn turned end for end. The long arrow is the grain."
)
BOTH = {Side.END: "both ends", Side.FAR_END: "both ends", Side.EDGE: "both edges", Side.FAR_EDGE: "both edges"}


FIRST = 19.8  # of the section's heading and what is free round the words below it [mm]


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """How to read a card, then a card for each letter."""
    tasks = [task_of(folder, letter, paper) for letter in folder.letters]
    cards = laid_out_cards(tasks, first_of(paper, folder.build.manner))
    for number, card in enumerate(cards):
        blocks = tuple(one_card(folder, tasks[number].letter, card))
        yield Whole(blocks) if number else Whole((Text(words_of(folder.build.manner), "quiet"), *blocks), first=True)


def laid_out_cards(tasks: Sequence[Task], first: float) -> list[Card]:
    """The cards of some parts on their pages; of page one so much is taken [mm]: the first is made for what is left."""
    return on_pages(tasks, [arranged(task, 0.0 if number else first) for number, task in enumerate(tasks)], first)


def words_of(manner: Manner) -> str:
    """How to read a card, and how its numbers are rounded."""
    return f"{WORDS} {rounding_key(manner)}"


def first_of(paper: Paper, manner: Manner) -> float:
    """What the section's heading and the words below it take of its first page [mm]."""
    return FIRST + LINE * lines_in(words_of(manner), 10.5, paper.room)


def one_card(folder: Folder, letter: str, drawn: Card) -> Iterator[Block]:
    """The head, the drawings, the table of cuts."""
    if not drawn.part.cuts:
        shown = drawn.rows[0][0]
        figure = Figure(shown.drawn, caption(drawn.part, shown))
        yield Row((narrowed(card_head(folder, letter)), figure), (1 - BARE_SHARE, BARE_SHARE))
        return
    yield card_head(folder, letter)
    for row in drawn.rows:
        figures = tuple(Figure(shown.drawn, caption(drawn.part, shown)) for shown in row)
        yield figures[0] if len(figures) == 1 else Row(figures)
    yield table_of(folder, drawn.part, drawn.room)


def table_of(folder: Folder, part: Part, room: float) -> Table:
    """The table of a part's cuts, in a room so wide [mm]."""
    manner = folder.build.manner
    return cut_table(families(part, manner), manner, told_of(folder, part), room)


def narrowed(head: CardHead) -> CardHead:
    """A head with its sizes one below the other; what else is told of the thickness goes below them."""
    *most, (thick, words) = head.sizes
    first, _, more = words.partition(", ")
    fine, _, stock = more.rpartition(", ")
    told = f"Of {stock}{f', {fine} thick' if fine else ''}."
    remarks = (told, *head.remarks) if more else head.remarks
    return replace(head, sizes=(*most, (thick, first)), remarks=remarks, narrow=True)


def card_head(folder: Folder, letter: str) -> CardHead:
    """Letter, names, count, sizes, remarks."""
    parts = folder.letters[letter]
    words = tuple(remarks(folder, letter, parts))
    fit = provisional(folder, parts[0])
    return CardHead(letter, named(folder, parts), len(parts), sizes(parts[0], folder.build.manner), words, fit)


def card(folder: Folder, letter: str, paper: Paper) -> Card:
    """The drawings of one letter's part, as small as stays easy to read."""
    return arranged(task_of(folder, letter, paper))


def task_of(folder: Folder, letter: str, paper: Paper) -> Task:
    """What is to be laid out on the card of a letter."""
    part, head = folder.letters[letter][0], card_head(folder, letter)
    if not part.cuts:
        beside = head_high(narrowed(head), (paper.room - GAP) * (1 - BARE_SHARE), is_narrow=True)
    else:
        beside = head_high(head, paper.room, is_narrow=False)
        beside += LINE * lines_of_table(table_of(folder, part, paper.room), paper.room)
    return Task(part, letter, folder.build.manner, paper, beside)


HEADS = ("from end", "from edge", "from face")


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a cut beside its place and size: what for, the number of the step that makes it, the bit."""

    use: str = ""
    step: str = ""
    bit: str = ""


BIT = re.compile(r"(\d[\d ./]* (?:mm|in)) .*\bbit$")
"""A bit by its size."""


def told_of(folder: Folder, part: Part) -> Mapping[str, Told]:
    """What is said of each cut of a part, by the cut's name."""
    found: dict[str, Told] = {}
    for cut in part.cuts:
        purpose = folder.purposes.get((part.name, cut.name))
        use = f"for {purpose.words} {said(purpose.fastener.length, folder.build.manner)}" if purpose else ""
        way = folder.ways.get((part.name, cut.name))
        bits = (BIT.match(setup.tool) for setup in way.setups) if way and isinstance(cut, Bore) else ()
        bit = next((one[1] for one in bits if one), "")
        found[cut.name] = Told(use, str(folder.made_in.get((part.name, cut.name), "")), bit)
    return found


def cut_table(
    alike: Sequence[Family], manner: Manner, told: Mapping[str, Told] = MappingProxyType({}), room: float = 169.0
) -> Table:
    """Every cut of a part: number, what it is and what it is for, where, how big, how deep, where it is made."""
    rows = [
        row
        for family, number, side in once_for_both(alike)
        for row in cut_rows(family, number, side, manner, [told.get(cut.name, Told()) for cut in family.cuts])
    ]
    used = [axis for axis in range(3) if any(where[axis] for _, where, _ in rows)]
    heads = ("cut", *(HEADS[axis] for axis in used), "wide x long", "depth", "step")
    if not any(end[-1] for _, _, end in rows):
        heads, rows = heads[:-1], [(start, where, end[:-1]) for start, where, end in rows]
    cells = tuple((*start, *(where[axis] for axis in used), *end) for start, where, end in rows)
    numbers = max((set_width(row[0], POINTS) for row in cells), default=0.0) + CELL
    shares = shares_for([row[1:] for row in (("", *heads), *cells)], room - numbers)
    columns = (Column("", 0, "right"), *(Column(head, share) for head, share in zip(heads, shares, strict=True)))
    return Table(columns, cells, dense=True)


CELL, POINTS = 3.5, 10.5  # beside the words of a cell [mm]; size of the words
STEPS = (2.0, 4.0, 7.0, 11.0, 16.0)  # by which a column is tried wider [mm]


def shares_for(rows: Sequence[Sequence[str]], whole: float) -> list[float]:
    """Widths of columns: whole texts where there is room, else the widths that make the table least high.

    rows  the heads first: these are never broken;  whole  the width to share out [mm]
    """
    space = set_width(" ", POINTS)
    heads, *cells = rows
    words = [[word_widths(text, POINTS) for text in column] for column in zip(*cells, strict=True)]
    names = [set_width(head, POINTS) + CELL for head in heads]
    wanted = [max(sum(cell) + space * len(cell) for cell in column) + CELL for column in words]
    wanted = [max(pair) for pair in zip(wanted, names, strict=True)]
    if sum(wanted) <= whole:
        return [round(width, 1) for width in wanted]
    least = [max((max(cell, default=0.0) for cell in column), default=0.0) + CELL for column in words]
    widths = [max(pair) for pair in zip(least, names, strict=True)]

    def lines_at(n: int, width: float) -> list[int]:
        return [lines_of(cell, space, width - CELL) for cell in words[n]]

    lines = [lines_at(n, width) for n, width in enumerate(widths)]
    while True:
        room, high = whole - sum(widths), height(lines)
        gains = [
            ((high - height([*lines[:n], lines_at(n, widths[n] + more), *lines[n + 1 :]])) / more, -more, n)
            for n in range(len(words))
            for more in STEPS
            if more <= room
        ]
        gain, less, n = max(gains, default=(0.0, 0.0, 0))
        if gain <= 0:
            return [round(width, 1) for width in widths]
        widths[n] -= less
        lines[n] = lines_at(n, widths[n])


def height(lines: Sequence[Sequence[int]]) -> float:
    """Lines of all rows, each as high as its highest cell; the others count a little, so that they get room too."""
    return float(sum(max(row) + 0.1 * sum(row) for row in zip(*lines, strict=True)))


def once_for_both(alike: Sequence[Family]) -> Iterator[tuple[Family, str, str]]:
    """Families with their numbers and sides; one line for two opposite ends or edges that are cut alike."""
    done: set[int] = set()
    for family in alike:
        if family.number in done:
            continue
        twin = next((other for other in alike if is_twin(family, other)), None) if family.side in BOTH else None
        if twin is not None:
            done.add(twin.number)
            yield family, f"{family.number}, {twin.number}", f", {BOTH[family.side]}, {len(family.cuts)} each"
        else:
            yield family, str(family.number), "" if family.side is Side.FACE else f", {family.side.value}"


def is_twin(family: Family, other: Family) -> bool:
    """True where one is cut in the opposite side exactly as the other is in its own."""

    def told(one: Family) -> tuple[object, ...]:
        rows = [[[d.value for d in ds] for ds in row] for row in places(one)]
        return (one.called, one.size, one.depth, len(one.cuts), rows)

    return other.number > family.number and other.side is OPPOSITE[family.side] and told(family) == told(other)


type CutRow = tuple[tuple[str, str], list[str], tuple[str, ...]]


def cut_rows(family: Family, number: str, side: str, manner: Manner, told: Sequence[Told]) -> Iterator[CutRow]:
    """Rows of one family: number and name, distances along length, width and thickness, size, depth, step."""
    count = f"{len(family.cuts)} x " if len(family.cuts) > 1 and " each" not in side else ""
    use = " and ".join(dict.fromkeys(one.use for one in told if one.use))
    made = ", ".join(dict.fromkeys(one.step for one in told if one.step))
    name = f"{count}{family.called}{side}{f', {use}' if use else ''}"
    start: tuple[str, str] = (number, name)
    size = with_bit(family.size, told)
    if isinstance(family.cuts[0], Notch) and has_pattern(family.cuts[0]):
        size = "; ".join(word for word in (size, "see its pattern") if word)
    end: tuple[str, ...] = (size, family.depth, made)
    for first, second in places(family):
        where = ["", "", ""]
        between = " to " if isinstance(family.cuts[0], Notch) and len(first) == len(second) == 2 else ", "
        for axis, lengths in zip(family.side.axes, (first, second), strict=True):
            where[axis] = listed(lengths, manner, between)
        yield start, where, end
        start, end = (number, ""), ("", "", "")  # the number again: a row may go on overleaf


def with_bit(size: str, told: Sequence[Told]) -> str:
    """The size of a hole, with the bit that is at hand for it where that has another."""
    bits = list(dict.fromkeys(one.bit for one in told))
    known = size.replace('"', " in")
    other = len(bits) == 1 and bits[0] and " dia." in size and not known.startswith(f"{bits[0]} ")
    return f"{size}; {bits[0]} bit" if other else size


def listed(lengths: Sequence[Dim], manner: Manner, between: str) -> str:
    """Several distances in a row."""
    return between.join(said(length, manner, bare=True) for length in lengths)


PAGE = Page("cards", 80, "Part cards", make)
