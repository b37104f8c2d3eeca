"""Writing files so that nothing is ever half written."""

import errno
import os
import tempfile
from pathlib import Path


def aimed(said: str | None, own: Path) -> Path:
    """Where a file is to go: `said`, under its own name where that is a folder; `own` if nothing is said.

    Raises FileNotFoundError before any work is done where there is no such folder.
    """
    target = own if not said else Path(said) / own.name if Path(said).is_dir() else Path(said)
    if not target.parent.is_dir():
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(target))
    return target


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
