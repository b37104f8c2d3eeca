"""Where the table saw's fence or the stop on its sled goes for a channel, and whether the saw takes the part at all."""

from fractions import Fraction

from storystick.ground.dim import Book, Dim, rule
from storystick.ground.source import practice
from storystick.model.cut import Side
from storystick.model.work import Setup
from storystick.shop.shop import Saw, Shop
from storystick.work.saying import said
from storystick.work.ways import once, setup
from storystick.work.ways.trough import Trough

BEARS = practice("a board's end runs along the fence only where the end is at least 300 mm (12 in) long")
LEAST_END = Fraction(300)
STANDS = practice("a board stands on its edge or end at the fence only up to 900 mm (3 ft) high")
TALLEST = Fraction(900)


def saw_for(trough: Trough, shop: Shop) -> Saw | None:
    """A table saw that takes the part for this channel; None where the shop has none, or where the cut stops short."""
    if not trough.is_through:
        return None
    for saw in shop.saws_of("table saw"):
        deep = saw.deep is None or trough.cut.depth.value <= saw.deep
        if deep and _holds(trough, saw):
            return saw
    return None


def _holds(trough: Trough, saw: Saw) -> bool:
    part = trough.ask.part
    if not trough.on_face:
        standing = part.width if trough.cut.side in (Side.EDGE, Side.FAR_EDGE) else part.length
        return standing.value <= TALLEST
    if _by_fence(trough, saw):
        return True
    return saw.crosscut is not None and trough.long.value <= saw.crosscut


def _by_fence(trough: Trough, saw: Saw) -> bool:
    """Along the fence: ripped lengthwise, or with a broad enough end against it."""
    within = saw.rip is None or trough.at.value + trough.cut.width.value <= saw.rip
    return within and (trough.along == 0 or trough.long.value >= LEAST_END)


def height_setup(trough: Trough, tool: str) -> Setup:
    """How high the blade or the stack stands."""
    depth, build = trough.cut.depth, trough.ask.build
    return setup(
        "table saw",
        tool,
        "blade height",
        depth,
        f"{tool} {said(depth, build)} high",
        "Try it on a scrap of the same sheet.",
    )


def fence_setup(trough: Trough, saw: Saw, tool: str, to: Dim) -> Setup:
    """How far the fence, or the stop on the sled, is from the blade."""
    name = "fence" if not trough.on_face or _by_fence(trough, saw) else "stop"
    says = f"{name} {said(to, trough.ask.build)} from the near side of the {tool}, against {trough.datum}"
    return setup("table saw", tool, name, to, says)


def far_fence(trough: Trough, book: Book, saw: Saw) -> Dim:
    """From the datum to where the blade cuts the far wall: the near wall plus the width less the kerf [mm]."""
    kerf = once(
        book, f"kerf of the {saw.name}", lambda: rule(f"kerf of the {saw.name}", saw.kerf, saw.source), "as it cuts"
    )
    build = trough.ask.build
    name = f"far fence for {said(trough.at, build)} and {said(trough.cut.width, build)} wide on the {saw.name}"
    return once(book, name, lambda: trough.at + trough.cut.width - kerf, "the near wall, the width, less the kerf")
