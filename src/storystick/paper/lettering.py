"""Lettering: lengths in the build's manner, and text cut into plain runs and fractions that are set small.

A fraction is set as two small numbers about a stroke; only the fraction, never the whole number before it.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from storystick.ground.dim import Dim
from storystick.ground.length import INCH, Manner, nearest, show, show_number, up_to
from storystick.paper.glyphs import Weight, printable, width

SMALL = 0.70
"""Size of a fraction's digits, as a share of the text's."""
RAISED = 0.25
"""How far the upper number stands above the line, as a share of the text's size."""
STROKE = "⁄"

_BETWEEN = re.compile(r"\s+(?!(?<=\d\s)(?:\d+/\d|(?:mm|kg)\b))")
_SHADE = re.compile(r"(?<=[\d\"]) (heavy|scant)\b")
_FRACTION = re.compile(r"(?<![\w/.⁄])(\d{1,2})/(2|4|8|16|32|64)(?![\w/⁄]|\.\d)")


@dataclass(frozen=True, slots=True)
class Vulgar:
    """A fraction to be set small: upper and lower number."""

    upper: str
    lower: str


type Run = str | Vulgar


HEAVY_SCANT = "+ heavy, − scant: a little more or less than the mark"
THOUSANDTH, HUNDREDTH = INCH / 1000, Fraction(1, 100)
"""What a calliper shows [mm]."""


def legend(manner: Manner) -> str:
    """How numbers are rounded, in a few words for the foot of each page."""
    return HEAVY_SCANT if manner.unit == "inch" else f"to the nearest {show(manner.mark, manner)}"


def rounding_key(manner: Manner) -> str:
    """How the numbers of drawings and cards are rounded, and what that comes to where several are added up."""
    mark, half = show(manner.mark, manner), manner.mark / 2
    off = show(half, Manner("inch", 2 * manner.denominator)) if manner.unit == "inch" else f"{show_number(half)} mm"
    return (
        f"Each number is rounded by itself to the nearest {mark}, so it is right within {off}, and a sum of several "
        "within as many times that: measure each from the dot, do not add them up."
    )


def said(length: Dim | Fraction, manner: Manner, bare: bool = False) -> str:
    """A length in the build's manner; heavy and scant as the + and − that are written beside a number on the work."""
    return closely(show(length.value if isinstance(length, Dim) else length, manner, bare))


def bit(size: Dim | Fraction, manner: Manner) -> str:
    """The size of a hole as its bit is sold: in sixty-fourths of an inch or in millimetres, never heavy or scant."""
    value = size.value if isinstance(size, Dim) else size
    if manner.unit != "inch":
        return said(value, manner)
    if (value / INCH * 64).denominator == 1:
        return show(value, Manner("inch", 64))
    return f"{show_number(value, 2)} mm"


def set_to(number: Dim, manner: Manner) -> str:
    """What something is set to: a length in the build's manner, a plain number as degrees."""
    return said(number, manner) if number.power else f"{show_number(number.value, 2)}°"


def calliper(length: Dim | Fraction, manner: Manner, fits: bool = False) -> str:
    """The same length as a calliper shows it, in inches and millimetres; "" where the rule's own marks say it all.

    What something goes into (`fits`) is rounded up, so that no fit is printed tighter than it is reckoned; all else
    to the nearest.
    """
    value = length.value if isinstance(length, Dim) else length
    mark = nearest(value, manner.mark)
    if abs(value - mark) <= (manner.mark / 10 if manner.unit == "inch" else 0):
        return ""
    turned = up_to if fits else nearest
    metric = f"{float(turned(value, HUNDREDTH)):.2f} mm"
    return metric if manner.unit == "mm" else f'{float(turned(value, THOUSANDTH) / INCH):.3f}"  {metric}'


def both(length: Dim | Fraction, manner: Manner, fits: bool = False) -> str:
    """A length in the build's manner, and beside it as a calliper shows it where that says more."""
    fine = calliper(length, manner, fits)
    return f"{said(length, manner)} ({fine.replace('  ', ', ')})" if fine else said(length, manner)


def closely(text: str) -> str:
    """A text with heavy and scant, where they follow a number, as the + and − beside it."""
    return _SHADE.sub(lambda match: "+" if match[1] == "heavy" else "−", text)


@lru_cache(maxsize=4096)
def runs(text: str) -> tuple[Run, ...]:
    """A text cut into plain runs and the fractions of an inch rule in it."""
    return tuple(_runs(printable(text)))


def _runs(text: str) -> Iterator[Run]:
    at = 0
    for match in _FRACTION.finditer(text):
        if int(match[1]) >= int(match[2]):
            continue
        if match.start() > at:
            yield text[at : match.start()]
        yield Vulgar(match[1], match[2])
        at = match.end()
    if at < len(text):
        yield text[at:]


@lru_cache(maxsize=8192)
def set_width(text: str, points: float, weight: Weight = "regular") -> float:
    """How wide a text comes out [mm] when it is set with small fractions."""
    return sum(run_width(run, points, weight) for run in runs(text))


def run_width(run: Run, points: float, weight: Weight = "regular") -> float:
    """Width of one run [mm]."""
    if isinstance(run, str):
        return width(run, points, weight)
    return (
        width(run.upper, points * SMALL, weight)
        + width(STROKE, points, weight)
        + width(run.lower, points * SMALL, weight)
    )


def money(amount: Fraction, currency: str) -> str:
    """Money: two digits after the point, the currency before it when it is a sign and after it when it is a word."""
    whole, part = show_number(amount, 2), ""
    if "." not in whole:
        part = ".00"
    elif len(whole.partition(".")[2]) == 1:
        part = "0"
    return f"{currency}{whole}{part}" if len(currency) == 1 else f"{whole}{part} {currency}".strip()


def lines_in(text: str, points: float, wide: float) -> int:
    """How many lines a text takes in a column so wide [mm], broken between words."""
    return lines_of(word_widths(text, points), set_width(" ", points), wide)


def word_widths(text: str, points: float) -> tuple[float, ...]:
    """The width of each word of a text [mm]; a whole number and the fraction behind it are one word, as
    are a number and its unit.
    """
    return tuple(set_width(word, points) for word in _BETWEEN.split(text.strip()))


def lines_of(words: Sequence[float], space: float, wide: float) -> int:
    """How many lines words of these widths take in a column so wide [mm]."""
    lines, used = 1, 0.0
    for word in words:
        if used and used + space + word > wide:
            lines, used = lines + 1, word
        else:
            used += (space if used else 0.0) + word
    return lines
