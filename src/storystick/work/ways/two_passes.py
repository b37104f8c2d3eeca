"""A channel in two passes or more of a smaller bit against a guide: the guide is moved by the width less the bit."""

from collections.abc import Iterator
from math import ceil

from storystick.ground.dim import Book, Dim
from storystick.model.work import Setup
from storystick.shop.shop import RouterBit
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, once, setup
from storystick.work.ways.guide import depth_setup, guide_setup
from storystick.work.ways.trough import Trough, bit_named, bit_size, trough_of, wide_deep


def offers(ask: Ask) -> Iterator[Offer]:
    """The largest bits that are smaller than the channel: the fewer passes the better."""
    trough = trough_of(ask)
    if trough is None or trough.is_step or not trough.on_face:
        return
    smaller = [
        bit
        for bit in ask.shop.bits_of("straight", "spiral")
        if bit.size < trough.cut.width.value and (bit.cuts is None or bit.cuts >= trough.cut.depth.value)
    ]
    for bit in sorted(smaller, key=lambda one: -one.size)[:2]:
        yield _offer(trough, bit)


def second_offset(trough: Trough, book: Book, tool: str, bit: RouterBit) -> Dim:
    """How far the guide moves for the last pass: the channel's width less the bit [mm]."""
    width = trough.cut.width
    name = f"second offset of the {tool} for {said(width, trough.ask.build)}"
    return once(book, name, lambda: width - bit_size(tool, bit.size), "the channel's width less the bit")


def _offer(trough: Trough, bit: RouterBit) -> Offer:
    tool = bit_named(bit.profile, bit.size)
    strokes = ceil(trough.cut.width.value / bit.size)
    build = trough.ask.build

    def settle(book: Book) -> tuple[Setup, ...]:
        move = second_offset(trough, book, tool, bit)
        says = f"guide moved on by {said(move, build)} for the last pass, with a spacer of that thickness"
        test = f"Rout a scrap first: it must come out {said(trough.cut.width, build)} wide."
        return (
            depth_setup(trough, book, tool),
            guide_setup(trough, book, tool, bit.size),
            setup("router", tool, "second offset", move, says, test),
        )

    words = "two passes" if strokes == 2 else f"{strokes} passes"
    why = f"the guide sets the width, so it comes out as drawn: {wide_deep(trough)}"
    set_up, each = minutes("two passes")
    return Offer(
        f"router, {words} with a {tool} along a guide", (set_up, each * strokes / 2 * trough.passes), why, settle
    )


def lacks(ask: Ask) -> str:
    """The first way says it."""
    return ""


WAY = Way("two passes with a smaller bit", "a smaller bit, the guide moved between passes", offers, lacks)
