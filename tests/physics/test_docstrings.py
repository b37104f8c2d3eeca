"""The examples in the docstrings run, and every rule and letter in physics has a page of its own."""

import doctest
import importlib
import inspect
import pkgutil

import pytest

import storystick.physics

NAMES = [each.name for each in pkgutil.iter_modules(storystick.physics.__path__)]
UNITS = {
    "mm": "[mm]", "mm3": "[mm3]", "mm4": "[mm4]", "mpa": "[N/mm2]", "nmm": "[N mm]", "kg": "[kg]", "deg": "[deg]",
    "c": "[C]", "f": "[F]", "percent": "[%]", "pa": "[Pa]", "t": "[T]",
}  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_examples_come_out_as_printed(name: str):
    module = importlib.import_module(f"storystick.physics.{name}")
    assert doctest.testmod(module).failed == 0


@pytest.mark.parametrize("name", NAMES)
def test_the_unit_in_a_name_is_the_unit_in_its_line(name: str):
    module = importlib.import_module(f"storystick.physics.{name}")
    for title, page in inspect.getmembers(module, inspect.isfunction):
        if page.__module__ != module.__name__:
            continue
        lines = inspect.getdoc(page).splitlines() if inspect.getdoc(page) else []
        assert any(line.startswith("Source: ") for line in lines), f"{name}.{title} names no source"
        for letter in inspect.signature(page).parameters:
            entry = " ".join(line for line in lines if line.startswith(f"{letter} "))
            assert entry.rstrip().endswith("]"), f"{name}.{title} gives no unit for {letter}"
            ends = letter.rsplit("_", 1)[-1]
            if ends in UNITS and not letter.endswith(("kg_m3", "_n_mm", "per_percent")):
                assert UNITS[ends] in entry, f"{name}.{title}: {letter} and its unit differ: {entry}"
        gives = " ".join(line for line in lines if line.startswith("returns "))
        assert gives.endswith("]"), f"{name}.{title} gives no unit for what it returns"


def test_the_tables_of_the_room_are_light():
    for name in NAMES:
        source = inspect.getsource(importlib.import_module(f"storystick.physics.{name}"))
        assert "import numpy" not in source
