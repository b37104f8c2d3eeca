"""Says what is wrong with a layout. Simple, in exact millimetres, and shares nothing with the search.

It takes the saw in hand: a sheet lies on the bench, each cut is made in its turn on the piece it names, and
what falls off is compared with what the layout says. Then it counts the blanks.
"""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from storystick.layout.sheets.problem import SheetProblem
from storystick.model.cutting import UNIT, Blank, Cut, CutTree, Layout, Piece, Purpose, Sheet, Trim, Way

GIVE = 2 * UNIT
"""Blanks and kerfs are rounded up and sheets down to whole units, so a piece may be this much larger than asked for."""


def refute(layout: Layout, problem: SheetProblem) -> Iterator[str]:
    """Everything that is wrong with a layout as an answer to a problem, as sentences; nothing, if it can be cut."""
    yield from _wrong_numbers(layout)
    yield from _wrong_stock(layout, problem)
    blanks = {blank.key: blank for blank in problem.blanks}
    for tree in layout.trees:
        yield from _wrong_cuts(tree, problem)
        yield from _wrong_pieces(tree, problem, blanks)
    yield from _wrong_count(layout, problem)
    yield from _wrong_strips(layout, problem)


def refute_groups(layout: Layout, problem: SheetProblem) -> Iterator[str]:
    """Which wishes of groups a layout does not meet: one sheet, one setting. It can be cut all the same."""
    sheets: dict[str, set[int]] = {}
    where = {piece.blank: number for number, tree in enumerate(layout.trees) for piece in tree.blanks}
    for blank in problem.blanks:
        if blank.sheet_group and blank.key in where:
            sheets.setdefault(blank.sheet_group, set()).add(where[blank.key])
    for group, numbers in sorted(sheets.items()):
        if len(numbers) > 1:
            yield f"the blanks of {group} come from {len(numbers)} sheets."
    turns: dict[tuple[str, Way, Fraction], set[int]] = {}
    stretch = {cut: number for number, setting in enumerate(layout.settings) for cut in setting.cuts}
    groups = {blank.key: blank.setting_group for blank in problem.blanks if blank.setting_group}
    for tree in layout.trees:
        for piece in tree.blanks:
            if piece.blank in groups:
                for way in Way:
                    for cut in _sized_by(tree, piece, way):
                        turns.setdefault((groups[piece.blank], way, _size(piece, way)), set()).add(stretch[cut.number])
    for (group, way, size), numbers in sorted(turns.items()):
        if len(numbers) > 1:
            yield f"the blanks of {group} get their {way} at {float(size):.2f} mm at {len(numbers)} settings."


def _sized_by(tree: CutTree, piece: Piece, way: Way) -> Iterator[Cut]:
    """The cut that brought a piece to its size one way: the nearest one before it that left a piece of that size."""
    made_by = {number: cut for cut in tree.cuts for number in cut.frees}
    pieces = {one.number: one for one in tree.pieces}
    at = piece.number
    while at in made_by:
        cut = made_by[at]
        if cut.way == way:
            if cut.setting is not None and cut.setting == _size(pieces[at], way):
                yield cut
            return
        at = cut.piece


def _size(piece: Piece, way: Way) -> Fraction:
    return piece.wide if way is Way.RIP else piece.long


def _wrong_numbers(layout: Layout) -> Iterator[str]:
    numbers = [cut.number for cut in layout.cuts]
    if numbers != list(range(1, len(numbers) + 1)):
        yield "the cuts are not numbered 1, 2, 3 ... over the whole job."
    pieces = Counter(piece.number for tree in layout.trees for piece in tree.pieces)
    for number, times in pieces.items():
        if times > 1:
            yield f"piece {number} is there {times} times."


def _wrong_stock(layout: Layout, problem: SheetProblem) -> Iterator[str]:
    used = Counter(tree.sheet for tree in layout.trees)
    for sheet, times in used.items():
        if sheet not in problem.sheets:
            yield f"there is no sheet {sheet.name}."
        elif sheet.copies is not None and times > sheet.copies * problem.sheets.count(sheet):
            yield f"{times} of {sheet.name} are used, and there are {sheet.copies}."


def _wrong_cuts(tree: CutTree, problem: SheetProblem) -> Iterator[str]:
    """The cuts, made one after another on what lies on the bench."""
    pieces = {piece.number: piece for piece in tree.pieces}
    whole = tree.pieces[0]
    if whole.x or whole.y or (whole.long, whole.wide) != (tree.sheet.long, tree.sheet.wide):
        yield f"the first piece of {tree.sheet.name} is not the whole sheet."
    bench = {whole.number}
    for cut in sorted(tree.cuts, key=lambda c: c.number):
        if cut.piece not in bench:
            yield f"cut {cut.number}: piece {cut.piece} does not lie on the bench."
            continue
        bench.remove(cut.piece)
        yield from _wrong_cut(cut, pieces[cut.piece], pieces, problem)
        bench.update(number for number in cut.frees if number in pieces)
    for number in sorted(set(pieces) - bench - {cut.piece for cut in tree.cuts}):
        yield f"no cut leaves piece {number}."
    for number in sorted({cut.piece for cut in tree.cuts}):
        if number in pieces and (pieces[number].blank or pieces[number].keep):
            yield f"piece {number} is kept and yet cut up."


def _wrong_cut(cut: Cut, piece: Piece, pieces: dict[int, Piece], problem: SheetProblem) -> Iterator[str]:
    rough = cut.purpose is Purpose.BREAKDOWN
    kerf = problem.limits.rough_kerf if rough else problem.kerf
    if not kerf <= cut.kerf < kerf + UNIT:
        yield f"cut {cut.number}: its kerf is {float(cut.kerf):.3f} mm and not {float(kerf):.3f} mm."
    along = cut.way is Way.RIP
    start, size = (piece.y, piece.wide) if along else (piece.x, piece.long)
    near, far = cut.at - start, start + size - cut.at - cut.kerf
    if near < 0 or near >= size:
        yield f"cut {cut.number} does not go through piece {piece.number}."
        return
    left = []
    if near > 0:
        left.append((piece.x, piece.y, piece.long, near) if along else (piece.x, piece.y, near, piece.wide))
    if far > 0:
        begin = cut.at + cut.kerf
        left.append((piece.x, begin, piece.long, far) if along else (begin, piece.y, far, piece.wide))
    said = [pieces.get(number) for number in cut.frees]
    if [one and (one.x, one.y, one.long, one.wide) for one in said] != left:
        yield f"cut {cut.number} does not leave the pieces it says."
    if cut.purpose is Purpose.SIZE:
        if cut.setting is None or cut.setting not in (near, far):
            yield f"cut {cut.number}: no piece is as large as its setting."
    elif cut.setting is not None:
        yield f"cut {cut.number}: a cut along a line has no setting."


def _wrong_pieces(tree: CutTree, problem: SheetProblem, blanks: dict[str, Blank]) -> Iterator[str]:
    low_x, low_y, high_x, high_y = _clear_of_edges(tree.sheet, problem.trim)
    for piece in tree.blanks:
        blank = blanks.get(piece.blank)
        if blank is None:
            yield f"nobody asked for {piece.blank}."
            continue
        want = (blank.wide, blank.long) if piece.turned else (blank.long, blank.wide)
        if any(not asked <= have < asked + GIVE for asked, have in zip(want, (piece.long, piece.wide), strict=True)):
            yield f"{piece.blank} is {float(piece.long):.2f} by {float(piece.wide):.2f} mm, which is not its size."
        if blank.along_grain is not None and piece.turned == blank.along_grain:
            yield f"{piece.blank} lies across the grain it should lie along."
        right, back = piece.x + piece.long, piece.y + piece.wide
        if piece.x < low_x or piece.y < low_y or right > high_x or back > high_y:
            yield f"{piece.blank} reaches into the edge that is trimmed off."
        for spot in tree.sheet.defects:
            if piece.x < spot.x + spot.long and spot.x < right and piece.y < spot.y + spot.wide and spot.y < back:
                yield f"{piece.blank} has a defect in it."


def _clear_of_edges(sheet: Sheet, trim: Trim) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    off = Trim() if sheet.sawn else trim
    return off.left, off.front, sheet.long - off.right, sheet.wide - off.back


def _wrong_count(layout: Layout, problem: SheetProblem) -> Iterator[str]:
    cut = Counter(piece.blank for tree in layout.trees for piece in tree.blanks)
    for blank in problem.blanks:
        times = cut[blank.key]
        if times > 1:
            yield f"{blank.key} is cut {times} times."
        if (times == 0) != (blank.key in layout.unplaced):
            yield f"{blank.key} is not cut, and nothing says so." if times == 0 else f"{blank.key} is cut after all."


def _wrong_strips(layout: Layout, problem: SheetProblem) -> Iterator[str]:
    """Blanks of a strip lie in one line, one after another, a kerf apart."""
    at = {piece.blank: (number, piece) for number, tree in enumerate(layout.trees) for piece in tree.blanks}
    strips: dict[str, list[Blank]] = {}
    for blank in problem.blanks:
        if blank.strip and blank.key in at:
            strips.setdefault(blank.strip, []).append(blank)
    for name, members in sorted(strips.items()):
        members.sort(key=lambda blank: blank.place)
        for one, other in pairwise(members):
            (sheet, a), (other_sheet, b) = at[one.key], at[other.key]
            along_x = one.strip_across == a.turned
            gap, level = (b.x - a.x - a.long, a.y == b.y) if along_x else (b.y - a.y - a.wide, a.x == b.x)
            if sheet != other_sheet or not level or not problem.kerf <= gap < problem.kerf + UNIT:
                yield f"in strip {name}, {other.key} does not follow {one.key}."
