"""What others make of our files, in programs that share no line with ours: Khronos' validator reads the glTF."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from storystick.exports import shelf
from tests.exports.pieces import ALL, files
from tests.paper.any_plan import plan
from tests.told import job

OUTSIDE = Path(__file__).parents[2] / ".outside"
"""Where .ci/run puts what is not written in Python."""
BY_HAND = "npm install --prefix .outside gltf-validator@2.0.0-dev.3.10"

ASK = """
const read = require("fs").readFileSync(0);
require(process.argv[1]).validateBytes(new Uint8Array(read), {maxIssues: 20}).then(
  found => process.stdout.write(JSON.stringify(found)), error => { console.error(error); process.exit(1); });
"""


@pytest.fixture(scope="module")
def validator() -> list[str]:
    """The words that call it."""
    node, library = shutil.which("node"), OUTSIDE / "node_modules" / "gltf-validator"
    if node is None or not library.is_dir():
        missing = "node" if node is None else f"validator of glTF ({BY_HAND})"
        pytest.skip(f"no {missing} here, so it is judged by trimesh and our own reading alone")
    return [node, "-e", ASK, str(library)]


def verdict(validator: list[str], content: bytes) -> dict[str, Any]:
    done = subprocess.run(validator, input=content, capture_output=True, timeout=120)
    assert done.returncode == 0, done.stderr.decode()
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("of", [*ALL, "stranger"])
def test_gltf_passes_its_validator_without_a_remark(of: str, validator: list[str]) -> None:
    (file,) = files(of, "gltf")
    found = verdict(validator, file.content)
    assert found["issues"]["messages"] == []
    assert found["info"]["version"] == "2.0"
    assert found["info"]["totalTriangleCount"] > 0


@pytest.mark.parametrize("seed", [5, 9, 14])
def test_gltf_of_a_plan_that_nobody_drew_up_passes_too(seed: int, validator: list[str]) -> None:
    (file,) = shelf()["gltf"].make(job(plan(seed)))
    assert verdict(validator, file.content)["issues"]["messages"] == []


def test_the_validator_finds_fault_with_a_spoilt_file(validator: list[str]) -> None:
    (file,) = files("plain", "gltf")
    at = file.content.index(b'"count":')
    spoilt = file.content[:at] + file.content[at:].replace(b'"count":', b'"cuont":', 1)
    assert verdict(validator, spoilt)["issues"]["numErrors"] > 0
