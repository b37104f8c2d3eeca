"""./storystick finds a Python that works, wherever it lies, or says what to install."""

import os
import sys
from pathlib import Path

import pytest

from tests.launch.shop import FAILS, FITS, checkout, program, shells, stamped, start, tools


@pytest.fixture(params=shells(), ids=lambda words: Path(words[0]).name)
def shell(request: pytest.FixtureRequest) -> list[str]:
    return request.param


@pytest.fixture
def here(tmp_path: Path) -> Path:
    return checkout(tmp_path / "shop")


def shown(here: Path, *, shell: list[str] | None = None, path: str = "", **more: str) -> str:
    """The interpreter that a start would use."""
    done = start(here / "storystick", shell=shell, path=path, STORYSTICK_SHOW="python", **more)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_the_newest_of_those_on_path_is_taken(here: Path, tmp_path: Path, shell: list[str]):
    program(tmp_path / "bin" / "python3.12", FITS)
    newest = program(tmp_path / "bin" / "python3.13", FITS)
    assert shown(here, shell=shell, path=str(tmp_path / "bin")) == str(newest)


def test_a_shim_that_fails_is_skipped(here: Path, tmp_path: Path, shell: list[str]):
    for name in ("python3.14", "python3.13", "python3.12", "python3", "python"):
        program(tmp_path / "shims" / name, FAILS)
    real = program(tmp_path / "bin" / "python3.12", FITS)
    assert shown(here, shell=shell, path=f"{tmp_path / 'shims'}:{tmp_path / 'bin'}") == str(real)


def test_a_plain_python_will_do(here: Path, tmp_path: Path, shell: list[str]):
    program(tmp_path / "bin" / "python3", FAILS)
    real = program(tmp_path / "bin" / "python", FITS)
    assert shown(here, shell=shell, path=str(tmp_path / "bin")) == str(real)


@pytest.mark.parametrize(
    ("variable", "folder"),
    [
        ("HOME", ".pyenv/" "versions/3.13.0"),
        ("HOME", ".asdf/installs/python/3.12.7"),
        ("HOME", ".local/share/mise/installs/python/3.14.0"),
        ("HOME", ".local/share/uv/python/cpython-3.12.7-linux-x86_64-gnu"),
        ("HOME", "miniforge3"),
        ("HOME", "miniconda3/envs/shop floor"),
        ("HOME", ".local"),
        ("PYENV_ROOT", "versions/3.12.1"),
        ("ASDF_DATA_DIR", "installs/python/3.13.1"),
        ("UV_PYTHON_INSTALL_DIR", "cpython-3.13.1-macos-aarch64-none"),
        ("XDG_DATA_HOME", "uv/python/cpython-3.13.1-macos-aarch64-none"),
        ("STORYSTICK_SYSTEM", "usr/bin/.."),
        ("STORYSTICK_SYSTEM", "opt/homebrew"),
        ("STORYSTICK_SYSTEM", "opt/miniconda"),
        ("STORYSTICK_SYSTEM", "Library/Frameworks/Python.framework/Versions/3.12"),
    ],
)
def test_one_that_is_installed_but_not_activated_is_found(here: Path, tmp_path: Path, variable: str, folder: str):
    minor = next((m for m in ("14", "13", "12") if f"3.{m}" in folder), "12")
    root = tmp_path / "with spaces"
    real = program(root / os.path.normpath(folder) / "bin" / f"python3.{minor}", FITS)
    assert Path(shown(here, **{variable: str(root)})).resolve() == real


def test_an_old_one_in_a_version_managers_folder_is_left_alone(here: Path, tmp_path: Path):
    program(tmp_path / ".pyenv" / "versions" / "3.11.7" / "bin" / "python3.11", FITS)
    real = program(tmp_path / ".pyenv" / "versions" / "3.12.1" / "bin" / "python3.12", FITS)
    assert shown(here, HOME=str(tmp_path)) == str(real)


def test_the_override_comes_first(here: Path, tmp_path: Path, shell: list[str]):
    program(tmp_path / "bin" / "python3.13", FITS)
    mine = program(tmp_path / "my own" / "snake", FITS)
    assert shown(here, shell=shell, path=str(tmp_path / "bin"), STORYSTICK_PYTHON=str(mine)) == str(mine)


def test_the_override_may_be_a_name_on_path(here: Path, tmp_path: Path):
    mine = program(tmp_path / "bin" / "snake", FITS)
    assert shown(here, path=str(tmp_path / "bin"), STORYSTICK_PYTHON="snake") == str(mine)


def test_an_override_that_will_not_do_is_refused_not_passed_over(here: Path, tmp_path: Path):
    program(tmp_path / "bin" / "python3.13", FITS)
    bad = program(tmp_path / "bin" / "snake", FAILS)
    done = start(here / "storystick", path=str(tmp_path / "bin"), STORYSTICK_PYTHON=str(bad))
    assert done.returncode == 69
    assert str(bad) in done.stderr
    assert "3.12" in done.stderr


def test_without_any_python_it_says_what_to_install(here: Path, tmp_path: Path, shell: list[str]):
    (tmp_path / "empty").mkdir()
    done = start(here / "storystick", "--help", shell=shell, path=str(tmp_path / "empty"))
    assert done.returncode == 69
    assert done.stdout == ""
    for words in ("CPython 3.12, 3.13 or 3.14", "apt-get install", "brew install", "STORYSTICK_PYTHON="):
        assert words in done.stderr
    assert not (here / ".venv").exists()


def test_it_names_those_that_will_not_do(here: Path, tmp_path: Path, shell: list[str]):
    old = program(tmp_path / "bin" / "python3", FAILS)
    done = start(here / "storystick", shell=shell, path=str(old.parent))
    assert done.returncode == 69
    assert str(old) in done.stderr


def test_the_tests_look_for_a_python_in_the_same_way(here: Path, tmp_path: Path):
    path = tools(tmp_path / "bin")
    assert start(here / "test", path=path).returncode == 69
    real = program(tmp_path / "bin" / "python3.12", FITS)
    done = start(here / "test", path=path, STORYSTICK_SHOW="python")
    assert done.stdout.strip() == str(real)


def test_the_one_that_runs_this_is_a_real_one_that_will_do(here: Path):
    assert shown(here, STORYSTICK_PYTHON=sys.executable) == os.path.realpath(sys.executable)


@pytest.mark.parametrize(
    "edit",
    [
        "sys.version_info = (3, 11, 7)",
        "sys.version_info = (3, 15, 0)",
        "sys.implementation.name = 'pypy'",
        "sys.maxsize = 2**31 - 1",
        "sys.abiflags = 't'",
        "sys.modules['venv'] = None",
        "sys.modules['ensurepip'] = None",
        "sys.modules['ssl'] = None",
    ],
)
def test_a_python_that_is_not_whole_will_not_do(here: Path, tmp_path: Path, edit: str):
    code = f"import sys; {edit}; exec(sys.argv[1])"
    half = program(tmp_path / "half", f'#!/bin/sh\nexec "{sys.executable}" -I -c "{code}" "$3"\n')
    assert start(here / "storystick", STORYSTICK_PYTHON=str(half), STORYSTICK_SHOW="python").returncode == 69


def test_the_same_half_python_would_do_if_it_were_whole(here: Path, tmp_path: Path):
    code = "import sys; exec(sys.argv[1])"
    whole = program(tmp_path / "whole", f'#!/bin/sh\nexec "{sys.executable}" -I -c "{code}" "$3"\n')
    assert shown(here, STORYSTICK_PYTHON=str(whole)) == os.path.realpath(sys.executable)


def test_showing_the_interpreter_makes_nothing(here: Path, tmp_path: Path):
    real = program(tmp_path / "bin" / "python3.12", FITS)
    stamped(here, FAILS)
    before = sorted(here.rglob("*"))
    assert shown(here, path=str(real.parent)) == str(real)
    assert sorted(here.rglob("*")) == before
