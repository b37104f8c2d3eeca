"""A checkout of its own for the launcher's tests, with made-up interpreters: nothing is installed."""

import os
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).parents[2]
FAILS = "#!/bin/sh\necho 'the command exists in these versions: none' >&2\nexit 127\n"
FITS = '#!/bin/sh\nprintf "%s\\n" "$0"\n'  # answers the probe as an interpreter does that will do
ECHO = '#!/bin/sh\nprintf "%s\\n" "$PWD" "$PYTHONPATH" "$@"\n'


def shells() -> list[list[str]]:
    """Every POSIX shell of this machine."""
    found = [["sh"], ["dash"], ["busybox", "sh"], ["bash", "--posix"], ["ksh"], ["mksh"], ["yash"]]
    return [[path, *words[1:]] for words in found if (path := shutil.which(words[0]))]


def checkout(folder: Path) -> Path:
    """The parts of a checkout that start it."""
    folder.mkdir(parents=True)
    for name in ("storystick", "test"):
        shutil.copy2(ROOT / name, folder / name)
    for name in ("tools", "requirements"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    return folder


def program(path: Path, text: str) -> Path:
    """An executable script."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    path.chmod(0o755)
    return path


def stamped(folder: Path, python: str, lock: str = "run") -> Path:
    """A .venv as the launcher leaves it, with a made-up interpreter inside."""
    made = program(folder / ".venv" / "bin" / "python", python)
    shutil.copyfile(folder / "requirements" / f"{lock}.txt", folder / ".venv" / f"{lock}.lock")
    return made


def start(
    *words: str | Path, path: str = "", shell: list[str] | None = None, cwd: Path | None = None, **more: str
) -> subprocess.CompletedProcess[str]:
    """Start the launcher with nothing in its environment but what is given; no Python but those on `path`."""
    nowhere = "/nowhere"
    env = {"PATH": path, "HOME": nowhere, "STORYSTICK_SYSTEM": nowhere, **more}
    return subprocess.run([*(shell or []), *words], env=env, cwd=cwd, capture_output=True, text=True, timeout=120)


def tools(folder: Path) -> str:
    """A folder with the two small programs that a start uses, and no Python."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in ("cat", "readlink", "dirname"):
        if found := shutil.which(name):
            os.symlink(found, folder / name)
    return str(folder)
