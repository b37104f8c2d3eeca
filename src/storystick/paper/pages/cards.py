"""Part cards: one for each different part, with every cut dimensioned from its reference end and edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Side
from storystick.model.part import Part
from storystick.paper.blocks import Blank, Block, CardHead, Cell, Column, Figure, NewPage, Table
from storystick.paper.drawing.families import Family, families, places
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.side import Drawn, draw_side, runs_rightward, sides_to_draw
from storystick.paper.folder import Folder
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper

SEEN = {
    Side.FACE: ("Face", "reference edge below"),
    Side.BACK: ("Back", "turned end for end, reference edge still below"),
    Side.EDGE: ("Reference edge", "the face is below"),
    Side.FAR_EDGE: ("Far edge", "the face is below"),
    Side.END: ("Reference end", "the face is below"),
    Side.FAR_END: ("Far end", "the face is below"),
}


@dataclass(frozen=True)
class Card:
    """A part's drawings, each with the side it shows."""

    part: Part
    drawings: tuple[tuple[Side, Drawn], ...]


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A card for each letter. Cards of plain parts share a page, those with cuts start one."""
    before = 0
    for letter, parts in folder.letters.items():
        part = parts[0]
        weight = 2 if part.cuts else 1
        if before + weight > 2:
            yield NewPage()
            before = 0
        before += weight
        yield CardHead(
            letter, named(folder, parts), len(parts), sizes(part, folder.build.manner), tuple(remarks(folder, letter, parts)),
            f"Cut it to fit {part.fit_to}; the sizes here are for buying only." if part.fit_to else "",
        )  # fmt: skip
        for side, drawn in card(folder, letter, paper).drawings:
            yield Figure(drawn, caption(part, side, drawn))
        alike = families(part, folder.build.manner)
        if alike:
            yield cut_table(alike, folder.build.manner)
        yield Table(
            tuple(Column(word, 1) for word in ("as cut: length", "width", "thickness", "date")),
            (tuple(Blank(32) for _ in range(4)),),
        )


def card(folder: Folder, letter: str, paper: Paper) -> Card:
    """The drawings of one letter's part."""
    part = folder.letters[letter][0]
    sides = sides_to_draw(part)
    flat = [side for side in sides if side in (Side.FACE, Side.BACK)]
    room = paper.depth - 42.0
    high = (room * 0.56, room * 0.40)[len(flat) - 1] if part.cuts else room * 0.40
    return Card(part, tuple((side, draw_side(part, side, folder.build.manner, paper.room, high, letter)) for side in sides))


def named(folder: Folder, parts: Sequence[Part]) -> str:
    """The names that go by one letter; a number only, where they are many."""
    names = [folder.short(part.name) for part in parts]
    return ", ".join(names) if len(names) <= 3 else f"{parts[0].role}: {', '.join(names[:2])} and {len(names) - 2} more"


def sizes(part: Part, manner: Manner) -> tuple[tuple[str, str], ...]:
    """Length, width and thickness with their words."""
    return tuple(
        (said(size, manner), word) for size, word in zip(part.size, ("long", "wide", "thick"), strict=True)
    )


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
        (family.side.value, family.called, family.size, family.depth, repr([[[str(d.value) for d in ds] for ds in row] for row in places(family)]))
        for family in families(part, plain)
    )
    return (part.stock.name, tuple(size.value for size in part.size), tuple(cuts))


def caption(part: Part, side: Side, drawn: Drawn) -> str:
    """Which side is seen, which way round, at which scale, and where the distances start."""
    word, lies = SEEN[side]
    hand = "left" if runs_rightward(part, side) else "right"
    if side in (Side.END, Side.FAR_END):
        start = f"Distances start at the reference edge ({hand}) and the face."
    elif side in (Side.FACE, Side.BACK):
        start = f"Distances start at the reference end ({hand}) and the reference edge."
    else:
        start = f"Distances start at the reference end ({hand}) and the face."
    return f"{word}, {lies}; {scale_said(drawn.scale)}. {start}"


def cut_table(alike: Sequence[Family], manner: Manner) -> Table:
    """Every cut of a part: number, what it is, where, how big, how deep."""
    rows: list[tuple[Cell, ...]] = []
    for family in alike:
        count = f"{len(family.cuts)} x " if len(family.cuts) > 1 else ""
        side = "" if family.side is Side.FACE else f", {family.side.value}"
        for i, (first, second) in enumerate(places(family)):
            a, b = family.side.axes
            heads = ("from end", "from edge", "from face")
            where = ["", "", ""]
            where[a], where[b] = listed(first, manner), listed(second, manner)
            if a != 0 or b != 1:
                where = [f"{text} {heads[j]}" if text and j == 2 else text for j, text in enumerate(where)]
            across = " ".join(text for text in where[1:] if text)
            what = f"{count}{family.called}{side}" if i == 0 else ""
            rows.append((str(family.number) if i == 0 else "", what, where[0], across, family.size if i == 0 else "", family.depth if i == 0 else ""))
    columns = (
        Column("", 0, "right"), Column("cut", 1.5), Column("from end", 1.4), Column("from edge", 0.9), Column("size", 1.5),
        Column("depth", 0.7),
    )  # fmt: skip
    return Table(columns, tuple(rows))


def listed(lengths: Sequence[Dim], manner: Manner) -> str:
    """Several distances in a row."""
    return ", ".join(said(length, manner, bare=True) for length in lengths)


PAGE = Page("cards", 80, "Part cards", make)
