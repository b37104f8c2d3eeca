"""A floor imports only from floors below it, and rooms on one floor never meet."""

from collections.abc import Iterator

import pytest

from tests.house.floors import DOOR, FLOOR_OF, FLOORS, PACKAGE, Module, imports, module, modules, room_of


def climbs(one: Module) -> Iterator[str]:
    """What a module imports from a floor that is not below its own."""
    for line, name in imports(one):
        if name.split(".")[0] != "storystick" or name == "storystick.__version__":
            continue
        room = room_of(name)
        if room == one.room:
            continue
        if room == DOOR or FLOOR_OF.get(room, len(FLOORS)) >= one.floor:
            yield f"{one.name}, line {line}: imports {name}"


def test_every_room_imports_only_from_floors_below():
    assert [fault for one in modules() for fault in climbs(one)] == []


def test_every_room_has_its_floor():
    rooms = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    strays = {path.stem for path in PACKAGE.glob("*.py")} - {"__init__", "__main__"}
    assert rooms | strays <= set(FLOOR_OF)


def test_every_folder_of_modules_is_a_package():
    folders = {path.parent for path in PACKAGE.rglob("*.py")}
    assert [str(folder.relative_to(PACKAGE)) for folder in folders if not (folder / "__init__.py").is_file()] == []


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("storystick.ground.dim", "from storystick.model.part import Part"),
        ("storystick.ground.dim", "import storystick.app.command"),
        ("storystick.shapes.solid", "from storystick.physics import beam"),
        ("storystick.checks.sag", "from storystick.paper import sheet"),
        ("storystick.checks.sag", "from ..paper import sheet"),
        ("storystick.checks.sag", "from .. import paper"),
        ("storystick.checks.sag", "def late():\n    from storystick.layout.sheets import search"),
        ("storystick.craft.fits", "import importlib\nimportlib.import_module('storystick.app.command')"),
        ("storystick.ground.dim", "from storystick import model"),
        ("storystick.ground.dim", "import storystick"),
        ("storystick.app.command", "import storystick.__main__"),
    ],
)
def test_a_climb_is_noticed(name: str, text: str):
    assert list(climbs(module(name, text)))


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("storystick.checks.sag", "from storystick.physics.beam import deflection_mm"),
        ("storystick.checks.sag", "from .reach import far"),
        ("storystick.checks.sag", "import numpy"),
        ("storystick.app.command", "from storystick import __version__"),
        ("storystick.__main__", "from storystick.app.command import main"),
    ],
)
def test_going_down_is_free(name: str, text: str):
    assert list(climbs(module(name, text))) == []
