"""The verbs of fits, log and other shops, as they are called."""

import json
import re
from pathlib import Path

import pytest

from storystick.app.command import main
from storystick.app.log import log_at, log_of
from tests.truth.plans import CASE, DRAWER

GROOVE = "case.drawer 1.left side.bottom in left side.wide"


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "case.yaml"
    path.write_text(CASE, "utf-8")
    return path


@pytest.fixture
def drawer(tmp_path: Path) -> Path:
    path = tmp_path / "drawer.yaml"
    path.write_text(DRAWER, "utf-8")
    return path


def test_fits_tells_the_share_of_builds_the_causes_and_the_methods(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["fits", str(plan), "--draws", "2000"]) == 0
    said = capsys.readouterr().out
    assert "Everything fits in" in said
    assert "of the doubt" in said
    assert "What to measure again" in said
    assert "trial on scrap" in said
    assert max(len(line) for line in said.splitlines()) <= 80


def test_fits_as_data_has_every_fit_with_its_chances(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["fits", str(plan), "--draws", "2000", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert 0 < found["all fit"] < 1
    assert all({"tight", "loose", "drawn", "causes"} <= set(one) for one in found["fits"])


def test_the_same_question_twice_has_the_same_answer_to_the_byte(plan: Path, capsys: pytest.CaptureFixture[str]):
    main(["fits", str(plan), "--draws", "2000"])
    first = capsys.readouterr().out
    main(["fits", str(plan), "--draws", "2000"])
    assert capsys.readouterr().out == first


def test_a_reading_is_written_and_what_it_changes_is_told(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["log", str(plan), "read", "ply.thick", "18.1", "18.2 mm", "--with", "calliper"]) == 0
    said = capsys.readouterr().out
    assert "These numbers change" in said
    assert "case.left side.shelf 2 in left side.wide" in said
    assert "Print again" in said
    (entry,) = log_at(plan).entries
    assert [float(value) for value in entry.values] == [18.1, 18.2]


def test_a_part_that_was_cut_is_told_to_stay(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["log", str(plan), "cut", "case.bottom"]) == 0
    assert "Nothing else changes" in capsys.readouterr().out
    assert main(["log", str(plan), "cut", "case.bottom"]) == 2
    assert "cut already" in capsys.readouterr().err
    main(["log", str(plan), "read", "ply.thick", "18.4", "--with", "calliper"])
    capsys.readouterr()
    main(["why", str(plan), "case.bottom.length"])
    assert "as it was printed when it was cut" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("words", "nearest"),
    [
        (["read", "ply.thik", "18"], "ply.thick"),
        (["read", "ply.thick", "18 mn"], "mm"),
        (["cut", "case.botom"], "case.bottom"),
        (["done", "900"], "from 1 to"),
        (["note"], "empty"),
        (["read"], "what was read"),
    ],
)
def test_a_slip_is_refused_with_what_would_do_and_nothing_is_written(
    plan: Path, words: list[str], nearest: str, capsys: pytest.CaptureFixture[str]
):
    assert main(["log", str(plan), *words]) == 2
    assert nearest in capsys.readouterr().err
    assert not log_of(plan).exists()


def test_steps_and_notes_stand_in_the_log(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["log", str(plan), "done", "1"]) == 0
    assert main(["log", str(plan), "note", "the", "second", "sheet", "is", "darker"]) == 0
    assert [one.says.split(":")[0] for one in log_at(plan).entries][:1] == ["step 1"]
    assert len(log_at(plan).done) == 1
    assert main(["log", str(plan), "undone", "1"]) == 0
    assert log_at(plan).done == ()
    capsys.readouterr()
    assert main(["log", str(plan)]) == 0
    assert "the second sheet is darker" in capsys.readouterr().out


def test_a_broken_fit_is_put_right_by_choosing(drawer: Path, capsys: pytest.CaptureFixture[str]):
    fit = "case.drawer 1.bottom in left side.width"
    main(["log", str(drawer), "set", GROOVE, "1/4"])
    capsys.readouterr()
    assert main(["mend", str(drawer)]) == 0
    said = capsys.readouterr().out
    assert "plane or sand" in said
    assert "make bottom in left side.wide" in " ".join(said.split())
    assert main(["why", str(drawer), f"mend of {fit}"]) == 0
    assert "a quarter of the room" in " ".join(capsys.readouterr().out.split())
    assert main(["mend", str(drawer), fit, "1"]) == 0
    assert log_at(drawer).chosen[fit].numbers
    capsys.readouterr()
    assert main(["mend", str(drawer)]) == 0
    assert "No fit is broken" in capsys.readouterr().out


def test_a_fit_or_a_remedy_that_is_not_there_is_told(drawer: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["mend", str(drawer), "case.drawer 1.box in its openin"]) == 2
    assert "case.drawer 1.box in its opening" in capsys.readouterr().err
    assert main(["mend", str(drawer), "case.drawer 1.box in its opening", "99"]) == 2


def test_another_shop_and_a_sweep_answer_on_the_screen(plan: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    shop = tmp_path / "theirs.yaml"
    shop.write_text("units: inch\nname: theirs\nrouter: no\nbits: none\nsaws: {circular saw: {kerf: 0.08}}\n", "utf-8")
    assert main(["elsewhere", str(plan), "--shop", str(shop), "--stock", "ply=17.2 mm"]) == 1
    said = capsys.readouterr().out
    assert "parts in another size" in said
    assert re.search(r"thickness 17\.6 mm, there \d+/\d+\"", said)  # there in inches, and only what differs
    assert "width 300 mm" not in said
    assert "Can't be made there" in said
    assert main(["sweep", str(plan), "--over", "ply=17,18.5"]) == 0
    assert "It works in 4 of 4" in capsys.readouterr().out
    assert main(["sweep", str(plan), "--over", "plyy"]) == 2


def test_a_slip_of_the_pen_is_written_and_told(plan: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["log", str(plan), "read", "case.bottom.length", "754.8"]) == 0
    assert "180 mm off what was reckoned" in capsys.readouterr().err
    assert len(log_at(plan).entries) == 1
