"""Make or mend .venv beside storystick, as a lock says. Run by tools/venv.sh: venv.py ROOT run|dev

Whatever happens on the way, the next start finds out: a file `unfinished` lies in .venv while work is under way,
and the lock that it was made from is copied in at the very end. A second start waits until the first is done.
Only the standard library, since nothing else is there yet.
"""

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

WHOLE = "import sys, pip; sys.exit(not (3, 12) <= sys.version_info < (3, 15))"
WOULD_LEAD_PIP_ASTRAY = ("PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_USER", "PYTHONHOME", "PYTHONPATH")
UNAVAILABLE = 69


def say(text: str) -> None:
    """Tell whoever waits, on the error stream: the output belongs to the program."""
    print(f"storystick: {text}", file=sys.stderr, flush=True)


@contextmanager
def alone(lock: Path) -> Iterator[int]:
    """Hold the lock file; yields its descriptor, so that a child can go on holding it if we are killed."""
    with lock.open("a") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("another start is setting up .venv; waiting for it")
            fcntl.flock(held, fcntl.LOCK_EX)
        yield held.fileno()


class Venv:
    """The folder .venv of one checkout."""

    def __init__(self, root: Path, lock: int) -> None:
        self.folder = root / ".venv"
        self.requirements = root / "requirements"
        self.python = self.folder / "bin" / "python"
        self.unfinished = self.folder / "unfinished"
        self.lock = lock

    def run(self, *words: str | Path) -> bool:
        """Run a program to its end; True if it succeeded. It says what went wrong on the error stream."""
        kept = {name: value for name, value in os.environ.items() if name not in WOULD_LEAD_PIP_ASTRAY}
        done = subprocess.run(words, env=kept, stdin=subprocess.DEVNULL, stdout=2, pass_fds=[self.lock])
        return done.returncode == 0

    def is_ready(self, name: str) -> bool:
        """Whole, and made from this very lock."""
        stamp = self.folder / f"{name}.lock"
        return (
            os.access(self.python, os.X_OK)
            and not self.unfinished.exists()
            and stamp.is_file()
            and stamp.read_bytes() == (self.requirements / f"{name}.txt").read_bytes()
        )

    def is_sound(self) -> bool:
        """Nothing was broken off in it, and its Python runs and has pip: good enough to install into."""
        if self.unfinished.exists() or not os.access(self.python, os.X_OK):
            return False
        return subprocess.run([self.python, "-I", "-c", WHOLE], capture_output=True).returncode == 0

    def make(self) -> bool:
        """A new and empty one, in place of whatever is there."""
        if self.folder.is_symlink() or self.folder.is_file():
            self.folder.unlink()
        elif self.folder.exists():
            shutil.rmtree(self.folder)
        self.folder.mkdir()
        self.unfinished.touch()
        return self.run(sys.executable, "-I", "-m", "venv", self.folder)

    def install(self, name: str) -> bool:
        """What the lock names, each file checked against its hash, and then the stamp."""
        self.unfinished.touch()
        lock = self.requirements / f"{name}.txt"
        made_from = lock.read_bytes()
        pip = (self.python, "-I", "-m", "pip", "install", "-qq", "--no-input", "--disable-pip-version-check")
        if not self.run(*pip, "--require-hashes", "--only-binary", ":all:", "-r", lock):
            return False
        (self.folder / f"{name}.lock").write_bytes(made_from)
        if name == "dev":  # which includes what is needed to run
            shutil.copyfile(self.requirements / "run.txt", self.folder / "run.lock")
        self.unfinished.unlink()
        return True


def main(root: Path, name: str) -> int:
    """Bring .venv to what the lock says; 0, or 69 when it cannot be had."""
    what_for = {"run": "to run", "dev": "to run and test"}[name]
    with alone(root / ".venv.lock") as lock:
        venv = Venv(root, lock)
        if venv.is_ready(name):
            return 0
        version = ".".join(map(str, sys.version_info[:3]))
        if not venv.is_sound():
            say(f"making .venv with Python {version}")
            if not venv.make():
                say(f"{sys.executable} could not make .venv; see above")
                return UNAVAILABLE
        say(f"fetching what storystick needs {what_for} (once, a minute or so)")
        if not venv.install(name):
            say("pip could not install that; see above. The next start begins anew.")
            return UNAVAILABLE
        say("ready")
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main(Path(sys.argv[1]), sys.argv[2]))
    except KeyboardInterrupt:
        say("stopped half-way; the next start begins anew")
        sys.exit(130)
    except OSError as trouble:
        say(f"cannot keep .venv beside storystick: {trouble}")
        sys.exit(73)
