"""Whole plans of shop furniture: each resolves without a mistake, nothing stops it, and its wood adds up."""

from pathlib import Path

import pytest

from storystick.ground.finding import Grade
from storystick.model.cut import Bore
from storystick.model.scene import Scene
from storystick.shapes.clash import clashes
from tests.told import job

PLANS = {path.stem: path.read_text("utf-8") for path in sorted((Path(__file__).parent / "plans").glob("*.yaml"))}
JOBS = {name: job(text) for name, text in PLANS.items()}
every = pytest.mark.parametrize("name", list(PLANS))


def test_there_are_plans_to_try() -> None:
    assert len(PLANS) >= 8


@every
def test_it_is_read_and_resolved_without_a_word(name: str) -> None:
    outcome = JOBS[name].resolved
    assert [f"{f.place}: {f.says} {f.advice}" for f in outcome.findings if f.grade >= Grade.CARE] == []


@every
def test_no_check_stops_it(name: str) -> None:
    assert [f"{f.code}: {f.says}" for f in JOBS[name].findings if f.grade is Grade.STOP] == []


@every
def test_no_board_runs_into_another(name: str) -> None:
    scene = Scene(JOBS[name].build)
    assert [(c.first, c.other, round(c.volume)) for c in clashes(list(scene.parts.items()))] == []


@every
def test_what_is_cut_out_of_a_board_leaves_most_of_it(name: str) -> None:
    build, scene = JOBS[name].build, Scene(JOBS[name].build)
    for part in build.parts:
        whole = float(part.length.value * part.width.value * part.thickness.value)
        assert 0.4 * whole < scene.own_solids[part.name].volume <= whole * 1.000001, part.name


@every
def test_every_hole_begins_on_its_board(name: str) -> None:
    for part in JOBS[name].build.parts:
        for cut in part.cuts:
            if isinstance(cut, Bore):
                for axis, at in zip(cut.side.axes, cut.at, strict=True):
                    assert 0 < at.value < part.size[axis].value, f"{cut.name} in {part.name}"


@every
def test_every_board_is_cut_from_the_stock_that_the_plan_names(name: str) -> None:
    build = JOBS[name].build
    named = {stock.name for stock in build.stock}
    assert {part.stock.name for part in build.parts} <= named
    assert all(part.length.value <= 2440 and part.width.value <= 1525 for part in build.parts)
