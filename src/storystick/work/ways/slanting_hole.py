"""A hole that goes in at a flat angle, for a screw through a board's end: a jig holds the stepped bit."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.work.saying import tool_size
from storystick.work.ways import Ask, Offer, Way, minutes, setup
from storystick.work.ways.hole import drill_setup, hole_of

FLAT = 45.0


def offers(ask: Ask) -> Iterator[Offer]:
    """With the jig where the hole lies flat; with a block at the angle where it only leans a little."""
    hole = hole_of(ask)
    if hole is None or hole.is_square:
        return
    if hole.cut.lean > FLAT and ask.shop.pocket_jig:
        tool = f"{tool_size(hole.cut.diameter.value)} stepped bit"
        thick = ask.part.thickness

        def settle(book: Book) -> tuple[Setup, ...]:
            says = f"jig and collar set for stock of {tool_size(thick.value)}"
            return (
                setup(
                    "drill", tool, "jig", thick, says, "Drill a scrap and drive a screw: the point must stay inside."
                ),
            )

        yield Offer("drill in the pocket jig", minutes("slanting hole"), "the jig gives angle and depth", settle)
    elif hole.cut.lean <= FLAT:
        for drill in ask.shop.drills_of("twist", "brad point"):
            if hole.takes(drill.diameter) and hole.reaches(drill):
                tool = f"{tool_size(drill.diameter)} bit"
                first, each = minutes("bore")

                def settle_block(book: Book, tool: str = tool) -> tuple[Setup, ...]:
                    says = f"block bored at {hole.cut.lean:g} degrees from square to guide the bit"
                    return (setup("drill", tool, "slope", None, says), drill_setup(hole, tool))

                yield Offer(
                    f"drill, {tool} through a block bored at the angle",
                    (first + minutes("make jig")[1], each * 2),
                    "the block holds the angle",
                    settle_block,
                )


def lacks(ask: Ask) -> str:
    """The jig, or a bit."""
    hole = hole_of(ask)
    if hole is None or hole.is_square:
        return ""
    return "a pocket jig with its bit" if hole.cut.lean > FLAT else f"a {tool_size(hole.cut.diameter.value)} drill bit"


WAY = Way("slanting hole", "in a jig, or through a block", offers, lacks)
