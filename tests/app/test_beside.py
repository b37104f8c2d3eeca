"""Layouts found beside the checks are those that are found alone."""

from storystick.app.beside import layouts_beside, time_of_this_thread
from storystick.app.pipeline import Job, Texts
from tests.told import SAMPLES

TOWER = SAMPLES / "drawer-tower.yaml"


def test_sheets_laid_out_while_the_checks_run_are_the_same_as_laid_out_alone() -> None:
    texts = Texts(TOWER.read_text("utf-8"), TOWER.name)
    together, alone = Job(texts), Job(texts)
    with layouts_beside(together):
        found = together.findings
    assert (time_of_this_thread() is None) or "laid_out" in together.__dict__
    assert [one.layout for one in together.cuttings] == [one.layout for one in alone.cuttings]
    assert [one.says for one in together.laid_out.findings] == [one.says for one in alone.laid_out.findings]
    assert [(one.code, one.says) for one in found] == [(one.code, one.says) for one in alone.findings]
