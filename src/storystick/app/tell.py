"""How far long work has come: one line on the screen that is written over; nothing where no one looks."""

import sys
import time
from collections.abc import Callable


class _Line:
    shown = False
    last = 0.0


def progress() -> Callable[[str, float], None] | None:
    """What stages tell their progress to: (what is being done, share done 0..1). None where nobody looks."""
    if not sys.stderr.isatty():
        return None

    def told(what: str, share: float) -> None:
        now = time.monotonic()
        if now - _Line.last < 0.1 and share < 1:
            return
        _Line.last, _Line.shown = now, True
        sys.stderr.write(f"\r\x1b[K{what} {round(100 * share)} %")
        sys.stderr.flush()

    return told


def done() -> None:
    """Take the line away."""
    if _Line.shown:
        sys.stderr.write("\r\x1b[K")
        sys.stderr.flush()
        _Line.shown = False
