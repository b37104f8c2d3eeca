"""The words of a sum: numbers with their units, names, signs, and the phrases a woodworker uses for them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.ground.kept import Kept
from storystick.ground.length import INCH, UNIT_WORDS, VULGAR, Written, written
from storystick.ground.misread import Misread, nearest

type What = Literal["number", "name", "sign", "of", "pick", "round", "(", ")", ",", "end"]

SIGNS = {"+": "+", "-": "-", "−": "-", "–": "-", "*": "*", "×": "*", "·": "*", "/": "/", "÷": "/"}
SIGN_WORDS = {"x": "*", "times": "*", "plus": "+", "minus": "-"}
# Words that end a name, so no name can contain them.
RESERVED = frozenset({"of", "and", "or", "x", "times", "plus", "minus", "rounded"})

_PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
    "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16,
}  # fmt: skip
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7}
_MARKS = {"half": 2, "quarter": 4, "eighth": 8, "sixteenth": 16, "thirty-second": 32, "sixty-fourth": 64}

_FRACTION = re.compile(
    rf"(?:({'|'.join(_COUNTS)})\s+)?({'|'.join(sorted(_PARTS, key=len, reverse=True))})\s+(?:of\b(?:\s+the\b)?|the\b)",
    re.IGNORECASE,
)
_PICK = re.compile(
    r"(?:the\s+)?(?:(?P<small>smaller|smallest|lesser|least)|(?P<large>larger|largest|greater|greatest))\s+of\b"
    r"|(?P<min>min)(?=\s*\()|(?P<max>max)(?=\s*\()",
    re.IGNORECASE,
)
_ROUND = re.compile(
    r"(?:rounded\s+)?(?:to\s+the\s+(?P<near>nearest)|(?P<way>down|up)\s+to)\b(?:\s+the\b)?(?:\s+(?:whole|next)\b)?",
    re.IGNORECASE,
)
_MARK = re.compile(rf"({'|'.join(_MARKS)})s?\b(?!\s+of\b)|(mm|cm|inch|in|foot|ft)\b", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d]\w*(?:-(?=[^\W\d])\w+)*(?:\.\w+(?:-(?=[^\W\d])\w+)*)*")
_MORE = re.compile(r"\s+(\w+(?:-(?=[^\W\d])\w+)*(?:\.\w+(?:-(?=[^\W\d])\w+)*)*)(?![/⁄'\"′″])")


@dataclass(frozen=True, slots=True)
class Token:
    """One word of a sum.

    at, end  where it stands in the text
    text     as written; for a sign, a pick or a rounding the one word that it means
    number   for a number: what was read
    """

    what: What
    at: int
    end: int
    text: str
    number: Written | None = None


_READ: Kept[tuple[Token, ...] | None] = Kept(4096)


def tokens(text: str) -> Iterator[Token]:
    """The words of a sum in order, the end last. Raises Misread, with `at`, where there is something else."""
    found = _READ.of(text, lambda: _read(text))
    yield from _tokens(text) if found is None else found


def _read(text: str) -> tuple[Token, ...] | None:
    try:
        return tuple(_tokens(text))
    except Misread:
        return None


def _tokens(text: str) -> Iterator[Token]:
    at = _skip(text, 0)
    stepping = False
    while at < len(text):
        token = _step(text, at) if stepping else None
        token = token or _phrase(text, at) or _number(text, at) or _sign(text, at) or _name(text, at)
        if token is None:
            raise Misread(text[at : at + 12], "part of a sum", "numbers, names, + - x / and brackets", at)
        yield token
        stepping, at = token.what == "round", _skip(text, token.end)
    yield Token("end", len(text), len(text), "")


def _skip(text: str, at: int) -> int:
    while at < len(text) and text[at].isspace():
        at += 1
    return at


def _step(text: str, at: int) -> Token | None:
    """A mark of the rule after "to the nearest": sixteenth, mm."""
    match = _MARK.match(text, at)
    if match is None:
        return None
    size = INCH / _MARKS[match[1].lower()] if match[1] else _unit(match[2])
    return Token("number", at, match.end(), match[0], Written(size, True, False, match.end()))


def _unit(word: str) -> Fraction:
    found = written(f"1 {word}")
    return found.value if found else Fraction(1)


def _phrase(text: str, at: int) -> Token | None:
    if match := _FRACTION.match(text, at):
        part = Fraction(_COUNTS[match[1].lower()] if match[1] else 1, _PARTS[match[2].lower()])
        end = match.end()
        return Token("of", at, end, match[0], Written(part, False, True, end))
    if match := re.compile(r"twice\b(?:\s+the\b)?", re.IGNORECASE).match(text, at):
        return Token("of", at, match.end(), match[0], Written(Fraction(2), False, False, match.end()))
    if match := _PICK.match(text, at):
        return Token("pick", at, match.end(), "min" if match["small"] or match["min"] else "max")
    if match := _ROUND.match(text, at):
        return Token("round", at, match.end(), "nearest" if match["near"] else match["way"].lower())
    return None


def _number(text: str, at: int) -> Token | None:
    if not (text[at].isdigit() or text[at] in VULGAR or re.match(r"\.[0-9]", text[at : at + 2])):
        return None
    found = written(text, at)
    if found is None:
        run = re.compile(r"[^\s()+*×÷]+(?:\s+[0-9]+[/⁄][0-9]+)?").match(text, at)
        bad = run[0].rstrip(",") if run else text[at:]
        raise Misread(bad, "a number or a length", _mended(bad), at)
    return Token("number", at, found.end, text[at : found.end], found)


def _mended(bad: str) -> str:
    comma = bad.replace(",", ".", 1)
    found = written(comma)
    if found is not None and found.end == len(comma):
        return comma
    return "23 5/8, 23.625 or 600 mm"


def _sign(text: str, at: int) -> Token | None:
    letter = text[at]
    if letter in SIGNS:
        return Token("sign", at, at + 1, SIGNS[letter])
    if letter == "(":
        return Token("(", at, at + 1, letter)
    if letter == ")":
        return Token(")", at, at + 1, letter)
    if letter in ",;":
        return Token(",", at, at + 1, letter)
    return None


def _name(text: str, at: int) -> Token | None:
    """A name: words with single blanks and dots, up to a sign, a phrase or a reserved word."""
    first = _WORD.match(text, at)
    if first is None:
        return None
    word = first[0].lower()
    if word in SIGN_WORDS:
        return Token("sign", at, first.end(), SIGN_WORDS[word])
    if word in ("and", "or"):
        return Token(",", at, first.end(), word)
    if word == "of":
        return Token("of", at, first.end(), "of")
    if word in ("the", "a", "an") and (rest := _MORE.match(text, first.end())) and not rest[1][0].isdigit():
        return _name(text, rest.start(1))
    end = first.end()
    while (more := _MORE.match(text, end)) and more[1].lower() not in RESERVED:
        if _ROUND.match(text, more.start(1)) or _PICK.match(text, more.start(1)):
            break
        end = more.end(1)
    return Token("name", at, end, " ".join(text[at:end].split()))


def misspelt_unit(word: str) -> str:
    """The unit that a word after a number was meant to be; "" when it is like none."""
    return nearest(word, UNIT_WORDS - {"m"})
