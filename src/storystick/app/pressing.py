"""The press in a process of its own, so that its memory is not added to all that was worked out before."""

import json
import os
import subprocess
import sys
from pathlib import Path

from storystick.paper.press import Forme, press


def printed_apart(forme: Forme) -> bytes:
    """The PDF, printed by a child process; by this one where no child can be had."""
    source = str(Path(__file__).parents[2])
    try:
        child = subprocess.run(
            [sys.executable, "-m", "storystick.app.pressing"], input=json.dumps([forme.packet, forme.fonts]).encode(),
            capture_output=True, env={**os.environ, "PYTHONPATH": source}, check=False,
        )  # fmt: skip
    except OSError:
        return press(forme)
    return child.stdout if child.returncode == 0 and child.stdout else press(forme)


if __name__ == "__main__":
    packet, fonts = json.loads(sys.stdin.buffer.read())
    sys.stdout.buffer.write(press(Forme(packet, fonts)))
