"""Strips of a plan that are ripped off its boards: solid lipping and edging, in the order in which they come off."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.ground.finding import Finding, Grade
from storystick.ground.length import show
from storystick.ground.misread import nearest, one_of
from storystick.ground.source import practice
from storystick.layout.boards import THICKER
from storystick.model.build import Build
from storystick.model.cutting import CutTree, Layout, Piece, Purpose, Way
from storystick.model.part import Part
from storystick.model.stock import Stock

SIDE = practice("a strip is as wide as its board is thick and as thick as it is ripped, or the other way round")
GIVE = Fraction(1, 2)
"""A board may be so much thinner than the side of the strip that it makes [mm]."""


def source_of(stock: Stock, build: Build) -> Stock | None:
    """The boards that strips are ripped from, as the plan names them; None where there are none of that name."""
    named = stock.ripped_from.casefold()
    return next((one for one in build.stock if one.name.casefold() == named and one.form == "board"), None)


def ripped_here(stock: Stock, build: Build) -> bool:
    """Whether parts of a stock come off the boards of another one of the plan, and these are thick enough."""
    boards = source_of(stock, build) if stock.ripped_from and stock.form == "strip" else None
    return boards is not None and _sides(stock, boards) is not None


def strips_off(boards: Stock, build: Build) -> tuple[Part, ...]:
    """The parts that are ripped off the boards of a stock, though they are of another."""
    return tuple(
        part for part in build.parts if ripped_here(part.stock, build) and source_of(part.stock, build) is boards
    )


def _sides(stock: Stock, boards: Stock) -> tuple[Fraction, Fraction] | None:
    """The side of a strip that is the board's thickness, and the one that it is ripped to. Source: SIDE."""
    assert stock.width is not None
    sides = [stock.width.value, stock.thickness.value]
    fitting = [n for n, side in enumerate(sides) if -GIVE <= boards.thickness.value - side <= THICKER]
    if not fitting:
        return None
    first = max(fitting, key=lambda n: sides[n])
    return sides[first], sides[1 - first]


def ripped_wide(part: Part, boards: Stock) -> Fraction:
    """How wide a part of such a stock is ripped off its board [mm]."""
    sides = _sides(part.stock, boards)
    assert sides is not None
    return sides[1]


def what_from(build: Build, stock: Stock) -> Iterator[Finding]:
    """What a strip says that it is ripped from, and there are no such boards, or they are too thin."""
    if not stock.ripped_from or ripped_here(stock, build):
        return
    boards = source_of(stock, build)
    if boards is None:
        names = tuple(one.name for one in build.stock if one.form == "board")
        says = f"{stock.name} is ripped from {stock.ripped_from}, and no stock of boards is called so."
        near = nearest(stock.ripped_from, names) or (one_of(names) if names else "a stock with board: and its wood")
        yield Finding("ripped-from-what", Grade.CARE, stock.place, says, f"Write ripped from: {near}.")
        return
    thick = show(boards.thickness.value, build.manner)
    wide = show(max(_own_sides(stock)), build.manner)
    says = f"{stock.name} can't be ripped from {boards.name}: no side of the strip is near its {thick}."
    advice = f"Take boards about {wide} thick, so that a strip is ripped off at its thickness; or buy the strips."
    yield Finding("ripped-from-what", Grade.CARE, stock.place, says, advice)


def _own_sides(stock: Stock) -> tuple[Fraction, ...]:
    return (stock.thickness.value, *([stock.width.value] if stock.width is not None else []))


def ripped_said(layout: Layout, build: Build, narrowest: Fraction, unsafe: tuple[int, ...]) -> Iterator[str]:
    """For each board the narrow strips in the order in which they come off its straight edge, and what is in each."""
    manner = build.manner
    for number, tree in enumerate(layout.trees, 1):
        rips = [cut for cut in tree.cuts if is_narrow_rip(cut.way, cut.purpose, cut.setting, narrowest)]
        if not rips:
            continue
        pieces = {piece.number: piece for piece in tree.pieces}
        strips = sorted((pieces[cut.frees[0]] for cut in rips), key=lambda one: (one.y, one.x))
        told = [
            f"{n}. {show(one.wide, manner)} for {', '.join(_inside(one, tree, build)) or 'nothing'}"
            for n, one in enumerate(strips, 1)
        ]
        board = f"board {number}" if len(layout.trees) > 1 else "the board"
        yield f"strips off {board}, in order from its straight edge: {'; '.join(told)}."
    if unsafe:
        one = len(unsafe) == 1
        said = ", ".join(map(str, unsafe))
        yield (
            f"{'cut' if one else 'cuts'} {said} {'leaves' if one else 'leave'} less than {show(narrowest, manner)} on "
            "both sides of the blade: with a piece beside it that carries it, or by the band saw."
        )


def is_narrow_rip(way: Way, purpose: Purpose, setting: Fraction | None, narrowest: Fraction) -> bool:
    """A rip to a size that must not run between blade and fence."""
    return way is Way.RIP and purpose is Purpose.SIZE and setting is not None and setting < narrowest


def _inside(piece: Piece, tree: CutTree, build: Build) -> Iterator[str]:
    """Letters of the parts in a strip, from its reference end."""
    inside = [
        one for one in tree.pieces
        if one.blank and piece.x <= one.x < piece.x + piece.long and piece.y <= one.y < piece.y + piece.wide
    ]  # fmt: skip
    for one in sorted(inside, key=lambda p: p.x):
        name = one.blank.partition(" #")[0]
        part = build.parts_by_name.get(name)
        yield part.letter or name if part is not None else name
