"""Says what is wrong with a way of cutting sticks. Shares nothing with the search; lengths in exact millimetres."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from storystick.layout.strips.problem import StripProblem
from storystick.model.cutting import UNIT, CutTree, Layout, Purpose, Way


def refute(layout: Layout, problem: StripProblem) -> Iterator[str]:
    """Everything that is wrong with a layout as an answer to a problem, as sentences; nothing, if it can be cut."""
    used = Counter(tree.sheet.name for tree in layout.trees)
    for stick in problem.sticks:
        if stick.copies is not None and used[stick.name] > stick.copies:
            yield f"{used[stick.name]} of {stick.name} are used, and there are {stick.copies}."
    if [cut.number for cut in layout.cuts] != list(range(1, len(layout.cuts) + 1)):
        yield "the cuts are not numbered 1, 2, 3 ... over the whole job."
    for tree in layout.trees:
        yield from _wrong_stick(tree, problem)
    cut = Counter(piece.blank for tree in layout.trees for piece in tree.blanks)
    for blank in problem.blanks:
        if cut[blank.key] + (blank.key in layout.unplaced) != 1:
            yield f"{blank.key} is cut {cut[blank.key]} times."


def _wrong_stick(tree: CutTree, problem: StripProblem) -> Iterator[str]:
    """One stick, sawn through again: what lies on the bench is a set of stretches, by number."""
    numbers = {piece.number: piece for piece in tree.pieces}
    bench = {tree.pieces[0].number: (Fraction(0), tree.sheet.long)}
    for cut in sorted(tree.cuts, key=lambda c: c.number):
        if cut.piece not in bench:
            yield f"cut {cut.number}: piece {cut.piece} does not lie on the bench."
            continue
        begin, end = bench.pop(cut.piece)
        if cut.way is not Way.CROSSCUT or not begin <= cut.at < end:
            yield f"cut {cut.number} does not go across piece {cut.piece}."
        if not problem.kerf <= cut.kerf < problem.kerf + UNIT:
            yield f"cut {cut.number}: its kerf is {float(cut.kerf):.3f} mm."
        left = [part for part in ((begin, cut.at), (cut.at + cut.kerf, end)) if part[0] < part[1]]
        if len(left) != len(cut.frees):
            yield f"cut {cut.number} does not leave the pieces it says."
        bench.update(zip(cut.frees, left, strict=False))
        if (cut.purpose is Purpose.SIZE) != (cut.setting is not None):
            yield f"cut {cut.number}: a cut to size has a setting, and no other."
        elif cut.setting is not None and all(cut.setting != high - low for low, high in left):
            yield f"cut {cut.number}: no piece is as long as its setting."
    lengths = {blank.key: blank.long for blank in problem.blanks}
    trim = Fraction(0) if tree.sheet.sawn else problem.end_trim
    for piece in tree.blanks:
        if piece.number not in bench:
            yield f"{piece.blank} is not what is left after the cuts."
            continue
        begin, end = bench[piece.number]
        if (numbers[piece.number].x, numbers[piece.number].long) != (begin, end - begin):
            yield f"{piece.blank} is not where the cuts leave it."
        want = lengths.get(piece.blank)
        if want is None or not want <= end - begin < want + 2 * UNIT:
            yield f"{piece.blank} is {float(end - begin):.2f} mm long, which is not its length."
        if begin < trim or end > tree.sheet.long - trim:
            yield f"{piece.blank} reaches into the end that is trimmed off."
        for spot in tree.sheet.defects:
            if begin < spot.x + spot.long and spot.x < end:
                yield f"{piece.blank} has a defect in it."
