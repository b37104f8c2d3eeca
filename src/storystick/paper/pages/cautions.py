"""Cautions: where this work can hurt someone, and where the local rules come first."""

from collections.abc import Iterator

from storystick.ground.finding import Grade
from storystick.paper.blocks import Block, Heading, Points, Text
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import sentence
from storystick.paper.spoken import aloud

MOST = 6  # so many things that the checks found are told here
USUAL = (
    "Guard and riving knife stay on the saw, push blocks within reach. Stand out of the line of the blade; never reach "
    "over it.",
    "Unplug a machine before you change its blade or bit.",
    "Wear eye and ear protection at every machine, and a mask whenever you cut or sand sheet goods.",
    "Never rip without the fence, never crosscut against the fence alone, and cut no piece that is too small to hold.",
    "Rough-cut a full sheet on the floor or on trestles before it goes near the table saw.",
    "Clamp the work, not the router. Feed against the turn of the bit, in several passes.",
    "Glue sets while you look for a clamp: lay everything out and put it together dry first.",
    "Rags with oil finish on them can take fire by themselves: spread them out to dry.",
)
DEFER = (
    "Local codes and licensed practice come before anything printed here wherever the piece is fixed to a building, "
    "touches wiring, gas or water, or carries people.",
    "The sums behind this packet rest on the sizes, stock and loads that the plan gives. Check them against the real "
    "thing; a change of stock or load is a change of the sums.",
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """What the checks found about this piece first, then the usual ones."""
    open_ones = [finding for finding in folder.findings if finding.grade >= Grade.CARE]
    if open_ones:
        yield Heading("Before you cut this piece")
        for finding in open_ones[:MOST]:
            yield Text(sentence(aloud(finding.says, folder.names)), "caution")
        more = f" and {len(open_ones) - MOST} more" if len(open_ones) > MOST else ""
        yield Text(f"What mends {'it' if len(open_ones) == 1 else 'these'}{more}: see Checks and margins.")
    yield Heading("At every machine")
    yield Points((*USUAL, *folder.order.cautions))
    yield Heading("What comes before this packet")
    yield Points(DEFER)


PAGE = Page("cautions", 20, "Cautions", make)
