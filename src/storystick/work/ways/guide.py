"""Where a router's guide goes: as far from the wall of the cut as the bit's edge is from what runs along the guide."""

from fractions import Fraction

from storystick.ground.dim import Book, Dim, rule
from storystick.ground.source import practice
from storystick.model.work import Setup
from storystick.shop.shop import Bushing, Shop
from storystick.work.saying import said, tool_size
from storystick.work.ways import once, setup
from storystick.work.ways.trough import Trough, bit_size

ROOM = Fraction(3)
BUSHING = practice("a guide bushing takes a bit 3 mm smaller than its outside")
BASE = practice("a router's base is 150 mm (6 in) across: measure your own from its edge to the middle of the bit")
CARRIES = Fraction(100)
"""A part as narrow as this carries no router by itself [mm]. Source: practice."""
USUAL_BASE = {"inch": Fraction("76.2"), "mm": Fraction(75)}


def bushing_for(shop: Shop, size: Fraction) -> Bushing | None:
    """The smallest guide bushing of the shop that a bit goes through; None when there is none."""
    fitting = [one for one in shop.bushings if one.outside >= size + ROOM]
    return min(fitting, key=lambda one: one.outside, default=None)


def depth_setup(trough: Trough, book: Book, tool: str) -> Setup:
    """How deep the bit is set."""
    cut, build = trough.cut, trough.ask.build
    test = "Try it on a scrap of the same sheet: measure the depth, and push in what is to go in."
    passes = f", reached in {trough.passes} passes" if trough.passes > 1 else ""
    says = f"bit {said(cut.depth, build)} below the base{passes}"
    return setup("router", tool, "bit depth", cut.depth, says, test)


def guide_offset(trough: Trough, book: Book, tool: str, size: Fraction) -> tuple[Dim, str]:
    """From the wall of the cut to the guide [mm], and what runs along it: a bushing if one fits, else the base."""
    bit = bit_size(tool, size)
    bushing = bushing_for(trough.ask.shop, size)
    if bushing is not None:
        word = f"{tool_size(bushing.outside)} guide bushing"
        outside = rule(word, bushing.outside, bushing.source)
        offset = once(
            book,
            f"guide offset of the {tool} in a {word}",
            lambda: (outside - bit) / 2,
            "half of what the bushing is larger than the bit",
        )
        return offset, word
    usual = USUAL_BASE[trough.ask.shop.units]
    radius = once(
        book, "router base", lambda: rule("router base", usual, BASE), "from the base's edge to the middle of the bit"
    )
    offset = once(
        book,
        f"guide offset of the {tool}",
        lambda: radius - bit / 2,
        "from the edge of the base to the edge of the bit",
    )
    return offset, "router's base"


def guide_setup(trough: Trough, book: Book, tool: str, size: Fraction) -> Setup:
    """The guide, set off from the wall that is nearer to the datum."""
    offset, runs = guide_offset(trough, book, tool, size)
    says = f"guide {said(offset, trough.ask.build)} outside the near line of the cut, {runs} against it"
    if min(size.value for size in trough.ask.part.size[:2]) < CARRIES:
        says += ", boards of the same thickness beside a narrow part to carry the router"
    return setup("router", tool, "guide offset", offset, says)
