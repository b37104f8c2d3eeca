"""The project as JSON keeps to its schema, and every number of it can be asked why."""

import json
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest

from tests.exports.pieces import ALL, docs, files, piece

SCHEMA = json.loads((docs() / "project.schema.json").read_text("utf-8"))


def project(of: str) -> dict[str, Any]:
    return json.loads(files(of, "json")[0].content)


@pytest.mark.parametrize("of", [*ALL, "stranger"])
def test_a_project_keeps_to_the_schema(of: str):
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    faults = jsonschema.Draft202012Validator(SCHEMA).iter_errors(project(of))
    assert [f"{list(fault.path)}: {fault.message}" for fault in faults] == []


def test_the_schema_allows_no_name_that_it_does_not_know():
    def groups(node: Any) -> Iterator[dict[str, Any]]:
        if isinstance(node, dict):
            if node.get("type") == "object" and "properties" in node:
                yield node
            for inner in node.values():
                yield from groups(inner)
        elif isinstance(node, list):
            for inner in node:
                yield from groups(inner)

    found = list(groups(SCHEMA))
    assert len(found) > 20
    assert all(group["additionalProperties"] is False for group in found)


def lengths(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        if "mm" in node and "value" not in node:
            yield node
        else:
            for inner in node.values():
                yield from lengths(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from lengths(inner)


@pytest.mark.parametrize("of", ALL)
def test_every_length_of_a_part_and_of_where_its_cuts_are_can_be_asked_why(of: str):
    told = project(of)
    for part in told["parts"]:
        assert {part["length"]["name"], part["width"]["name"], part["thickness"]["name"]} <= set(told["numbers"])
        for cut in part["cuts"]:
            for one in [*cut.get("at", ()), *(c[k] for c in cut.get("corners", ()) for k in ("u", "v"))]:
                assert one["name"] in told["numbers"]
    for one in lengths(told):
        assert one["text"]
        if one.get("name"):
            assert told["numbers"][one["name"]]["mm"] == one["mm"]


@pytest.mark.parametrize("of", ALL)
def test_reasons_lead_to_numbers_that_are_there_and_never_round_in_a_circle(of: str):
    numbers = project(of)["numbers"]
    depth: dict[str, int] = {}

    def deep(name: str, above: tuple[str, ...]) -> int:
        assert name not in above
        if name not in depth:
            below = numbers[name]["rests_on"]
            depth[name] = 1 + max((deep(other, (*above, name)) for other in below), default=0)
        return depth[name]

    assert max(deep(name, ()) for name in numbers) > (1 if of == "boards" else 2)
    for name, one in numbers.items():
        assert one["because"] or one["says"] or one["formula"], name


def test_numbers_are_those_of_the_build():
    build, told = piece("lathe-cabinet").build, project("lathe-cabinet")
    assert set(told["numbers"]) == set(build.pages)
    for part, said in zip(build.parts, told["parts"], strict=True):
        assert said["name"] == part.name
        assert said["length"]["mm"] == pytest.approx(float(part.length), abs=1e-6)
        assert len(said["cuts"]) == len(part.cuts)


def test_the_page_about_it_names_every_part_of_the_document():
    page = (docs() / "project-json.md").read_text("utf-8")
    assert [name for name in SCHEMA["properties"] if f"`{name}`" not in page] == []
