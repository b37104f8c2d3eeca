"""The order of the house, in one place, and the modules that live in it."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "storystick"

# From the bottom up. A module imports from its own room and from rooms on floors below: rooms side by side never meet.
FLOORS: tuple[tuple[str, ...], ...] = (
    ("ground",),
    ("shapes", "physics"),
    ("plan", "shop"),
    ("model",),
    ("craft",),
    ("resolve", "checks", "work", "layout", "assembly", "paper", "exports"),
    ("app",),
)
FLOOR_OF = {room: floor for floor, rooms in enumerate(FLOORS) for room in rooms}
TOP = len(FLOORS)
DOOR = ""  # the package's own __init__ and __main__, above the top floor


@dataclass(frozen=True)
class Module:
    """One module: its full name, whether it is a package's __init__, and what it says."""

    name: str
    is_package: bool
    tree: ast.Module
    text: str

    @property
    def room(self) -> str:
        return room_of(self.name)

    @property
    def floor(self) -> int:
        return FLOOR_OF.get(self.room, TOP)


def room_of(name: str) -> str:
    """The room of a full module name; the door for what belongs to the package itself."""
    words = name.split(".")
    return words[1] if len(words) > 1 and words[1] != "__main__" else DOOR


def module(name: str, text: str, is_package: bool = False) -> Module:
    return Module(name, is_package, ast.parse(text, name), text)


def modules() -> Iterator[Module]:
    """Every module of the package as it lies on the disk."""
    for path in sorted(PACKAGE.rglob("*.py")):
        words = ["storystick", *path.relative_to(PACKAGE).with_suffix("").parts]
        is_package = words[-1] == "__init__"
        yield module(".".join(words[:-1] if is_package else words), path.read_text("utf-8"), is_package)


def below_app() -> Iterator[Module]:
    return (each for each in modules() if each.floor < FLOOR_OF["app"])


def imports(one: Module) -> Iterator[tuple[int, str]]:
    """Line and full name of everything that a module imports, also `from . import x` and import_module("x")."""
    for node in ast.walk(one.tree):
        match node:
            case ast.Import(names=names):
                yield from ((node.lineno, each.name) for each in names)
            case ast.ImportFrom(module=source, names=names, level=level):
                start = source_of(one, source, level)
                yield from ((node.lineno, f"{start}.{each.name}") for each in names)
            case ast.Call(func=ast.Attribute(attr="import_module") | ast.Name(id="import_module"), args=[
                ast.Constant(value=str(text)), *_
            ]):
                yield node.lineno, text


def source_of(one: Module, source: str | None, level: int) -> str:
    """The full name of what stands between `from` and `import`."""
    if level == 0:
        return source or ""
    package = one.name.split(".") if one.is_package else one.name.split(".")[:-1]
    above = package[: len(package) - (level - 1)]
    return ".".join([*above, *([source] if source else [])])


def called(node: ast.expr) -> str:
    """A dotted name as it is written: `time.time` for the call time.time()."""
    match node:
        case ast.Name(id=name):
            return name
        case ast.Attribute(value=value, attr=attr):
            return f"{called(value)}.{attr}"
    return ""
