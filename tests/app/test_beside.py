"""What a second process finds beside the checks is what is found alone, byte for byte."""

import ast
import inspect
import multiprocessing
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from storystick.app.beside import can_split, order_beside
from storystick.app.pipeline import CantGoOn, Job, Texts
from storystick.paper import Folder, draw_pages, packet, wait_for_nothing
from storystick.paper.pages import shelf
from tests.paper.any_plan import plan
from tests.told import SAMPLES

ALCOVE = SAMPLES / "alcove-bookcase.yaml"


def job_of(path: Path = ALCOVE) -> Job:
    return Job(Texts(path.read_text("utf-8"), path.name))


def alone(words: list[str]) -> "subprocess.CompletedProcess[str]":
    """Python in a process of its own, as the command line starts it: only one without threads can be split in two."""
    root = SAMPLES.parent
    env = {**os.environ, "PYTHONPATH": f"{root / 'src'}{os.pathsep}{root}", "OPENBLAS_NUM_THREADS": "1"}
    return subprocess.run([sys.executable, "-P", *words], env=env, capture_output=True, text=True, timeout=300)


def titles(job: Job) -> list[str]:
    return [step.title for step in job.order.steps]


def found_as_alone() -> None:
    together, single = job_of(), job_of()
    with order_beside(together, titles) as found:
        findings = together.findings
        found.order_into(together)
        told = found.next()
    assert "order" in together.__dict__
    assert [one.layout for one in together.cuttings] == [one.layout for one in single.cuttings]
    assert [(one.title, one.does) for one in together.order.steps] == [(o.title, o.does) for o in single.order.steps]
    assert told == titles(single)
    assert together.pages.keys() == single.pages.keys()
    assert [(one.code, one.says) for one in findings] == [(one.code, one.says) for one in single.findings]


def breaks() -> None:
    job = job_of()
    Job.order_found = property(lambda self: 1 // 0)  # type: ignore[assignment,method-assign]
    with order_beside(job, titles) as found:
        found.order_into(job)
        assert found.next() is None
    assert "order" not in job.__dict__
    assert job.order.steps


def gives_up() -> None:
    try:
        with order_beside(job_of(), titles):
            assert multiprocessing.active_children()
            raise KeyboardInterrupt
    except KeyboardInterrupt:
        assert not multiprocessing.active_children()


def can_it() -> None:
    print(can_split())


@pytest.mark.parametrize(
    "what",
    [
        pytest.param(found_as_alone, id="layouts and order are those found alone"),
        pytest.param(breaks, id="where the second process breaks the first does the work"),
        pytest.param(gives_up, id="the second process is gone when the first gives up"),
    ],
)
def test_a_second_process_finds_what_is_found_alone_or_leaves_it_to_the_first(what: Callable[[], None]) -> None:
    ask = "import tests.app.test_beside as one; one."
    if alone(["-c", f"{ask}can_it()"]).stdout.strip() != "True":
        pytest.skip("one processor, or a system that does not list its threads: nothing is split, all is done in one")
    done = alone(["-c", f"{ask}{what.__name__}()"])
    assert done.returncode == 0, done.stderr


def test_a_process_with_threads_is_not_split() -> None:
    wait = threading.Event()
    other = threading.Thread(target=wait.wait)
    other.start()
    try:
        assert not can_split()
    finally:
        wait.set()
        other.join()


def test_a_plan_with_mistakes_is_told_before_any_process_is_started() -> None:
    with pytest.raises(CantGoOn), order_beside(job_of(SAMPLES / "mistakes.yaml"), titles):
        pass


NOT_YET = {"order", "buying", "findings", "last", "ways", "made_in", "fitted_in", "fitted_by", "blanks"}
"""What a folder has only when layouts, order and checks are there."""


class TooEarly(Folder):
    """A folder that says so where it is asked for what is not there yet."""

    def __getattribute__(self, name: str) -> Any:
        assert name not in NOT_YET, f"{name} is asked for, so the page has to wait"
        return super().__getattribute__(name)


@pytest.mark.parametrize("page", wait_for_nothing())
def test_no_line_of_a_page_that_waits_for_nothing_asks_for_what_is_not_there_yet(page: str) -> None:
    source = Path(inspect.getsourcefile(shelf()[page].make) or "").read_text("utf-8")
    asked = {
        one.attr
        for one in ast.walk(ast.parse(source))
        if isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name) and one.value.id == "folder"
    }
    assert not asked & (NOT_YET | {"cuttings"})


@pytest.mark.parametrize("seed", [1, 5, 9, 11, 14])
def test_pages_that_wait_for_nothing_ask_for_nothing_of_any_plan(seed: int) -> None:
    first = Job(Texts(plan(seed), "plan.yaml")).first_folder
    early = TooEarly(**{one.name: getattr(first, one.name) for one in fields(Folder)})
    draw_pages(early, pages=wait_for_nothing())
    with pytest.raises(AssertionError, match="has to wait"):
        draw_pages(early, pages=["steps"])


@pytest.mark.parametrize("sample", ["alcove-bookcase", "drawer-tower", "lathe-cabinet"])
def test_a_page_that_waits_for_nothing_is_the_same_before_and_after_the_order_is_known(sample: str) -> None:
    job = job_of(SAMPLES / f"{sample}.yaml")
    names = wait_for_nothing()
    before = draw_pages(job.first_folder, pages=names)
    assert "order" not in job.__dict__
    assert "findings" not in job.__dict__
    assert before == draw_pages(job.folder, pages=names)


def test_the_packet_of_the_command_line_is_the_one_drawn_in_one_go(tmp_path: Path) -> None:
    target = tmp_path / "packet.pdf"
    done = alone(["-m", "storystick", "packet", str(ALCOVE), "--to", str(target), "--paper", "a4"])
    assert done.returncode == 0, done.stderr
    assert target.read_bytes() == packet(job_of().folder, paper="a4")
