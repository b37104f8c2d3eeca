"""Breaking a sheet down: each cut along a line, said from which edge the line lies how far."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.build import Build
from storystick.model.cutting import Cut, CutTree, Piece, Purpose, Way
from storystick.work.saying import and_of

EDGES = {Way.RIP: ("near edge", "far edge"), Way.CROSSCUT: ("left end", "right end")}


def cut_lines(cuts: Sequence[Cut], tree: CutTree, build: Build) -> Iterator[str]:
    """A clause for each cut: what comes off where, or how far from which edge the line lies."""
    for cut in cuts:
        piece = next(one for one in tree.pieces if one.number == cut.piece)
        yield f"cut {cut.number} {_where(cut, piece, tree, build)}"


def _where(cut: Cut, piece: Piece, tree: CutTree, build: Build) -> str:
    start, size = (piece.y, piece.wide) if cut.way is Way.RIP else (piece.x, piece.long)
    near, far = cut.at - start, start + size - cut.at - cut.kerf
    low, high = (_edge(cut, piece, tree, is_far) for is_far in (False, True))
    if cut.purpose is Purpose.TRIM:
        edge, off = (low, near) if near <= far else (high, far)
        return f"trims {show(off + cut.kerf, build.manner)} off the {edge}, kerf and all"
    word = "rips" if cut.way is Way.RIP else "crosscuts"
    what = "the sheet" if not _is_off(piece, tree) else "what is left"
    return (
        f"{word} {what} along a line {show(near, build.manner)} from the {low}, kerf beyond the line{_gives(cut, tree)}"
    )


def _edge(cut: Cut, piece: Piece, tree: CutTree, is_far: bool) -> str:
    """An edge of a piece by its place on the sheet; one that a cut made says so."""
    sheet = tree.sheet
    name = EDGES[cut.way][is_far]
    start, size, whole = (piece.y, piece.wide, sheet.wide) if cut.way is Way.RIP else (piece.x, piece.long, sheet.long)
    at_rim = start + size >= whole if is_far else start <= 0
    return name if at_rim else f"{'trimmed' if _rim(start, size, whole, is_far) else 'sawn'} {name}"


def _rim(start: Fraction, size: Fraction, whole: Fraction, is_far: bool) -> bool:
    """The edge lies so near the sheet's own that only a trim came off."""
    return (whole - start - size if is_far else start) <= 26


def _is_off(piece: Piece, tree: CutTree) -> bool:
    return piece.area < tree.sheet.long * tree.sheet.wide * Fraction(9, 10)


def _gives(cut: Cut, tree: CutTree) -> str:
    sides = [one for one in tree.pieces if one.number in cut.frees]
    if len(sides) == 2 and cut.purpose is Purpose.BREAKDOWN:
        cuts = [[c.number for c in tree.cuts if c.setting is not None and c.piece in below(one, tree)] for one in sides]
        firsts = [f"cut {min(numbers)}" for numbers in cuts if numbers]
        if len(firsts) == 2:
            return f" (the pieces for {and_of(firsts)} and what follows)"
    return ""


def below(piece: Piece, tree: CutTree) -> set[int]:
    """Numbers of a piece and of everything that is cut out of it."""
    found = {piece.number}
    for cut in tree.cuts:
        if cut.piece in found:
            found |= set(cut.frees)
    return found
