"""A text that can't be read as what was asked for, and the nearest thing that would work."""

from collections.abc import Iterable
from difflib import get_close_matches

from storystick.ground.finding import Finding, Place, mistake


class Misread(ValueError):
    """Raised by the readers of one value; who knows the place in the file turns it into a finding.

    value     the text as it was written
    expected  what it should have been, with an article: "a length such as 23 5/8 or 600 mm"
    nearest   the nearest text that would be read; "" when there is no good guess
    at        how many characters into the text the trouble begins
    """

    def __init__(self, value: str, expected: str, nearest: str = "", at: int = 0) -> None:
        self.value, self.expected, self.nearest, self.at = value, expected, nearest, at
        super().__init__(f"{value!r} is not {expected}" + (f" (write {nearest})" if nearest else ""))

    def finding(self, place: Place) -> Finding:
        """The same as something to tell the woodworker, at a place in the file."""
        return mistake(place, self.value, self.expected, self.nearest)


MOST_MISTAKES = 200  # after so many a reader looks no further: the file is something else
LONGEST_VALUE = 100  # no length, price or weight is longer


def not_too_long(text: str, expected: str, nearest: str = "") -> str:
    """The text without the blanks around it. Raises Misread when it is far too long to be what is expected."""
    stripped = text.strip()
    if len(stripped) > LONGEST_VALUE:
        raise Misread(stripped[:20] + "...", f"{expected}: it is {len(stripped)} characters long", nearest)
    return stripped


def nearest(word: str, choices: Iterable[str]) -> str:
    """The choice most like a word, whatever its capitals; "" when none is much like it."""
    known = {" ".join(choice.casefold().split()): choice for choice in choices}
    asked = " ".join(word.casefold().split())
    if len(asked) > LONGEST_VALUE:
        return ""
    if asked in known:
        return known[asked]
    slips = {choice: _slips(asked, choice) for choice in known if abs(len(choice) - len(asked)) <= 2}
    fewest = min(slips.values(), default=99)
    if fewest <= max(1, min(len(asked), 9) // 3) and len(asked) > 1:
        ties = [choice for choice in slips if slips[choice] == fewest]
        return known[min(ties, key=lambda choice: (choice[:1] != asked[:1], choice))]
    close = get_close_matches(asked, known, n=1, cutoff=0.6)
    if close:
        return known[close[0]]
    within = [choice for choice in known if len(asked) > 2 and (choice.startswith(asked) or asked.startswith(choice))]
    return known[min(within, key=lambda choice: (abs(len(choice) - len(asked)), choice))] if within else ""


def _slips(one: str, other: str) -> int:
    """How many letters have to be changed, left out or put in to make one word of the other."""
    before = list(range(len(other) + 1))
    for row, letter in enumerate(one[:40], 1):
        now = [row]
        for column, facing in enumerate(other, 1):
            now.append(min(before[column] + 1, now[-1] + 1, before[column - 1] + (letter != facing)))
        before = now
    return before[-1]


def one_of(choices: Iterable[str]) -> str:
    """Choices as a sentence says them: "oak, ash or walnut"."""
    words = list(choices)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}" if words else "nothing"
