"""From the text of a table to typed rows; a table that does not fit its rows is our own mistake."""

import tomllib
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType, NoneType, UnionType
from typing import Any, Literal, TypeAliasType, get_args, get_origin, get_type_hints

from storystick.ground.finding import Broken
from storystick.ground.length import read_length
from storystick.shop.tables.rows import Row


def rows_of[R: Row](text: str, kind: type[R]) -> Mapping[str, R]:
    """The rows of one table, by name.

    text  TOML, one [[row]] for each
    kind  what a row becomes

    Raises Broken for an unknown or missing field, a value of the wrong sort, or a name used twice.
    """
    found: dict[str, R] = {}
    for raw in tomllib.loads(text)["row"]:
        row = _record(raw, kind, str(raw.get("name", "?")))
        if row.name in found:
            raise Broken(f"two rows are called {row.name}")
        found[row.name] = row
    return MappingProxyType(found)


@cache
def _hints(kind: type) -> Mapping[str, Any]:
    return get_type_hints(kind)


def _record[T](raw: Mapping[str, Any], kind: type[T], where: str) -> T:
    assert is_dataclass(kind)
    known = {each.name: each for each in fields(kind)}
    strange = sorted(raw.keys() - known.keys())
    absent = sorted(n for n, f in known.items() if n not in raw and f.default is MISSING)
    if strange or absent:
        raise Broken(f"{kind.__name__} {where}: unknown {strange}, missing {absent}")
    values = {name: _value(value, _hints(kind)[name], f"{where}, {name}") for name, value in raw.items()}
    return kind(**values)


def _value(value: Any, hint: Any, where: str) -> Any:
    """One value as its field wants it: lengths are written with their unit, "3/4 in" or "12.7 mm"."""
    if isinstance(hint, TypeAliasType):
        hint = hint.__value__
    origin = get_origin(hint)
    if origin is UnionType:
        hint = next(each for each in get_args(hint) if each is not NoneType)
        return _value(value, hint, where)
    if origin is tuple:
        return tuple(_value(each, get_args(hint)[0], where) for each in _sort(value, list, where))
    if origin is Literal:
        if value not in get_args(hint):
            raise Broken(f"{where}: {value!r} is none of {get_args(hint)}")
        return value
    if hint is Fraction:
        text = _sort(value, str, where)
        if not any(letter.isalpha() for letter in text):
            raise Broken(f"{where}: {text!r} has no unit")
        return read_length(text, "mm")
    if hint is float:
        if isinstance(value, int) and not isinstance(value, bool):
            return float(value)
        return _sort(value, float, where)
    if is_dataclass(hint) and isinstance(hint, type):
        return _record(_sort(value, dict, where), hint, where)
    return _sort(value, hint, where)


def _sort(value: Any, sort: Any, where: str) -> Any:
    if not isinstance(value, sort) or (sort is int and isinstance(value, bool)):
        raise Broken(f"{where}: {value!r} is no {sort.__name__}")
    return value
