"""Changing one value in the text of a plan, and nothing else: every other byte stays as it was typed."""

import re
from collections.abc import Iterator

from storystick.ground.finding import Finding, Grade, Place
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence, read_marked, scalars
from storystick.ground.outcome import Outcome

_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


def splice(text: str, place: Place, new: str) -> Outcome[str]:
    """The text with the value at a place replaced, quoted only where it has to be.

    place  that of a Scalar read from this very text, a word before a colon too; or of one number of a sum that stands
           there unquoted
    new    the value as it should read afterwards

    The result is read again and compared: it differs from the old in that value alone, or there is no result.
    """
    before = read_marked(text, place.file).made
    old = next((one for one in _words(before) if _same(one.place, place)), None) if before is not None else None
    if before is not None and old is None and (whole := _within(before, text, place)) is not None:
        old, new = whole[0], whole[1] + new + whole[2]  # one number of a sum
        place = old.place
    if before is None or old is None:
        return _refused(place, "There is no value at this place to put another one in for.")
    start, end = _offset(text, place.line, place.column), _offset(text, place.end_line, place.end_column)
    end = start + len(text[start:end].rstrip())  # a text of several lines ends at the start of the next
    wanted = _shape(before, old, new)
    for written in _ways(new, text[start:end][:1]):
        gap = " " if start == end and text[:start][-1:] in (":", "-", ",") else ""
        changed = text[:start] + gap + written + text[end:]
        again = read_marked(changed, place.file)
        if again.made is not None and not _more(again.findings) and _shape(again.made) == wanted:
            return Outcome(changed)
    return _refused(place, f"{new!r} can't be put here without changing something else.")


def _words(node: Marked) -> Iterator[Scalar]:
    """Every value of a tree, then every word before a colon."""
    yield from scalars(node)
    stack = [node]
    while stack:
        one = stack.pop()
        if isinstance(one, Mapping):
            yield from (key for key, _ in one.entries)
            stack.extend(value for _, value in one.entries)
        elif isinstance(one, Sequence):
            stack.extend(one.items)


def _within(before: Marked, text: str, place: Place) -> tuple[Scalar, str, str] | None:
    """The plain value of one line that a place is part of, and what of it stands before and behind the place."""
    for one in scalars(before):
        spot = one.place
        if spot.line == spot.end_line == place.line == place.end_line and (
            spot.column <= place.column < place.end_column <= spot.end_column
        ):
            start, end = _offset(text, spot.line, spot.column), _offset(text, spot.line, spot.end_column)
            if text[start:end] == one.text:
                first, last = place.column - spot.column, place.end_column - spot.column
                return one, one.text[:first], one.text[last:]
    return None


def _refused(place: Place, says: str) -> Outcome[str]:
    return Outcome(None, (Finding("splice", Grade.STOP, place, says, "Change the file by hand."),))


def _more(findings: tuple[Finding, ...]) -> bool:
    return any(finding.grade == Grade.STOP and finding.code in ("yaml", "swallowed") for finding in findings)


def _same(one: Place, other: Place) -> bool:
    spot = (one.line, one.column, one.end_line, one.end_column)
    return spot == (other.line, other.column, other.end_line, other.end_column)


def _offset(text: str, line: int, column: int) -> int:
    """How many characters into the text a line and column are; both count from 1."""
    start = 1 if text.startswith("\ufeff") else 0
    for _ in range(line - 1):
        found = _BREAK.search(text, start)
        start = found.end() if found else len(text)
    return min(start + column - 1, len(text))


def _ways(new: str, opens: str) -> tuple[str, ...]:
    """The ways to write a value, the plainest first; with the quotes that it had before, where it `opens` with one."""
    single = "'" + new.replace("'", "''") + "'"
    double = '"' + "".join(_ESCAPES.get(letter, letter) for letter in new) + '"'
    ways = [new, single, double] if "\n" not in new else [double, new]
    if not new or opens == "'":
        ways = [single, double, new] if "\n" not in new else [double, new]
    if opens == '"':
        ways = [double, single, new]
    return tuple(ways)


_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def _shape(node: Marked, old: Scalar | None = None, new: str = "") -> object:
    """A tree without its places, with one value replaced."""
    match node:
        case Scalar(text):
            return new if old is not None and node is old else text
        case Sequence(items):
            return [_shape(item, old, new) for item in items]
        case Mapping(entries):
            return [(new if key is old else key.text, _shape(value, old, new)) for key, value in entries]
