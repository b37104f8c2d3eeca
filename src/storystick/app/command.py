"""The command line: one verb for each question. Heavy rooms are only brought in by the verbs that need them."""

import argparse
import gc
import os
import re
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import NoReturn

from storystick import __version__
from storystick.app.asking import Verb
from storystick.app.verbs import VERBS

FINE, FOUND, WRONG_CALL = 0, 1, 2
SELDOM = (50_000, 5, 5)
"""How seldom Python looks for rings of things that hold one another: a plan makes few, and looking costs much time."""
NO_POOL = ("OPENBLAS_NUM_THREADS", "1")
"""Nothing here is large enough for numpy's threads: without them the process can be split in two (app/beside.py)."""
ABOUT = """Work out a piece of shop furniture from a plan: parts, joints, checks, sheet maps, what to buy,
the order of work, and a packet of drawings for the bench."""
AFTER = """Ends with 0 when all is well, 1 when something found stops the work, 2 when the
call can't be taken. The plan file is explained in docs/plan-file.md."""


@dataclass(frozen=True, slots=True)
class Called:
    """A call as it was read: the verb and its words."""

    verb: Verb
    words: argparse.Namespace


def read_call(words: Sequence[str]) -> Called:
    """The verb and its words; the page when there are none. Ends the program with 2 when it can't be taken."""
    parser = Asked(prog="storystick", description=ABOUT, epilog=AFTER, allow_abbrev=False)
    parser.add_argument("--version", action="version", version=f"storystick {__version__}")
    verbs = parser.add_subparsers(title="verbs", metavar="VERB", dest="verb")
    for name, verb in VERBS.items():
        sub = verbs.add_parser(name, help=verb.asks, description=verb.asks, epilog=verb.example, allow_abbrev=False)
        for add in verb.takes:
            add(sub)
    found = parser.parse_args(list(words))
    if found.verb is None:  # nothing is asked: open the page, where everything can be
        found = parser.parse_args(["page"])
    return Called(VERBS[found.verb], found)


def in_the_way(trouble: OSError) -> str:
    """What is wrong with a file or its folder, and what to do about it."""
    if not trouble.filename:
        return f"a file: {trouble.strerror or trouble}."
    path = Path(trouble.filename)
    if isinstance(trouble, IsADirectoryError):
        return f"{path} is a folder: name a file in it."
    if isinstance(trouble, FileNotFoundError) and not path.parent.is_dir():
        return f"there is no folder {path.parent}: make it first, or name another."
    if isinstance(trouble, FileNotFoundError):
        near = get_close_matches(path.name, [one.name for one in path.parent.iterdir()], 1)
        return f"{path.name}: no such file" + (f"; did you mean {near[0]}?" if near else ".")
    return f"{path.name}: {trouble.strerror or trouble}."


class Asked(argparse.ArgumentParser):
    """A parser that names the nearest thing that would work."""

    def error(self, message: str) -> NoReturn:
        """Say what can't be taken, and end with 2."""
        wrong = re.search(r"invalid choice: '([^']*)' \(choose from (.*)\)", message)
        if wrong:
            known = [word.strip("' ") for word in wrong[2].split(",")]
            near = get_close_matches(wrong[1], known, 1)
            message = message[: wrong.start()] + (
                f"{wrong[1]!r} is none of {', '.join(known)}" + (f"; did you mean {near[0]}?" if near else "")
            )
        super().error(message)


def main(words: Sequence[str] | None = None) -> int:
    """Run one verb. Returns the exit code; never shows a traceback for a mistake of the person."""
    gc.set_threshold(*SELDOM)
    os.environ.setdefault(*NO_POOL)
    called = read_call(sys.argv[1:] if words is None else words)
    try:
        return called.verb.run(called.words)
    except BrokenPipeError:
        sys.stderr.close()
        return FINE
    except KeyboardInterrupt:
        sys.stderr.write("\nstopped; nothing was written.\n")
        return 130
    except OSError as trouble:
        sys.stderr.write(f"storystick: {in_the_way(trouble)}\n")
        return WRONG_CALL


type Add = Callable[[argparse.ArgumentParser], None]
