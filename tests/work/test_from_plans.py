"""Whole plans through layout, ways, order and buying: what must hold for any of them."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.ground.dim import Book, walk
from storystick.layout.from_build import lay_out
from storystick.layout.sheets import HASTY
from storystick.model.work import Cutting, Stage, WorkOrder
from storystick.shop.read import default_shop
from storystick.work import buy, can_be_made, plan_work
from storystick.work.pull_screws import pull_screws
from tests.work.by_hand import case, order_of

SAMPLES = sorted(p for p in (Path(__file__).parents[2] / "samples").glob("*.yaml") if p.stem != "mistakes")


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def job(request: pytest.FixtureRequest) -> tuple[Job, tuple[Cutting, ...], WorkOrder, Book]:
    path: Path = request.param
    whole = Job(Texts(path.read_text("utf-8"), path.name))
    if whole.resolved.made is None:
        pytest.skip(f"{path.name} can't be worked out as it stands")
    build = whole.resolved.made
    cuttings = lay_out(build, whole.shop, patience=HASTY).made or ()
    book = Book(pages=dict(build.pages))
    return whole, cuttings, plan_work(build, cuttings, whole.shop, book), book


def test_every_cut_of_the_plan_is_made_once(job):
    whole, _, order, _ = job
    cuts = sorted((part.name, cut.name) for part in whole.resolved.made.parts for cut in part.cuts)
    assert sorted(cut for step in order.steps for cut in step.cuts) == cuts


def test_what_stands_in_the_way_of_making_it_is_told_alike_with_and_without_an_order_of_work(job):
    whole, *_ = job
    build, usual = whole.resolved.made, whole.shop
    for lacks in ({}, {"bits": usual.bits[::2]}, {"saws": (), "clamps": ()}, {"drills": ()}, {"router": False}):
        shop = replace(usual, **lacks)
        found = plan_work(build, (), shop, Book(pages=dict(build.pages)), rounds=0).findings
        said = [one for one in found if one.code in ("no-way", "loose-way", "few-clamps")]
        assert list(can_be_made(build, shop)) == said


def test_every_part_leaves_the_saw_before_anything_else_is_done_to_it(job):
    whole, _, order, _ = job
    for part in whole.resolved.made.parts:
        steps = [step for step in order.steps if part.name in step.parts]
        assert steps[0].stage in (Stage.BREAK_DOWN, Stage.SAW)


def test_every_setting_of_the_saw_is_in_the_steps(job):
    """As it was laid out; or at the last size, where the saw is set to what a dry fit measured."""
    whole, cuttings, order, _ = job
    shown = {one.to.value for step in order.steps for one in step.setups if one.to is not None}
    fitted = {size.value for part in whole.resolved.made.parts if part.fit_to for size in part.size[:2]}
    for cutting in cuttings:
        for setting in cutting.layout.settings:
            as_laid = any(abs(value - setting.size) < 1 / 100 for value in shown)
            assert as_laid or any(0 <= setting.size - value <= 15 for value in shown & fitted)


def test_every_screw_between_two_parts_is_driven_in_some_step(job):
    whole, _, order, _ = job
    of = whole.resolved.made.parts_by_name
    wanted = sum(f.through in of and f.into in of for f in whole.resolved.made.fasteners)
    driven = [text for step in order.steps for text in step.does if text.startswith(("Drive", "Put in"))]
    each = [
        int(n)
        for text in driven
        for n in re.findall(r"(?:: |, | and )(\d+) through|^Drive (\d+) x", text)
        for n in n
        if n
    ]
    assert sum(each) == wanted


def test_most_of_what_is_cut_to_fit_comes_off_the_saw_at_its_size(job):
    """What lies at the wrong side of a cut is sawn large first, and cut again."""
    whole, _, order, _ = job
    fitted = [part.name for part in whole.resolved.made.parts if part.fit_to]
    again = [name for step in order.steps if step.title.startswith("Cut what goes into") for name in step.parts]
    assert len(again) <= len(fitted) / 2


def test_every_setting_can_be_asked_why(job):
    _, _, order, _ = job
    for step in order.steps:
        for one in step.setups:
            if one.to is not None and one.to.power:
                assert list(walk(one.to))
                assert one.to.name


def test_every_step_says_what_to_do_and_why_it_stands_there(job):
    _, _, order, _ = job
    for step in order.steps:
        assert step.title
        assert step.does
        assert step.why_here
        assert all(one.says for one in step.setups)
        assert len(step.title) < 160


def test_names_in_steps_are_those_of_the_build(job):
    whole, _, order, book = job
    build = whole.resolved.made
    known = {part.name for part in build.parts} | {item.name for item in build.items}
    for step in order.steps:
        assert {*step.parts, *step.shows, *step.new} <= known
        assert set(step.reads) <= book.pages.keys()


def test_everything_bought_is_counted_once(job):
    whole, cuttings, order, _ = job
    build = whole.resolved.made
    buying = buy(build, cuttings, order, whole.shop)
    longer = sum(one.count for one in pull_screws(build) if one.row)  # in place of those that come with a pull
    assert sum(one.count for one in buying.lines if one.kind == "fasteners") == len(build.fasteners) + longer
    assert sum(one.count for one in buying.lines if one.kind == "hardware") == sum(item.count for item in build.items)
    sheets = sum(len(cutting.layout.trees) for cutting in cuttings)
    assert sum(one.count for one in buying.lines if one.kind == "stock" and one.unit != "roll") == sheets
    assert all(one.price is None or one.price >= 0 for one in buying.lines)


def test_planning_twice_gives_the_same_work(job):
    whole, cuttings, order, _ = job
    again = plan_work(whole.resolved.made, cuttings, whole.shop, Book(pages=dict(whole.resolved.made.pages)))
    assert [(s.title, s.does, s.parts, s.after) for s in again.steps] == [
        (s.title, s.does, s.parts, s.after) for s in order.steps
    ]


def test_all_that_is_cut_at_one_setting_is_told_together():
    build = case()
    cuttings = lay_out(build, default_shop("mm"), patience=HASTY).made or ()
    order = order_of(build, cuttings=cuttings)
    sawn = [text for step in order.steps if step.stage is Stage.SAW for text in step.does]
    assert len([text for text in sawn if all(flat in text for flat in ("Stop", "bottom", "top", "shelf"))]) == 1
