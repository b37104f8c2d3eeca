"""Writing files so that nothing is ever half written."""

import os
import tempfile
from pathlib import Path


def write_whole(target: Path, content: bytes) -> None:
    """Write a file in one go: all of it is there afterwards, or what was there before. OSError if it can't be."""
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent or Path())
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def write_new(target: Path, content: bytes) -> bool:
    """Write a file that must not exist yet; False when it does."""
    if target.exists():
        return False
    write_whole(target, content)
    return True
