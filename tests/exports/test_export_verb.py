"""`storystick export`: what it writes, where, and what it says when it can't."""

import json
from pathlib import Path

import pytest

from storystick.app.command import main
from tests.exports.pieces import PLAIN


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    target = tmp_path / "board.yaml"
    target.write_text(PLAIN, "utf-8")
    return target


def test_files_go_to_a_folder_beside_the_plan(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["export", str(plan), "--as", "stl", "svg"]) == 0
    names = {file.name for file in (plan.parent / "board").iterdir()}
    assert {"one-board-with-holes.stl", "A-cabinet-left-side-face.svg"} <= names
    assert "stl files" in capsys.readouterr().out


def test_files_go_where_they_are_asked_to_go_and_may_be_counted_by_a_program(
    plan: Path, capsys: pytest.CaptureFixture[str]
):
    target = plan.parent / "for the mill"
    assert main(["export", str(plan), "--as", "step", "--to", str(target), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [Path(one["wrote"]).name for one in told["files"]] == ["one-board-with-holes.step"]
    assert (target / "one-board-with-holes.step").stat().st_size == told["files"][0]["bytes"]


def test_without_a_format_it_tells_which_there_are(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["export", str(plan)]) == 0
    assert "dxf" in capsys.readouterr().out
    assert list(plan.parent.iterdir()) == [plan]


def test_a_format_that_is_not_there_is_told_with_the_nearest_one(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["export", str(plan), "--as", "setp"]) == 2
    assert "did you mean step?" in capsys.readouterr().err
    assert list(plan.parent.iterdir()) == [plan]


def test_a_plan_with_mistakes_writes_nothing(plan: Path, capsys: pytest.CaptureFixture[str]):
    plan.write_text(PLAIN.replace("wide: 600", "wide: 6oo"), "utf-8")
    assert main(["export", str(plan), "--as", "dxf"]) == 1
    assert "6oo" in capsys.readouterr().out
    assert list(plan.parent.iterdir()) == [plan]
