"""The JSON Schema of plan files, put together from what every kind declares: for editors."""

import json
from typing import Any

from storystick.craft.joints import kinds as joints
from storystick.craft.kinds import kinds
from storystick.ground.schema import group
from storystick.ground.schema import schema as whole
from storystick.plan.heading import HEADING
from storystick.resolve.place import SITS
from storystick.resolve.site import BODY
from storystick.resolve.stock import STOCK


def plan_schema() -> dict[str, Any]:
    """Plain dicts and lists, ready for json.dumps."""
    made = whole(HEADING)
    properties = made["properties"]
    properties["stock"] = _named(group(STOCK))
    properties["site"] = _named(group(BODY))
    entry: dict[str, Any] = {"type": "object", "properties": {}}
    for kind in kinds().values():
        for word in (kind.name, *kind.also):
            entry["properties"][word] = group(kind.fields)
    entry["properties"]["sits"] = {"anyOf": [{"type": "string"}, group(SITS)]}
    properties["build"] = _named(entry)
    made["$defs"] = {kind.name: group(kind.fields) for kind in joints().values()}
    return made


def _named(of: dict[str, Any]) -> dict[str, Any]:
    return {"type": "object", "additionalProperties": of}


def schema_text() -> str:
    """The schema as a file."""
    return json.dumps(plan_schema(), indent=2, ensure_ascii=False) + "\n"
