"""What must hold of a layout that one person saws, whatever the plan: looked at cut by cut, apart from any search."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.model.cutting import Cut, CutTree, Layout, Piece, Purpose, Sheet, Way
from storystick.shop.shop import Saw, Shop


def _saw(kind: str, kerf: str, rip: int, crosscut: int, narrowest: int) -> Saw:
    return Saw(
        kind, kind, Fraction(kerf), Fraction(60), None, Fraction(rip), Fraction(crosscut), Fraction(narrowest)
    )


TABLE, SMALL = _saw("table saw", "3", 630, 600, 50), _saw("table saw", "3", 300, 300, 50)
TRACK = _saw("track saw", "2.2", 2440, 1220, 100)


def factory_edges(tree: CutTree, trim: Fraction, ends_only: bool = False) -> Iterator[str]:
    """Blanks that reach into what is sawn off the factory edges first."""
    sheet = tree.sheet
    if sheet.sawn:
        return
    for piece in tree.blanks:
        along = piece.x < trim or piece.x + piece.long > sheet.long - trim
        across = piece.y < trim or piece.y + piece.wide > sheet.wide - trim
        if along or (across and not ends_only):
            yield f"{piece.blank} has a factory edge"


def too_heavy(tree: CutTree, weight: Fraction, most: Fraction) -> Iterator[str]:
    """Pieces that are brought to a size while they are still heavier than can be lifted; weight in kg/mm2."""
    pieces = by_number(tree)
    for cut in tree.cuts:
        if cut.purpose is Purpose.SIZE and pieces[cut.piece].area * weight > most:
            yield f"cut {cut.number} is made on {float(pieces[cut.piece].area * weight):.1f} kg"


def rough_edges(tree: CutTree, kerf: Fraction) -> Iterator[str]:
    """Blanks with an edge that only the rough saw made, and rough cuts without its kerf."""
    pieces = by_number(tree)
    for cut in tree.cuts:
        if cut.purpose is not Purpose.BREAKDOWN:
            continue
        if abs(cut.kerf - kerf) > Fraction(1, 100):
            yield f"cut {cut.number} has a kerf of {float(cut.kerf)}"
        broken = pieces[cut.piece]
        for one in tree.blanks:
            if not lies_in(one, broken):
                continue
            low, high = (one.y, one.y + one.wide) if cut.way is Way.RIP else (one.x, one.x + one.long)
            if high == cut.at or low == cut.at + cut.kerf:
                yield f"{one.blank} has the rough edge of cut {cut.number}"


def beyond(tree: CutTree, saw: Saw) -> set[int]:
    """Numbers of the cuts to size that a saw is too small for, the fence on whichever side is less."""
    pieces, found = by_number(tree), set()
    for cut in tree.cuts:
        piece = pieces[cut.piece]
        if cut.purpose is not Purpose.SIZE:
            continue
        most = saw.rip if cut.way is Way.RIP else saw.crosscut
        reach = min(cut.setting or 0, piece.wide) if cut.way is Way.RIP else piece.wide
        if most is not None and reach > most:
            found.add(cut.number)
    return found


def narrow_both_sides(tree: CutTree, least: Fraction) -> set[int]:
    """Numbers of the rips with less than `least` on both sides of the blade."""
    found = set()
    for cut in tree.cuts:
        if cut.way is Way.RIP and cut.purpose is Purpose.SIZE:
            near, far = sides(cut, by_number(tree)[cut.piece])
            if near < least and far < least:
                found.add(cut.number)
    return found


def sides(cut: Cut, piece: Piece) -> tuple[Fraction, Fraction]:
    """What a rip leaves on the near side and on the far side."""
    near = cut.at - piece.y
    return near, piece.wide - near - cut.kerf


def by_number(tree: CutTree) -> dict[int, Piece]:
    return {piece.number: piece for piece in tree.pieces}


def lies_in(one: Piece, other: Piece) -> bool:
    return (
        other.x <= one.x and one.x + one.long <= other.x + other.long
        and other.y <= one.y and one.y + one.wide <= other.y + other.wide
    )  # fmt: skip


def numbers_in(notes: Sequence[str], word: str) -> set[int]:
    """The numbers of cuts that a note names, before a word that it has."""
    found = set()
    for note in notes:
        if word in note and note.startswith(("cut ", "cuts ")):
            head = note.split(word)[0].split(" is ")[0].split(" are ")[0].split(" leave")[0]
            found |= {int(one) for one in head.replace(",", " ").split() if one.isdecimal()}
    return found


def copies_used(layout: Layout, sheets: Sequence[Sheet]) -> Iterator[str]:
    """Sheets of which more are used than there are."""
    for sheet in sheets:
        used = sum(tree.sheet == sheet for tree in layout.trees)
        if sheet.copies is not None and used > sheet.copies:
            yield f"{used} of {sheet.name}"


def lifted(shop: Shop) -> Fraction:
    """What all who are there lift together [kg]."""
    return shop.lift * (1 + shop.helpers)
