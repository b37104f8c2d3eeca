"""What `python -m storystick` runs."""

import sys
from importlib.util import find_spec


def start() -> int:
    """Hand over to the command line, or say plainly that this copy has none."""
    if find_spec("storystick.app") is None or find_spec("storystick.app.command") is None:
        sys.stderr.write("storystick: this copy has no command line (storystick/app/command.py is missing).\n")
        return 70
    from storystick.app.command import main

    return main()


if __name__ == "__main__":
    sys.exit(start())
