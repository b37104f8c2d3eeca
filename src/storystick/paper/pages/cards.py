"""Part cards: one for each different part, with every cut dimensioned from its reference end and edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Notch, Side
from storystick.model.part import Part
from storystick.paper.blocks import Block, CardHead, Column, Figure, NewPage, Table, depth_of
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.families import Family, families, places
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.side import draw_side
from storystick.paper.drawing.sight import FLAT, runs_rightward, sides_to_draw
from storystick.paper.folder import Folder
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper

HEAD, CAPTION = 32.0, 9.5  # of a card's head without remarks, of what is round a drawing [mm]
LATER = 95.0  # of a drawing on a card's second page [mm]
LARGE_ENOUGH = 60.0  # below this a side with all its numbers gets cramped [mm]
SEEN = {
    Side.FACE: "face",
    Side.BACK: "back, turned end for end",
    Side.EDGE: "reference edge",
    Side.FAR_EDGE: "far edge",
    Side.END: "reference end",
    Side.FAR_END: "far end",
}


@dataclass(frozen=True)
class Card:
    """A part's drawings, each with the side it shows."""

    part: Part
    drawings: tuple[tuple[Side, Drawn], ...]


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A card for each letter; one begins a new page unless it goes on the page begun."""
    used = 0.0
    for letter in folder.letters:
        blocks = list(one_card(folder, letter, paper))
        high = sum(height_of(block, paper) for block in blocks)
        if used and used + high > paper.depth:
            yield NewPage()
            used = 0.0
        used += high
        yield from blocks


def height_of(block: Block, paper: Paper) -> float:
    """About how high a block of a card comes out [mm]."""
    match block:
        case CardHead(remarks=words, provisional=fit):
            return HEAD + 6.5 * len(words) + (8.0 if fit else 0.0)
        case Figure(drawn=drawn):
            return drawn.high + CAPTION
        case Table():
            return depth_of(block, paper.room)
        case _:
            return 0.0


def one_card(folder: Folder, letter: str, paper: Paper) -> Iterator[Block]:
    """The head, the first side, the table of cuts, the other sides."""
    yield card_head(folder, letter)
    part = folder.letters[letter][0]
    first, *others = card(folder, letter, paper).drawings
    yield Figure(first[1], caption(letter, part, *first))
    alike = families(part, folder.build.manner)
    if alike:
        yield cut_table(alike, folder.build.manner)
    for side, drawn in others:
        yield Figure(drawn, caption(letter, part, side, drawn))


def card_head(folder: Folder, letter: str) -> CardHead:
    """Letter, names, count, sizes, remarks."""
    parts = folder.letters[letter]
    fit = f"Cut it to fit {parts[0].fit_to}; the sizes here are for buying only." if parts[0].fit_to else ""
    words = tuple(remarks(folder, letter, parts))
    return CardHead(letter, named(folder, parts), len(parts), sizes(parts[0], folder.build.manner), words, fit)


def card(folder: Folder, letter: str, paper: Paper) -> Card:
    """The drawings of one letter's part."""
    part = folder.letters[letter][0]
    sides = sides_to_draw(part)
    first, later = rooms(folder, letter, paper, sides)
    manner = folder.build.manner
    drawn = (
        draw_side(part, side, manner, paper.room, later if number else first, letter)
        for number, side in enumerate(sides)
    )
    return Card(part, tuple(zip(sides, drawn, strict=True)))


def rooms(folder: Folder, letter: str, paper: Paper, sides: Sequence[Side]) -> tuple[float, float]:
    """How high the drawing of the first side may be, and of each other one [mm].

    The whole card goes on one page if its drawings stay large enough; else the first one with the table, the others on
    the next page.
    """
    part = folder.letters[letter][0]
    if not part.cuts:
        alone = paper.depth * 0.5 - HEAD - 13.0 - CAPTION
        return alone, alone
    table = cut_table(families(part, folder.build.manner), folder.build.manner)
    left = paper.depth - height_of(card_head(folder, letter), paper) - depth_of(table, paper.room)
    flat = sum(side in FLAT for side in sides)
    shared = (left - (40.0 + CAPTION) * (len(sides) - flat)) / flat - CAPTION
    if shared >= LARGE_ENOUGH:
        return shared, shared
    return max(50.0, left - CAPTION), LATER


def named(folder: Folder, parts: Sequence[Part]) -> str:
    """The names that go by one letter; a number only, where they are many."""
    names = [folder.short(part.name) for part in parts]
    return ", ".join(names) if len(names) <= 3 else f"{parts[0].role}: {', '.join(names[:2])} and {len(names) - 2} more"


def sizes(part: Part, manner: Manner) -> tuple[tuple[str, str], ...]:
    """Length, width and thickness with their words."""
    return tuple((said(size, manner), word) for size, word in zip(part.size, ("long", "wide", "thick"), strict=True))


def remarks(folder: Folder, letter: str, parts: Sequence[Part]) -> Iterator[str]:
    """What else is to know: stock, layers, grain, bands, its mirror image."""
    part = parts[0]
    words = [f"From {part.stock.name}."]
    if part.layers > 1:
        words.append(f"Glued up from {part.layers} layers.")
    if part.turnable:
        words.append("The grain may run either way.")
    if part.match:
        words.append(f"Grain follows on from part to part: {part.match}.")
    if part.banded:
        words.append(f"Banded: {', '.join(part.banded)}.")
    yield " ".join(words)
    hands = {one.is_left_handed for one in parts}
    if len(hands) > 1:
        other = [folder.short(one.name) for one in parts if one.is_left_handed != part.is_left_handed]
        yield f"Make {', '.join(other)} as the mirror image of this drawing."
    twin = twin_of(folder, letter)
    if twin:
        yield f"A mirror image of part {twin}: lay the two face to face, all cuts meet."
    yield from part.notes


def twin_of(folder: Folder, letter: str) -> str:
    """The letter of the part that is this one's mirror image; "" if there is none."""
    part = folder.letters[letter][0]
    if not part.cuts:
        return ""
    for other, parts in folder.letters.items():
        one = parts[0]
        if other != letter and one.is_left_handed != part.is_left_handed and outline(one) == outline(part):
            return other
    return ""


def outline(part: Part) -> tuple[object, ...]:
    """What a part and its mirror image have in common."""
    plain = Manner("mm", decimals=4)
    cuts = sorted(
        (
            family.side.value,
            family.called,
            family.size,
            family.depth,
            repr([[[str(d.value) for d in ds] for ds in row] for row in places(family)]),
        )
        for family in families(part, plain)
    )
    return (part.stock.name, tuple(size.value for size in part.size), tuple(cuts))


def caption(letter: str, part: Part, side: Side, drawn: Drawn) -> str:
    """Which side is seen, which way round, at which scale, and where the distances start."""
    hand = "left" if runs_rightward(part, side) else "right"
    start = "reference edge" if side in (Side.END, Side.FAR_END) else "reference end"
    below = "reference edge" if side in FLAT else "face"
    shown = f"{letter}: {SEEN[side]}, {scale_said(drawn.scale)}."
    return f"{shown} Measured from the {start} ({hand}) and the {below} (below)."


HEADS = ("from end", "from edge", "from face")


def cut_table(alike: Sequence[Family], manner: Manner) -> Table:
    """Every cut of a part: number, what it is, where, how big, how deep."""
    rows = [row for family in alike for row in cut_rows(family, manner)]
    used = [axis for axis in range(3) if any(where[axis] for _, where, _ in rows)]
    columns = (
        Column("", 0, "right"),
        Column("cut", 1.5),
        *(Column(HEADS[axis], 1.3) for axis in used),
        Column("size", 1.4),
        Column("depth", 0.65),
    )
    return Table(columns, tuple((*start, *(where[axis] for axis in used), *end) for start, where, end in rows))


type Row = tuple[tuple[str, str], list[str], tuple[str, str]]


def cut_rows(family: Family, manner: Manner) -> Iterator[Row]:
    """Rows of one family: number and name, distances along length, width and thickness, size and depth."""
    count = f"{len(family.cuts)} x " if len(family.cuts) > 1 else ""
    side = "" if family.side is Side.FACE else f", {family.side.value}"
    start, end = (str(family.number), f"{count}{family.called}{side}"), (family.size, family.depth)
    for first, second in places(family):
        where = ["", "", ""]
        between = " to " if isinstance(family.cuts[0], Notch) and len(first) == len(second) == 2 else ", "
        for axis, lengths in zip(family.side.axes, (first, second), strict=True):
            where[axis] = listed(lengths, manner, between)
        yield start, where, end
        start, end = ("", ""), ("", "")


def listed(lengths: Sequence[Dim], manner: Manner, between: str) -> str:
    """Several distances in a row."""
    return between.join(said(length, manner, bare=True) for length in lengths)


PAGE = Page("cards", 80, "Part cards", make)
