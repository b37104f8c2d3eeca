"""A notch along a template: most of the waste sawn or drilled away, then a bit whose bearing follows the template."""

from collections.abc import Iterator

from storystick.ground.dim import Book
from storystick.model.work import Setup
from storystick.shop.shop import RouterBit
from storystick.work.saying import tool_size
from storystick.work.ways import Ask, Offer, Way, minutes, setup
from storystick.work.ways.outline import Cutout, cutout_of

BITS = ("pattern", "flush trim")


def offers(ask: Ask) -> Iterator[Offer]:
    """Bits that are long enough for the thickness and small enough for the rounded corners."""
    out = cutout_of(ask)
    if out is None:
        return
    radii = [c.radius.value for c in out.cut.corners if c.radius is not None and c.radius.value > 0]
    for bit in ask.shop.bits_of(*BITS):
        small = bit.size < min(out.size) and all(bit.size / 2 <= radius for radius in radii)
        if small and bit.cuts is not None and bit.cuts >= ask.part.thickness.value:
            yield _offer(out, bit)


def _offer(out: Cutout, bit: RouterBit) -> Offer:
    tool = f"{tool_size(bit.size)} {bit.profile} bit"

    def settle(book: Book) -> tuple[Setup, ...]:
        says = "template of 6 mm (1/4 in) sheet or more, stuck or screwed in the waste; bearing on the template"
        return (setup("router", tool, "template", None, says, "Rout a scrap along the template first."),)

    first, each = minutes("template rout")
    square = "" if out.curved or not out.has_inner_corner else "; square the inner corners with a chisel"
    rough = 0.0 if out.ask.shop.saws_of("jigsaw", "band saw") else 3.0
    return Offer(
        f"router, {tool} along a template{square}",
        (first + minutes("make template")[1], each + rough),
        "one template makes every copy the same",
        settle,
        caution="Take the waste out first: never feed a full-width cut into end grain.",
    )


def lacks(ask: Ask) -> str:
    """A bit with a bearing, for curves."""
    out = cutout_of(ask)
    return "a pattern bit as long as the part is thick" if out is not None and out.curved else ""


WAY = Way("router along a template", "a bearing follows a template", offers, lacks)
