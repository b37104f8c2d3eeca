"""Every plan printed in the handbook's second part builds."""

import re
from pathlib import Path

import pytest

from storystick.craft.doors import DOOR
from storystick.craft.drawers import DRAWER
from storystick.craft.joints import by_word as joint_words
from storystick.craft.kinds import kinds
from storystick.ground.fields import Fields
from storystick.ground.finding import Grade
from tests.told import job

TEXT = (Path(__file__).parents[2] / "docs" / "kinds.md").read_text("utf-8")
PLANS = re.findall(r"```yaml\n(.*?)```", TEXT, re.DOTALL)


@pytest.mark.parametrize("plan", PLANS)
def test_a_printed_plan_builds_without_a_mistake(plan: str):
    assert [f.says for f in job(plan).resolved.findings if f.grade >= Grade.CARE] == []


def test_every_kind_has_a_heading_and_every_joint_a_row():
    assert set(re.findall(r"^## (\w+)$", TEXT, re.MULTILINE)) == set(kinds())
    rows = set(re.findall(r"^\| `([a-z ]+)`", TEXT.split("### Joints")[1].split("### Drawers")[0], re.MULTILINE))
    assert rows <= set(joint_words())


@pytest.mark.parametrize(
    ("heading", "fields"), [("### Drawers and trays", DRAWER), ("### Doors", DOOR)], ids=["drawers", "doors"]
)
def test_lines_printed_are_lines_that_there_are(heading: str, fields: Fields):
    table = re.split(r"^###? ", TEXT.split(heading)[1], maxsplit=1, flags=re.MULTILINE)[0]
    named = {
        word for row in re.findall(r"^\| (`.*?) \|", table, re.MULTILINE) for word in re.findall(r"`([a-z ]+)`", row)
    }
    assert named == {field.name for field in fields.fields}
