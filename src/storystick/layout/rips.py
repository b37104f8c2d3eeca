"""Strips that are too narrow to run along the fence: ripped off a board that does, one after another, at one setting.

The board lies against the fence and the strip falls free on the other side of the blade. So each rip must leave the
board at least as wide as what the saw rips with the hands clear.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.ground.source import practice
from storystick.layout.sheets import SheetProblem
from storystick.layout.sheets.sawn import Board, Rectangle, Saw
from storystick.model.cutting import Blank, Cut, CutTree, Layout, Purpose, Sheet, Way, from_units, units_up

SAFE = practice("no piece narrower than the saw rips with the hands clear runs between blade and fence")


def unsafe_rips(layout: Layout, narrowest: Fraction) -> tuple[int, ...]:
    """Numbers of the rips that are narrow on both sides, so that nothing wide runs along the fence. Source: SAFE."""
    found = []
    for tree in layout.trees:
        pieces = {piece.number: piece for piece in tree.pieces}
        for cut in tree.cuts:
            sizes = cut.way is Way.RIP and cut.purpose is Purpose.SIZE
            if sizes and max(pieces[number].wide for number in cut.frees) < narrowest:
                found.append(cut.number)
    return tuple(sorted(found))


def is_narrow(blank: Blank, narrowest: Fraction) -> bool:
    """Whether a blank is a strip to be ripped off a wider board along the grain."""
    return blank.wide < narrowest and blank.along_grain is not False and not blank.strip


def with_strips(layout: Layout, narrow: Sequence[Blank], problem: SheetProblem) -> Layout:
    """The layout with narrow blanks ripped off what it leaves, and then off further boards of the problem.

    Everything off one board if one is large enough for it: cheapest first, what is left over before anything new.
    Blanks that no board is left for are named in the layout's `unplaced`.
    """
    return _Ripping(layout, problem).placed(narrow)


@dataclass(frozen=True, eq=False, slots=True)
class _Room:
    """Where strips can be ripped off: a leftover of a board that is begun, or a board that is not."""

    board: Board
    rest: Rectangle | None
    long: Fraction
    wide: Fraction
    cost: Fraction


type _Strips = list[tuple[Fraction, list[Blank]]]
"""Strips in order from the near edge: how wide, and what is crosscut out of each, the longest first."""


class _Ripping:
    """Strips found a place, then sawn."""

    def __init__(self, layout: Layout, problem: SheetProblem) -> None:
        self.problem = problem
        self.kerf = from_units(units_up(problem.kerf))
        self.least = problem.limits.narrowest_rip
        self.unplaced = layout.unplaced
        self.boards = [_begun(tree) for tree in layout.trees]
        pieces = max((piece.number for tree in layout.trees for piece in tree.pieces), default=-1) + 1
        self.saw = Saw(pieces, max((cut.number for cut in layout.cuts), default=0))

    def placed(self, narrow: Sequence[Blank]) -> Layout:
        """Every strip ripped off something."""
        whole = (replace(b, long=_whole(b.long), wide=_whole(b.wide)) for b in narrow)
        left = sorted(whole, key=lambda b: (-b.wide, -b.long, b.key))
        chosen: list[tuple[_Room, _Strips]] = []
        while left:
            best = self._best(left, [room.rest for room, _ in chosen if room.rest is not None])
            if best is None:
                break
            room, strips = best
            if room.rest is None:
                self.boards.append(room.board)
            chosen.append(best)
            done = {blank.key for _, blanks in strips for blank in blanks}
            left = [blank for blank in left if blank.key not in done]
        self._saw(chosen)
        unplaced = {*self.unplaced, *(blank.key for blank in left)}
        keys = tuple(blank.key for blank in self.problem.blanks if blank.key in unplaced)
        return Layout(tuple(board.tree(self.problem) for board in self.boards), keys)

    def _best(self, left: Sequence[Blank], taken: Sequence[Rectangle]) -> tuple[_Room, _Strips] | None:
        """One that everything comes off, the cheapest; else the one that gives most for its money."""
        best: tuple[tuple[bool, Fraction, Fraction], _Room, _Strips] | None = None
        for room in self._rooms(taken):
            strips = self._fitted(left, room)
            got = sum((blank.long for _, blanks in strips for blank in blanks), Fraction(0))
            if not got:
                continue
            whole = sum(len(blanks) for _, blanks in strips) == len(left)
            rank = (not whole, room.cost if whole or not room.cost else room.cost / got, room.long * room.wide / got)
            if best is None or rank < best[0]:
                best = (rank, room, strips)
        return None if best is None else best[1:]

    def _rooms(self, taken: Sequence[Rectangle]) -> Iterator[_Room]:
        for board in self.boards:
            low, high, front = self._clear(board.sheet)
            for piece in board.pieces:
                begun = not piece.cut and not piece.blank and piece not in taken
                if not begun or piece.x < low or piece.y < front or _spoilt(piece, board.sheet):
                    continue
                near, far = _rough(piece, board.cuts)
                end = min(piece.x + piece.long, high) - (self.problem.limits.rough_allowance if far else 0)
                if not near:
                    yield _Room(board, piece, end - piece.x, piece.wide, Fraction(0))
        for sheet in self.problem.sheets:
            used = sum(board.sheet == sheet for board in self.boards)
            low, high, front = self._clear(sheet)
            if (sheet.copies is None or used < sheet.copies) and not front and not sheet.defects:
                board = Board(sheet, used + 1)
                yield _Room(board, None, high - low, sheet.wide, sheet.cost)

    def _clear(self, sheet: Sheet) -> tuple[Fraction, Fraction, Fraction]:
        """Where a sheet is clear of its trimmed edges: from and to along it, and from across it."""
        trim = self.problem.trim
        if sheet.sawn:
            return Fraction(0), sheet.long, Fraction(0)
        return max(_whole(trim.left), self.kerf if trim.left else Fraction(0)), sheet.long - trim.right, trim.front

    def _fitted(self, left: Sequence[Blank], room: _Room) -> _Strips:
        """As many blanks as a room gives, the longest first, each in the first strip that has a place for it."""
        strips: _Strips = []
        wide = room.wide - self.least
        for blank in left:
            if blank.long > room.long:
                continue
            same = (one for width, one in strips if width == blank.wide)
            free = next((one for one in same if self._has_room(one, blank, room)), None)
            if free is not None:
                free.append(blank)
            elif blank.wide + self.kerf <= wide:
                wide -= blank.wide + self.kerf
                strips.append((blank.wide, [blank]))
        return strips

    def _has_room(self, strip: Sequence[Blank], blank: Blank, room: _Room) -> bool:
        return sum((one.long + self.kerf for one in strip), Fraction(0)) + blank.long <= room.long

    def _saw(self, chosen: Sequence[tuple[_Room, _Strips]]) -> None:
        """Ends trimmed, then setting after setting over all boards: rips, the widest first; crosscuts, the longest."""
        rests = []
        for room, strips in chosen:
            rest = room.rest
            if rest is None:
                sheet = room.board.sheet
                rest = self.saw.piece(room.board, Fraction(0), Fraction(0), sheet.long, sheet.wide)
                low = self._clear(sheet)[0]
                if low:
                    _, rest = self._cut(room.board, rest, Way.CROSSCUT, low - self.kerf, Purpose.TRIM)
            rests.append((room.board, rest, list(strips)))
        sawn: list[tuple[Board, Rectangle, list[Blank]]] = []
        for width in sorted({width for _, strips in chosen for width, _ in strips}, reverse=True):
            for number, (board, rest, waiting) in enumerate(rests):
                while waiting and waiting[0][0] == width:
                    strip, left = self._cut(board, rest, Way.RIP, width, Purpose.SIZE)
                    sawn.append((board, strip, waiting.pop(0)[1]))
                    rest = left
                rests[number] = (board, rest, waiting)
        for long in sorted({blank.long for _, _, blanks in sawn for blank in blanks}, reverse=True):
            for number, (board, strip, blanks) in enumerate(sawn):
                while blanks and blanks[0].long == long:
                    blank = blanks.pop(0)
                    if strip.long > long:
                        one, strip = self._cut(board, strip, Way.CROSSCUT, long, Purpose.SIZE)
                    else:
                        one = strip
                    one.blank = blank.key
                sawn[number] = (board, strip, blanks)

    def _cut(
        self, board: Board, piece: Rectangle, way: Way, near: Fraction, purpose: Purpose
    ) -> tuple[Rectangle, Rectangle]:
        """Cut a piece in two; where nothing is left on one side, the other one is given for both."""
        made = [one for one in self.saw.cut(board, piece, way, near, self.kerf, purpose) if one is not None]
        return made[0], made[-1]


def _whole(length: Fraction) -> Fraction:
    """A length rounded up to whole units."""
    return from_units(units_up(length))


def _begun(tree: CutTree) -> Board:
    cut = {one.piece for one in tree.cuts}
    pieces = [Rectangle(p.number, p.x, p.y, p.long, p.wide, p.blank, p.turned, p.number in cut) for p in tree.pieces]
    return Board(tree.sheet, tree.copy, pieces, list(tree.cuts))


def _rough(piece: Rectangle, cuts: Sequence[Cut]) -> tuple[bool, bool]:
    """Whether a near edge of a piece is rough from the first breakdown; whether its far end is."""
    near = far = False
    for cut in cuts:
        if cut.purpose is Purpose.BREAKDOWN:
            low, high = (piece.y, piece.y + piece.wide) if cut.way is Way.RIP else (piece.x, piece.x + piece.long)
            near = near or low == cut.at + cut.kerf
            far = far or (high == cut.at and cut.way is Way.CROSSCUT)
    return near, far


def _spoilt(piece: Rectangle, sheet: Sheet) -> bool:
    return any(
        piece.x < spot.x + spot.long and spot.x < piece.x + piece.long
        and piece.y < spot.y + spot.wide and spot.y < piece.y + piece.wide
        for spot in sheet.defects
    )  # fmt: skip
