"""Boards being cut up: the pieces that are there, and each cut with its number, its place and what it frees."""

from dataclasses import dataclass, field
from fractions import Fraction

from storystick.layout.sheets.problem import SheetProblem
from storystick.model.cutting import Cut, CutTree, Piece, Purpose, Sheet, Way


@dataclass(eq=False, slots=True)
class Rectangle:
    """A piece in the making."""

    number: int
    x: Fraction
    y: Fraction
    long: Fraction
    wide: Fraction
    blank: str = ""
    turned: bool = False
    cut: bool = False


@dataclass(eq=False, slots=True)
class Board:
    """A board on the bench, or what is left of it."""

    sheet: Sheet
    copy: int
    pieces: list[Rectangle] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)

    def tree(self, problem: SheetProblem) -> CutTree:
        """What became of it; leftovers are kept that are as large as the problem asks."""
        keep = sorted((problem.keep_long, problem.keep_wide))
        pieces = []
        for one in self.pieces:
            low, high = sorted((one.long, one.wide))
            worth = not one.cut and not one.blank and low >= keep[0] and high >= keep[1]
            pieces.append(Piece(one.number, one.x, one.y, one.long, one.wide, one.blank, one.turned, worth))
        return CutTree(self.sheet, self.copy, tuple(pieces), tuple(self.cuts))


@dataclass(slots=True)
class Saw:
    """Numbers pieces and cuts over all boards: the number of the next piece, and of the last cut."""

    pieces: int = 0
    cuts: int = 0

    def piece(self, board: Board, x: Fraction, y: Fraction, long: Fraction, wide: Fraction) -> Rectangle:
        """A new piece of a board."""
        made = Rectangle(self.pieces, x, y, long, wide)
        self.pieces += 1
        board.pieces.append(made)
        return made

    def cut(
        self, board: Board, piece: Rectangle, way: Way, near: Fraction, kerf: Fraction, purpose: Purpose
    ) -> tuple[Rectangle | None, Rectangle | None]:
        """Cut a piece so that `near` of it is on the near side; what is left of it, near and far."""
        piece.cut = True
        self.cuts += 1
        rip = way is Way.RIP
        far = (piece.wide if rip else piece.long) - near - kerf
        first = last = None
        if rip:
            if near > 0:
                first = self.piece(board, piece.x, piece.y, piece.long, near)
            if far > 0:
                last = self.piece(board, piece.x, piece.y + near + kerf, piece.long, far)
            at = piece.y + near
        else:
            if near > 0:
                first = self.piece(board, piece.x, piece.y, near, piece.wide)
            if far > 0:
                last = self.piece(board, piece.x + near + kerf, piece.y, far, piece.wide)
            at = piece.x + near
        frees = tuple(one.number for one in (first, last) if one is not None)
        setting = near if purpose is Purpose.SIZE else None
        board.cuts.append(Cut(self.cuts, piece.number, way, at, kerf, setting, frees, purpose))
        return first, last
