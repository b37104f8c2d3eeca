"""Declared fields: what a group of lines in a plan may hold, read all at once with every mistake told together.

    CASE = Fields("case", (
        Field("wide", Size, required=True, help="over all, left to right"),
        Field("overhang", Length, default=("1 in", "25 mm"), source=practice("an inch over the front")),
        Field("joint", Choice(("dado", "butt"), also=(("housing", "dado"),)), default="dado"),
    ))
    filled = fill(CASE, node, scope, mistakes)       # None when something was wrong; never half filled
    filled.length("wide")

A default is a rule: its number says so when it is asked why.
"""

import dataclasses
from collections.abc import Mapping as Table_
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim, rule
from storystick.ground.finding import Broken, Finding, Grade, Mend, Place, mistake
from storystick.ground.length import read_length
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence, plain
from storystick.ground.misread import MOST_MISTAKES, nearest, one_of
from storystick.ground.quantities import Angle as AngleValue
from storystick.ground.quantities import Money as MoneyValue
from storystick.ground.quantities import Weight as WeightValue
from storystick.ground.reads import Angle as Angle
from storystick.ground.reads import AnyNode, Pairs, Plain, Reads, example, expected, misfit, read
from storystick.ground.reads import Choice as Choice
from storystick.ground.reads import Count as Count
from storystick.ground.reads import Either as Either
from storystick.ground.reads import Flag as Flag
from storystick.ground.reads import Length as Length
from storystick.ground.reads import ListOf as ListOf
from storystick.ground.reads import Money as Money
from storystick.ground.reads import NameOf as NameOf
from storystick.ground.reads import Node as Node
from storystick.ground.reads import Number as Number
from storystick.ground.reads import Percent as Percent
from storystick.ground.reads import ReadBy as ReadBy
from storystick.ground.reads import Record as Record
from storystick.ground.reads import Size as Size
from storystick.ground.reads import Table as Table
from storystick.ground.reads import Temperature as Temperature
from storystick.ground.reads import Text as Text
from storystick.ground.reads import Weight as Weight
from storystick.ground.source import Source, practice
from storystick.ground.sums import Scope


@dataclass(frozen=True, slots=True)
class Field:
    """One line that may stand in a group.

    name      the word before the colon; `also` are other words for it
    reads     what stands behind it: Length, Size (more than nothing), Count, Choice(...), ListOf(...), Node, ...
    default   what it is when left out, as text; a pair gives the inch and the metric one. A length needs its unit here
    required  a mistake when it is left out
    source    who says so, for a default length; the field's own help when left out
    """

    name: str
    reads: Reads
    default: str | tuple[str, str] | None = None
    required: bool = False
    help: str = ""
    also: tuple[str, ...] = ()
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Fields:
    """The lines that a group may hold. `short` names the field that a single value instead of a group stands for."""

    title: str
    fields: tuple[Field, ...]
    short: str = ""
    _found: dict[str, Field] = dataclasses.field(init=False, repr=False, compare=False, hash=False)

    def __post_init__(self) -> None:
        found: dict[str, Field] = {}
        for one in self.fields:
            for word in (one.name, *one.also):
                found.setdefault(plain(word), one)
        object.__setattr__(self, "_found", found)

    def find(self, word: str) -> Field | None:
        """The field that a word names, whatever its capitals and whichever of its words."""
        return self._found.get(plain(word))

    def words(self) -> tuple[str, ...]:
        """Every word that is understood."""
        return tuple(word for field in self.fields for word in (field.name, *field.also))


@dataclass(frozen=True, slots=True, eq=False)
class Filled:
    """A group that was read without mistakes. Getters raise Broken when they ask for what was never declared."""

    fields: Fields
    values: Table_[str, object]
    nodes: Table_[str, Marked]
    place_of_all: Place

    def has(self, name: str) -> bool:
        """Was it written, and not left to the default?"""
        return self._field(name).name in self.nodes

    def place(self, name: str = "") -> Place:
        """Where the value stands; the place of the whole group when it was left out or no name is given."""
        node = self.nodes.get(self._field(name).name) if name else None
        return node.place if node else self.place_of_all

    def node(self, name: str) -> Marked | None:
        """The value as it was written; None when it was left out."""
        return self.nodes.get(self._field(name).name)

    def length(self, name: str) -> Dim:
        """A length, written or by default."""
        return self._sure(name, self.maybe_length(name))

    def maybe_length(self, name: str) -> Dim | None:
        """A length; None when it was left out without a default."""
        return self._maybe(name, Dim)

    def number(self, name: str) -> Fraction:
        """A plain number."""
        return self._sure(name, self.maybe_number(name))

    def maybe_number(self, name: str) -> Fraction | None:
        """A plain number, a percentage or a temperature in degrees Celsius."""
        dim = self._maybe(name, Dim)
        return dim.value if dim is not None else self._maybe(name, Fraction)

    def count(self, name: str) -> int:
        """How many."""
        return self._sure(name, self.maybe_count(name))

    def maybe_count(self, name: str) -> int | None:
        """How many; None when it was left out."""
        found = self._maybe(name, int)
        return None if isinstance(found, bool) else found

    def flag(self, name: str) -> bool:
        """Yes or no; no when it was left out without a default."""
        return self._maybe(name, bool) is True

    def text(self, name: str) -> str:
        """A text, or the word of a choice or a name."""
        return self._sure(name, self.maybe_text(name))

    def maybe_text(self, name: str) -> str | None:
        """A text, or the word of a choice or a name; None when it was left out."""
        return self._maybe(name, str)

    def choice(self, name: str) -> str:
        """The word of a choice as it was declared, whichever of its words was written."""
        return self.text(name)

    def maybe_angle(self, name: str) -> AngleValue | None:
        """An angle; None when it was left out."""
        return self._maybe(name, AngleValue)

    def angle(self, name: str) -> AngleValue:
        """An angle."""
        return self._sure(name, self.maybe_angle(name))

    def maybe_weight(self, name: str) -> WeightValue | None:
        """A weight; None when it was left out."""
        return self._maybe(name, WeightValue)

    def maybe_money(self, name: str) -> MoneyValue | None:
        """A price; None when it was left out."""
        return self._maybe(name, MoneyValue)

    def record(self, name: str) -> "Filled":
        """A group within the group."""
        return self._sure(name, self.maybe_record(name))

    def maybe_record(self, name: str) -> "Filled | None":
        """A group within the group; None when it was left out or is a single value."""
        return self._maybe(name, Filled)

    def listed[T](self, name: str, of: type[T]) -> tuple[T, ...]:
        """The values of a list, each of a stated type: listed("sizes", Dim). Empty when it was left out."""
        values = self.values.get(self._field(name).name, ())
        return tuple(v for v in values if isinstance(v, of)) if isinstance(values, tuple) else ()

    def lengths(self, name: str) -> tuple[Dim, ...]:
        """A list of lengths."""
        return self.listed(name, Dim)

    def texts(self, name: str) -> tuple[str, ...]:
        """A list of texts or words."""
        return self.listed(name, str)

    def records(self, name: str) -> "tuple[Filled, ...]":
        """A list of groups."""
        return self.listed(name, Filled)

    def table[T](self, name: str, of: type[T]) -> tuple[tuple[Scalar, T], ...]:
        """Free names with their values, in the order of the file. Empty when it was left out."""
        pairs = self._maybe(name, Pairs) or Pairs(())
        return tuple((key, value) for key, value in pairs.all if isinstance(value, of))

    def made[T](self, name: str, of: type[T]) -> T | None:
        """What a ReadBy made; None when it was left out."""
        return self._maybe(name, of)

    def _field(self, name: str) -> Field:
        field = self.fields.find(name)
        if field is None:
            raise Broken(f"{self.fields.title} has no field {name!r}")
        return field

    def _maybe[T](self, name: str, of: type[T]) -> T | None:
        value = self.values.get(self._field(name).name)
        return value if isinstance(value, of) else None

    def _sure[T](self, name: str, value: T | None) -> T:
        if value is None:
            raise Broken(f"{self.fields.title}.{name} is asked for, but neither required nor given a default")
        return value


def fill(fields: Fields, node: Marked, scope: Scope, mistakes: list[Finding], *, partly: bool = False) -> Filled | None:
    """Read a group by its declared fields.

    All its mistakes are added together: words without a meaning (with the nearest that has one), missing ones, values
    that can't be read. None when there was any: never half filled. An empty value is an empty group.

    partly  for going on to look for more mistakes: what can't be read counts as left out, and None is given only when
            a required field is without a value. The mistakes are the same.
    """
    before = len(mistakes)
    group = _group(fields, node, mistakes)
    values: dict[str, object] = {}
    nodes: dict[str, Marked] = {}
    meant: set[str] = set()  # fields whose word was misspelt: not missing as well
    for key, value in group:
        if len(mistakes) >= MOST_MISTAKES:
            break
        field = fields.find(key.text)
        if field is None:
            near = nearest(key.text, fields.words())
            meant.update(f.name for f in fields.fields if near in (f.name, *f.also))
            mistakes.append(_unknown(fields, key, near))
        elif field.name in nodes:
            mistakes.append(
                mistake(key.place, key.text, f"needed: {field.name} is already given", "only one of the two")
            )
        else:
            nodes[field.name] = value
            values[field.name] = _value(field, key, value, scope, mistakes)
            if values[field.name] is None and partly:
                values[field.name] = _left_out(fields, field, group.place, scope, [])
    for field in fields.fields if len(mistakes) == before or group.entries else ():
        if field.name not in nodes:
            told = [] if field.name in meant else mistakes
            values[field.name] = _left_out(fields, field, group.place, scope, told)
    good = len(mistakes) == before
    if partly and not good:
        good = all(values.get(f.name) is not None for f in fields.fields if f.required)
    return Filled(fields, values, nodes, node.place) if good else None


def _group(fields: Fields, node: Marked, mistakes: list[Finding]) -> Mapping:
    """A node as a group: itself, or the single value under the name that it stands for."""
    if isinstance(node, Mapping):
        return node
    if isinstance(node, Scalar) and not node.text and not node.quoted:
        return Mapping((), node.place)
    if fields.short:
        return Mapping(((Scalar(fields.short, node.place), node),), node.place)
    first = next((f for f in fields.fields if f.required), fields.fields[0] if fields.fields else None)
    like = f"{first.name}: {example(first.reads)}" if first else ""
    mistakes.append(misfit(node, f"a group of lines for the {fields.title}", like))
    return Mapping((), node.place)


def _value(field: Field, key: Scalar, value: Marked, scope: Scope, mistakes: list[Finding]) -> object | None:
    if isinstance(field.reads, Plain) and isinstance(value, Scalar) and not value.text.strip() and not value.quoted:
        says = f"Nothing stands behind {key.text!r}: expected {expected(field.reads)}."
        mistakes.append(Finding("reading", Grade.STOP, key.place, says, f"Write {key.text}: {example(field.reads)}."))
        return None
    return read(field.reads, value, scope, mistakes)


def _unknown(fields: Fields, key: Scalar, near: str) -> Finding:
    says = f"{key.text!r} means nothing in the {fields.title}."
    if not near and fields.fields:
        says += f" It may have {one_of(field.name for field in fields.fields)}."
    mend = Mend(key.place, near, f"Write {near}") if near and key.place.line else None
    return Finding("unknown-word", Grade.STOP, key.place, says, f"Write {near}." if near else "", mend=mend)


def _left_out(fields: Fields, field: Field, place: Place, scope: Scope, mistakes: list[Finding]) -> object | None:
    if field.default is None:
        if field.required:
            says = f"The {fields.title} needs {field.name!r}" + (f": {field.help}." if field.help else ".")
            some = example(field.reads)
            advice = f"Write {field.name}: {some}." if some else f"Write {field.name}: and its value."
            mistakes.append(Finding("missing", Grade.STOP, place, says, advice))
        return None
    text = field.default if isinstance(field.default, str) else field.default[0 if scope.bare == "inch" else 1]
    if isinstance(field.reads, Plain) and field.reads.word == "length":
        return rule(field.name, read_length(text, "mm"), field.source or practice(field.help or field.name))
    if isinstance(field.reads, AnyNode):
        return None
    trouble: list[Finding] = []
    value = read(field.reads, Scalar(text), scope, trouble)
    if trouble:
        raise Broken(f"the default of {fields.title}.{field.name} can't be read", trouble)
    return value


def only_text(node: Marked) -> str | None:
    """The text of a single value; None for a list or a group."""
    return node.text if isinstance(node, Scalar) else None


def as_list(node: Marked) -> tuple[Marked, ...]:
    """The items of a list; a single value or a group as the only item."""
    return node.items if isinstance(node, Sequence) else (node,)
