"""Lists of sizes as they stand on the wall of a shop: 1/8, 1/4 to 1/2 by 1/16, 1/2 x 1, 35 mm."""

import re
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.finding import Finding, Place
from storystick.ground.length import read_length
from storystick.ground.marked import Marked, Scalar, Sequence
from storystick.ground.misread import MOST_MISTAKES, Misread, not_too_long
from storystick.ground.reads import misfit
from storystick.ground.size_words import read_sizes
from storystick.ground.sums import Scope

MOST = 1000
_RANGE = re.compile(r"(?P<low>.+?)\s+to\s+(?P<high>.+?)(?:\s+by\s+(?P<step>.+))?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Sized:
    """A size from a list [mm], and the second one of `1/2 x 1`."""

    size: Fraction
    other: Fraction | None = None
    place: Place = Place()


@dataclass(frozen=True, slots=True)
class Sizes:
    """All sizes of a list, in order."""

    all: tuple[Sized, ...]


def read_size_list(node: Marked, scope: Scope, mistakes: list[Finding]) -> Sizes | None:
    """The sizes in a list, or in a single value; None when one could not be read. `none` is an empty list."""
    items = node.items if isinstance(node, Sequence) else (node,)
    if isinstance(node, Scalar) and node.text.strip().lower() in ("", "none", "no"):
        return Sizes(())
    before = len(mistakes)
    found: list[Sized] = []
    for item in items:
        if len(mistakes) > MOST_MISTAKES or len(found) > MOST:
            break
        if isinstance(item, Scalar):
            try:
                found.extend(_sized(item, scope))
            except Misread as wrong:
                mistakes.append(wrong.finding(item.place))
        else:
            mistakes.append(misfit(item, "a size", '1/4, "1/2 x 1" or 1/16 to 1/2 by 1/64'))
    if len(found) > MOST:
        mistakes.append(misfit(node, f"a list of at most {MOST} sizes"))
    return Sizes(tuple(found)) if len(mistakes) == before else None


def read_range(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    """Two lengths, the least and the most: 1/4 to 13/16."""
    try:
        match = _RANGE.fullmatch(not_too_long(scalar.text, "a range"))
        if match is None or match["step"]:
            raise Misread(scalar.text, "a range", "1/4 to 13/16" if scope.bare == "inch" else "6 to 20")
        low, high = _ends(match, scope)
    except Misread as wrong:
        mistakes.append(wrong.finding(scalar.place))
        return None
    return low, high


def _sized(item: Scalar, scope: Scope) -> list[Sized]:
    text = not_too_long(item.text, "a size")
    if match := _RANGE.fullmatch(text):
        low, high = _ends(match, scope)
        if match["step"] is None:
            raise Misread(text, "a list of sizes: it doesn't say in which steps", f"{text} by 1/16 in")
        step = read_length(match["step"], scope.bare)
        if step <= 0 or (high - low) / step > MOST:
            raise Misread(text, f"a list of at most {MOST} sizes", "larger steps")
        return [Sized(low + n * step, None, item.place) for n in range(int((high - low) / step) + 1)]
    sizes = read_sizes(text, scope.bare, 1, 2)
    return [Sized(sizes[0], sizes[1] if len(sizes) > 1 else None, item.place)]


def _ends(match: re.Match[str], scope: Scope) -> tuple[Fraction, Fraction]:
    low, high = read_length(match["low"], scope.bare), read_length(match["high"], scope.bare)
    if not 0 < low <= high:
        raise Misread(match[0], "a range from a smaller size to a larger one")
    return low, high
