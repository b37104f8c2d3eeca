"""From parts to blanks: finished sizes, and what is left on those that get their last size later."""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from storystick.ground.length import INCH
from storystick.ground.source import practice
from storystick.layout.ripped import ripped_here, ripped_wide, strips_off
from storystick.model.banding import ENDS, band_thick
from storystick.model.build import Build
from storystick.model.cutting import Blank
from storystick.model.layers import layered
from storystick.model.part import Part
from storystick.model.stock import Stock

LAYER = " #"
BANDED = practice("a part is cut smaller by the band on its edges, where the plan says how thick the band is")
FITTED = practice("a part that is cut to fit later comes off the sheet 6 mm (1/4 in) long and wide")
OVERSIZE = practice("layers of a slab are cut 12 mm (1/2 in) oversize, glued, and trimmed together")


def allowance(part: Part, build: Build, in_layers: frozenset[str]) -> Fraction:
    """What is left on a blank's length and width [mm]. Sources: FITTED, OVERSIZE."""
    inch = build.manner.unit == "inch"
    if part.name in in_layers:
        return INCH / 2 if inch else Fraction(12)
    if part.fit_to:
        return INCH / 4 if inch else Fraction(6)
    return Fraction(0)


def layer_names(build: Build) -> frozenset[str]:
    """Names of all parts that are a layer of something, or made of layers."""
    return frozenset(part.name for group in layered(build) for part in group)


def blanks_of(build: Build, stock: Stock) -> tuple[Blank, ...]:
    """The blanks of one stock, in the order of the parts; a part made of layers has one for each."""
    parts = [part for part in build.parts if part.stock.name == stock.name]
    parts = [part for part in parts if not ripped_here(part.stock, build)]
    off_boards = strips_off(stock, build)
    in_layers = layer_names(build)
    like = Counter(_size(part) for part in parts)
    together = {word.casefold() for word in stock.same_sheet}
    found = []
    for part in parts:
        more, band = allowance(part, build, in_layers), band_thick(part, build.stock)
        for layer in range(1, part.layers + 1):
            found.append(
                Blank(
                    part.name if part.layers == 1 else f"{part.name}{LAYER}{layer}",
                    part.length.value + more - band * sum(edge in ENDS for edge in part.banded),
                    part.width.value + more - band * sum(edge not in ENDS for edge in part.banded),
                    None if part.turnable or not stock.grain else True,
                    part.letter,
                    f"{part.role} {part.assembly}" if like[_size(part)] > 1 else "",
                    part.match,
                    _place(part, parts),
                    _across(part, parts),
                    f"{stock.name} that is to be of one thickness" if together & _called(part) else "",
                )
            )
    for part in off_boards:
        found.append(Blank(part.name, part.length.value, ripped_wide(part, stock), True, part.letter))
    return tuple(found)


def _called(part: Part) -> set[str]:
    """Every word that a part goes by: its full name, its own name, what it does."""
    return {name.casefold() for name in (part.name, part.name.rpartition(".")[2], part.role, part.letter)}


def not_there(build: Build, stock: Stock) -> tuple[str, ...]:
    """Words of the stock's `same sheet` that no part of it goes by."""
    known = {word for part in build.parts if part.stock.name == stock.name for word in _called(part)}
    return tuple(word for word in stock.same_sheet if word.casefold() not in known)


def _size(part: Part) -> tuple[str, Fraction, Fraction]:
    return part.assembly, part.length.value, part.width.value


def _matched(part: Part, parts: Sequence[Part]) -> list[Part]:
    return [one for one in parts if part.match and one.match == part.match]


def _along(part: Part, parts: Sequence[Part]) -> int:
    """The axis along which parts of one strip follow one another where they stand in the piece."""
    matched = _matched(part, parts)
    spread = [max(p.low(a) for p in matched) - min(p.low(a) for p in matched) for a in range(3)]
    return spread.index(max(spread))


def _across(part: Part, parts: Sequence[Part]) -> bool:
    return bool(part.match) and part.lies[1] == _along(part, parts)


def _place(part: Part, parts: Sequence[Part]) -> int:
    """Where a part stands in its strip: from the low end of the axis that they follow one another along."""
    if not part.match:
        return 0
    axis = _along(part, parts)
    return sorted(_matched(part, parts), key=lambda p: (p.low(axis), p.name)).index(part)
