"""What is worth saying of a layout: what it costs beside what no layout can better, and where test strips come from."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.ground.length import Manner, show
from storystick.ground.quantities import Money, show_money
from storystick.layout.sheets import Limits
from storystick.model.cutting import CutTree, Layout, Piece, Way
from storystick.model.work import Staves

BY_LINE = "cut along a straightedge with the saw that breaks sheets down, kerf on the waste side"

TEST_LONG = Fraction(150)
TEST_WIDE = Fraction(40)
"""Waste of this size is enough to try a setting on [mm]: practice."""


def measured(layout: Layout, least: Fraction, currency: str | None) -> str:
    """What has to be bought, and what no layout can do with less. `currency` None: no prices, areas count [m2]."""
    if not layout.trees:
        return ""
    paid = sum(1 for tree in layout.trees if tree.sheet.cost > 0)
    free = len(layout.trees) - paid
    of = "1 piece" if paid == 1 else f"{paid} pieces"
    if not paid:
        return "all of it comes out of what is on hand: nothing is to be bought."
    beside = f", {free} from what is on hand" if free else ""
    cost, bound = _said(layout.cost, currency), _said(least, currency)
    if layout.unplaced:
        return f"{of} to buy, {cost}{beside}."
    if layout.cost <= least:
        return f"{of} to buy, {cost}{beside}: no layout does with less."
    gap = float((layout.cost - least) / layout.cost) * 100
    return f"{of} to buy, {cost}{beside}; no layout does with less than {bound}, so at most {gap:.0f} % could be saved."


def _said(cost: Fraction, currency: str | None) -> str:
    return f"{float(cost):.2f} m2" if currency is None else show_money(Money(cost, currency))


def too_wide(layout: Layout, limits: Limits) -> str:
    """The cuts to size that the saw is too small for, by their numbers."""
    numbers = []
    for tree in layout.trees:
        pieces = {piece.number: piece for piece in tree.pieces}
        for cut in tree.cuts:
            rip = cut.way is Way.RIP
            most = limits.rip_capacity if rip else limits.crosscut_capacity
            reach = min(cut.setting or 0, pieces[cut.piece].wide) if rip else pieces[cut.piece].wide
            if most is not None and cut.setting is not None and reach > most:
                numbers.append(cut.number)
    if not numbers:
        return ""
    one = len(numbers) == 1
    said = ", ".join(str(number) for number in sorted(numbers))
    return f"{'cut' if one else 'cuts'} {said} {'is' if one else 'are'} wider than the saw takes: {BY_LINE}."


def strips_to_test(layout: Layout, manner: Manner) -> str:
    """For each sheet the waste that a setting is tried on, since two sheets are seldom of one thickness."""
    found, none = [], []
    for number, tree in enumerate(layout.trees, 1):
        strip = _strip(tree)
        if strip is None:
            none.append(str(number))
        else:
            kept = "off what is kept" if strip.keep else "of the waste"
            which = f"sheet {number}: " if len(layout.trees) > 1 else ""
            found.append(f"{which}{show(strip.long, manner)} x {show(strip.wide, manner)} {kept}")
    head = "test strips, one from each sheet" if len(layout.trees) > 1 else "a test strip"
    said = f"{head}: {'; '.join(found)}" if found else ""
    if none:
        lacks = f"sheet {' and '.join(none)} leaves none, so its thickness is measured on its parts"
        said = f"{said}; {lacks}" if said else lacks
    return f"{said}." if said else ""


def _strip(tree: CutTree) -> Piece | None:
    """The smallest waste that is large enough; else the smallest leftover."""
    cut = {one.piece for one in tree.cuts}
    enough = [
        piece for piece in tree.pieces
        if piece.number not in cut and not piece.blank and piece.long >= TEST_LONG and piece.wide >= TEST_WIDE
        and not any(_meets(piece, spot.x, spot.y, spot.long, spot.wide) for spot in tree.sheet.defects)
    ]  # fmt: skip
    return min(enough, key=lambda piece: (piece.keep, piece.area, piece.number), default=None)


def _meets(piece: Piece, x: Fraction, y: Fraction, long: Fraction, wide: Fraction) -> bool:
    return piece.x < x + long and x < piece.x + piece.long and piece.y < y + wide and y < piece.y + piece.wide


def staves_said(staves: tuple[Staves, ...], manner: Manner) -> Iterator[str]:
    """Which parts are glued up, and out of what."""
    for one in staves:
        wides = tuple(dict.fromkeys(show(wide, manner) for wide in one.wides or (one.wide,)))
        size = f"{show(one.long, manner)} x {' and '.join(w for w in (', '.join(wides[:-1]), wides[-1]) if w)}"
        more = f"{show(one.jointed, manner)} of the width is for jointing their edges"
        yield f"{one.count} staves of {size} are glued up for {one.part}; {more}."
