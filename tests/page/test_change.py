"""Changes on the page leave everything else of the plan as it was typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.app.page.change import add, at, put, take
from storystick.ground.marked import Mapping, Scalar, Sequence, read_marked
from tests.page.door import SMALL
from tests.told import sample

PLAN = """\
title: A case   # its name
measure:
  opening: {readings: [24, 24 1/16], with: tape}   # at the bench
  depth: 12

site:
build:
  case one:
    case:
      wide: opening - 1/2   # room to slide in
      bays:
        - open
        - fixed shelf   # here
        - drawer 4
      # the back comes last
      back: {stock: thin}

# the end
"""


@pytest.mark.parametrize(
    ("path", "new", "before", "after"),
    [
        (["title"], "A box", "A case   #", "A box   #"),
        (["measure", "opening", "readings", "1"], "24 1/8", "24 1/16]", "24 1/8]"),
        (["build", "case one", "case", "wide"], "opening - 1", "opening - 1/2 ", "opening - 1 "),
        (["build", "case one", "case", "bays", "2"], "drawer 5", "drawer 4", "drawer 5"),
    ],
)
def test_one_value_is_put_in_place_of_another(path: list[str], new: str, before: str, after: str):
    assert put(PLAN, path, new).made == PLAN.replace(before, after)


@pytest.mark.parametrize(
    ("path", "key", "value", "before", "after"),
    [
        (["measure"], "height", "30", "  depth: 12\n", "  depth: 12\n  height: 30\n"),
        (["measure", "opening"], "takes", "smallest", "with: tape}", "with: tape, takes: smallest}"),
        (["measure", "opening", "readings"], "2", "24 1/8", "24 1/16]", "24 1/16, 24 1/8]"),
        (["measure", "opening", "readings"], "0", "23", "[24,", "[23, 24,"),
        (["site"], "wall", "{box: [1, 2, 3]}", "site:\n", "site:\n  wall: {box: [1, 2, 3]}\n"),
        (["build", "case one", "case", "bays"], "3", "open", "- drawer 4\n", "- drawer 4\n        - open\n"),
        (["build", "case one", "case", "bays"], "1", "open", "        - fixed", "        - open\n        - fixed"),
        (["build", "case one", "case", "back"], "joint", "groove", "{stock: thin}", "{stock: thin, joint: groove}"),
    ],
)
def test_one_line_is_added(path: list[str], key: str, value: str, before: str, after: str):
    assert add(PLAN, path, key, value).made == PLAN.replace(before, after)


@pytest.mark.parametrize(
    ("path", "before", "after"),
    [
        (["measure", "depth"], "  depth: 12\n", ""),
        (["measure", "opening", "with"], ", with: tape", ""),
        (["measure", "opening", "readings", "0"], "[24, 24", "[24"),
        (["measure", "opening", "readings", "1"], ", 24 1/16]", "]"),
        (["build", "case one", "case", "bays", "1"], "        - fixed shelf   # here\n", ""),
        (["build", "case one", "case", "back"], "      back: {stock: thin}\n", ""),
    ],
)
def test_one_line_is_taken_out(path: list[str], before: str, after: str):
    assert take(PLAN, path).made == PLAN.replace(before, after)


@pytest.mark.parametrize("path", [["nowhere"], ["measure", "opening", "readings", "9"], ["title", "x"], []])
def test_what_is_not_there_is_not_changed(path: list[str]):
    assert put(PLAN, path, "x").made is None
    assert take(PLAN, path).made is None


@pytest.mark.parametrize("value", ["[", "{a: b", "a\nb: c", "x" * 5000, "*star"])
def test_what_would_break_the_plan_is_not_added(value: str):
    assert add(PLAN, ["measure"], "new", value).made is None


def paths(text: str) -> list[tuple[str, ...]]:
    """Every path of a plan."""
    found: list[tuple[str, ...]] = []

    def walk(node: object, path: tuple[str, ...]) -> None:
        if path:
            found.append(path)
        if isinstance(node, Mapping):
            for key, value in node.entries:
                walk(value, (*path, key.text))
        elif isinstance(node, Sequence):
            for number, value in enumerate(node.items):
                walk(value, (*path, str(number)))

    walk(read_marked(text).made, ())
    return found


@pytest.mark.parametrize("name", ["lathe-cabinet", "drawer-tower", "alcove-bookcase"])
def test_every_value_of_the_samples_can_be_put_anew(name: str):
    text = sample(name)
    root = read_marked(text).made
    assert root is not None
    tried = 0
    for path in paths(text):
        node = at(root, path)
        if isinstance(node, Scalar) and "\n" not in node.text:
            tried += 1
            changed = put(text, path, "7 1/2").made
            assert changed is not None, path
            assert put(changed, path, node.text).made is not None, path
    assert tried > 40


@pytest.mark.parametrize("name", ["lathe-cabinet", "drawer-tower", "alcove-bookcase"])
def test_every_line_of_the_samples_can_be_taken_out(name: str):
    text = sample(name)
    stuck = [path for path in paths(text) if take(text, path).made is None]
    assert stuck == []


@given(st.sampled_from(paths(SMALL)), st.text(min_size=1, max_size=20))
def test_whatever_is_put_in_reads_back_as_it_was_put(path: tuple[str, ...], new: str):
    made = put(SMALL, path, new).made
    if made is not None:
        node = at(read_marked(made).made, path)  # type: ignore[arg-type]
        assert isinstance(node, Scalar)
        assert node.text == new


@given(st.sampled_from(["measure", "stock", "loads"]), st.text("abc :{}[],#'\"&*!|>%@`\\-?\n", max_size=12))
def test_whatever_is_added_leaves_the_rest(section: str, value: str):
    made = add(SMALL, [section], "new one", value).made
    if made is not None:
        root, old = read_marked(made).made, read_marked(SMALL).made
        assert isinstance(root, Mapping)
        assert isinstance(old, Mapping)
        assert root.names() == old.names()
        assert at(root, (section, "new one")) is not None
        again = take(made, (section, "new one")).made
        assert again is not None
