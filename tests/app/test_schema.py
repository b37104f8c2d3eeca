"""The schema for editors: the samples are good by it, and words without a meaning are not."""

import pytest
import yaml
from jsonschema import Draft202012Validator

from storystick.app.plan_schema import plan_schema
from tests.told import sample

SCHEMA = plan_schema()


class Editor(yaml.SafeLoader):
    """YAML 1.2 as editors read it: `on`, `yes` and `no` are words."""


Editor.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in known if tag != "tag:yaml.org,2002:bool"]
    for first, known in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("name", ["lathe-cabinet", "alcove-bookcase", "drawer-tower"])
def test_a_sample_is_good_by_it(name: str) -> None:
    plan = yaml.load(sample(name), Editor)
    assert [error.message for error in Draft202012Validator(SCHEMA).iter_errors(plan)] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [("units: inch", "units: inchs"), ("      deep: 16", "      deeep: 16"), ("fraction: 1/32", "fraktion: 1/32")],
)
def test_a_misspelt_word_is_marked_in_the_editor(old: str, new: str) -> None:
    text = sample("lathe-cabinet")
    assert old in text
    plan = yaml.load(text.replace(old, new), Editor)
    assert list(Draft202012Validator(SCHEMA).iter_errors(plan))
