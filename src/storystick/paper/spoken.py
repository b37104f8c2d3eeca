"""Names as they are said in the shop: "left side of drawer 1 of the cabinet" for cabinet.drawer 1.left side."""

import re
from collections.abc import Iterable, Mapping

OWN_NAMES = re.compile(r"\d$")
"""What ends in a number is one of several and takes no article."""


def spoken(name: str) -> str:
    """A full name the way it is said: the thing first, then what it belongs to."""
    first, *outer = reversed(name.split("."))
    return "".join([first, *(f" of {the(word)}" for word in outer)])


def spoken_number(name: str) -> str:
    """The name of a number the way it is said: "thickness of birch18" for birch18.thick."""
    outer, dot, last = name.rpartition(".")
    what, _, measure = last.rpartition(" ")
    if what and measure in MEASURES:
        last = f"{MEASURES[measure]} of the {what}"
    return spoken(f"{outer}.{MEASURES.get(last, last)}") if dot else name


MEASURES = {"thick": "thickness", "wide": "width", "deep": "depth", "high": "height", "long": "length"}


def the(word: str) -> str:
    """A name with its article."""
    return word if OWN_NAMES.search(word) else f"the {word}"


def listed(words: Iterable[str]) -> str:
    """Words in a row: this, that and those."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def aloud(text: str, names: Mapping[str, str]) -> str:
    """A text with full names in it put the way they are said; `names` gives what is said for each."""
    if not any(name in text for name in names):
        return text
    longest_first = sorted(names, key=lambda name: (-len(name), name))
    pattern = re.compile(r"(?<![\w.])(?:" + "|".join(map(re.escape, longest_first)) + r")(?!\w|\.\w)")
    return pattern.sub(lambda match: names[match[0]], text)
