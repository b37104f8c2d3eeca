"""What was ticked and what was read at the bench: a log beside the plan, one line of JSON each, only ever added to.

Entries carry an id that their maker chose, so that one sent twice counts once. The order of the lines is the order of
arrival; `at` is the maker's own clock.
"""

import json
import os
import re
import threading
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

MOST = 20_000  # entries of one log
_ID = re.compile(r"[A-Za-z0-9-]{8,64}")
_LOCK = threading.Lock()

type Entry = dict[str, Any]


class Unfit(ValueError):
    """An entry that can't be kept; the message says why."""


def log_of(plan: Path) -> Path:
    """Where the log of a plan lies."""
    return plan.with_suffix(".log.jsonl")


def entries(plan: Path) -> tuple[Entry, ...]:
    """Every entry in the order in which it came; lines that can't be read are passed over."""
    path = log_of(plan)
    if not path.is_file():
        return ()
    found: list[Entry] = []
    for line in path.read_text("utf-8", errors="replace").splitlines()[:MOST]:
        try:
            one = json.loads(line)
        except ValueError:
            continue
        if isinstance(one, dict) and isinstance(one.get("id"), str):
            found.append(one)
    return tuple(found)


def fit(entry: object) -> Entry:
    """An entry with its known words only. Unfit when it isn't one.

    what   "tick" with `done`, or "reading" with `text`
    key    what was ticked or read
    at     when, by the maker's clock: a date and time in text
    """
    if not isinstance(entry, dict):
        raise Unfit("an entry is a group of words")
    kept: Entry = {}
    for word, most in (("id", 64), ("what", 8), ("key", 300), ("at", 40), ("text", 60), ("says", 200)):
        value = entry.get(word, "")
        if not isinstance(value, str) or len(value) > most:
            raise Unfit(f"{word} is a text of {most} letters at most")
        if value:
            kept[word] = value
    if not _ID.fullmatch(kept.get("id", "")):
        raise Unfit("an id is 8 to 64 letters and digits")
    if kept.get("what") not in ("tick", "reading") or not kept.get("key"):
        raise Unfit("an entry is a tick or a reading of something")
    if kept["what"] == "tick":
        kept["done"] = entry.get("done") is True
    elif not kept.get("text"):
        raise Unfit("a reading needs what was read")
    return kept


def add(plan: Path, entry: object) -> bool:
    """Add an entry; False when one with its id is there already. Unfit when it can't be kept."""
    kept = fit(entry)
    kept["got"] = datetime.now(UTC).isoformat(timespec="seconds")
    with _LOCK:
        known = entries(plan)
        if any(one["id"] == kept["id"] for one in known):
            return False
        if len(known) >= MOST:
            raise Unfit("the log is full")
        line = json.dumps(kept, ensure_ascii=False) + "\n"
        handle = os.open(log_of(plan), os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o644)
        try:
            os.write(handle, line.encode())
        finally:
            os.close(handle)
    return True
