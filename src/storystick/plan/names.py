"""What may be a name in a plan, and that no two things share one."""

from storystick.ground.finding import Finding, Grade, mistake
from storystick.ground.length import UNIT_WORDS
from storystick.ground.marked import Mapping, Scalar, plain
from storystick.ground.misread import MOST_MISTAKES, Misread
from storystick.ground.tokens import tokens

LONGEST_NAME = 60
TAKEN = frozenset({"wide", "deep", "high", "floor", "room", "inside", "each", "all", "none", "yes", "no"})


def check_names(sections: tuple[Mapping, ...], mistakes: list[Finding]) -> None:
    """Every name must be readable in a sum, and be the only one of its kind in the plan (whatever its capitals)."""
    first: dict[str, Scalar] = {}
    for key, _ in (entry for section in sections for entry in section):
        if len(mistakes) >= MOST_MISTAKES:
            break
        if trouble := why_not(key.text):
            mistakes.append(mistake(key.place, key.text, f"a name that can be used: {trouble[0]}", trouble[1], "name"))
            continue
        before = first.setdefault(plain(key.text), key)
        if before is not key:
            for one, other in ((before, key), (key, before)):
                says = f"{one.text!r} names two things: this one, and one in line {other.place.line}."
                mistakes.append(Finding("name", Grade.STOP, one.place, says, "Give one of them another name."))


def why_not(name: str) -> tuple[str, str] | None:
    """Why a text can't be a name, and one that could be; None when it can."""
    trouble = _trouble(name)
    if trouble is None:
        return None
    letters = "".join(letter if letter.isalnum() or letter in " -" else " " for letter in plain(name))
    guess = " ".join(letters.lstrip("0123456789- ").split())[:LONGEST_NAME].strip() or "bench"
    guesses = (guess, f"my {guess}", guess.split()[0], f"my {guess.split()[0]}")
    return trouble, next((one for one in guesses if _trouble(one) is None), "bench")


def _trouble(name: str) -> str | None:
    word = plain(name)
    if not word:
        return "it is empty"
    if len(word) > LONGEST_NAME:
        return f"it is {len(word)} letters long"
    if word in UNIT_WORDS or word in TAKEN:
        return f"{word!r} has a meaning of its own"
    if "." in word:
        return "the dot is for what belongs to a thing, as in bench.height"
    try:
        words = list(tokens(word))
    except Misread:
        words = []
    if len(words) != 2 or words[0].what != "name" or words[0].text != word:
        return "a name is words of letters and digits, the first a letter, and not of, and, x or the like"
    return None
