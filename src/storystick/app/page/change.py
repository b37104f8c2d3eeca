"""Changes of a plan's text that leave everything else as it was typed: put in another value, add a line, take one out.

A path leads to a value: names of groups, and numbers of items as text, ["build", "cabinet", "case", "bays", "0"]. After
every change the text is read again and compared: it differs in what was asked for, or nothing is changed.
"""

import re
from collections.abc import Sequence as Row

from storystick.ground.finding import Finding, Grade, Place
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence, plain, read_marked
from storystick.ground.outcome import Outcome
from storystick.plan.splice import splice

type Path = Row[str]
type Tree = str | list["Tree"] | list[tuple[str, "Tree"]]

LONGEST = 4000


def at(root: Marked, path: Path) -> Marked | None:
    """The node that a path leads to; None when it leads nowhere."""
    node: Marked | None = root
    for word in path:
        if isinstance(node, Mapping):
            node = node.get(word)
        elif isinstance(node, Sequence) and word.isdecimal() and int(word) < len(node.items):
            node = node.items[int(word)]
        else:
            return None
    return node


def put(text: str, path: Path, new: str) -> Outcome[str]:
    """Another value at a path."""
    root = read_marked(text).made
    node = at(root, path) if root is not None else None
    if not isinstance(node, Scalar):
        return _refused(path, "There is no single value here any more.")
    return splice(text, node.place, new)


def put_at(text: str, spot: tuple[int, int, int, int], new: str) -> Outcome[str]:
    """Another value at a place: line, column, end line, end column."""
    return splice(text, Place("", *spot), new)


def add(text: str, path: Path, key: str, value: str) -> Outcome[str]:
    """One more line in a group (`key` and `value`), or one more item in a list (`key` is the number it gets).

    value  as it stands in a plan: a word, a sum, or a group in braces
    """
    root = read_marked(text).made
    node = at(root, path) if root is not None else None
    if root is None or node is None or len(value) > LONGEST or "\n" in key + value:
        return _refused(path, "There is nothing here to add to.")
    meant = read_marked(value).made if value.strip() else Scalar("")
    if meant is None:
        return _refused(path, f"{value!r} can't stand in a plan.")
    extra = _tree(meant) if not (isinstance(meant, Mapping) and not meant.entries and "{" not in value) else value
    return _first_good(text, root, _with(root, path, key, extra), _additions(text, node, path, root, key, value), path)


def take(text: str, path: Path) -> Outcome[str]:
    """A line, or an item of a list, taken out."""
    root = read_marked(text).made
    if root is None or not path or at(root, path) is None:
        return _refused(path, "It is not there any more.")
    return _first_good(text, root, _without(root, path), _removals(text, root, path), path)


def _first_good(text: str, root: Marked, wanted: "Tree", ways: list[str], path: Path) -> Outcome[str]:
    for changed in ways:
        again = read_marked(changed)
        stops = any(f.grade is Grade.STOP for f in again.findings)
        if again.made is not None and not stops and _alike(_tree(again.made), wanted):
            return Outcome(changed)
    return _refused(path, "This can't be changed here without changing something else.")


def _refused(path: Path, says: str) -> Outcome[str]:
    where = Place(path=tuple(path))
    return Outcome(None, (Finding("splice", Grade.STOP, where, says, "Change the plan in writing."),))


# --- trees without places ---------------------------------------------------------------------------------------------


def _tree(node: Marked) -> "Tree":
    match node:
        case Scalar(text):
            return text
        case Sequence(items):
            return [_tree(item) for item in items]
        case Mapping(entries):
            return [(key.text, _tree(value)) for key, value in entries]


def _alike(one: "Tree", other: "Tree") -> bool:
    """Equal, where nothing, an empty group and an empty list are one."""
    if not one and not other:
        return True
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(_same_item(a, b) for a, b in zip(one, other, strict=True))
    return one == other


def _same_item(one: object, other: object) -> bool:
    if isinstance(one, tuple) and isinstance(other, tuple):
        return bool(one[0] == other[0]) and _alike(one[1], other[1])
    if isinstance(one, tuple) or isinstance(other, tuple):
        return False
    return _alike(one, other)  # type: ignore[arg-type]


def _with(node: Marked, path: Path, key: str, extra: "Tree") -> "Tree":
    if path:
        return _inside(node, path, lambda inner: _with(inner, path[1:], key, extra))
    if isinstance(node, Sequence):
        items: list[Tree] = [_tree(item) for item in node.items]
        items.insert(int(key) if key.isdecimal() else len(items), extra)
        return items
    entries = [(k.text, _tree(v)) for k, v in node.entries] if isinstance(node, Mapping) else []
    return [*entries, (key, extra)]


def _without(node: Marked, path: Path) -> "Tree":
    if len(path) > 1:
        return _inside(node, path, lambda inner: _without(inner, path[1:]))
    if isinstance(node, Sequence):
        return [_tree(item) for number, item in enumerate(node.items) if str(number) != path[0]]
    assert isinstance(node, Mapping)
    return [(k.text, _tree(v)) for k, v in node.entries if plain(k.text) != plain(path[0])]


def _inside(node: Marked, path: Path, change: "object") -> "Tree":
    assert callable(change)
    if isinstance(node, Sequence):
        return [change(i) if str(n) == path[0] else _tree(i) for n, i in enumerate(node.items)]
    assert isinstance(node, Mapping)
    wanted = plain(path[0])
    return [(k.text, change(v) if plain(k.text) == wanted else _tree(v)) for k, v in node.entries]


# --- where in the text ------------------------------------------------------------------------------------------------


def _starts(text: str) -> list[int]:
    return [0, *(m.end() for m in re.finditer("\r\n|[\n\r\x85\u2028\u2029]", text))]


def _spot(text: str, line: int, column: int) -> int:
    starts = _starts(text)
    return min(starts[min(line, len(starts)) - 1] + column - 1, len(text))


def _span(text: str, node: Marked) -> tuple[int, int]:
    """Where a node begins, and where its last letter ends; a block group ends with its last value."""
    place = node.place
    start, end = _spot(text, place.line, place.column), _spot(text, place.end_line, place.end_column)
    if text[start : start + 1] in ("{", "[") or isinstance(node, Scalar):
        return start, start + len(text[start:end].rstrip())
    last: Marked | None = None
    if isinstance(node, Mapping) and node.entries:
        key, last = node.entries[-1]
        if isinstance(last, Scalar) and not last.text:
            return start, text.index(":", _spot(text, key.place.end_line, key.place.end_column)) + 1
    elif isinstance(node, Sequence) and node.items:
        last = node.items[-1]
    return start, _span(text, last)[1] if last is not None else end


def _line_end(text: str, spot: int) -> int:
    found = re.compile("[\n\r\x85\u2028\u2029]").search(text, spot)
    return found.start() if found else len(text)


def _line_start(text: str, spot: int) -> int:
    return max(text.rfind("\n", 0, spot), text.rfind("\r", 0, spot)) + 1


def _is_flow(text: str, node: Marked) -> bool:
    start = _spot(text, node.place.line, node.place.column)
    return not isinstance(node, Scalar) and text[start : start + 1] in ("{", "[")


def _additions(text: str, node: Marked, path: Path, root: Marked, key: str, value: str) -> list[str]:
    line = value if isinstance(node, Sequence) else f"{key}: {value}".rstrip()
    if _is_flow(text, node):
        return _flow_additions(text, node, key, line)
    if isinstance(node, Scalar):  # an empty value: the group begins here
        parent = at(root, path[:-1])
        name = parent.key(path[-1]) if isinstance(parent, Mapping) else None
        if node.text or name is None:
            return []
        spot = _line_end(text, _spot(text, name.place.line, name.place.column))
        return [text[:spot] + "\n" + " " * (name.place.column + 1) + line + text[spot:]]
    pad = " " * (node.place.column - 1)
    dash = "- " if isinstance(node, Sequence) else ""
    if isinstance(node, Sequence) and key.isdecimal() and int(key) < len(node.items):
        spot = _line_start(text, _spot(text, node.items[int(key)].place.line, 1))
        return [text[:spot] + pad + dash + line + "\n" + text[spot:]]
    spot = _line_end(text, _span(text, node)[1])
    return [text[:spot] + "\n" + pad + dash + line + text[spot:]]


def _flow_additions(text: str, node: Marked, key: str, line: str) -> list[str]:
    start, end = _span(text, node)
    inner = node.items if isinstance(node, Sequence) else node.entries if isinstance(node, Mapping) else ()
    if isinstance(node, Sequence) and key.isdecimal() and int(key) < len(node.items):
        spot = _span(text, node.items[int(key)])[0]
        return [text[:spot] + line + ", " + text[spot:]]
    close = end - 1
    body = text[start + 1 : close]
    if not inner:
        return [text[: start + 1] + line + text[close:]]
    spot = start + 1 + len(body.rstrip().removesuffix(",").rstrip())
    return [text[:spot] + ", " + line + text[spot:]]


def _removals(text: str, root: Marked, path: Path) -> list[str]:
    parent, node = at(root, path[:-1]), at(root, path)
    if parent is None or node is None:
        return []
    start, end = _span(text, node)
    if isinstance(parent, Mapping):
        key = parent.key(path[-1])
        assert key is not None
        start = _spot(text, key.place.line, key.place.column)
        end = max(end, text.index(":", _spot(text, key.place.end_line, key.place.end_column)) + 1)
    if _is_flow(text, parent):
        after = re.compile(r"\s*,[ \t]*").match(text, end)
        before = re.compile(r",\s*$").search(text, 0, start)
        ways = [text[:start] + text[after.end() :]] if after else []
        if before:
            ways.append(text[: before.start()] + text[end:])
        return [*ways, text[:start] + text[end:]]
    first, last = _line_start(text, start), _line_end(text, end)
    ways = [text[:first] + text[last + len(_break(text, last)) :], text[:first].rstrip("\n") + text[last:]]
    if isinstance(parent, Mapping) and len(parent.entries) > 1:  # the first line behind a dash
        second = parent.entries[1][0].place
        ways.append(text[:start] + text[_spot(text, second.line, second.column) :])
    return [*ways, text[:start] + text[end:]]


def _break(text: str, spot: int) -> str:
    return "\r\n" if text[spot : spot + 2] == "\r\n" else text[spot : spot + 1]
