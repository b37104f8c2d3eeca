"""A channel or a step with the router's edge guide: along an edge, in an edge or an end, or cut back from one."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from storystick.ground.dim import Book
from storystick.ground.source import practice
from storystick.model.work import Setup
from storystick.shop.shop import RouterBit
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, once, setup
from storystick.work.ways.guide import depth_setup
from storystick.work.ways.trough import Trough, bit_named, bit_size, trough_of, wide_deep

REACH = Fraction(150)
REACHES = practice("a router's edge guide reaches about 150 mm (6 in)")


def offers(ask: Ask) -> Iterator[Offer]:
    """Steps with any bit; channels near an edge, or in one, with a bit no wider than they are."""
    trough = trough_of(ask)
    if trough is None:
        return
    near = trough.at.value + trough.cut.width.value <= REACH
    far = trough.wide.value - trough.at.value <= REACH
    if not (near or far):
        return
    bits = [b for b in ask.shop.bits_of("straight", "spiral") if b.cuts is None or b.cuts >= trough.cut.depth.value]
    narrower = [bit for bit in bits if bit.size <= trough.cut.width.value]
    if trough.is_step and bits:
        yield _offer(trough, max(narrower or bits, key=lambda bit: bit.size), near)
    elif narrower:
        yield _offer(trough, max(narrower, key=lambda bit: bit.size), near)


def _offer(trough: Trough, bit: RouterBit, near: bool) -> Offer:
    tool = bit_named(bit.profile, bit.size)
    cut, build = trough.cut, trough.ask.build
    strokes = max(1, ceil(cut.width.value / bit.size))
    far_word = "the far end" if trough.over == 0 else ("the far edge" if trough.over == 1 else "the back")
    runs = trough.datum if near else far_word

    def settle(book: Book) -> tuple[Setup, ...]:
        ends = (
            (trough.at, trough.at + cut.width)
            if near
            else (trough.wide - trough.at - cut.width, trough.wide - trough.at)
        )
        found = [depth_setup(trough, book, tool)]
        walls = [] if ends[0].value <= 0 else [("guide", ends[0], "near side")]
        if strokes > 1 or trough.is_step:
            size = bit_size(tool, bit.size)
            name = f"far guide of the {tool} for {said(ends[1], build)}"
            walls.append(
                ("second guide", once(book, name, lambda: ends[1] - size, "the far wall less the bit"), "near side")
            )
        for word, to, side in walls:
            says = f"edge guide {said(to, build)} from the {side} of the bit, along {runs}"
            if to.value == 0:
                says = f"edge guide level with the {side} of the bit, along {runs}"
            elif trough.is_step and word == "second guide":
                says += ", then once more for the strip that is left there"
            if to.value < 0:
                says = f"edge guide let over the bit by {said(-to, build)}, along {runs}"
            found.append(setup("router", tool, word, to, says, "Rout a scrap first and measure it."))
        return tuple(found)

    first, each = minutes("router pass")
    return Offer(
        f"router, {tool} with the edge guide",
        (first * (1 if strokes == 1 else 1.5), each * strokes * trough.passes),
        f"the edge guide sets both walls: {wide_deep(trough)}",
        settle,
        source=REACHES,
    )


def lacks(ask: Ask) -> str:
    """A straight bit that goes in."""
    trough = trough_of(ask)
    if trough is None or (not trough.is_step and trough.on_face):
        return ""
    return f"a router with a straight bit of {said(trough.cut.width, ask.build)} or less"


WAY = Way("router with an edge guide", "along an edge", offers, lacks)
