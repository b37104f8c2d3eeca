"""Nothing above craft contains the name of a joint: it knows only the few shapes of cut."""

import ast
import re
from collections.abc import Iterable, Iterator

import pytest

from tests.house.floors import FLOOR_OF, PACKAGE, Module, module, modules

JOINTS = PACKAGE / "craft" / "joints"
# Tools and screws that are called after a joint: who names them names no joint.
TOOLS = re.compile(r"\b(dado (set|stack)|rabbet plane|mitre saw|miter saw|pocket (hole )?(jig|screw)s?)\b")


def joint_names() -> list[str]:
    """The joints are the files of the folder."""
    names = sorted(path.stem for path in JOINTS.glob("*.py") if not path.stem.startswith("_"))
    if not names:
        pytest.skip("craft/joints has no joint yet")
    return names


def words(one: Module) -> Iterator[tuple[int, str]]:
    """Line and text of every name and every string that runs; comments and docstrings speak to people and are free."""
    spoken = {id(each) for node in ast.walk(one.tree) for each in docstring(node)}
    for node in ast.walk(one.tree):
        line = getattr(node, "lineno", 0)
        match node:
            case ast.Constant(value=str(text)) if id(node) not in spoken:
                yield line, text
            case ast.Name(id=text) | ast.Attribute(attr=text) | ast.arg(arg=text) | ast.keyword(arg=str(text)):
                yield line, text
            case ast.FunctionDef(name=text) | ast.ClassDef(name=text):
                yield line, text
            case ast.alias(name=text, asname=other):
                yield line, f"{text} {other or ''}"


def docstring(node: ast.AST) -> Iterator[ast.expr]:
    match node:
        case ast.Module(body=[ast.Expr(value=text), *_]) | ast.FunctionDef(body=[ast.Expr(value=text), *_]):
            yield text
        case ast.ClassDef(body=body):
            yield from (each.value for each in body if isinstance(each, ast.Expr))


def plain(text: str) -> str:
    """Words apart and in small letters: `PocketHole`, `pocket_hole` and `pocket-hole` are all `pocket hole`."""
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text)
    return re.sub(r"[^a-z]+", " ", apart.lower())


def mentions(one: Module, joints: Iterable[str]) -> Iterator[str]:
    """Where a joint is named. `screwed` is a verb too: such a word counts only where it stands alone."""
    names = {plain(joint).strip() for joint in joints}
    nouns = [name for name in sorted(names) if not name.endswith("ed")]
    found = re.compile(rf"\b({'|'.join(nouns)})(e?s)?\b") if nouns else None
    for line, text in words(one):
        said = TOOLS.sub("tool", plain(text)).strip()
        if said in names or (found and found.search(said)):
            yield f"{one.name}, line {line}: names a joint in {text[:60]!r}"


def test_no_joint_is_named_above_craft():
    joints = joint_names()
    above = (one for one in modules() if one.floor > FLOOR_OF["craft"])
    assert [fault for one in above for fault in mentions(one, joints)] == []


@pytest.mark.parametrize(
    "text",
    [
        "if kind == 'dado': pass",
        "if kind == 'screwed': pass",
        "def cut_dados(): pass",
        "class PocketHole: pass",
        "a.pocket_hole",
        "x(dado=1)",
    ],
)
def test_a_named_joint_is_noticed(text: str):
    assert list(mentions(module("storystick.checks.one", text), ["dado", "pocket_hole", "screwed"]))


@pytest.mark.parametrize("text", ["shop.dado_set", "kind == 'pocket screw'", "saws_of('mitre saw')"])
def test_a_tool_that_is_called_after_a_joint_is_free(text: str):
    assert list(mentions(module("storystick.work.one", text), ["dado", "pocket", "mitre"])) == []


def test_a_word_to_the_reader_is_free():
    text = '"""Where a dado is too deep."""\n# a dado\ndadoless = "the top is screwed on"'
    assert list(mentions(module("storystick.checks.one", text), ["dado", "screwed"])) == []
