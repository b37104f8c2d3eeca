"""The command line as a stranger meets it: verbs, exit codes, JSON, and never a traceback."""

import json
from pathlib import Path

import pytest

from storystick.app.command import main
from tests.paper.readback import opened
from tests.told import SAMPLES

LATHE = str(SAMPLES / "lathe-cabinet.yaml")
TOWER = str(SAMPLES / "drawer-tower.yaml")
MISTAKES = str(SAMPLES / "mistakes.yaml")
QUESTIONS = (["check"], ["why", "tower.top.length"], ["parts"], ["buy"], ["sheets"], ["steps"])


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    try:
        code = main(list(words))
    except SystemExit as end:  # argparse ends the program itself
        code = int(end.code or 0)
    out = capsys.readouterr()
    return code, out.out, out.err


def asked(question: list[str], plan: str, *more: str) -> list[str]:
    return [question[0], plan, *question[1:], *more]


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q[0])
def test_a_question_is_answered_within_eighty_columns(capsys: pytest.CaptureFixture[str], question: list[str]) -> None:
    code, out, _ = run(capsys, *asked(question, TOWER))
    assert code == 0
    assert len(out.splitlines()) > 2
    assert max(len(line) for line in out.splitlines()) <= 80


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q[0])
def test_every_answer_is_there_as_json_too(capsys: pytest.CaptureFixture[str], question: list[str]) -> None:
    code, out, _ = run(capsys, *asked(question, TOWER, "--json"))
    assert code == 0
    assert json.loads(out)


def test_check_ends_with_one_when_something_stops_the_work(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "check", MISTAKES)
    assert code == 1
    assert out.count("stop (") >= 15


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: q[0])
def test_a_plan_with_mistakes_is_told_by_every_verb(capsys: pytest.CaptureFixture[str], question: list[str]) -> None:
    code, out, err = run(capsys, *asked(question, MISTAKES))
    assert code == 1
    assert "mistakes.yaml, line" in out
    assert "Traceback" not in out + err


def test_a_file_that_is_not_there_is_told_plainly(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = run(capsys, "check", "nowhere.yaml")
    assert code == 2
    assert "nowhere.yaml" in err


def test_an_unknown_verb_and_no_verb(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "chekc", LATHE)[0] == 2
    assert run(capsys, "--help")[0] == 0


def test_the_same_piece_in_the_other_units(capsys: pytest.CaptureFixture[str]) -> None:
    _, inches, _ = run(capsys, "parts", TOWER)
    _, metric, _ = run(capsys, "parts", TOWER, "--units", "mm")
    assert '"' in inches
    assert '"' not in metric
    assert "508 mm" in metric  # the case is 20 in deep


def test_why_offers_the_names_that_hold_the_word_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = run(capsys, "why", TOWER, "drawer 3.bottom")
    assert code == 2
    assert "tower.drawer 3.bottom.length" in err


def test_a_step_says_why_it_stands_where_it_does(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "why", TOWER, "dry-fit", "the", "tower")
    told = " ".join(out.split())
    assert code == 0
    assert "Why here: " in told
    assert "It waits for step" in told


def test_a_wish_for_the_order_that_says_no_order_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = run(capsys, "steps", TOWER, "--pin", "glue up the tower")
    assert code == 2
    assert "which step comes before which" in err


def test_why_ends_at_readings_rules_and_lines_of_the_plan(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "why", TOWER, "tower.drawer 1.box front.length")
    assert "drawer-tower.yaml, line" in out
    assert "calliper" in out
    assert "house rule" in out


def test_a_new_plan_can_be_checked_as_it_stands_and_is_never_written_over(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    plan = tmp_path / "shelf.yaml"
    assert run(capsys, "new", str(plan), "--wide", "2' 6\"")[0] == 0
    assert run(capsys, "check", str(plan))[0] == 0
    before = plan.read_bytes()
    assert run(capsys, "new", str(plan))[0] == 2
    assert plan.read_bytes() == before
    assert run(capsys, "new", str(tmp_path / "x.yaml"), "--wide", "wide")[0] == 2
    assert not (tmp_path / "x.yaml").exists()


def test_the_usual_shop_is_a_shop_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    shop = tmp_path / "shop.yaml"
    assert run(capsys, "shop", "--to", str(shop))[0] == 0
    assert run(capsys, "check", TOWER, "--shop", str(shop))[0] == 0


def test_the_schema_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "schema")
    assert code == 0
    assert "build" in json.loads(out)["properties"]


def test_the_packet_is_written_whole_or_not_at_all(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    target = tmp_path / "tower.pdf"
    assert run(capsys, "packet", TOWER, "--to", str(target))[0] == 0
    assert target.read_bytes().startswith(b"%PDF")
    target.write_bytes(b"mine")
    assert run(capsys, "packet", MISTAKES, "--to", str(target))[0] == 1
    assert target.read_bytes() == b"mine"
    assert list(tmp_path.iterdir()) == [target]


def test_the_packet_is_printed_in_the_units_that_the_call_asks_for(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    plan, target = tmp_path / "lid.yaml", tmp_path / "lid.pdf"
    plan.write_text(
        "title: Lid\nunits: inch\nstock: {ply: {sheet: birch plywood, thickness: 3/4}}\n"
        "build: {lid: {board: {long: 20, wide: 10, stock: ply}, sits: floor}}\n"
    )
    assert run(capsys, "packet", str(plan), "--to", str(target), "--units", "mm")[0] == 0
    with opened(target.read_bytes()) as book:
        printed = " ".join(page.extract_text() or "" for page in book.pages)
    assert "508 mm" in printed
    assert '20"' not in printed
