"""A square notch at a corner or an edge nibbled on the table saw, the part standing on that edge against the sled."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from storystick.ground.dim import Book, Dim
from storystick.ground.source import practice
from storystick.model.work import Setup
from storystick.shop.shop import Saw
from storystick.work.saying import said
from storystick.work.ways import Ask, Offer, Way, minutes, once, setup
from storystick.work.ways.outline import Cutout, cutout_of

STANDS = practice("a part stands safely against the sled up to 600 mm (2 ft) high")
TALLEST = Fraction(600)


def offers(ask: Ask) -> Iterator[Offer]:
    """On the end or the edge that the notch opens to, whichever lets the part stand lower."""
    out = cutout_of(ask)
    if out is None or not out.plain:
        return
    for saw in ask.shop.saws_of("table saw"):
        for axis in (1, 0):  # standing on an edge first, then on an end
            high = out.size[axis]
            low_enough = saw.deep is None or high <= saw.deep
            if out.open_at(axis) and low_enough and ask.part.size[axis].value <= TALLEST:
                yield _offer(out, saw, axis)
                return


def _offer(out: Cutout, saw: Saw, axis: int) -> Offer:
    other, build = 1 - axis, out.ask.build
    passes = ceil(out.size[other] / saw.kerf)

    def settle(book: Book) -> tuple[Setup, ...]:
        high = once(book, f"notch {said(_dim(out, axis), build)} deep", lambda: _dim(out, axis), "as the outline asks")
        stands = "edge" if axis == 1 else "end"
        far = _dim(out, other)
        return (
            setup(
                "table saw",
                "saw blade",
                "blade height",
                high,
                f"part standing on its {stands}: blade {said(high, build)} high",
                "Try it on a scrap: the notch must pass what it goes round.",
            ),
            setup(
                "table saw",
                "saw blade",
                "stop",
                far,
                f"stop so that the cut ends {said(far, build)} from where it begins, then nibble the rest away",
            ),
        )

    first, each = minutes("notch")
    return Offer(
        "table saw, standing against the sled, nibbled pass by pass",
        (first + 3, each / 2 + passes * 0.5),
        "the blade's height and a stop make both cuts the same on every part",
        settle,
        caution="Clamp the part to a tall board on the sled; hands above the blade's height.",
        source=STANDS,
    )


def _dim(out: Cutout, axis: int) -> Dim:
    """The size of the notch along one axis as a number that can be asked why."""
    corners = [c.u if axis == 0 else c.v for c in out.cut.corners]
    return max(corners, key=lambda d: d.value) - min(corners, key=lambda d: d.value)


def lacks(ask: Ask) -> str:
    """The hand tools say it."""
    return ""


WAY = Way("notch nibbled on the table saw", "the part standing on its edge", offers, lacks)
