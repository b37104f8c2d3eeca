"""Cautions: where this work can hurt someone, and where the local rules come first."""

from collections.abc import Iterator

from storystick.ground.finding import Grade
from storystick.paper.blocks import Block, Heading, Points, Text
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper

USUAL = (
    "Guards, riving knife and push blocks stay on the saw. Stand out of the line of the blade; never reach over it.",
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
    """This piece's own cautions first, then the usual ones."""
    own = folder.order.cautions
    open_ones = sum(finding.grade >= Grade.CARE for finding in folder.findings)
    if own or open_ones:
        yield Heading("For this piece")
        yield from (Text(text, "caution") for text in own)
    if open_ones:
        them = "one thing" if open_ones == 1 else f"{open_ones} things"
        yield Text(f"The checks found {them} to look at before cutting: see Checks and margins.", "caution")
    yield Heading("At every machine")
    yield Points(USUAL)
    yield Heading("What comes before this packet")
    yield Points(DEFER)


PAGE = Page("cautions", 20, "Cautions", make)
