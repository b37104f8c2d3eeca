"""The shop's own times: minutes that it takes the people there, by the rows of the table of times."""

import re
from fractions import Fraction

from storystick.ground.fields import Field, Fields, Filled
from storystick.ground.finding import Finding, mistake
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.ground.misread import Misread, not_too_long
from storystick.ground.quantities import read_number
from storystick.ground.reads import Either, Plain, ReadBy, Record, misfit, read
from storystick.ground.sums import Scope
from storystick.shop.shop import OwnTime
from storystick.shop.tables import find, nearest, times

UNITS = {
    **dict.fromkeys(("h", "hour", "hours"), Fraction(60)),
    **dict.fromkeys(("", "min", "mins", "minute", "minutes"), Fraction(1)),
    **dict.fromkeys(("s", "sec", "second", "seconds"), Fraction(1, 60)),
}
EXPECTED = "a time such as 4 min, 1 h 30 min or 20 s"
ONE = re.compile(r"\s*([0-9][0-9 ./]*|\.[0-9]+)\s*([a-z]*)\s*(?:,|and)?")
LONGEST = 30 * 24 * 60


def read_minutes(text: str) -> Fraction:
    """Minutes: 4 min, 1 h 30 min, 20 s; a plain number is minutes. Raises Misread for anything else."""
    left = not_too_long(text, EXPECTED, "4 min").casefold()
    total, count = Fraction(0), 0
    while left:
        found = ONE.match(left)
        if found is None or found[2] not in UNITS or (count and not found[2]):
            raise Misread(text, EXPECTED, "4 min")
        try:
            total += read_number(found[1].strip()) * UNITS[found[2]]
        except Misread:
            raise Misread(text, EXPECTED, "4 min") from None
        left, count = left[found.end() :], count + 1
    if not count or total > LONGEST:
        raise Misread(text, EXPECTED, "4 min" if not count else "48 h")
    return total


def _read(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    try:
        return read_minutes(scalar.text)
    except Misread as wrong:
        mistakes.append(wrong.finding(scalar.place))
        return None


MINUTES = Plain("text", EXPECTED, "4 min", _read)
TIME = Fields("times", (
    Field("set up", MINUTES, help="to get ready for it, once", also=("setup", "set-up")),
    Field("each", MINUTES, help="for each piece, cut, joint or screw"),
    Field("wait", MINUTES, help="while glue sets or finish dries", also=("waits",)),
))  # fmt: skip
ONE_TIME = Either((MINUTES, Record(TIME)))


def _times(node: Marked, scope: Scope, mistakes: list[Finding]) -> dict[str, OwnTime] | None:
    """By the table's own name for each kind of work, what the shop file says of it; every mistake told."""
    if not isinstance(node, Mapping):
        mistakes.append(misfit(node, "kinds of work with their times", "glue-up: {each: 2 min, wait: 1 h}"))
        return None
    found: dict[str, OwnTime] = {}
    for key, value in node:
        row = find(times(), key.text)
        if row is None:
            near = next(iter(nearest(times(), key.text)), "")
            mistakes.append(mistake(key.place, key.text, "a kind of work: docs/shop-file.md has them all", near))
        said = read(ONE_TIME, value, scope, mistakes)
        if row is not None and isinstance(said, Filled):
            found[row.name] = OwnTime(*(said.made(word, Fraction) for word in ("set up", "each", "wait")))
        elif row is not None and isinstance(said, Fraction):
            found[row.name] = OwnTime(each=said)
    return found


TIMES = ReadBy(_times, "glue-up: {each: 2 min, wait: 1 h}")
