"""The plan as a form: what stands in each section, built from the same declared fields that the file is read by."""

from collections.abc import Collection, Iterator
from collections.abc import Mapping as Table_
from dataclasses import dataclass
from functools import cache
from secrets import token_hex
from typing import Any

from storystick.app.pipeline import Job
from storystick.craft import bays, castors, drawers, edging, holding, lips, runs, standing, tracks, troughs
from storystick.craft.joints import kinds as joints
from storystick.craft.kinds import by_word
from storystick.ground.dim import Dim
from storystick.ground.fields import Field, Fields
from storystick.ground.kept import Kept, This
from storystick.ground.length import show
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence, plain
from storystick.ground.reads import (
    AnyNode,
    Choice,
    Either,
    ListOf,
    NameOf,
    Plain,
    ReadBy,
    Reads,
    Record,
    Table,
    example,
    expected,
)  # fmt: skip
from storystick.model.build import Build
from storystick.plan.plan import SECTIONS, Plan
from storystick.plan.readings import MEASURE
from storystick.resolve.loads import LOAD
from storystick.resolve.place import SITS
from storystick.resolve.site import BODY
from storystick.resolve.stock import STOCK

type Answer = dict[str, Any]

DEEPEST = 12
ROW = Either((Choice(("drawer", "open", "tray", "fixed shelf", "loose shelf")), Record(bays.BAY)))
# What stands behind words that a kind reads by itself: (title of the group, word) -> how it is read.
INSIDE: Table_[tuple[str, str], Reads] = {
    ("case", "bays"): Either((ListOf(ROW), Record(bays.BAY))),
    ("case", "drawers"): Record(drawers.DRAWER),
    ("case", "stands on"): Either((Choice(("feet", "plinth", "castors")), Record(standing.STANDING))),
    ("case", "lip"): Record(lips.LIP),
    ("bay", "columns"): ListOf(ROW),
    ("bay", "rows"): ListOf(ROW),
    ("bay", "drawer"): Record(drawers.DRAWER),
    ("bay", "tray"): Record(drawers.DRAWER),
    ("bay", "lip"): Record(lips.LIP),
    ("drawer", "runs on"): Either((Choice(("slides", "wooden runners")), Record(runs.RUNS))),
    ("standing", "castors"): Record(castors.CASTORS),
    ("standing", "plinth"): Record(standing.PLINTH),
    ("slab", "channels"): Record(troughs.CHANNELS),
    ("slab", "held by"): Record(holding.HELD),
    ("slab", "edge"): Record(edging.EDGE),
    ("slab", "track"): Record(tracks.TRACK),
}
JOINTED = ("joint", "shelf joint", "corners")


@dataclass(frozen=True, slots=True)
class Around:
    """What a form needs to know beside the text: names to choose from, and what sums come to."""

    plan: Plan
    build: Build | None

    def names(self, what: str) -> list[str]:
        """Names of one sort that may be chosen."""
        if what == "stock":
            return [entry.name for entry in self.plan.entries("stock")]
        return []

    def comes_to(self, path: tuple[str, ...], node: Scalar) -> Answer | None:
        """What a sum comes to, where its number has a page of its own."""
        if self.build is None or len(path) < 2:
            return None
        dim: Dim | None = None
        for name in _pages_of(path):
            dim = dim or self.build.pages.get(name)
        if dim is None or path[0] == "loads":
            return None
        return {"text": show(dim.value, self.build.manner), "ask": f"page:{dim.name}"}


_FORMS: Kept[Answer] = Kept(256)
_ASKED_FOR: Kept[tuple[str, ...]] = Kept(256)


def form(job: Job, have: Collection[str] = ()) -> list[Answer]:
    """Every section with its entries; a value carries its path, its text, and how it may be changed.

    have  marks of entries that whoever asks has seen before: of these nothing but the mark is told
    """
    around, known = Around(job.plan, job.resolved.made), frozenset(have)
    return [_section(name, around, known) for name in SECTIONS]


def _section(name: str, around: Around, have: frozenset[str]) -> Answer:
    node = getattr(around.plan, name)
    entries = [_marked(name, key, value, around) for key, value in node.entries]
    told = [{"mark": one["mark"]} if one["mark"] in have else one for one in entries]
    return {"section": name, "entries": told, "stands": bool(node.place.line)}


def _marked(section: str, key: Scalar, value: Marked, around: Around) -> Answer:
    """An entry with a mark of its own: the very same as long as nothing of it is another."""
    pages = around.build.pages if around.build else {}
    path = (section, key.text)
    asked_for = _ASKED_FOR.of((path, This(value)), lambda: tuple(_all_pages_of(path, value)))
    comes = tuple(This(pages.get(name)) for name in asked_for)
    manner = around.build.manner if around.build else around.plan.manner
    asked = (section, key, This(value), comes, manner, tuple(around.names("stock")))
    return _FORMS.of(asked, lambda: {
        **_node(path, key.text, value, _entry(section), around, "", 0),
        "named": True, "mark": token_hex(6),
    })  # fmt: skip


def _pages_of(path: tuple[str, ...]) -> tuple[str, ...]:
    """The names under which the number of a value may have a page of its own."""
    inner = f"{path[1]}.{path[-1]}"
    return (inner, path[1]) if len(path) == 2 else (inner,)


def _all_pages_of(path: tuple[str, ...], node: Marked) -> Iterator[str]:
    """The same of every value of an entry."""
    match node:
        case Scalar():
            yield from _pages_of(path)
        case Sequence(items):
            for number, item in enumerate(items):
                yield from _all_pages_of((*path, str(number)), item)
        case Mapping(entries):
            for key, value in entries:
                yield from _all_pages_of((*path, key.text), value)


def _entry(section: str) -> Reads:
    match section:
        case "measure":
            return Either((Plain("length", "a length", "30 1/4", lambda *_: None), Record(MEASURE)))
        case "site":
            return Record(BODY)
        case "stock":
            return Record(STOCK)
        case "loads":
            return Record(LOAD)
        case "build":
            return Record(_assembly())
    return Plain("text", "a reason", "it is meant to be so", lambda *_: None)


@cache
def _assembly() -> Fields:
    """An entry of `build`: its kind with what it is like, and where it stands."""
    found = tuple(Field(word, Record(kind.fields), help=kind.says) for word, kind in by_word().items())
    sits = Field("sits", Record(SITS), help="where it stands")
    note = Field("note", Plain("text", "a note", "a few words", lambda *_: None), help="a note")
    return Fields("piece", (*found, sits, note))


@cache
def _joint() -> Reads:
    shelf = joints()
    return Either((
        Choice(tuple(shelf)),
        Record(Fields("joint", tuple(Field(name, Record(kind.fields)) for name, kind in shelf.items()))),
    ))  # fmt: skip


def _node(
    path: tuple[str, ...], label: str, node: Marked, reads: Reads, around: Around, help: str, depth: int
) -> Answer:
    base: Answer = {"label": label, "path": list(path), "line": node.place.line, "help": help}
    if depth > DEEPEST:
        return {**base, "kind": "text only"}
    match node:
        case Scalar(text):
            short = _short(reads)
            return {
                **base, "kind": "value", "text": text, "input": _input(short, around),
                "comes": around.comes_to(path, node),
            }  # fmt: skip
        case Sequence(items):
            of = _listed(reads)
            rows = [_node((*path, str(n)), str(n + 1), item, of, around, "", depth + 1) for n, item in enumerate(items)]
            return {**base, "kind": "list", "items": rows, "of": _input(_short(of), around)}
        case Mapping():
            return {**base, "kind": "group", **_group(path, node, reads, around, depth)}


def _group(path: tuple[str, ...], node: Mapping, reads: Reads, around: Around, depth: int) -> Answer:
    fields = _fields(reads)
    rows = []
    have: set[str] = set()
    for key, value in node.entries:
        field = fields.find(key.text) if fields else None
        inner = _reads(fields, field) if fields and field else _table(reads)
        have.add(field.name if field else plain(key.text))
        rows.append(_node((*path, key.text), key.text, value, inner, around, field.help if field else "", depth + 1))
    may = [_offer(fields, f, around) for f in fields.fields if f.name not in have and _plainly(f)] if fields else []
    return {"rows": rows, "may": may}


def _offer(fields: Fields, field: Field, around: Around) -> Answer:
    """A line that could be added."""
    default = field.default if isinstance(field.default, str) else ""
    if isinstance(field.default, tuple):
        default = field.default[0 if around.plan.units == "inch" else 1]
    return {
        "name": field.name, "help": field.help, "default": default,
        "input": _input(_short(_reads(fields, field)), around),
    }  # fmt: skip


def _plainly(field: Field) -> bool:
    """Whether a single value can stand for it, so that a line of a form can ask for it."""
    return isinstance(field.reads, (Plain, Choice, NameOf)) or field.name in JOINTED


def _fields(reads: Reads) -> Fields | None:
    match reads:
        case Record(fields):
            return fields
        case Either(ways):
            return next((f for way in ways if (f := _fields(way)) is not None), None)
    return None


def _reads(fields: Fields, field: Field) -> Reads:
    if field.name in JOINTED and isinstance(field.reads, (AnyNode, ReadBy)):
        return _joint()
    return INSIDE.get((fields.title, field.name), field.reads)


def _table(reads: Reads) -> Reads:
    return reads.of if isinstance(reads, Table) else AnyNode()


def _listed(reads: Reads) -> Reads:
    match reads:
        case ListOf(of):
            return of
        case Either(ways):
            return next((_listed(way) for way in ways if isinstance(way, ListOf)), AnyNode())
    return AnyNode()


def _short(reads: Reads) -> Reads:
    """How a single value is read where a group could stand as well."""
    match reads:
        case Either(ways):
            return next((way for way in ways if isinstance(way, (Plain, Choice, NameOf))), _short(ways[0]))
        case Record(fields) if fields.short and (field := fields.find(fields.short)):
            return _short(field.reads)
        case ListOf(of):
            return _short(of)
    return reads


def _input(reads: Reads, around: Around) -> Answer:
    """How a value is asked for: as what, from which words, with what for a hint."""
    match reads:
        case Choice(words):
            return {"as": "choice", "options": list(words), "hint": expected(reads)}
        case NameOf(what):
            return {"as": "name", "options": around.names(what), "hint": expected(reads)}
        case Plain(word):
            options = ["yes", "no"] if word == "flag" else []
            return {"as": word, "options": options, "hint": f"{expected(reads)}, such as {example(reads)}"}
    return {"as": "text", "options": [], "hint": ""}
