"""Layouts, the order of work and the pictures of its steps found by a second process, while this one does the rest.

Checks, views, sticks and labels ask nothing of the order of work, and it asks nothing of them. The second process is
this one split in two, so what is known so far is known to both; what each finds is what it would have found alone.
"""

import os
import pickle
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from queue import SimpleQueue
from threading import Thread
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from storystick.app.pipeline import Job

THREADS = "/proc/self/task"
"""Where the system lists the threads of a process."""


class Beside:
    """What the second process finds, in the order in which it finds it; nothing where there is none or it broke."""

    def __init__(self, found: "SimpleQueue[bytes] | None" = None) -> None:
        self._found = found

    def next(self) -> Any:
        """What it has found next, waited for; None where nothing comes any more: then it has to be found here."""
        told = self._found.get() if self._found else b""
        if not told:
            self._found = None
            return None
        return pickle.loads(told)  # written by our own other half

    def order_into(self, job: "Job") -> None:
        """Give a job its layouts and its order of work; where none come, it finds them itself when it is asked."""
        if job.tell is not None:
            job.tell("layouts and the order of work", 0.9)
        found = self.next()
        if found is not None:
            job.take_order(*found)


def can_split() -> bool:
    """True where this process may be split in two: it has more than one processor, and no thread but this one."""
    try:
        return len(os.sched_getaffinity(0)) > 1 and len(os.listdir(THREADS)) == 1
    except (AttributeError, OSError):  # another system, where this can't be told
        return False


@contextmanager
def order_beside(job: "Job", draw: "Callable[[Job], object]") -> Iterator[Beside]:
    """A second process looks for layouts and order, then draws what `draw` does; it is put away at the end.

    Raises CantGoOn where there is nothing to look for.
    """
    _ = job.build
    if not can_split():
        yield Beside()
        return
    from multiprocessing import get_context

    processes = get_context("fork")
    ours, theirs = processes.Pipe()
    other = processes.Process(target=_look, args=(job.untold(), draw, theirs), daemon=True)
    other.start()
    theirs.close()
    found: SimpleQueue[bytes] = SimpleQueue()
    Thread(target=_listen, args=(ours, found), daemon=True).start()
    try:
        sequence = job.sequence
        with suppress(OSError):
            ours.send(sequence)
        yield Beside(found)
    finally:
        other.kill()
        other.join()


def _look(job: "Job", draw: "Callable[[Job], object]", to: "Connection") -> None:
    """In the second process: layouts, then, once told what goes together when, the order of work, then the drawing."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process is asked to stop, and ends this one
    with suppress(Exception):  # whoever asks the first process next meets it again
        _ = job.laid_out
        job.take_sequence(to.recv())
        to.send(job.order_found)
        to.send(draw(job))


def _listen(to: "Connection", found: "SimpleQueue[bytes]") -> None:
    """Take what comes, so that the second process never has to wait until it is asked for."""
    with suppress(EOFError, OSError):
        while True:
            found.put(to.recv_bytes())
    found.put(b"")
