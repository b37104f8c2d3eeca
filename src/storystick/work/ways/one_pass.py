"""A channel in one pass of the router, with a straight bit that happens to be as wide as it."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.shop.shop import RouterBit
from storystick.work.saying import said, tool_size
from storystick.work.ways import Ask, Offer, Way, minutes
from storystick.work.ways.guide import depth_setup, guide_setup
from storystick.work.ways.trough import Trough, bit_named, bit_size, trough_of

NEAR = 3  # bits farther off than this are not worth telling [mm]


def offers(ask: Ask) -> Iterator[Offer]:
    """Each straight bit near the channel's width; sound when the fit is as wanted."""
    trough = trough_of(ask)
    if trough is None or trough.is_step or not trough.on_face:
        return
    for bit in ask.shop.bits_of("straight", "spiral"):
        if abs(bit.size - trough.cut.width.value) <= NEAR and (bit.cuts is None or bit.cuts >= trough.cut.depth.value):
            yield _offer(trough, bit)


def _offer(trough: Trough, bit: RouterBit) -> Offer:
    tool = bit_named(bit.profile, bit.size)
    made = bit_size(tool, bit.size)
    sound = trough.takes(made)
    gap = trough.gap(made)
    if sound:
        why = f"a {tool} cuts it in one pass" + (f" and leaves {gap}" if gap else "")
    else:
        why = (
            f"a {tool} would be {gap}"
            if "tight" in gap
            else f"a {tool} would leave {gap or 'another width than drawn'}"
        )

    def settle(book: Book) -> tuple[Setup, ...]:
        return (depth_setup(trough, book, tool), guide_setup(trough, book, tool, bit.size))

    return Offer(
        f"router, one pass with a {tool} along a guide",
        minutes("router pass", trough.passes),
        why,
        settle,
        off=bit.size - trough.cut.width.value,
        sound=sound,
        width_by="bit",
    )


def lacks(ask: Ask) -> str:
    """A bit of that width."""
    trough = trough_of(ask)
    if trough is None or trough.is_step:
        return ""
    width = trough.cut.width
    needed = "" if ask.shop.router else "a router and "
    return f"{needed}a straight bit of {said(width, ask.build)} ({tool_size(width.value)}) or less"


WAY = Way("one pass with a bit that fits", "a straight bit as wide as the channel", offers, lacks)
