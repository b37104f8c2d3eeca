"""A notch sawn along its line: jigsaw, band saw, or hand saw and file."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.shop.shop import Saw
from storystick.work.ways import Ask, Offer, Way, minutes, setup
from storystick.work.ways.outline import Cutout, cutout_of

HAND = ("hand saw", "back saw", "coping saw", "tenon saw", "pull saw")


def offers(ask: Ask) -> Iterator[Offer]:
    """Each saw that takes the thickness and gets to the line."""
    out = cutout_of(ask)
    if out is None:
        return
    thick = ask.part.thickness.value
    for saw in ask.shop.saws_of("jigsaw", "band saw", "hand saw"):
        deep = saw.deep is None or saw.deep >= thick
        throat = saw.kind != "band saw" or (not out.is_inside and (saw.rip is None or max(out.size) <= saw.rip))
        if deep and throat and not (saw.kind == "hand saw" and out.is_inside):
            yield _offer(out, saw)
    if not out.is_inside and not ask.shop.saws_of("hand saw") and any(word in HAND for word in ask.shop.others):
        yield _offer(out, Saw("hand saw", "hand saw", ask.part.thickness.value / 18))


def _offer(out: Cutout, saw: Saw) -> Offer:
    by_hand = saw.kind == "hand saw"
    first, each = minutes("curve cut" if out.curved else "notch")
    blade = "file" if out.curved else "chisel or file"

    def settle(book: Book) -> tuple[Setup, ...]:
        start = "drill a hole in each corner to start the blade, " if out.is_inside else ""
        says = f"{start}saw 1 mm (1/32 in) off the line on the waste side, then to the line with a {blade}"
        return (setup(saw.kind, saw.name, "line", None, says),)

    slow = 3.0 if by_hand else (0.0 if saw.kind == "band saw" else 0.5)
    return Offer(f"{saw.name} along the line, then {blade}", (first, each + slow), "sawn to a line", settle)


def lacks(ask: Ask) -> str:
    """A jigsaw."""
    return "a jigsaw or a hand saw" if cutout_of(ask) is not None else ""


WAY = Way("sawn along a line", "jigsaw, band saw or hand saw, then file", offers, lacks)
