"""Printed numbers that are none of the piece's own: of sheets, cuts across them, rows of holes, tools, screws.

Each gets a name and a reason, so that it can be asked like any other; and any number can be asked as it is printed.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import pairwise

from storystick.app.bought import bought
from storystick.app.pipeline import Job
from storystick.ground.dim import Dim, Leaf, Named
from storystick.ground.finding import NOWHERE, Place
from storystick.ground.length import Manner, fine, show
from storystick.ground.source import Source
from storystick.model.build import Shape
from storystick.model.cut import Bore
from storystick.model.cutting import CutTree
from storystick.model.part import Part
from storystick.work.placing import ENDS, FAR


def everything(job: Job) -> Mapping[str, Dim]:
    """Every number that is printed anywhere, by name."""
    found = dict(job.pages)
    for one in (*_sheets(job), *_cuts(job), *_rows(job), *_tools(job), *_screws(job), *_round(job), *bought(job)):
        name, again = one.name, 2
        while name in found and found[name].value != one.value:
            name, again = f"{one.name}, no. {again}", again + 1
        found.setdefault(name, one)
    return found


def called(job: Job, text: str, value: Fraction, manner: Manner) -> tuple[str, ...]:
    """Names of the numbers that are printed as the text is, or lie within a hundredth of a millimetre of it [mm]."""
    said = " ".join(text.split()).removeprefix("~")
    return tuple(
        name
        for name, dim in everything(job).items()
        if dim.power == 1
        and (said in (show(dim.value, manner), fine(dim.value, manner)) or abs(dim.value - value) <= Fraction(1, 100))
    )


def _leaf(name: str, value: Fraction, says: str, place: Place = NOWHERE, source: Source | None = None) -> Dim:
    return _named(name, "", Dim(value, Leaf(name, "rule" if source else "given", says, None, place, source), 1))


def _named(name: str, because: str, by: Dim) -> Dim:
    return Dim(by.value, Named(name, because, by), by.power)


def _sheets(job: Job) -> Iterator[Dim]:
    for cutting in job.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            called_so = f"{cutting.stock.name}, sheet {number}"
            says = f"{tree.sheet.name}, as it is sold or lies on the rack"
            yield _leaf(f"{called_so} long", tree.sheet.long, says, cutting.stock.place)
            yield _leaf(f"{called_so} wide", tree.sheet.wide, says, cutting.stock.place)
            kerf = f"{called_so} kerf"
            yield _leaf(kerf, cutting.kerf, "the width of the saw's cut", NOWHERE, _saw(job, cutting.kerf))
            yield _leaf(f"{called_so} trim", job.shop.trim, "what is sawn off a factory edge first", NOWHERE, _OWN)


_OWN = Source("the shop file: what is sawn off a factory edge first", "practice")


def _saw(job: Job, kerf: Fraction) -> Source:
    return next((saw.source for saw in job.shop.saws if saw.kerf == kerf), _OWN)


def _cuts(job: Job) -> Iterator[Dim]:
    """Where each cut lies on its sheet, from the edge that is trimmed first, and the pieces that it leaves."""
    sizes = {part.name: part for part in job.build.parts}
    for cutting in job.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            pieces = {piece.number: piece for piece in tree.pieces}
            for cut in tree.cuts:
                name = f"{cutting.stock.name}, sheet {number}, cut {cut.number}"
                rests = tuple(dim for part in _freed(tree, cut.piece, sizes) for dim in part.size[:2])
                says = "laid out so that these come out of it, with a kerf and what is trimmed between them"
                for word, at in _along(cut.way.value, cut.at, cut.setting):
                    yield _laid(f"{name}, {word}", at, says, rests)
                for piece in (pieces[n] for n in (cut.piece, *cut.frees)):
                    low, size = (piece.y, piece.wide) if cut.way.value == "rip" else (piece.x, piece.long)
                    if cut.at > low:
                        yield _laid(f"{name}, from the edge of piece {piece.number}", cut.at - low, says, rests)
                    yield _laid(f"{name}, piece {piece.number}", size, says, rests)


def _along(way: str, at: Fraction, setting: Fraction | None) -> Iterator[tuple[str, Fraction]]:
    yield f"where it {way}s", at
    if setting is not None:
        yield "set to", setting


def _laid(name: str, value: Fraction, says: str, rests: tuple[Dim, ...]) -> Dim:
    return _named(name, "", Dim(value, Leaf(name, "chosen", says, looked_at=rests), 1))


def _freed(tree: CutTree, piece: int, parts: Mapping[str, Part]) -> Iterator[Part]:
    own = [one.blank.split("#")[0] for one in tree.pieces if one.number == piece and one.blank]
    yield from (parts[name] for name in own if name in parts)
    for cut in tree.cuts:
        if cut.piece == piece:
            for freed in cut.frees:
                yield from _freed(tree, freed, parts)


def _rows(job: Job) -> Iterator[Dim]:
    """How far apart the holes of a row are: the difference of their places."""
    for part in job.build.parts:
        rows: dict[tuple[object, ...], list[Dim]] = {}
        for cut in part.cuts:
            if isinstance(cut, Bore):
                for axis in (0, 1):
                    rows.setdefault((cut.side, axis, cut.at[1 - axis].value), []).append(cut.at[axis])
        for line in rows.values():
            for one, two in pairwise(sorted({dim.value: dim for dim in line}.values(), key=lambda dim: dim.value)):
                if one.name and two.name:
                    yield _named(f"{two.name} after the one before", "how far apart two holes of a row are", two - one)


def _tools(job: Job) -> Iterator[Dim]:
    shop = job.shop
    for bit in shop.bits:
        yield _leaf(f"{bit.profile} bit {float(bit.size):g} mm", bit.size, "a bit of the shop", bit.place, bit.source)
    for bushing in shop.bushings:
        name = f"guide bushing {float(bushing.outside):g} mm"
        yield _leaf(name, bushing.outside, "a guide bushing of the shop", NOWHERE, bushing.source)
    for drill in shop.drills:
        name = f"{drill.kind} bit {float(drill.diameter):g} mm"
        yield _leaf(name, drill.diameter, "a drill bit of the shop", drill.place, drill.source)


def _screws(job: Job) -> Iterator[Dim]:
    for one in job.build.fasteners:
        yield _named(f"{one.name} diameter", f"the diameter of a {one.row}", one.diameter)
        yield _named(f"{one.name} length", f"how long the {one.row} is", one.length)


def _round(job: Job) -> Iterator[Dim]:
    """How far each piece stands from what is round it, under it and over it, along each axis."""
    pieces = [(one.name, Shape("box", one.at, one.size)) for one in job.build.assemblies if not one.inside_of]
    bodies = [(one.name, shape) for one in job.build.site for shape in (Shape("box", one.at, one.size), *one.shapes)]
    for name, own in pieces:
        for axis, ends in enumerate(ENDS):
            mine = (own.at[axis], own.at[axis] + own.size[axis])
            word = ("left end", "front", "floor")[axis]
            yield _named(f"{name}, {ends[0]} from the {word} of the room", "where it stands", mine[0])
            for other, shape in (*bodies, *pieces):
                for theirs in _planes(shape, axis, own) if other != name else ():
                    for end in (0, 1):
                        apart = mine[end] - theirs if mine[end].value > theirs.value else theirs - mine[end]
                        if apart.value <= FAR:
                            says = "from where the one ends to the other"
                            yield _named(f"{name}, {ends[end]} to {other}", says, apart)


def _planes(shape: Shape, axis: int, own: Shape) -> Iterator[Dim]:
    """Where a body begins and ends along an axis; of an outline its corners, and where it passes the piece's ends."""
    yield from (shape.at[axis], shape.at[axis] + shape.size[axis])
    if not shape.outline or shape.axis == axis:
        return
    drawn = [one for one in range(3) if one != shape.axis]
    u = drawn.index(axis)
    across = drawn[1 - u]
    for one, two in zip(shape.outline, (*shape.outline[1:], shape.outline[0]), strict=True):
        yield one[u]
        for line in (own.at[across], own.at[across] + own.size[across]):
            v1, v2 = one[1 - u], two[1 - u]
            if min(v1.value, v2.value) < line.value < max(v1.value, v2.value):
                yield one[u] + (two[u] - one[u]) * (line - v1) / (v2 - v1)
