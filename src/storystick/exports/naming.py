"""Names of files and layers that every system takes: plain letters, figures, hyphens."""

import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction

from storystick.model.build import Build
from storystick.model.part import Part

LONGEST = 60
_RESERVED = re.compile(r"^(con|prn|aux|nul|com\d|lpt\d)$", re.IGNORECASE)


def plain(text: str) -> str:
    """`Gouge box: left side` as `gouge-box-left-side`; "piece" where nothing is left."""
    bare = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    words = re.sub(r"[^A-Za-z0-9]+", "-", bare).strip("-").lower()[:LONGEST].rstrip("-")
    return "piece" if not words or _RESERVED.match(words) else words


def by_letter(build: Build) -> Mapping[str, tuple[Part, ...]]:
    """Parts that are alike, by their letter in the order of the letters; a part without one goes by its name."""
    found: dict[str, list[Part]] = {}
    for part in build.parts:
        found.setdefault(letter_of(part), []).append(part)
    return {letter: tuple(found[letter]) for letter in sorted(found, key=lambda text: (len(text), text))}


def letter_of(part: Part) -> str:
    """The letter of a part; its name where it has none."""
    return part.letter or part.name


def file_of(part: Part) -> str:
    """How the files of a part and of those alike begin: `A-cabinet-left-side`."""
    return f"{part.letter}-{plain(part.name)}" if part.letter else plain(part.name)


def figures(value: Fraction | float, decimals: int = 3) -> str:
    """A number for a name: 9.5, 12, 0.125, never with an exponent or a minus before nothing."""
    text = f"{float(value):.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
