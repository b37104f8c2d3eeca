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


DETERMINED = re.compile(r"(?:^|[\s(])(?:an?|the|each|every|its|this|that|one|no|own|other|same)\s$", re.I)
TAKES_A_NAME = re.compile(
    r"(?:^|[.:;] |\b(?:tips|of|from|into|on|in|under|to|at|by|with|and|makes|moves|beside|while|after|before) )$"
)


def in_full(name: str) -> str:
    """A full name the way it is said in a sentence: "the left side of drawer 1", "drawer 1 of the cabinet"."""
    first, *outer = reversed(name.split("."))
    return "".join([the(first), *(f" of {the(word)}" for word in outer)])


def fastener_said(name: str, names: Mapping[str, str]) -> str:
    """A screw the way it is said: "screw 1 of the front of drawer 1" for cabinet.drawer 1.front screw 1."""
    head, _, number = name.partition(" in ")[0].rpartition(" ")
    held, _, kind = head.rpartition(" ")
    if not held or not number.isdigit():
        return in_full(name)
    return f"{kind} {number} of {names.get(held) or in_full(held)}"


def cut_said(name: str, part: str, names: Mapping[str, str]) -> str:
    """Which cut of its kind it is, to follow the word for it: "in the left side of the case for the back"."""
    own = name.removeprefix(f"{part}.").partition(" in ")[0]
    where = names.get(part) or in_full(part)
    other = f"{part.rpartition('.')[0]}.{own}"
    return f"in {where} for {the(own)}" if other in names else f"in {where}"


def aloud(text: str, names: Mapping[str, str]) -> str:
    """A text with full names in it put the way they are said; `names` gives what is said for each, article and all.

    A name of one word only, which is a word of the language too, is put so only where it can be nothing but a name.
    """
    here = [name for name in names if name in text]
    if not here:
        return text
    pattern = "|".join(map(re.escape, sorted(here, key=lambda name: (-len(name), name))))

    def put(match: re.Match[str]) -> str:
        before, name = text[: match.start()], match[0]
        if "." not in name and not TAKES_A_NAME.search(before):
            return name
        said = names[name]
        if DETERMINED.search(before):
            said = said.removeprefix("the ")
        starts = not before or before.endswith(". ")
        return said[:1].upper() + said[1:] if starts else said

    return re.sub(rf"(?<![\w.])(?:{pattern})(?!\w|\.\w)", put, text)
