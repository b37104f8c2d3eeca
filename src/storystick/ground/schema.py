"""A JSON Schema (draft 2020-12) from declared fields, so that an editor can help while a plan is written.

The schema is kinder than the reader: it knows the words and shapes, not the sums.
"""

from typing import Any

from storystick.ground.fields import Field, Fields
from storystick.ground.reads import (
    AnyNode,
    Choice,
    Either,
    ListOf,
    NameOf,
    Plain,
    ReadBy,
    Reads,
    Record,
    Table,
    example,
    expected,
)

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema(fields: Fields) -> dict[str, Any]:
    """The whole schema of a group of fields; plain dicts and lists, ready for json.dumps."""
    return {"$schema": DRAFT, "title": fields.title, **group(fields)}


def group(fields: Fields) -> dict[str, Any]:
    """The schema of a group within a larger one."""
    made: dict[str, Any] = {
        "type": "object",
        "properties": {word: _line(field) for field in fields.fields for word in (field.name, *field.also)},
        "additionalProperties": False,
    }
    needed = [field for field in fields.fields if field.required and field.default is None]
    if plainly := [field.name for field in needed if not field.also]:
        made["required"] = plainly
    if several := [field for field in needed if field.also]:
        made["allOf"] = [{"anyOf": [{"required": [word]} for word in (f.name, *f.also)]} for f in several]
    short = fields.find(fields.short) if fields.short else None
    return {"anyOf": [value(short.reads), made]} if short else made


def _line(field: Field) -> dict[str, Any]:
    made = value(field.reads)
    says = field.help or expected(field.reads)
    if isinstance(field.default, str):
        says += f" (left out: {field.default})"
    elif field.default:
        says += f" (left out: {field.default[0]}, or {field.default[1]} in a metric plan)"
    return {**made, "description": says}


def value(reads: Reads) -> dict[str, Any]:
    """The schema of one value. Plain numbers are allowed wherever a length or a text is: YAML has them unquoted."""
    match reads:
        case Plain("flag"):
            return {"enum": ["yes", "no", True, False]}
        case Plain("count"):
            return {"type": ["integer", "string"]}
        case Plain():
            return {"type": ["string", "number", "boolean"], "examples": [example(reads)]}
        case Choice(words, also):
            return {"enum": [*words, *(other for other, _ in also)]}
        case NameOf():
            return {"type": ["string", "number"]}
        case ListOf(of, least, most):
            return {"anyOf": [{"type": "array", "items": value(of), "minItems": least, "maxItems": most}, value(of)]}
        case Table(of):
            return {"type": "object", "additionalProperties": value(of)}
        case Record(fields):
            return {"anyOf": [group(fields), {"type": "null"}]}
        case Either(ways):
            return {"anyOf": [value(way) for way in ways]}
        case AnyNode() | ReadBy():
            return {}
