"""A drawer's face goes on while its screws can be driven: before a bottom that would be in the driver's way."""

from pathlib import Path

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.model.work import Stage

TOWER = Path(__file__).parents[2] / "samples" / "drawer-tower.yaml"


@pytest.fixture(scope="module")
def tower() -> Job:
    low = TOWER.read_text("utf-8").replace("bays: [drawer 3,", "bays: [drawer 2,")  # too low for a driver in the box
    return Job(Texts(low, TOWER.name))


def test_every_screw_of_a_face_is_driven_when_a_driver_gets_there(tower: Job):
    """By the assembly order, which knows the drivers: what it has come before, comes before in the steps."""
    assert tower.sequence.can_be
    on: dict[str, int] = {}
    for step in tower.order.steps:
        if step.stage in (Stage.GLUE, Stage.ASSEMBLE):
            for name in step.new:
                on.setdefault(name, step.number)
    drawers = {part.assembly for part in tower.build.parts if "drawer" in part.assembly}
    seen = 0
    for drawer in drawers:
        comings = [one for one in tower.sequence.comings if one.assembly == drawer]
        for place, one in enumerate(comings):
            screwed = [name for name in one.moves if one.then and name in on]
            for late in (name for more in comings[place + 1 :] for name in more.moves if name in on):
                for face in screwed:
                    seen += 1
                    assert on[face] <= on[late], (face, late)
    assert seen
