"""The shelf as a whole: each check has its name, its question, its source, a plan that trips it and what mends it."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from storystick import checks
from storystick.assembly import put_together
from storystick.checks import accept, run_all, run_one, shelf
from storystick.ground.finding import NOWHERE, Broken, Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.scene import Scene
from storystick.plan.read import read_plan
from storystick.resolve import resolve
from storystick.shop.read import default_shop
from tests.checks.by_hand import asked, carcass, troubles
from tools.checks_page import PAGE, page

FOLDER = Path(checks.__file__).parent
SAMPLES = Path(__file__).parent / "samples"
INSTEAD = re.compile(r"^( *)\S.*?# instead: (.*)$", re.MULTILINE)
WHOLE = sorted((Path(__file__).parents[2] / "samples").glob("*.yaml"))


def text_of(code: str) -> str:
    return (SAMPLES / f"{code}.yaml").read_text("utf-8")


def worst_of(code: str, text: str) -> Grade:
    """The worst that one check says of a plan in the usual shop of its units."""
    return max((one.grade for one in found_in(code, text)), default=Grade.FINE)


def found_in(code: str, text: str) -> Iterator[Finding]:
    plan = read_plan(text, f"{code}.yaml").made
    assert plan is not None
    shop = default_shop(plan.units)
    outcome = resolve(plan, shop)
    assert outcome.sound, outcome.findings
    assert outcome.made is not None
    scene = Scene(outcome.made)
    sequence = put_together(outcome.made, scene, shop) if code == "can-be-assembled" else None
    yield from run_one(shelf()[code], Asked(outcome.made, scene, shop, sequence))


@pytest.mark.parametrize("code", shelf())
def test_a_check_is_called_what_its_file_is_called(code: str):
    assert (FOLDER / f"{code.replace('-', '_')}.py").is_file()


def test_every_file_with_a_check_is_on_the_shelf_and_no_code_is_used_twice():
    files = [
        path.stem for path in FOLDER.glob("*.py") if re.search(r"^CHECK = ", path.read_text("utf-8"), re.MULTILINE)
    ]
    assert sorted(file.replace("_", "-") for file in files) == list(shelf())


@pytest.mark.parametrize("check", shelf().values(), ids=list(shelf()))
def test_a_check_asks_a_question_and_names_its_source(check: Check):
    assert check.asks.endswith(("?", "."))
    assert "?" in check.asks
    assert len(check.source.text) > 20


@pytest.mark.parametrize("code", shelf())
def test_a_plan_trips_it_and_the_mended_plan_does_not(code: str):
    text = text_of(code)
    assert worst_of(code, text) >= Grade.NOTE
    assert worst_of(code, INSTEAD.sub(r"\1\2", text)) == Grade.FINE


def test_every_sample_belongs_to_a_check():
    assert sorted(path.stem for path in SAMPLES.glob("*.yaml")) == list(shelf())


@pytest.mark.parametrize("code", shelf())
def test_what_is_wrong_comes_with_where_what_and_who_says_so(code: str):
    for one in found_in(code, text_of(code)):
        assert one.code == code
        assert one.source is not None
        assert one.says.endswith(".")
        assert "  " not in one.says
        assert one.grade < Grade.CARE or one.advice.endswith(".")
        assert one.grade < Grade.CARE or one.place.line, f"{one.says} has no line"


@pytest.mark.parametrize("code", shelf())
def test_an_inch_plan_is_answered_in_inches(code: str):
    text = text_of(code).replace("units: mm", "units: inch")
    text = re.sub(r"(?<![\w.-])(\d+(?:\.\d+)?)(?! ?(?:kg|mm|/|in\b|\.|\d))(?=[,}\] \n])", r"\1 mm", text)
    for one in found_in(code, text):
        if one.grade > Grade.NOTE:
            called = r"\d+(?:\.\d+)? mm (?:\w+ )*(?:castor|screw|disc)|screws of [\d.]+ mm"
            said = re.sub(called, "", one.says + one.advice)
            assert not re.search(r"\d mm\b", said), said


@pytest.mark.parametrize("path", WHOLE, ids=lambda path: path.stem)
def test_the_shelf_runs_over_the_whole_samples_twice_alike(path: Path):
    text = path.read_text("utf-8")
    answers = []
    for _ in range(2):
        plan = read_plan(text, path.name).made
        assert plan is not None
        shop = default_shop(plan.units)
        build = resolve(plan, shop).made
        assert build is not None
        answers.append(run_all(Asked(build, Scene(build), shop)))
    assert answers[0] == answers[1]
    assert list(answers[0]) == sorted(answers[0], key=lambda one: -one.grade)


def test_a_finding_that_the_plan_accepts_becomes_a_note_with_the_reason():
    found = Finding("too-heavy", Grade.CARE, NOWHERE, "It weighs 40 kg.")
    noted = accept(found, {"too-heavy": "the neighbour helps"})
    assert (noted.grade, noted.says) == (Grade.NOTE, "It weighs 40 kg. Accepted: the neighbour helps.")
    assert accept(found, {"tipping": "no"}) == found
    fine = replace(found, grade=Grade.FINE)
    assert accept(fine, {"too-heavy": "x"}) == fine


def test_accepted_codes_of_a_build_are_graded_down():
    build = carcass(accepted={"racking": "a wall stands behind it"})
    assert troubles("racking", build)
    (found,) = [one for one in run_all(asked(build)) if one.code == "racking"]
    assert found.grade == Grade.NOTE


def test_a_check_that_fails_is_our_fault_and_says_which():
    def fails(_: Asked) -> Iterator[Finding]:
        raise KeyError("case.top")
        yield

    check = Check("made-up", "Does it fail?", fails, practice("none"))
    with pytest.raises(Broken, match="made-up"):
        list(run_one(check, asked(carcass())))


def test_it_tells_how_far_it_is_and_stops_when_asked():
    heard: list[tuple[str, float]] = []
    run_all(asked(carcass()), tell=lambda code, share: heard.append((code, share)))
    assert sorted(code for code, _ in heard) == list(shelf())
    assert all(0 <= share < 1 for _, share in heard)
    assert run_all(asked(carcass()), stop=lambda: True) == ()


@pytest.mark.parametrize("path", WHOLE, ids=lambda path: path.stem)
def test_a_check_that_looks_at_numbers_does_not_need_to_know_what_goes_together_when(path: Path):
    plan = read_plan(path.read_text("utf-8"), path.name).made
    assert plan is not None
    shop = default_shop(plan.units)
    build = resolve(plan, shop).made
    assert build is not None
    scene = Scene(build)
    order = put_together(build, scene, shop)
    for check in shelf().values():
        if check.looks == "numbers":
            assert list(check.run(Asked(build, scene, shop))) == list(check.run(Asked(build, scene, shop, order)))


def test_the_page_of_checks_is_what_the_shelf_says():
    assert PAGE.read_text("utf-8") == page(), "write it anew: python -m tools.checks_page"
