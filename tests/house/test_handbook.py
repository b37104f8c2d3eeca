"""A function of physics is a page of a handbook: a unit for every letter, and where it comes from."""

import ast
import re
from collections.abc import Iterator

import pytest

from tests.house.floors import Module, module, modules


def pages(one: Module) -> Iterator[ast.FunctionDef]:
    return (node for node in one.tree.body if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"))


def gaps(one: Module) -> Iterator[str]:
    """What a reader would have to ask."""
    for page in pages(one):
        where = f"{one.name}, line {page.lineno}: {page.name}"
        text = ast.get_docstring(page) or ""
        given = [*page.args.posonlyargs, *page.args.args, *page.args.kwonlyargs]
        for name in (*(each.arg for each in given), "returns"):
            if not has_unit(name, text):
                yield f"{where} gives no [unit] for {name}"
        if not re.search(r"^\s*Sources?: \S", text, re.MULTILINE):
            yield f"{where} names no Source"


def has_unit(name: str, text: str) -> bool:
    """A line that begins with the name (alone or in a list of names); its [unit] there or later in that entry."""
    entry = re.search(rf"^[ \t]*(?:\w+, )*{name}\b.*(?:\n(?!\s*$|\s*\w+  ).*)*", text, re.MULTILINE)
    return bool(entry and re.search(r"\[[^\]]+\]", entry[0]))


def test_every_formula_has_units_and_a_source():
    rooms = [one for one in modules() if one.room == "physics"]
    if not rooms:
        pytest.skip("physics has no formula yet")
    assert [gap for one in rooms for gap in gaps(one)] == []


GOOD = '''
def reach_mm(arm_mm, angle_deg):
    """How far it reaches.

    arm_mm     length of the arm, from the shoulder
               to the fingertips [mm]
    angle_deg  above the bench [degrees]
    returns    the reach [mm]

    Source: practice.
    """
'''


def test_a_full_page_is_enough():
    assert list(gaps(module("storystick.physics.one", GOOD))) == []


@pytest.mark.parametrize(
    ("strike", "asks_for"),
    [(" [degrees]", "angle_deg"), (" [mm]\n\n", "returns"), ("Source: practice.", "Source"), ("arm_mm     ", "arm_mm")],
)
def test_a_missing_line_is_noticed(strike: str, asks_for: str):
    assert any(asks_for in gap for gap in gaps(module("storystick.physics.one", GOOD.replace(strike, "\n\n"))))
