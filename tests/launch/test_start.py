"""./storystick starts the program of its own folder, from anywhere, with the user's words untouched."""

import os
from pathlib import Path

import pytest

from tests.launch.shop import ECHO, FAILS, checkout, program, shells, stamped, start, tools


@pytest.fixture(params=shells(), ids=lambda words: Path(words[0]).name)
def shell(request: pytest.FixtureRequest) -> list[str]:
    return request.param


@pytest.fixture
def here(tmp_path: Path) -> Path:
    folder = checkout(tmp_path / "my shop, upstairs")
    stamped(folder, ECHO)
    return folder


@pytest.fixture
def path(tmp_path: Path) -> str:
    return tools(tmp_path / "bin")


def test_it_hands_on_every_word_as_it_was_given(here: Path, path: str, shell: list[str]):
    words = ["packet", "my plan.yaml", "", "*", "23 5/8\"", "-x", "$HOME"]
    done = start(here / "storystick", *words, shell=shell, path=path, cwd=here)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == [str(here), str(here / "src"), "-P", "-m", "storystick", *words]
    assert done.stderr == ""


def test_it_leaves_the_user_where_they_are(here: Path, path: str, tmp_path: Path):
    elsewhere = tmp_path / "plans"
    elsewhere.mkdir()
    done = start(here / "storystick", path=path, cwd=elsewhere, PYTHONPATH="mine", CDPATH=str(tmp_path))
    assert done.stdout.splitlines()[:2] == [str(elsewhere), str(here / "src")]


@pytest.mark.parametrize("relative", [False, True])
def test_it_may_be_started_through_links(here: Path, path: str, tmp_path: Path, shell: list[str], relative: bool):
    bin_folder = tmp_path / "my bin"
    bin_folder.mkdir()
    target = here / "storystick"
    (bin_folder / "first").symlink_to(os.path.relpath(target, bin_folder) if relative else target)
    (bin_folder / "second").symlink_to("first" if relative else bin_folder / "first")
    done = start(bin_folder / "second", "why", shell=shell, path=path, cwd=tmp_path)
    assert done.stdout.splitlines()[1:] == [str(here / "src"), "-P", "-m", "storystick", "why"]


def test_it_may_be_started_by_its_bare_name(here: Path, path: str, shell: list[str]):
    done = start("storystick", shell=shell, path=path, cwd=here)
    assert done.stdout.splitlines()[1] == str(here / "src")


def test_the_programs_own_verdict_is_handed_back(here: Path, path: str):
    stamped(here, "#!/bin/sh\nexit 3\n")
    assert start(here / "storystick", path=path).returncode == 3


def test_the_tests_run_the_whole_suite_or_what_is_asked_for(here: Path, path: str, tmp_path: Path):
    stamped(here, ECHO, "dev")
    done = start(here / "test", "tests/physics", "-k", "a shelf", path=path, cwd=tmp_path)
    assert done.stdout.splitlines() == [str(here), "", "-m", "pytest", "tests/physics", "-k", "a shelf"]
    assert start(here / "test", path=path).stdout.splitlines()[2:6] == ["-m", "pytest", "-n", "auto"]


@pytest.mark.parametrize("spoil", ["lock", "unfinished", "python"])
def test_a_venv_that_is_not_as_the_lock_says_is_not_used(here: Path, path: str, spoil: str):
    match spoil:
        case "lock":
            lock = here / "requirements" / "run.txt"
            lock.write_text(lock.read_text() + "# one more line\n")
        case "unfinished":
            (here / ".venv" / "unfinished").touch()
        case "python":
            program(here / ".venv" / "bin" / "python", FAILS).unlink()
    # There is no Python to mend it with, so it ends there; a sound one would have started.
    assert start(here / "storystick", path=path).returncode == 69
