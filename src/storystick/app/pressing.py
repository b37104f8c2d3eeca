"""The press in a process of its own, so that its memory is not added to all that was worked out before.

It is started while the pages are still being drawn: by the time they are, it has come to its types and waits. It is run
as a file and not as part of the whole, of which it would bring in everything: it needs no more than `typeset`.
"""

import json
import runpy
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storystick.paper.press import Forme


@contextmanager
def press_waiting() -> "Iterator[Callable[[Forme], bytes]]":
    """A press that gets ready meanwhile, for one packet; it is put away again if nothing comes to be printed."""
    from storystick.paper.press import plate, press

    try:
        child = subprocess.Popen(
            [sys.executable, "-P", __file__],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        )  # fmt: skip
    except OSError:
        yield press
        return

    def printed(forme: "Forme") -> bytes:
        try:
            pdf, _ = child.communicate(json.dumps(plate(forme)).encode())
        except OSError:
            pdf = b""
        return pdf if child.returncode == 0 and pdf else press(forme)

    try:
        yield printed
    finally:
        if child.poll() is None:
            child.kill()
            child.communicate()


def main() -> None:
    """Wait for a packet, print it."""
    import typst  # noqa: F401  # so that it is there when the packet comes

    given = sys.stdin.buffer.read()
    if given:
        typeset = runpy.run_path(str(Path(__file__).parents[1] / "paper" / "typeset.py"))["typeset"]
        sys.stdout.buffer.write(typeset(*json.loads(given)))


if __name__ == "__main__":
    main()
