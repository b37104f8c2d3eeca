"""What holds for every format: found by its file, the same bytes for the same piece, names that any system takes."""

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from storystick.exports import shelf
from tests.exports.pieces import ALL, files, piece

ROOT = Path(__file__).parents[2]
FORMATS = ("3mf", "csv", "dxf", "dxf-inches", "gltf", "json", "step", "stl", "svg", "xlsx")
PRINTS = """
import hashlib, sys
from storystick.exports import shelf
from tests.exports.pieces import piece
for name, export in shelf().items():
    for file in export.make(piece("plain")):
        print(name, file.name, hashlib.sha256(file.content).hexdigest())
"""


def test_the_shelf_has_every_format_and_says_its_units():
    assert tuple(shelf()) == FORMATS
    for name, export in shelf().items():
        assert export.name == name
        assert export.says
        assert name in ("json", "xlsx") or re.search(r"\bmm\b|metres|inches", export.says)


@pytest.mark.parametrize("name", FORMATS)
@pytest.mark.parametrize("of", [*ALL, "stranger"])
def test_files_have_names_of_their_own_that_any_system_takes(of: str, name: str):
    found = files(of, name)
    assert found
    assert len({file.name.lower() for file in found}) == len(found)
    for file in found:
        assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9-]*\.[a-z0-9]+", file.name), file.name
        assert file.name.endswith(shelf()[name].suffix)
        assert len(file.name) <= 120
        assert file.content


def test_the_same_piece_gives_the_same_bytes_in_another_process_and_leaves_nothing_behind(tmp_path: Path):
    environment = dict(
        os.environ, PYTHONPATH="src", PYTHONHASHSEED="7", HOME=str(tmp_path), XDG_CACHE_HOME=str(tmp_path)
    )
    done = subprocess.run([sys.executable, "-c", PRINTS], cwd=ROOT, env=environment, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    here = [
        f"{name} {file.name} {hashlib.sha256(file.content).hexdigest()}"
        for name, export in shelf().items()
        for file in export.make(piece("plain"))
    ]
    assert done.stdout.splitlines() == here
    assert [str(path) for path in tmp_path.rglob("*")] == []


@pytest.mark.parametrize("name", FORMATS)
def test_no_format_tells_the_day_or_the_machine(name: str):
    for file in files("plain", name):
        assert not re.search(rb"20[23]\d-\d\d-\d\d|/usr/|\.venv", file.content), file.name
