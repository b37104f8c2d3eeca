"""A channel between two guides that were set with an offcut of the very stock that goes in: the fit makes itself."""

from collections.abc import Iterator

from storystick.ground.dim import Book, Dim, rule
from storystick.ground.source import practice
from storystick.model.work import Setup
from storystick.shop.shop import RouterBit
from storystick.work.saying import called, said
from storystick.work.ways import Ask, Offer, Way, minutes, once, setup
from storystick.work.ways.guide import depth_setup
from storystick.work.ways.trough import Trough, bit_named, trough_of

UNDER = practice(
    "the guides stand higher than the part of the cutter that is above the wood, so that the bearing runs on them"
)


def offers(ask: Ask) -> Iterator[Offer]:
    """Pattern bits that go between the guides, where a part of the piece is known to go in."""
    trough = trough_of(ask)
    if trough is None or trough.is_step or not trough.on_face or guest(ask) is None:
        return
    for bit in ask.shop.bits_of("pattern"):
        if bit.size < trough.cut.width.value and (bit.cuts is None or bit.cuts >= trough.cut.depth.value):
            yield _offer(trough, bit)


def guest(ask: Ask) -> str | None:
    """What goes into the cut, by letter and name, where that is a part of the piece."""
    if ask.fit is None or ask.fit.goes_in not in ask.build.parts_by_name:
        return None
    return called(ask.build.part(ask.fit.goes_in), ask.build)


def _offer(trough: Trough, bit: RouterBit) -> Offer:
    tool = bit_named("pattern", bit.size)
    build, width = trough.ask.build, trough.cut.width

    def settle(book: Book) -> tuple[Setup, ...]:
        name = f"between the guides for {said(width, build)}"
        apart: Dim = once(book, name, lambda: width, "the bit's bearing runs along both guides")
        says = f"guides {said(apart, build)} apart: an offcut of what goes in and a slip of card between them"
        test = "Rout a scrap between them, and push the offcut in by hand."
        found = [depth_setup(trough, book, tool), setup("router", tool, "between guides", apart, says, test)]
        if bit.cuts is not None:
            cuts = rule(f"cutting edge of the {tool}", bit.cuts, bit.source)
            high = once(
                book,
                f"least height of guides for the {tool} {said(trough.cut.depth, build)} deep",
                lambda: cuts - trough.cut.depth,
                "the bearing has to run on them",
            )
            found.append(setup("router", tool, "guides higher than", high, f"guides higher than {said(high, build)}"))
        return tuple(found)

    return Offer(
        f"router, {tool} between two guides set with an offcut of {guest(trough.ask)}",
        minutes("template rout", trough.passes),
        "the offcut itself sets the width, whatever the sheet measures",
        settle,
        source=UNDER,
        width_by="offcut",
    )


def lacks(ask: Ask) -> str:
    """A pattern bit, where a part goes in."""
    trough = trough_of(ask)
    return (
        f"a pattern bit under {said(trough.cut.width, ask.build)}"
        if trough and not trough.is_step and guest(ask)
        else ""
    )


WAY = Way("pattern bit between two guides", "guides set with an offcut of the stock itself", offers, lacks)
