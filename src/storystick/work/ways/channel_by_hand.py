"""A channel with hand tools: both walls sawn to the line, the waste chopped out, the floor levelled."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.ground.source import practice
from storystick.model.work import Setup
from storystick.shop.shop import Shop
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, setup
from storystick.work.ways.trough import trough_of, wide_deep

SAWS = ("hand saw", "back saw", "tenon saw", "pull saw", "dovetail saw")
CHISELS = ("chisel", "chisels")
LEVELLERS = ("router plane", "plough plane", "shoulder plane", "rebate plane", "rabbet plane")
SLOW = 12.0
BY_HAND = practice("a channel cut by hand takes about twelve minutes in a board 300 mm (12 in) wide")
LENGTH = 300


def offers(ask: Ask) -> Iterator[Offer]:
    """Channels in a face that run out at one end at least, so that a saw can run in; with a saw and chisels."""
    trough = trough_of(ask)
    if trough is None or not trough.on_face or not (trough.is_through or trough.is_step) or not _can(ask.shop):
        return
    level = next((tool for tool in ask.shop.others if tool in LEVELLERS), "chisel, flat side down")

    def settle(book: Book) -> tuple[Setup, ...]:
        deep = trough.cut.depth
        says = (
            f"walls knifed against the part that goes in, sawn {said(deep, ask.build)} deep on the waste side; "
            f"waste out with a chisel, floor levelled with the {level}"
        )
        return (setup("hand tools", "saw and chisel", "depth", deep, says, "Try a short one in a scrap first."),)

    share = max(1.0, float(trough.cut.length.value) / LENGTH)
    yield Offer(
        "by hand, saw and chisel",
        (minutes("router pass")[0], SLOW * share),
        f"knifed against the very part that goes in: {wide_deep(trough)}",
        settle,
        source=BY_HAND,
        width_by="offcut",
        caution="Clamp the board; both hands stay behind the edge of the chisel.",
    )


def _can(shop: Shop) -> bool:
    has_saw = bool(shop.saws_of("hand saw")) or any(word in SAWS for word in shop.others)
    return has_saw and any(word in CHISELS for word in shop.others)


def lacks(ask: Ask) -> str:
    """A hand saw and chisels, where they would do."""
    trough = trough_of(ask)
    if trough is None or not trough.on_face or not (trough.is_through or trough.is_step):
        return ""
    return "a tenon saw and chisels" if not _can(ask.shop) else ""


WAY = Way("by hand, saw and chisel", "saw the walls, chop out the waste, level the floor", offers, lacks)
