"""What `python -m storystick` runs."""

import sys
from importlib import import_module
from importlib.util import find_spec

COMMAND_LINE = "storystick.app.command"


def start() -> int:
    """Hand over to the command line, or say plainly that this copy has none."""
    if find_spec("storystick.app") is None or find_spec(COMMAND_LINE) is None:
        sys.stderr.write("storystick: this copy has no command line (storystick/app/command.py is missing).\n")
        return 70
    return int(import_module(COMMAND_LINE).main() or 0)


if __name__ == "__main__":
    sys.exit(start())
