"""Only app touches files, the clock and the screen; nothing rolls dice; no frozen record is changed."""

import ast
from collections.abc import Iterator

import pytest

from tests.house.floors import Module, below_app, called, imports, module, modules

# Modules that reach outside. A package's own tables are read with importlib.resources, the one exception.
REACH_OUT = {
    "os", "pathlib", "shutil", "tempfile", "glob", "subprocess", "socket", "sqlite3", "urllib", "http", "logging",
    "time", "uuid", "secrets", "getpass", "fcntl",
}  # fmt: skip
NO_REACH = {"pathlib.PurePath", "pathlib.PurePosixPath"}
HANDS = {"open", "print", "input", "breakpoint", "exit", "quit"}
STREAMS = {"sys.stdout", "sys.stderr", "sys.stdin", "sys.argv", "sys.exit", "io.open"}
CLOCK = {"now", "today", "utcnow"}
READS = {"read_text", "read_bytes", "write_text", "write_bytes"}
NOUNS = {"plan", "shop", "model"}  # rooms whose records pass from hand to hand
SEEDED = {"Random", "default_rng", "SeedSequence", "Generator", "PCG64"}


def touches(one: Module) -> Iterator[str]:
    """Where a module below app reaches for a file, the clock or the screen."""
    has_tables = False
    for line, name in imports(one):
        has_tables = has_tables or name.startswith("importlib.resources")
        if name.split(".")[0] in REACH_OUT and name not in NO_REACH:
            yield f"{one.name}, line {line}: imports {name}"
    for node in ast.walk(one.tree):
        match node:
            case ast.Call(func=ast.Name(id=name)) if name in HANDS:
                yield f"{one.name}, line {node.lineno}: calls {name}()"
            case ast.Call(func=ast.Attribute(attr=name, value=value)):
                if name in READS and not has_tables:
                    yield f"{one.name}, line {node.lineno}: calls .{name}()"
                if name in CLOCK and called(value).split(".")[-1] in ("datetime", "date"):
                    yield f"{one.name}, line {node.lineno}: asks the clock with .{name}()"
            case ast.Attribute() if called(node) in STREAMS:
                yield f"{one.name}, line {node.lineno}: uses {called(node)}"


def rolls(one: Module) -> Iterator[str]:
    """Where chance comes in without a seed."""
    for line, name in imports(one):
        if name.startswith("random.") and name != "random.Random":
            yield f"{one.name}, line {line}: imports {name}"
    for node in ast.walk(one.tree):
        if not isinstance(node, ast.Call):
            continue
        words = called(node.func).split(".")
        if words[0] == "random" or "random" in words[:-1] or words[-1] in ("Random", "default_rng"):
            if words[-1] not in SEEDED or not (node.args or node.keywords):
                yield f"{one.name}, line {node.lineno}: {'.'.join(words)}() without a seed"
        elif words[-1] in ("urandom", "uuid4"):
            yield f"{one.name}, line {node.lineno}: {'.'.join(words)}()"


def changes(one: Module) -> Iterator[str]:
    """Where a frozen record is changed after it was made, or a noun is not frozen at all."""
    allowed = {
        id(inner)
        for node in ast.walk(one.tree)
        if isinstance(node, ast.FunctionDef) and node.name == "__post_init__"
        for inner in ast.walk(node)
    }
    for node in ast.walk(one.tree):
        match node:
            case ast.Call(func=ast.Attribute(attr="__setattr__" | "__delattr__")) if id(node) not in allowed:
                yield f"{one.name}, line {node.lineno}: {called(node.func)}() outside __post_init__"
            case ast.ClassDef(decorator_list=marks) if one.room in NOUNS:
                yield from (f"{one.name}, line {node.lineno}: {node.name} is not frozen" for m in marks if thaws(m))


def thaws(mark: ast.expr) -> bool:
    """A @dataclass without frozen=True."""
    call = mark.func if isinstance(mark, ast.Call) else mark
    if called(call).split(".")[-1] != "dataclass":
        return False
    words = mark.keywords if isinstance(mark, ast.Call) else []
    return not any(
        word.arg == "frozen" and isinstance(word.value, ast.Constant) and word.value.value is True for word in words
    )


def test_only_app_touches_files_clock_and_screen():
    assert [fault for one in below_app() for fault in touches(one)] == []


def test_nothing_is_left_to_chance():
    assert [fault for one in modules() for fault in rolls(one)] == []


def test_records_are_frozen_and_stay_as_they_were_made():
    assert [fault for one in below_app() for fault in changes(one)] == []


@pytest.mark.parametrize(
    "text",
    [
        "print('sag')",
        "open('plan.yaml')",
        "import time",
        "from time import monotonic",
        "from pathlib import Path",
        "from datetime import datetime\ndatetime.now()",
        "import datetime\ndatetime.date.today()",
        "plan.read_text()",
        "import sys\nsys.stdout.write('sag')",
    ],
)
def test_a_reaching_hand_is_noticed(text: str):
    assert list(touches(module("storystick.checks.one", text)))


@pytest.mark.parametrize(
    "text",
    [
        "from importlib.resources import files\nfiles(__package__).joinpath('woods.toml').read_text()",
        "from pathlib import PurePath",
        "from datetime import date\ndate(2026, 5, 2)",
    ],
)
def test_the_tables_of_the_house_may_be_read(text: str):
    assert list(touches(module("storystick.shop.tables", text))) == []


@pytest.mark.parametrize(
    "text",
    [
        "import random\nrandom.random()",
        "import random\nrandom.Random()",
        "from random import shuffle",
        "import numpy as np\nnp.random.rand(3)",
        "import numpy as np\nnp.random.default_rng()",
        "import uuid\nuuid.uuid4()",
    ],
)
def test_an_unseeded_roll_is_noticed(text: str):
    assert list(rolls(module("storystick.layout.one", text)))


@pytest.mark.parametrize(
    "text", ["from random import Random\nRandom(7)", "import numpy as np\nnp.random.default_rng(7)"]
)
def test_a_seeded_roll_is_fine(text: str):
    assert list(rolls(module("storystick.layout.one", text))) == []


@pytest.mark.parametrize(
    "text",
    [
        "def plane(part):\n    object.__setattr__(part, 'wide', 1)",
        "from dataclasses import dataclass\n@dataclass\nclass Part: pass",
        "import dataclasses\n@dataclasses.dataclass(slots=True)\nclass Part: pass",
        "from dataclasses import dataclass\n@dataclass(frozen=False)\nclass Part: pass",
    ],
)
def test_a_changed_record_is_noticed(text: str):
    assert list(changes(module("storystick.model.part", text)))


def test_a_record_may_finish_itself_while_it_is_made():
    text = (
        "from dataclasses import dataclass\n"
        "@dataclass(frozen=True)\n"
        "class Part:\n"
        "    def __post_init__(self):\n"
        "        object.__setattr__(self, 'wide', 1)\n"
    )
    assert list(changes(module("storystick.model.part", text))) == []
