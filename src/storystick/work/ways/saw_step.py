"""A step along an edge or an end in two cuts on the table saw: one lying flat, one standing against the fence."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.ground.dim import Book
from storystick.ground.source import practice
from storystick.model.cut import Side
from storystick.model.work import Setup
from storystick.shop.shop import Saw
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, once, setup
from storystick.work.ways.fence import LEAST_END, height_setup, saw_for
from storystick.work.ways.saw_passes import TOOL
from storystick.work.ways.stack import UNGUARDED
from storystick.work.ways.trough import Trough, trough_of, wide_deep

STANDING = Fraction(600)
STANDS = practice("a panel is stood on its edge against the fence only up to 600 mm (2 ft) high")


def offers(ask: Ask) -> Iterator[Offer]:
    """Steps that run right through on a part that can be stood on its edge."""
    trough = trough_of(ask)
    if trough is None or not trough.is_step or not trough.on_face or (saw := saw_for(trough, ask.shop)) is None:
        return
    broad = trough.over != 0 or trough.long.value >= LEAST_END
    low_enough = saw.deep is None or trough.cut.width.value <= saw.deep
    if broad and trough.wide.value <= STANDING and low_enough and not (trough.open_near and trough.open_far):
        yield _offer(trough, saw)


def _offer(trough: Trough, saw: Saw) -> Offer:
    width, depth, build = trough.cut.width, trough.cut.depth, trough.ask.build
    edge = trough.datum if trough.open_near else f"the far {'end' if trough.over == 0 else 'edge'}"

    back = "back" if trough.cut.side is Side.FACE else "face"

    def settle(book: Book) -> tuple[Setup, ...]:
        left = once(
            book,
            f"left of {said(trough.ask.part.thickness, build)} under {said(depth, build)}",
            lambda: trough.ask.part.thickness - depth,
            "the thickness less the depth",
        )
        return (
            height_setup(trough, TOOL),
            setup(
                "table saw",
                TOOL,
                "fence",
                width,
                f"lying flat: fence {said(width, build)} from the far side of the blade, {edge} against it",
                "Measure the step on a scrap.",
            ),
            setup(
                "table saw",
                TOOL,
                "second fence",
                left,
                f"standing on {edge}, its {back} against the fence: blade {said(width, build)} high, "
                f"fence {said(left, build)} from the blade",
            ),
        )

    first, each = minutes("step on the saw")
    return Offer(
        "table saw, two cuts, one flat and one standing against the fence",
        (2 * first, 2 * each),
        wide_deep(trough),
        settle,
        caution=UNGUARDED + " The strip that comes off must be free to fall on the far side of the blade.",
        source=STANDS,
    )


def lacks(ask: Ask) -> str:
    """The router says it."""
    return ""


WAY = Way("step in two saw cuts", "one cut lying flat, one standing", offers, lacks)
