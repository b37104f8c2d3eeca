"""A step along an edge with a bit whose bearing runs along the edge: the bit's own reach is the step's width."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.work.saying import said, tool_size
from storystick.work.ways import Ask, Offer, Way, minutes
from storystick.work.ways.guide import depth_setup
from storystick.work.ways.trough import bit_size, trough_of


def offers(ask: Ask) -> Iterator[Offer]:
    """Bits that step an edge by about the width wanted."""
    trough = trough_of(ask)
    if trough is None or not trough.is_step or not trough.on_face:
        return
    for bit in ask.shop.bits if ask.shop.router else ():
        if bit.steps and abs(bit.size - trough.cut.width.value) <= 3:
            tool = f"{tool_size(bit.size)} {bit.profile} bit with a bearing"
            sound = trough.takes(bit_size(tool, bit.size))

            def settle(book: Book, tool: str = tool) -> tuple[Setup, ...]:
                return (depth_setup(trough, book, tool),)

            why = "its bearing runs along the edge" if sound else f"it would step in {tool_size(bit.size)}"
            yield Offer(
                f"router, {tool}",
                minutes("router pass", trough.passes),
                why,
                settle,
                off=bit.size - trough.cut.width.value,
                sound=sound,
            )


def lacks(ask: Ask) -> str:
    """A bit of that reach."""
    trough = trough_of(ask)
    if trough is None or not trough.is_step:
        return ""
    return f"a bit with a bearing that steps an edge by {said(trough.cut.width, ask.build)}"


WAY = Way("bit that steps an edge", "its bearing runs along the edge", offers, lacks)
