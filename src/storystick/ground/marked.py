"""YAML text to nodes that keep their text and their place: the first reading of every file.

Nothing is interpreted here: `23 5/8"`, `yes` and `18 mm` stay the text that was written. Limits keep a
hostile file from doing harm; a mistake in the YAML itself is told in plain words with its line.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from storystick.ground.finding import NOWHERE, Finding, Place
from storystick.ground.kept import Kept
from storystick.ground.misread import nearest as nearest
from storystick.ground.outcome import Outcome
from storystick.ground.records import quickly_made


@quickly_made
@dataclass(frozen=True, slots=True)
class Scalar:
    """A value as written, without the quotes around it."""

    text: str
    place: Place = NOWHERE
    quoted: bool = False


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list, in order."""

    items: "tuple[Marked, ...]"
    place: Place = NOWHERE

    def __iter__(self) -> "Iterator[Marked]":
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Names and what stands after their colons, in the order of the file; names are found whatever their capitals."""

    entries: "tuple[tuple[Scalar, Marked], ...]"
    place: Place = NOWHERE
    _found: "dict[str, Marked]" = field(init=False, repr=False, compare=False, hash=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_found", {plain(key.text): value for key, value in self.entries})

    def __iter__(self) -> "Iterator[tuple[Scalar, Marked]]":
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    def __contains__(self, name: str) -> bool:
        return plain(name) in self._found

    def get(self, name: str) -> "Marked | None":
        """What stands after a name; None where the name isn't there."""
        return self._found.get(plain(name))

    def key(self, name: str) -> Scalar | None:
        """The name itself as it was written, with its place."""
        wanted = plain(name)
        return next((key for key, _ in self.entries if plain(key.text) == wanted), None)

    def names(self) -> tuple[str, ...]:
        """The names as written, in the order of the file."""
        return tuple(key.text for key, _ in self.entries)


type Marked = Scalar | Sequence | Mapping

_READ: "Kept[Outcome[Marked]]" = Kept(4)  # a change is checked by reading the text before and after


@lru_cache(maxsize=16384)
def plain(name: str) -> str:
    """A name as it is compared: small letters, single spaces."""
    return " ".join(name.casefold().split())


def said(node: Marked) -> str:
    """A node in a few words, for a message: the text of a value, "a list of 3", "a group with wide, high"."""
    match node:
        case Scalar(text):
            return text if len(text) <= 60 else text[:57] + "..."
        case Sequence(items):
            return f"a list of {len(items)}"
        case Mapping() as group:
            names = group.names()
            more = " ..." if len(names) > 3 else ""
            return f"a group with {', '.join(names[:3])}{more}" if names else "an empty group"


def scalars(node: Marked) -> Iterator[Scalar]:
    """Every value below a node, in the order of the file; the names before colons are left out."""
    stack: list[Marked] = [node]
    while stack:
        one = stack.pop()
        match one:
            case Scalar():
                yield one
            case Sequence(items):
                stack.extend(reversed(items))
            case Mapping(entries):
                stack.extend(value for _, value in reversed(entries))


def read_marked(text: str, file: str = "") -> Outcome[Marked]:
    """The nodes of a YAML text, each with its place, and what is wrong with it.

    text  the whole file; at most a megabyte, 24 levels deep, 100,000 values
    file  its name, for the places

    A broken line of YAML stops the reading there (one finding); everything else is found together.
    An empty text gives an empty Mapping. Never raises for any text.
    """
    return _READ.of((text, file), lambda: _read(text, file))


def _read(text: str, file: str) -> "Outcome[Marked]":
    from storystick.ground.events import gather  # brings the YAML parser

    node, findings = gather(text, file)
    if node is None or any(finding.code == "yaml" for finding in findings):
        return Outcome(None, findings)
    return Outcome(node, findings)


def column_of(scalar: Scalar, at: int) -> Place:
    """The place of one character inside a value, where the value stands as written on one line; else its own."""
    place = scalar.place
    width = place.end_column - place.column
    inset = 1 if scalar.quoted and width == len(scalar.text) + 2 else 0
    if place.line != place.end_line or width != len(scalar.text) + 2 * inset or not place.line:
        return place
    column = place.column + inset + min(at, len(scalar.text))
    return Place(place.file, place.line, column, place.end_line, place.end_column, place.path)


def as_findings(outcome: Outcome[Marked]) -> list[Finding]:
    """The findings of a first reading as a list that later readings add to."""
    return list(outcome.findings)
