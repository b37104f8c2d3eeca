"""A hand between two answers: rings of dead things are looked for when nobody waits."""

import gc
import weakref
from collections.abc import Iterator

import pytest

from storystick.app.page import answers, meshes
from storystick.app.page.hand import AT_ONCE, MOST_UNSWEPT, QUESTIONS, Swept
from storystick.app.pipeline import Job, Texts
from tests.page.door import SMALL


class Ring:
    """A thing that holds itself."""

    def __init__(self) -> None:
        self.me = self


@pytest.fixture(autouse=True)
def swept_as_before() -> Iterator[None]:
    yield
    gc.enable()


def test_what_is_asked_after_an_edit_is_among_the_questions():
    assert set(AT_ONCE) <= QUESTIONS.keys()


def test_nothing_is_swept_while_somebody_waits_for_a_changed_size_and_long_work_is_swept_meanwhile():
    swept = Swept()
    swept.before("built")
    assert not gc.isenabled()
    swept.before("steps")
    assert gc.isenabled()


def test_rings_of_an_answer_are_gone_after_the_pause_that_follows():
    swept = Swept()
    swept.before("checked")
    ring = weakref.ref(Ring())
    assert ring() is not None
    swept.while_nobody_asks()
    assert ring() is None


def test_who_edits_without_a_pause_does_not_pile_up_rings_for_ever():
    swept = Swept()
    for _ in range(MOST_UNSWEPT):
        swept.before("built")
    assert gc.isenabled()
    swept.while_nobody_asks()
    swept.before("built")
    assert not gc.isenabled()


def test_bodies_are_made_ahead_until_somebody_asks_and_are_those_that_would_be_made_then():
    job = Job(Texts(SMALL.replace("deep: 12", "deep: 12 5/64"), "small.yaml"))
    marks = list(dict.fromkeys(part["body"] for part in answers.built(job)["picture"]["parts"]))
    meshes._MADE.clear()
    meshes.ahead(job, lambda: True)  # somebody asks at once
    assert not meshes._MADE
    meshes.ahead(job, lambda: False)
    assert meshes._MADE.keys() >= set(marks)
    early = meshes.packed(job, marks)
    meshes._MADE.clear()
    assert meshes.packed(job, marks) == early
