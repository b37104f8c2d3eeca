"""An edge or an end at an angle: the blade tilted, or the end cut on the saw that swings down."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.ground.dim import Book, number
from storystick.model.cut import Bevel, Side
from storystick.model.work import Setup
from storystick.shop.shop import Saw
from storystick.work.ways import Ask, Offer, Way, minutes, setup

MOST = 47.0  # a saw tilts a little past 45 degrees
ENDS = (Side.END, Side.FAR_END)


def offers(ask: Ask) -> Iterator[Offer]:
    """Saws that tilt, take the thickness when tilted, and take the part."""
    cut = ask.cut
    if not isinstance(cut, Bevel):
        return
    for saw in ask.shop.saws_of("table saw", "track saw", "circular saw", "mitre saw"):
        if _takes(ask, cut, saw):
            yield _offer(ask, cut, saw)


def _takes(ask: Ask, cut: Bevel, saw: Saw) -> bool:
    at_end = cut.side in ENDS
    thick, across = ask.part.thickness.value, (ask.part.width if at_end else ask.part.length).value
    if saw.kind == "mitre saw":
        swung = at_end and saw.crosscut is not None and thick <= saw.crosscut
        return swung and cut.degrees <= MOST and (saw.deep is None or ask.part.width.value <= saw.deep)
    deep = saw.tilted if saw.tilted is not None else saw.deep
    if cut.degrees > MOST or (deep is not None and thick > deep):
        return False
    if at_end and saw.kind == "table saw":
        return saw.crosscut is None or across <= saw.crosscut
    return True


def _offer(ask: Ask, cut: Bevel, saw: Saw) -> Offer:
    def settle(book: Book) -> tuple[Setup, ...]:
        angle = number(Fraction(cut.degrees).limit_denominator(1000))
        full = "the back" if cut.from_back else "the face"
        size = "length" if cut.side in ENDS else "width"
        says = f"{saw.name} at {cut.degrees:g} degrees; {full} keeps its full {size}"
        return (
            setup(
                saw.kind, "saw blade", "tilt", angle, says, "Cut two scraps and hold them together against a square."
            ),
        )

    slow = {"table saw": 0.0, "mitre saw": -0.5}.get(saw.kind, 2.0)
    first, each = minutes("bevel")
    return Offer(f"{saw.name}, blade at {cut.degrees:g} degrees", (first, each + slow), "the saw's own tilt", settle)


def lacks(ask: Ask) -> str:
    """A saw that tilts that far."""
    cut = ask.cut
    return (
        f"a saw that tilts to {cut.degrees:g} degrees, or a plane and a block at that angle"
        if isinstance(cut, Bevel)
        else ""
    )


WAY = Way("saw tilted", "the blade at the angle of the bevel", offers, lacks)
