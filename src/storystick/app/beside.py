"""Layouts found in a thread of their own while assembly and checks are reckoned: the layouts' library leaves Python be.

Neither asks anything of the other, so each comes out as it would have alone.
"""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Thread, get_ident
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storystick.app.pipeline import Job


def time_of_this_thread() -> Callable[[], float] | None:
    """A clock of the processor's time that the asking thread takes [s]; None where there is no such clock."""
    try:
        clock = time.pthread_getcpuclockid(get_ident())
    except (AttributeError, OSError):
        return None
    return lambda: time.clock_gettime(clock)


@contextmanager
def layouts_beside(job: "Job") -> Iterator[None]:
    """Meanwhile the layouts are found; they are there at the end. Raises CantGoOn where there is nothing to lay out."""
    _ = job.build
    own = time_of_this_thread()
    if own is None:
        yield
        return

    def found() -> None:
        with suppress(Exception):  # whoever asks for the layouts next meets it again
            job.lay_out_beside(own)

    thread = Thread(target=found, daemon=True)
    thread.start()
    try:
        yield
    finally:
        thread.join()
