"""The log beside the plan, on the disk: read whole, only ever added to.

One entry is one write at the end of the file, under a lock, and on the disk before it counts as written. A crash leaves
at most one line without its end, which doesn't count and is told; the next entry closes it off. Two who write at once
wait for one another.
"""

import contextlib
import os
import re
from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

from storystick.plan.log import HEAD, TORN, Entry, Log, read_log, written

try:
    import fcntl
except ImportError:  # a system without these locks: one write at the end of the file is still one write
    fcntl = None  # type: ignore[assignment]


def log_of(plan: Path) -> Path:
    """Where the log of a plan lies: beside it, under its name."""
    return plan.with_suffix(".log")


def log_text(plan: Path) -> str | None:
    """What the log of a plan says; None when there is none yet."""
    path = log_of(plan)
    return path.read_bytes().decode("utf-8", errors="replace") if path.is_file() else None


def log_at(plan: Path) -> Log:
    """The log of a plan, without what can't be read in it."""
    return read_log(log_text(plan) or "", log_of(plan).name).made or Log()


def now() -> str:
    """The time as an entry writes it: 2026-11-25 14:03."""
    return datetime.now().strftime("%Y-%m-%d %H:%M")


def add(plan: Path, *entries: Entry) -> int:
    """Add entries to the log of a plan, in one write; how many were new. One whose tag is there already is left out.

    Everything is on the disk when this returns. OSError when it can't be written.
    """
    path = log_of(plan)
    handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o644)
    try:
        with _alone(handle):
            before = _content(handle)
            fresh = tuple(_fresh(entries, set(_TAG.findall(before.decode("utf-8", errors="replace")))))
            if fresh:
                _write(handle, _lead(before) + "".join(written(one) for one in fresh))
                os.fsync(handle)
            if not before:
                _settle_folder(path.parent)
    finally:
        os.close(handle)
    return len(fresh)


_TAG = re.compile(r"  #(\S+)\r?\n")


def _fresh(entries: Iterable[Entry], known: set[str]) -> Iterator[Entry]:
    for one in entries:
        if not one.tag or one.tag not in known:
            yield one
            known.add(one.tag)


def _lead(before: bytes) -> str:
    """What goes before the next entry: the heading of a new log, or the end of a line that broke off."""
    if not before:
        return HEAD
    return "" if before.endswith(b"\n") else f"{TORN}\n"


def _content(handle: int) -> bytes:
    os.lseek(handle, 0, os.SEEK_SET)
    found = []
    while chunk := os.read(handle, 1 << 20):
        found.append(chunk)
    return b"".join(found)


def _write(handle: int, text: str) -> None:
    rest = text.encode()
    while rest:
        rest = rest[os.write(handle, rest) :]


@contextlib.contextmanager
def _alone(handle: int) -> Iterator[None]:
    """While this lasts nobody else adds to the file."""
    if fcntl is not None:
        fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        yield
    finally:
        if fcntl is not None:
            fcntl.flock(handle, fcntl.LOCK_UN)


def _settle_folder(folder: Path) -> None:
    """A new file is only safe when its folder knows of it."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
