"""A channel on the table saw with an ordinary blade: first its two walls, then what stands between them."""

from collections.abc import Iterator
from math import ceil

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.shop.shop import Saw
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, setup
from storystick.work.ways.fence import LEAST_END, far_fence, fence_setup, height_setup, saw_for
from storystick.work.ways.stack import UNGUARDED
from storystick.work.ways.trough import Trough, trough_of, wide_deep

TOOL = "saw blade"


def offers(ask: Ask) -> Iterator[Offer]:
    """Channels that run right through and are at least a kerf wide."""
    trough = trough_of(ask)
    if trough is None or (saw := saw_for(trough, ask.shop)) is None or trough.cut.width.value < saw.kerf:
        return
    if not trough.is_step:
        yield _offer(trough, saw)
    elif trough.on_face and trough.open_near != trough.open_far:
        yield _step(trough, saw)


def _offer(trough: Trough, saw: Saw) -> Offer:
    passes = ceil(trough.cut.width.value / saw.kerf)

    def settle(book: Book) -> tuple[Setup, ...]:
        found = [height_setup(trough, TOOL), fence_setup(trough, saw, TOOL, trough.at)]
        if passes > 1:
            found.append(fence_setup(trough, saw, TOOL, far_fence(trough, book, saw)))
        return tuple(found)

    words = "one pass" if passes == 1 else f"{passes} passes"
    first, each = minutes("trough on the saw")
    return Offer(
        f"table saw, {words} with the ordinary blade",
        (first * min(passes, 2), each * passes),
        f"two settings of the fence make the walls, so it comes out as drawn: {wide_deep(trough)}",
        settle,
        caution=UNGUARDED,
    )


def _step(trough: Trough, saw: Saw) -> Offer:
    passes = ceil(trough.cut.width.value / saw.kerf)
    width, build = trough.cut.width, trough.ask.build
    edge = trough.datum if trough.open_near else f"the far {'end' if trough.over == 0 else 'edge'}"

    narrow = trough.over == 0 and trough.long.value < LEAST_END  # an end too short to run along the fence
    held = "on the sled or the mitre gauge against a stop" if narrow else "against a wooden face on the fence"

    def settle(book: Book) -> tuple[Setup, ...]:
        word = "stop" if narrow else "fence"
        says = f"{word} {said(width, build)} from the far side of the blade, {edge} against it, then nibble outwards"
        return (
            height_setup(trough, TOOL),
            setup("table saw", TOOL, word, width, says, "Measure the step on a scrap."),
        )

    first, each = minutes("step on the saw")
    return Offer(
        f"table saw, {passes} passes lying flat, {held}",
        (first + 3, each * passes),
        wide_deep(trough),
        settle,
        caution=UNGUARDED,
    )


def lacks(ask: Ask) -> str:
    """A table saw, for channels that run through."""
    trough = trough_of(ask)
    if trough is None or not trough.is_through or ask.shop.saws_of("table saw"):
        return ""
    return f"a table saw (for a cut {said(trough.cut.depth, ask.build)} deep)"


WAY = Way("passes on the table saw", "the ordinary blade, the fence moved between passes", offers, lacks)
