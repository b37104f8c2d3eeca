"""A channel in one pass on the table saw with a stack of blades set to its width."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, setup
from storystick.work.ways.fence import fence_setup, height_setup, saw_for
from storystick.work.ways.trough import trough_of, wide_deep

TOOL = "stack of blades"
UNGUARDED = "Keep both hands clear of where the blade comes out; push block, and the part flat on the table."


def offers(ask: Ask) -> Iterator[Offer]:
    """Channels that run right through, within what the stack can be set to."""
    trough = trough_of(ask)
    stack = ask.shop.dado_set
    if trough is None or stack is None or not trough.on_face:
        return
    if stack.least <= trough.cut.width.value <= stack.most and (saw := saw_for(trough, ask.shop)) is not None:
        first, each = minutes("set stack")[0], minutes("trough on the saw")

        def settle(book: Book) -> tuple[Setup, ...]:
            width, build = trough.cut.width, ask.build
            wide = setup(
                "table saw",
                TOOL,
                "stack width",
                width,
                f"stack shimmed to {said(width, build)}",
                "Cut a scrap of the same sheet, push the other part in, shim until it goes home by hand.",
            )
            return (wide, height_setup(trough, TOOL), fence_setup(trough, saw, TOOL, trough.at))

        yield Offer(
            "table saw, one pass with a stack of blades",
            (first + each[0], each[1]),
            f"the stack is shimmed to the width: {wide_deep(trough)}",
            settle,
            caution=UNGUARDED,
        )


def lacks(ask: Ask) -> str:
    """The others say what to get."""
    return ""


WAY = Way("stack on the table saw", "a stack of blades set to the width", offers, lacks)
