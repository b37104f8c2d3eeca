"""The first start makes .venv; one broken off is mended; two at once do not meet in it. Nothing is downloaded."""

import hashlib
import os
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from tests.launch.shop import checkout, start

PATH = os.environ.get("PATH", "")
MAKING, FETCHING = "making .venv", "fetching what storystick needs"


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A checkout that needs nothing, with a program that says how it was started."""
    folder = checkout(tmp_path / "my shop")
    package = folder / "src" / "storystick"
    package.mkdir(parents=True)
    (package / "__main__.py").write_text("import sys\nprint('started', *sys.argv[1:])\n")
    for name in ("run", "dev"):
        (folder / "requirements" / f"{name}.txt").write_text("# nothing\n")
    return folder


def storystick(here: Path) -> subprocess.CompletedProcess[str]:
    return start(here / "storystick", "--help", path=PATH, STORYSTICK_PYTHON=sys.executable)


def ask_for(here: Path, wheel: Path, digest: str) -> None:
    (here / "requirements" / "run.txt").write_text(f"shavings @ {wheel.as_uri()} --hash=sha256:{digest}\n")


def shavings(folder: Path) -> Path:
    """A package of one module, as small as they come."""
    wheel = folder / "shavings-1.0-py3-none-any.whl"
    about = "shavings-1.0.dist-info"
    with zipfile.ZipFile(wheel, "w") as file:
        file.writestr("shavings.py", "")
        file.writestr(f"{about}/METADATA", "Metadata-Version: 2.1\nName: shavings\nVersion: 1.0\n")
        file.writestr(f"{about}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        file.writestr(f"{about}/RECORD", f"shavings.py,,\n{about}/METADATA,,\n{about}/WHEEL,,\n{about}/RECORD,,\n")
    return wheel


def has_shavings(here: Path) -> bool:
    python = here / ".venv" / "bin" / "python"
    return subprocess.run([python, "-I", "-c", "import shavings"], capture_output=True).returncode == 0


def test_made_once_then_straight_on_then_anew_for_a_changed_lock(here: Path, tmp_path: Path):
    first = storystick(here)
    assert (first.returncode, first.stdout) == (0, "started --help\n"), first.stderr
    assert MAKING in first.stderr
    again = storystick(here)
    assert (again.returncode, again.stdout, again.stderr) == (0, "started --help\n", "")

    wheel = shavings(tmp_path)
    ask_for(here, wheel, hashlib.sha256(wheel.read_bytes()).hexdigest())
    assert not has_shavings(here)
    changed = storystick(here)
    assert changed.returncode == 0, changed.stderr
    assert FETCHING in changed.stderr
    assert MAKING not in changed.stderr
    assert has_shavings(here)


def test_a_file_that_is_not_the_one_that_was_locked_is_refused(here: Path, tmp_path: Path):
    ask_for(here, shavings(tmp_path), "0" * 64)
    refused = storystick(here)
    assert (refused.returncode, refused.stdout) == (69, "")
    assert "hash" in refused.stderr.lower()
    assert not has_shavings(here)

    (here / "requirements" / "run.txt").write_text("# nothing\n")
    mended = storystick(here)
    assert (mended.returncode, mended.stdout) == (0, "started --help\n"), mended.stderr
    assert MAKING in mended.stderr


def test_killed_half_way_the_next_start_mends_it(here: Path):
    first = subprocess.Popen(
        [here / "storystick"],
        env={"PATH": PATH, "STORYSTICK_PYTHON": sys.executable},
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    while not (here / ".venv" / "unfinished").exists():
        assert first.poll() is None
        time.sleep(0.01)
    os.killpg(first.pid, signal.SIGKILL)
    first.wait()
    assert (here / ".venv" / "unfinished").exists()

    mended = storystick(here)
    assert (mended.returncode, mended.stdout) == (0, "started --help\n"), mended.stderr
    assert not (here / ".venv" / "unfinished").exists()


def test_of_two_starts_at_once_one_makes_it_and_both_start(here: Path):
    both = [
        subprocess.Popen(
            [here / "storystick", name],
            env={"PATH": PATH, "STORYSTICK_PYTHON": sys.executable},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for name in ("one", "two")
    ]
    said = [each.communicate(timeout=120) for each in both]
    assert [each.returncode for each in both] == [0, 0], said
    assert [output for output, _ in said] == ["started one\n", "started two\n"]
    assert sum(MAKING in errors for _, errors in said) == 1


def test_one_that_was_made_by_hand_is_kept(here: Path):
    subprocess.run([sys.executable, "-m", "venv", here / ".venv"], check=True)
    mine = here / ".venv" / "mine"
    mine.touch()
    done = storystick(here)
    assert done.returncode == 0, done.stderr
    assert MAKING not in done.stderr
    assert mine.exists()
