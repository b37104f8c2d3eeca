"""Sheets as flat drawings: the sheet, its pieces with their letters, what is kept, and the line of every cut [mm]."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from storystick.exports.export import Piece
from storystick.exports.flat import Closed, Line, Mark
from storystick.exports.naming import plain
from storystick.model.cutting import CutTree, Way
from storystick.model.cutting import Piece as Rectangle
from storystick.shapes.outline import Outline, Point, rectangle

HIGH = 24.0  # letters on a sheet, where there is room [mm]

LAYER = " #"  # between a part's name and the number of its layer, in the key of a blank


@dataclass(frozen=True, slots=True)
class Word:
    """Text on a sheet: its lower left corner and its height [mm]."""

    text: str
    at: Point
    high: float


@dataclass(frozen=True, slots=True)
class SheetMap:
    """A sheet as a drawing: how its file is called, its size, marks, letters."""

    file: str
    size: Point
    marks: tuple[Mark, ...]
    words: tuple[Word, ...]


def sheet_maps(piece: Piece) -> Iterator[SheetMap]:
    """Every sheet and board that has a width; sticks cut by length have nothing to draw."""
    letters = {part.name: part.letter for part in piece.build.parts}
    for cutting in piece.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            if tree.sheet.wide > 0:
                yield _map(f"sheet-{plain(cutting.stock.name)}-{number}", tree, letters)


def _map(file: str, tree: CutTree, letters: Mapping[str, str]) -> SheetMap:
    size = (float(tree.sheet.long), float(tree.sheet.wide))
    marks: list[Mark] = [Closed("SHEET", rectangle(*size))]
    marks += [Closed("PIECE", _outline(one)) for one in tree.blanks]
    marks += [Closed("KEEP", _outline(one)) for one in tree.leftovers]
    marks += _cuts(tree)
    return SheetMap(file, size, tuple(marks), tuple(_word(one, letters) for one in tree.blanks))


def _word(one: Rectangle, letters: Mapping[str, str]) -> Word:
    """A piece's letter in its lower left corner, small enough to stay inside."""
    high = min(HIGH, float(min(one.long, one.wide)) / 3)
    key = one.blank.partition(LAYER)[0]
    return Word(letters.get(key) or key, (float(one.x) + high, float(one.y) + high), high)


def label(key: str, letters: Mapping[str, str]) -> str:
    """The letter and name of what a blank becomes; a layer of a part has a number after the part's name."""
    return f"{letters.get(key.partition(LAYER)[0], '')} {key}".strip()


def _outline(one: Rectangle) -> Outline:
    return rectangle(float(one.long), float(one.wide), (float(one.x), float(one.y)))


def _cuts(tree: CutTree) -> Iterator[Mark]:
    """The near side of each kerf, from edge to edge of the piece that is cut, in the order of the cuts."""
    pieces = {one.number: one for one in tree.pieces}
    for cut in sorted(tree.cuts, key=lambda one: one.number):
        of, at = pieces[cut.piece], float(cut.at)
        if cut.way is Way.RIP:
            yield Line("RIP", (float(of.x), at), (float(of.x + of.long), at))
        else:
            yield Line("CROSSCUT", (at, float(of.y)), (at, float(of.y + of.wide)))
