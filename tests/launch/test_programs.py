"""A program that tests look at pages with is found, fetched where that may be done, or missed out loud."""

import os
from pathlib import Path
from typing import NoReturn

import pytest

from tests.launch.shop import program
from tools import programs
from tools.programs import Program

LAMP = Program(("lamp", "lantern"), "lighting")


class Missed(Exception):
    """What `need` stops with here."""


def miss(reason: str) -> NoReturn:
    raise Missed(reason)


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The only folder on PATH, and we are root."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    programs.fetch.cache_clear()
    return tmp_path


def test_any_of_its_names_will_do(bench: Path):
    lantern = program(bench / "lantern", "")
    assert programs.need(LAMP, miss) == lantern


def test_a_place_off_path_will_do(bench: Path):
    there = program(bench / "Applications" / "Lamp", "")
    assert programs.need(Program(("lamp",), "lighting", (str(bench / "none"), str(there))), miss) == there


def test_on_another_system_the_reason_says_so():
    with pytest.raises(Missed, match="no lamp here, and this is not a Debian-like system"):
        programs.need(LAMP, miss)


def test_who_is_not_root_is_told_what_root_would_do(bench: Path, monkeypatch: pytest.MonkeyPatch):
    program(bench / "apt-get", "#!/bin/sh\nexit 1\n")
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(Missed, match="apt-get install lighting"):
        programs.need(LAMP, miss)


def test_root_fetches_it(bench: Path):
    text = f'#!/bin/sh\ncase "$*" in *"install -y"*lighting) echo > {bench}/lamp; /bin/chmod +x {bench}/lamp;; esac\n'
    program(bench / "apt-get", text)
    assert programs.need(LAMP, miss) == bench / "lamp"


def test_a_failed_fetch_says_why(bench: Path):
    program(bench / "apt-get", "#!/bin/sh\necho 'no network' >&2\nexit 100\n")
    with pytest.raises(Missed, match="apt-get update failed: no network"):
        programs.need(LAMP, miss)


@pytest.mark.parametrize(("value", "is_ci"), [("true", True), ("1", True), ("", False), ("false", False)])
def test_where_nothing_may_be_left_out(monkeypatch: pytest.MonkeyPatch, value: str, is_ci: bool):
    monkeypatch.setenv("CI", value)
    assert programs.in_ci() is is_ci
