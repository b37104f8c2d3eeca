"""A row of like holes along a stick with the same holes in it: drilled once, right in every part."""

import itertools
from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.cut import Bore
from storystick.model.work import Setup
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, once, setup
from storystick.work.ways.drill import WAY as DRILL
from storystick.work.ways.hole import hole_of

LEAST = 4
APART = 100  # holes farther apart are as quickly marked one by one [mm]


def row_of(ask: Ask) -> tuple[Bore, ...]:
    """The holes of the part that stand in one line with this one, like it in size and side; in order along the line."""
    cut = ask.cut
    if not isinstance(cut, Bore):
        return ()
    like = [
        one
        for one in ask.part.cuts
        if isinstance(one, Bore)
        and one.side == cut.side
        and one.lean == cut.lean == 0
        and one.called == cut.called
        and one.diameter.value == cut.diameter.value
        and _deep(one) == _deep(cut)
    ]
    for line in (1, 0):
        row = [one for one in like if one.at[line].value == cut.at[line].value]
        row.sort(key=lambda one: one.at[1 - line].value)
        if len(row) >= LEAST and _even(row, 1 - line):
            return tuple(row)
    return ()


def _deep(cut: Bore) -> object:
    return None if cut.depth is None else cut.depth.value


def _even(row: list[Bore], along: int) -> bool:
    steps = {b.at[along].value - a.at[along].value for a, b in itertools.pairwise(row)}
    return len(steps) == 1 and max(steps) <= APART


def offers(ask: Ask) -> Iterator[Offer]:
    """The bits that would drill it, guided by a stick."""
    hole, row = hole_of(ask), row_of(ask)
    if hole is None or not row:
        return
    along = 0 if row[0].at[0].value != row[1].at[0].value else 1
    for plain in DRILL.offers(ask):
        if not plain.sound:
            continue

        def settle(book: Book, plain: Offer = plain) -> tuple[Setup, ...]:
            gap = once(
                book,
                f"stick of holes for {row[0].called}s {said(row[1].at[along] - row[0].at[along], ask.build)} apart",
                lambda: row[1].at[along] - row[0].at[along],
                "from hole to hole",
            )
            says = f"stick with holes {said(gap, ask.build)} apart, its end on the same end of every part"
            return (setup("drill", "stick of holes", "spacing", gap, says), *plain.settle(book))

        first, each = minutes("pin holes")
        yield Offer(
            f"{plain.method} along a stick of holes",
            (first + plain.minutes[0], each),
            "one stick, held against the same end of every part, puts all rows at one height",
            settle,
            source=plain.source,
        )


def lacks(ask: Ask) -> str:
    """The drill says it."""
    return ""


WAY = Way("row of holes along a stick", "a stick with the same holes guides the bit", offers, lacks)
