"""Programs of other people that only tests use: found, or fetched from Debian where that may be done."""

import fcntl
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NoReturn


@dataclass(frozen=True)
class Program:
    """What it is called on different systems, and Debian's package that has it."""

    names: tuple[str, ...]
    package: str
    elsewhere: tuple[str, ...] = ()


CHROMIUM = Program(
    ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge"),
    "chromium",
    (
        "/Applications/Chromium.app/Contents/MacOS/Chromium",
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    ),
)
PDFTOPPM = Program(("pdftoppm",), "poppler-utils")


def in_ci() -> bool:
    """Somebody else's machine runs the tests: nothing may be left out quietly."""
    return os.environ.get("CI", "") not in ("", "0", "false")


def find(program: Program) -> Path | None:
    """Where it is, if it is there."""
    for name in program.names:
        if found := shutil.which(name):
            return Path(found)
    return next((Path(place) for place in program.elsewhere if os.access(place, os.X_OK)), None)


@cache
def fetch(program: Program) -> str:
    """Install it, where we are root on a Debian-like system. Returns why not, or an empty text."""
    if shutil.which("apt-get") is None:
        return "this is not a Debian-like system"
    if os.geteuid() != 0:
        return f"only root may install it: apt-get install {program.package}"
    with (Path(tempfile.gettempdir()) / "storystick-apt.lock").open("a") as held:
        fcntl.flock(held, fcntl.LOCK_EX)  # two workers of one test run
        if find(program):
            return ""
        quiet = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
        for words in (("update",), ("install", "-y", "--no-install-recommends", program.package)):
            done = subprocess.run(["apt-get", "-qq", *words], env=quiet, capture_output=True, text=True)
            if done.returncode != 0:
                return f"apt-get {words[0]} failed: {done.stderr.strip()[-300:]}"
    return ""


def need(program: Program, stop: Callable[[str], NoReturn]) -> Path:
    """Where it is; fetched first if need be. Calls `stop` with the reason if it cannot be had."""
    if found := find(program):
        return found
    why_not = fetch(program)
    if found := find(program):
        return found
    stop(f"there is no {program.names[0]} here, and {why_not or 'its package has not brought it'}")
