"""What a field of a plan may hold: a length, a count, one of some words, a list of these, a group of fields.

Each knows how it is read from a node, what to say when it isn't there, and an example.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from storystick.ground.arithmetic import read_sum
from storystick.ground.finding import Finding, Grade, mistake
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence, plain, said
from storystick.ground.misread import MOST_MISTAKES, Misread, nearest, one_of
from storystick.ground.quantities import (
    read_angle,
    read_count,
    read_flag,
    read_money,
    read_percent,
    read_temperature,
    read_weight,
)
from storystick.ground.sums import Scope

if TYPE_CHECKING:
    from storystick.ground.fields import Fields

type Word = Literal["length", "number", "count", "angle", "weight", "money", "percent", "temperature", "text", "flag"]
type One = Callable[[Scalar, Scope, list[Finding]], object | None]


@dataclass(frozen=True, slots=True)
class Plain:
    """A single value. `expected` comes with its article; `read` adds to the mistakes and gives None when it can't."""

    word: Word
    expected: str
    example: str
    read: One


@dataclass(frozen=True, slots=True)
class Choice:
    """One of some words; `also` gives other words for them: (("housing", "dado"),)."""

    words: tuple[str, ...]
    also: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class NameOf:
    """The name of something declared elsewhere in the plan: NameOf("stock")."""

    what: str


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list, or a single one of it; `least` and `most` bound how many."""

    of: "Reads"
    least: int = 0
    most: int = 1000


@dataclass(frozen=True, slots=True)
class Table:
    """A group whose names are free: names before the colons, one kind of value behind them."""

    of: "Reads"
    names: str = "names"


@dataclass(frozen=True, slots=True)
class Pairs:
    """What a Table gives: names with their values, in the order of the file."""

    all: tuple[tuple[Scalar, object], ...]


@dataclass(frozen=True, slots=True)
class Record:
    """A group of declared fields."""

    fields: "Fields"


@dataclass(frozen=True, slots=True)
class Either:
    """One or the other, told apart by their shape: a single value, a list or a group."""

    ways: "tuple[Reads, ...]"


@dataclass(frozen=True, slots=True)
class AnyNode:
    """Left as it is, for who declared it to read."""


@dataclass(frozen=True, slots=True)
class ReadBy:
    """Read by a function of one's own, together with everything else; None from it means that it told a mistake."""

    read: Callable[[Marked, Scope, list[Finding]], object | None]
    example: str = ""


type Reads = Plain | Choice | NameOf | ListOf | Table | Record | Either | AnyNode | ReadBy


def _told(read: Callable[[Scalar, Scope], object]) -> One:
    """A reader that raises Misread, as one that adds to the mistakes."""

    def attempt(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
        try:
            return read(scalar, scope)
        except Misread as wrong:
            mistakes.append(wrong.finding(scalar.place))
            return None

    return attempt


def _size(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    dim = read_sum(scalar, scope, mistakes)
    if dim is not None and dim.value <= 0:
        mistakes.append(mistake(scalar.place, scalar.text, "a size: it must come out at more than nothing"))
        return None
    return dim


def _number(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    return read_sum(scalar, scope, mistakes, 0)


Length = Plain("length", "a length", '23 5/8, 600 mm or "opening - 1/4"', read_sum)
Size = Plain("length", "a length of more than nothing", '23 5/8, 600 mm or "opening - 1/4"', _size)
Number = Plain("number", "a plain number", "3, 2.5 or 1/2", _number)
Count = Plain("count", "a count, a whole number", "3", _told(lambda s, _: read_count(s.text)))
Angle = Plain("angle", "an angle", "75 deg or 1:8", _told(lambda s, _: read_angle(s.text)))
Weight = Plain("weight", "a weight", "20 kg or 44 lb",
               _told(lambda s, scope: read_weight(s.text, "lb" if scope.bare == "inch" else "kg")))  # fmt: skip
Money = Plain("money", "a price", "92.00, $92 or € 85", _told(lambda s, _: read_money(s.text)))
Percent = Plain("percent", "a percentage", "45 %", _told(lambda s, _: read_percent(s.text)))
Temperature = Plain("temperature", "a temperature", "20 C or 68 F",
                    _told(lambda s, scope: read_temperature(s.text, "F" if scope.bare == "inch" else "C")))  # fmt: skip
Text = Plain("text", "a text", "a few words", lambda s, _, __: s.text)
Flag = Plain("flag", "yes or no", "yes", _told(lambda s, _: read_flag(s.text)))
Node = AnyNode()


def expected(reads: Reads) -> str:
    """What is expected, with its article."""
    match reads:
        case Plain():
            return reads.expected
        case Choice(words):
            return f"one of {one_of(words)}" if len(words) > 1 else words[0]
        case NameOf(what):
            return f"the name of a {what}"
        case ListOf(of):
            return f"a list, each {expected(of)}"
        case Table(of, names):
            return f"a group of {names}, each with {expected(of)}"
        case Record(fields):
            return f"a group of lines for the {fields.title}"
        case Either(ways):
            return " or ".join(expected(way) for way in ways)
        case AnyNode() | ReadBy():
            return "a value"


def example(reads: Reads) -> str:
    """Something that would work; "" when there is nothing short to show."""
    match reads:
        case Plain():
            return reads.example
        case Choice(words):
            return words[0]
        case ListOf(of, least):
            inner = example(of).split(" or ")[0].split(",")[0]
            return f"[{', '.join([inner] * max(1, least))}]" if inner else ""
        case Record(fields):
            first = next((f for f in fields.fields if f.required), fields.fields[0] if fields.fields else None)
            inner = example(first.reads).split(" or ")[0].split(",")[0] if first else ""
            return f"{{{first.name}: {inner}}}" if first and inner else ""
        case Either(ways):
            return next(filter(None, map(example, ways)), "")
        case ReadBy():
            return reads.example
        case NameOf() | Table() | AnyNode():
            return ""


def misfit(node: Marked, wanted: str, like: str = "") -> Finding:
    """A value of the wrong shape: a list where a length should be, a text where a group should be."""
    advice = f"Write {like}." if like else ""
    if isinstance(node, Scalar) and not node.text.strip():
        return Finding("reading", Grade.STOP, node.place, f"Nothing stands here: expected {wanted}.", advice)
    stands = f"{node.text!r}" if isinstance(node, Scalar) else said(node).capitalize()
    return Finding("reading", Grade.STOP, node.place, f"{stands} stands here: expected {wanted}.", advice)


def read(reads: Reads, node: Marked, scope: Scope, mistakes: list[Finding]) -> object | None:
    """The value of a node read in a stated way; None when it could not be, and then the mistakes say why."""
    match reads:
        case AnyNode():
            return node
        case ReadBy():
            return reads.read(node, scope, mistakes)
        case Record(fields):
            from storystick.ground.fields import fill

            return fill(fields, node, scope, mistakes)
        case Either():
            return read(_way(reads, node), node, scope, mistakes)
        case ListOf():
            return _list(reads, node, scope, mistakes)
        case Table():
            return _table(reads, node, scope, mistakes)
        case Plain() | Choice() | NameOf():
            if not isinstance(node, Scalar) or (not node.text.strip() and not node.quoted):
                mistakes.append(misfit(node, expected(reads), example(reads)))
                return None
            return _one(reads, node, scope, mistakes)


def _one(reads: Plain | Choice | NameOf, node: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    match reads:
        case Plain():
            return reads.read(node, scope, mistakes)
        case Choice(words, also):
            asked = plain(node.text)
            meant = {plain(word): word for word in words} | {plain(other): word for other, word in also}
            if asked not in meant:
                mistakes.append(mistake(node.place, node.text, expected(reads), nearest(asked, meant)))
            return meant.get(asked)
        case NameOf(what):
            known = _called(scope, what)
            if known is None:
                return node.text
            found = {plain(name): name for name in known}
            if plain(node.text) not in found:
                near = nearest(node.text, found.values())
                some = one_of(sorted(found.values())[:8]) if found else f"a {what}: none is declared"
                mistakes.append(mistake(node.place, node.text, f"the name of a {what}", near or some))
            return found.get(plain(node.text))


def _called(scope: Scope, what: str) -> Iterable[str] | None:
    """The names of one sort that a scope knows, where it knows of sorts."""
    called: Callable[[str], Iterable[str] | None] | None = getattr(scope, "called", None)
    return called(what) if called else None


def _way(reads: Either, node: Marked) -> Reads:
    """The way that fits a node's shape; the first one when none does, to say what was expected."""
    shapes = {Scalar: (Plain, Choice, NameOf), Sequence: (ListOf,), Mapping: (Record, Table)}
    fitting = [way for way in reads.ways if isinstance(way, (*shapes[type(node)], AnyNode, ReadBy))]
    if isinstance(node, Scalar) and len(fitting) > 1:  # the first choice that knows the word, else the last way
        for way in fitting:
            if isinstance(way, Choice) and plain(node.text) in {
                *map(plain, way.words),
                *(plain(a) for a, _ in way.also),
            }:
                return way
        return next((way for way in fitting if not isinstance(way, Choice)), fitting[-1])
    return fitting[0] if fitting else reads.ways[0]


def _list(reads: ListOf, node: Marked, scope: Scope, mistakes: list[Finding]) -> object | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    if isinstance(node, Scalar) and not node.text and not node.quoted:
        items = ()
    if not reads.least <= len(items) <= reads.most:
        bound = f"at least {reads.least}" if len(items) < reads.least else f"at most {reads.most}"
        mistakes.append(misfit(node, f"a list of {bound}", example(reads)))
        return None
    values = [read(reads.of, item, scope, mistakes) for item in items if len(mistakes) < MOST_MISTAKES]
    return None if len(values) < len(items) or any(value is None for value in values) else tuple(values)


def _table(reads: Table, node: Marked, scope: Scope, mistakes: list[Finding]) -> object | None:
    if not isinstance(node, Mapping):
        mistakes.append(misfit(node, expected(reads)))
        return None
    values = [(key, read(reads.of, value, scope, mistakes)) for key, value in node if len(mistakes) < MOST_MISTAKES]
    return None if len(values) < len(node) or any(value is None for _, value in values) else Pairs(tuple(values))
