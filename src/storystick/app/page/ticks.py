"""What was ticked and read on the page, as entries of the log beside the plan; and the log as the page sees it.

Entries carry an id that their maker chose, so that one sent twice counts once, and the time at which it was made there:
one that was kept on a phone out of reach counts from then.
"""

import re
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

from storystick.app.log import log_at, now
from storystick.ground.length import Manner, read_length, show
from storystick.ground.misread import Misread
from storystick.plan.log import Act, Entry, Log, exact_mm
from storystick.plan.log import written as line_of

MOST = 3000  # numbers of one tick
CHANGES = ("read", "set", "anew", "chose")
"""What may give a number that isn't cut yet another value. What is done holds numbers as they are."""
_ID = re.compile(r"[A-Za-z0-9-]{8,64}")

type Data = dict[str, Any]


class Unfit(ValueError):
    """An entry that can't be kept; the message says why."""


def fit(entry: object) -> Data:
    """An entry with its known words only. Unfit when it isn't one.

    what   "tick" with `done`; "reading" with `text` and perhaps `with`, what it was measured with; or "remedy", taken
           for a fit that broke, with its mark as `text`
    key    what was ticked or read, or the fit
    at     when, by the maker's clock: a date and time in text
    cuts   of a tick: every number that it cut, as it was printed there: pairs of name and length
    """
    if not isinstance(entry, dict):
        raise Unfit("an entry is a group of words")
    kept: Data = {}
    for word, most in (("id", 64), ("what", 8), ("key", 300), ("at", 40), ("text", 60), ("says", 200), ("with", 60)):
        value = entry.get(word, "")
        if not isinstance(value, str) or len(value) > most:
            raise Unfit(f"{word} is a text of {most} letters at most")
        if value.strip():
            kept[word] = " ".join(value.split())
    if not _ID.fullmatch(kept.get("id", "")):
        raise Unfit("an id is 8 to 64 letters and digits")
    if kept.get("what") not in ("tick", "reading", "remedy") or not kept.get("key"):
        raise Unfit("an entry is a tick or a reading of something, or a remedy of a fit")
    if kept["what"] == "tick":
        kept["done"] = entry.get("done") is True
        kept["cuts"] = _cuts(entry.get("cuts", []))
    elif not kept.get("text"):
        raise Unfit("a reading needs what was read, a remedy its mark")
    return kept


def _cuts(given: object) -> tuple[tuple[str, Fraction], ...]:
    if not isinstance(given, list) or len(given) > MOST:
        raise Unfit(f"cuts is a list of {MOST} numbers at most")
    found = []
    for one in given:
        pair = isinstance(one, list) and len(one) == 2 and all(isinstance(w, str) and 0 < len(w) <= 300 for w in one)
        if not pair or ";" in one[0] or not one[0].strip():
            raise Unfit("each of cuts is a name and a length")
        try:
            found.append((" ".join(one[0].split()), read_length(one[1], "mm")))
        except Misread as trouble:
            raise Unfit(str(trouble)) from trouble
    return tuple(found)


def ticked(one: Data) -> Entry:
    """A tick that fits as an entry of the log."""
    act: Act = "done" if one["done"] else "undone"
    return Entry(when(one), act, one["key"], numbers=one["cuts"], says=one.get("says", ""), tag=one["id"])


def when(one: Data) -> str:
    """When it was made, in this computer's time; never later than now."""
    latest = now()
    try:
        made = datetime.fromisoformat(one.get("at", ""))
    except ValueError:
        return latest
    if made.tzinfo is not None:
        try:
            made = made.astimezone().replace(tzinfo=None)
        except (OverflowError, OSError):
            return latest
    return min(made.strftime("%Y-%m-%d %H:%M"), latest)


def seen(log: Log) -> list[Data]:
    """What was ticked and read, in its order, for the page."""
    found = []
    for number, one in enumerate(log.entries):
        told: Data = {"id": one.tag or f"line {number}", "key": one.about, "at": one.when}
        if one.act in ("done", "undone"):
            found.append({**told, "what": "tick", "done": one.act == "done"})
        elif one.act == "read":
            inch, mm = (", ".join(show(v, manner) for v in one.values) for manner in (Manner("inch", 64), Manner("mm")))
            found.append({**told, "what": "reading", "inch": inch, "mm": mm})
        elif one.act == "chose":
            found.append({**told, "what": "remedy", "says": one.says})
    return found


def entries(plan: Path) -> list[Data]:
    """What was ticked and read of a plan."""
    return seen(log_at(plan))


def changing(log: Log) -> str:
    """The part of a log that may give another value to what isn't cut: equal texts, equal pieces."""
    undone = (one for one in log.entries if one.act == "undone" and one.numbers)
    return "".join(line_of(one) for one in (*(e for e in log.entries if e.act in CHANGES), *undone))


def in_pairs(numbers: tuple[tuple[str, Fraction], ...]) -> list[list[str]]:
    """Numbers that something cuts, as the page sends them back when it is ticked."""
    return [[name, exact_mm(value)] for name, value in numbers]
