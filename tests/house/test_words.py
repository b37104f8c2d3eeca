"""What is tracked names no package registry, and no place on the machine of whoever wrote it."""

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.floors import ROOT

# Written so that no pattern finds itself.
REGISTRIES = (
    r"py[p]i\.org|python[h]osted|registry\.[n]pmjs|yarn[p]kg\.com|deb\.[d]ebian\.org|security\.[d]ebian\.org"
    r"|crates\.[i]o|proxy\.[g]olang|conda\.[a]naconda\.org|repo\.[m]aven"
)
PLACES = (
    r"(?<![\w.}*)\]-])/(?:[w]ork|[t]mp|[r]oot|[f]arm)/|/home/(?![l]inuxbrew)[a-z]+/|/opt/[p]ypi|\.[p]yenv/versions/\d"
)
BARRED = re.compile(f"{REGISTRIES}|{PLACES}".encode())
ADDRESS = re.compile(r"\w+://|--(?:extra-)?index-url|--find-links|--trusted-host|\b\w+\.(?:org|com|io|net|dev)\b|/")


def tracked() -> Iterator[Path]:
    """What git keeps, as it lies in the folder now."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a git checkout, so nothing says which files are part of it")
    listed = subprocess.run(["git", "-C", ROOT, "ls-files", "-z"], capture_output=True, check=True).stdout
    return (path for name in listed.decode().split("\0") if name and (path := ROOT / name).is_file())


def barred(name: str, text: bytes) -> Iterator[str]:
    for number, line in enumerate(text.split(b"\n"), 1):
        if hit := BARRED.search(line):
            yield f"{name}, line {number}: {hit[0].decode()}"


def test_no_file_names_a_registry_or_a_place_on_this_machine():
    assert [hit for path in tracked() for hit in barred(str(path.relative_to(ROOT)), path.read_bytes())] == []


@pytest.mark.parametrize(
    "text", ["https://py" + "pi.org/simple", "x = '/" + "tmp/a'", "cd /" + "work/main", "/home/" + "jo/"]
)
def test_a_barred_word_is_noticed(text: str):
    assert list(barred("x", text.encode()))


@pytest.mark.parametrize("text", ["src/storystick/work/ways", "#!/usr/bin/env python3", "the work/rest balance"])
def test_an_honest_word_is_free(text: str):
    assert list(barred("x", text.encode())) == []


@pytest.mark.parametrize("name", ["run.txt", "dev.txt"])
def test_a_lock_holds_versions_and_hashes_and_no_address(name: str):
    lines = (ROOT / "requirements" / name).read_text("utf-8").splitlines()
    assert len(lines) > 100
    assert [line for line in lines if ADDRESS.search(line)] == []


@pytest.mark.parametrize("name", ["run", "dev"])
def test_a_lock_holds_what_its_list_asks_for(name: str):
    locked = pins((ROOT / "requirements" / f"{name}.txt").read_text("utf-8"))
    asked = pins((ROOT / "requirements" / f"{name}.in").read_text("utf-8"))
    assert asked
    assert asked.items() <= locked.items()


def test_what_runs_is_what_is_tested():
    run, dev = (pins((ROOT / "requirements" / name).read_text("utf-8")) for name in ("run.txt", "dev.txt"))
    assert run
    assert run.items() <= dev.items()


def pins(text: str) -> dict[str, str]:
    """Name and version of every pinned line."""
    found = re.findall(r"^([A-Za-z0-9._-]+)==([^\s;\\]+)", text, re.MULTILINE)
    return {re.sub(r"[._-]+", "-", name).lower(): version for name, version in found}
