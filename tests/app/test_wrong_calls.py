"""A call that can't be taken says what would work: the nearest verb, the folder that is missing, the file meant."""

from pathlib import Path

import pytest

from storystick.app.command import main, read_call
from storystick.app.files import aimed


def test_a_verb_misspelt_names_the_one_that_was_meant(capsys: pytest.CaptureFixture[str]):
    with pytest.raises(SystemExit) as ended:
        read_call(["chek", "plan.yaml"])
    assert ended.value.code == 2
    assert "did you mean check?" in capsys.readouterr().err


def test_a_file_misspelt_names_the_one_that_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "stand.yaml").write_text("title: Stand\n")
    assert main(["check", str(tmp_path / "stnd.yaml")]) == 2
    assert "stnd.yaml: no such file; did you mean stand.yaml?" in capsys.readouterr().err


def test_a_folder_is_not_a_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["check", str(tmp_path)]) == 2
    assert f"{tmp_path} is a folder: name a file in it." in capsys.readouterr().err


def test_a_folder_that_is_missing_is_named_and_not_some_hidden_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    missing = tmp_path / "none" / "schema.json"
    assert main(["schema", "--to", str(missing)]) == 2
    assert f"there is no folder {missing.parent}" in capsys.readouterr().err


def test_a_file_goes_into_the_folder_that_is_named_or_is_refused_before_any_work(tmp_path: Path):
    own = tmp_path / "stand.pdf"
    (tmp_path / "out").mkdir()
    assert aimed(None, own) == own
    assert aimed(str(tmp_path / "out"), own) == tmp_path / "out" / "stand.pdf"
    assert aimed(str(tmp_path / "out" / "bench.pdf"), own) == tmp_path / "out" / "bench.pdf"
    with pytest.raises(FileNotFoundError):
        aimed(str(tmp_path / "none" / "bench.pdf"), own)
