"""What was found once holds while a plan says the same of the piece, and no longer."""

from storystick.app.pipeline import Job, Texts
from storystick.ground.finding import Finding
from storystick.ground.kept import forget

PLAN = """
title: Book shelf
units: mm
accept: {blind-holes: nobody looks inside}
stock:
  ply: {sheet: birch plywood, readings: [17.8], sizes: {2440 x 1220: 90}}
build:
  shelves:
    case: {wide: 900, deep: 300, high: 1200, stock: ply, bays: {rows: [open, loose shelf, open]}}
    sits: {on: floor}
loads:
  shelves.shelf 1: 20 kg
"""


def found(text: str) -> tuple[tuple[Finding, ...], list[str]]:
    """The findings, and which checks were asked for them."""
    asked: list[str] = []
    job = Job(Texts(text, "plan.yaml"), tell=lambda what, _: asked.append(what))
    return job.findings, asked


def edited(*changes: tuple[str, str]) -> str:
    text = PLAN
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return text


def test_another_title_asks_no_check_again():
    forget()
    before, first = found(PLAN)
    after, again = found(edited(("Book shelf", "My book shelf")))
    assert "shelf-sag" in first
    assert "shelf-sag" not in again
    assert after == before


def test_another_load_another_line_and_what_is_accepted_are_all_heard():
    forget()
    before, _ = found(PLAN)
    heavier, again = found(edited(("20 kg", "60 kg")))
    assert "shelf-sag" in again
    assert heavier != before
    lower, _ = found(edited(("title:", "# at the window\ntitle:")))
    places = [one.place.line for one in before]
    assert [one.place.line for one in lower] == [line + (line > 1) for line in places]
    accepted, _ = found(edited(("20 kg", "60 kg"), ("blind-holes: nobody looks inside", "shelf-sag: it may")))
    told = [one for one in accepted if one.code == "shelf-sag" and "it may" in one.says]
    assert told
    assert all("it may" not in one.says for one in found(edited(("20 kg", "60 kg")))[0])


def test_checks_that_were_stopped_are_asked_again():
    forget()
    whole, _ = found(PLAN)
    forget()
    job = Job(Texts(PLAN, "plan.yaml"), stop=lambda: True)
    assert len(job.findings) < len(whole)
    assert found(PLAN)[0] == whole
