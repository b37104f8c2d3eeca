"""The types hold and the code is neat: mypy --strict and ruff as tests, so that ./test is all there is to run."""

import subprocess
import sys

import pytest

from tests.house.floors import PACKAGE, ROOT

HEAVY = ("numpy", "manifold3d", "shapely", "packingsolver", "typst", "ezdxf", "segno", "starlette", "uvicorn", "jinja2")


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, *words], cwd=ROOT, capture_output=True, text=True)


def test_the_types_hold():
    done = run("-m", "mypy", "--strict", "src", "tools")
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_code_is_neat():
    done = run("-m", "ruff", "check", ".")
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.skipif(not (PACKAGE / "app" / "command.py").exists(), reason="there is no command line yet")
def test_asking_for_help_loads_nothing_heavy():
    ask = (
        "import runpy, sys\n"
        "sys.argv = ['storystick', '--help']\n"
        "try:\n"
        "    runpy.run_module('storystick', run_name='__main__')\n"
        "except SystemExit as end:\n"
        "    assert not end.code, end.code\n"
        "sys.stderr.write('loaded ' + ' '.join(sys.modules))\n"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", ask], cwd=ROOT, env={"PYTHONPATH": "src"}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    assert "packet" in done.stdout
    loaded = set(done.stderr.rpartition("loaded ")[2].split())
    assert "storystick" in loaded
    assert sorted(loaded.intersection(HEAVY)) == []
