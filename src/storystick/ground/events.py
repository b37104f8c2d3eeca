"""From YAML events to marked nodes, within limits, gathering every mistake that doesn't stop the reading."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from itertools import pairwise
from typing import Any

import yaml

from storystick.ground.finding import Finding, Grade, Place, mistake
from storystick.ground.kept import Kept
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence, nearest, plain
from storystick.ground.misread import MOST_MISTAKES
from storystick.ground.slips import explain

MOST_BYTES = 1_000_000
MOST_LEVELS = 24
MOST_NODES = 100_000
MOST_SECTIONS = 60  # a text of more is read as a whole

BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_SWALLOWED = re.compile(r"[ \t]+(#[0-9][^\n\r]*)")
_SECTION = re.compile(r"^[A-Za-z]", re.MULTILINE)
_DOCUMENT = re.compile(r"^(?:---|\.\.\.|%)", re.MULTILINE)


class _Stop(Exception):
    """The rest of the file isn't looked at."""


@dataclass(slots=True)
class _Level:
    """A list or a group that is still open."""

    start: Place
    mapping: bool
    anchor: str | None
    before: int  # nodes counted when it opened
    path: tuple[str, ...] = ()  # that leads to it
    items: list[Marked] = field(default_factory=list)
    entries: list[tuple[Scalar, Marked]] = field(default_factory=list)
    seen: dict[str, Scalar] = field(default_factory=dict)
    key: Scalar | None = None
    height: int = 1


@dataclass(slots=True)
class _Anchor:
    node: Marked | None  # None while it is still open
    size: int
    height: int


@dataclass(frozen=True, slots=True)
class Read:
    """A text as read: its root node (None if it could not be read at all), what is wrong with it, how many values."""

    root: Marked | None
    findings: tuple[Finding, ...]
    nodes: int


_SECTIONS: Kept[Read] = Kept(128)


def gather(text: str, file: str) -> tuple[Marked | None, tuple[Finding, ...]]:
    """The root node of a text (None if it could not be read at all) and what is wrong with it."""
    text = text.removeprefix("\ufeff")
    if refused := _refuse(text, file):
        return None, (refused,)
    if (root := by_sections(text, file)) is not None:
        return root, ()
    read = read_whole(text, file)
    return read.root, read.findings


def by_sections(text: str, file: str) -> Mapping | None:
    """The same, section by section, since a change leaves most of them as they were; each line that begins with a
    letter begins one. None where there is anything to be said of the text, or more to it than sections one after the
    other: then it has to be read as a whole.
    """
    starts = [found.start() for found in _SECTION.finditer(text)]
    if not 1 < len(starts) <= MOST_SECTIONS or _DOCUMENT.search(text):
        return None
    lines = nodes = 0
    roots: list[Mapping] = []
    for start, end in pairwise((0, *starts[1:], len(text))):
        section = text[start:end]
        read = _SECTIONS.of((section, lines, file), partial(read_whole, "\n" * lines + section, file))
        if read.findings or not isinstance(read.root, Mapping):
            return None
        nodes += read.nodes
        roots.append(read.root)
        lines += len(BREAK.findall(section))
    entries = tuple(entry for root in roots for entry in root)
    if nodes > MOST_NODES or len({plain(key.text) for key, _ in entries}) < len(entries):
        return None
    first, last = roots[0].place, roots[-1].place
    return Mapping(entries, Place(file, first.line, first.column, last.end_line, last.end_column))


def read_whole(text: str, file: str) -> Read:
    """The same, event by event."""
    gatherer = _Gatherer(file, BREAK.split(text))
    try:
        for event in _events(text):
            gatherer.take(event)
    except _Stop:
        return Read(None, tuple(gatherer.findings), gatherer.nodes)
    except yaml.MarkedYAMLError as error:
        gatherer.findings.append(explain(error, gatherer.lines, file, gatherer.path()))
        return Read(None, tuple(gatherer.findings), gatherer.nodes)
    root = gatherer.root if gatherer.root is not None else Mapping((), Place(file, 1, 1, 1, 1))
    return Read(root, tuple(gatherer.findings), gatherer.nodes)


def _events(text: str) -> Iterator[Any]:
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return iter(yaml.parse(text, Loader=loader))


def _refuse(text: str, file: str) -> Finding | None:
    """A reason not to read a text at all."""
    size = len(text.encode("utf-8", "replace"))
    if size > MOST_BYTES:
        says = f"The file has {size:,} bytes; at most {MOST_BYTES:,} are read."
        return Finding("yaml", Grade.STOP, Place(file, 1, 1, 1, 1), says, "Is it the right file?")
    bad = _UNPRINTABLE.search(text)
    if bad is None:
        return None
    before = BREAK.split(text[: bad.start()])
    line, column = len(before), len(before[-1]) + 1
    says = f"There is a character here that can't be printed (number {ord(bad[0])}): this may not be a text file."
    place = Place(file, line, column, line, column + 1)
    return Finding("yaml", Grade.STOP, place, says, "Delete it and type the line anew.")


@dataclass(slots=True)
class _Gatherer:
    file: str
    lines: list[str]
    findings: list[Finding] = field(default_factory=list)
    root: Marked | None = None
    levels: list[_Level] = field(default_factory=list)
    anchors: dict[str, _Anchor] = field(default_factory=dict)
    nodes: int = 0
    documents: int = 0

    def path(self) -> tuple[str, ...]:
        """The names, and the numbers in lists, that lead to where the reading is."""
        if not self.levels:
            return ()
        level = self.levels[-1]
        if not level.mapping:
            return (*level.path, str(len(level.items) + 1))
        return level.path if level.key is None else (*level.path, level.key.text)

    def place(self, event: Any) -> Place:
        """Where an event stands; lines and columns count from 1, the end is the first character after it."""
        start, end = event.start_mark, event.end_mark
        path = self.path()
        return Place(self.file, start.line + 1, start.column + 1, end.line + 1, end.column + 1, path)

    def blame(self, finding: Finding) -> None:
        """Keep a finding; give up when there are so many that the file is something else."""
        self.findings.append(finding)
        if len(self.findings) >= MOST_MISTAKES:
            raise _Stop

    def stop(self, place: Place, says: str, advice: str = "") -> None:
        """Give up reading here."""
        self.findings.append(Finding("yaml", Grade.STOP, place, says, advice))
        raise _Stop

    def take(self, event: Any) -> None:
        """One event of the parser."""
        match event:
            case yaml.DocumentStartEvent():
                self.documents += 1
                if self.documents > 1:
                    self.stop(self.place(event), "A second document begins here (---).", "Keep one to a file.")
            case yaml.ScalarEvent():
                self.scalar(event)
            case yaml.MappingStartEvent() | yaml.SequenceStartEvent():
                self.open(event)
            case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                self.close(event)
            case yaml.AliasEvent():
                self.alias(event)

    def count(self, place: Place, more: int, height: int) -> None:
        """Hold the limits."""
        self.nodes += more
        if self.nodes > MOST_NODES:
            self.stop(place, f"The file has more than {MOST_NODES:,} values, counting what is repeated by *.")
        if len(self.levels) + height > MOST_LEVELS:
            self.stop(place, f"This is nested more than {MOST_LEVELS} levels deep.", "Is a bracket missing further up?")

    def no_tag(self, event: Any, place: Place) -> None:
        if event.tag is not None:
            self.blame(mistake(place, event.tag, "something a plan needs: words that begin with ! have no meaning here",
                               "it without the !, or put quotes around the text"))  # fmt: skip

    def scalar(self, event: Any) -> None:
        place = self.place(event)
        self.count(place, 1, 0)
        self.no_tag(event, place)
        node = Scalar(event.value, place, bool(event.style))
        if event.anchor:
            self.anchors[event.anchor] = _Anchor(node, 1, 0)
        if not event.style:  # None from one parser, "" from the other
            self.swallowed(node)
        self.put(node, 0)

    def swallowed(self, node: Scalar) -> None:
        """`screw: #8 x 1-1/4` is an empty value to YAML: everything after a blank and # is a comment."""
        place = node.place
        line = self.lines[place.end_line - 1] if place.end_line <= len(self.lines) else ""
        after = _SWALLOWED.match(line, place.end_column - 1)
        if after is None:
            return
        full = f"{node.text} {after[1]}".strip()
        says = f"{after[1]!r} is taken for a comment, since it begins with #" + (
            f": only {node.text!r} is left." if node.text else ": nothing is left.")  # fmt: skip
        grade = Grade.CARE if node.text else Grade.STOP
        advice = f'Write "{full}" in quotes' + (", or a blank after the # if it is a comment." if node.text else ".")
        self.blame(Finding("swallowed", grade, place, says, advice))

    def open(self, event: Any) -> None:
        place = self.place(event)
        self.count(place, 1, 1)
        self.no_tag(event, place)
        if event.anchor:
            self.anchors[event.anchor] = _Anchor(None, 0, 0)
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        self.levels.append(_Level(place, is_mapping, event.anchor, self.nodes - 1, place.path))

    def close(self, event: Any) -> None:
        level = self.levels.pop()
        start, mark = level.start, event.end_mark
        place = Place(start.file, start.line, start.column, mark.line + 1, mark.column + 1, start.path)
        node: Marked = Mapping(tuple(level.entries), place) if level.mapping else Sequence(tuple(level.items), place)
        if level.anchor:
            self.anchors[level.anchor] = _Anchor(node, self.nodes - level.before, level.height)
        self.put(node, level.height)

    def alias(self, event: Any) -> None:
        place = self.place(event)
        anchor = self.anchors.get(event.anchor)
        if anchor is None or anchor.node is None:
            expected = "allowed inside itself" if anchor else f"anything: no value further up is marked &{event.anchor}"
            guess = "" if anchor else nearest(event.anchor, self.anchors)
            remedy = f"*{guess}" if guess else "the value out, or put quotes around a text that begins with *"
            self.blame(mistake(place, f"*{event.anchor}", expected, remedy))
            self.count(place, 1, 0)
            self.put(Scalar("", place, True), 0)
            return
        self.count(place, anchor.size, anchor.height)
        self.put(anchor.node, anchor.height)

    def put(self, node: Marked, height: int) -> None:
        """Hang a finished node where it belongs."""
        if not self.levels:
            self.root = node
            return
        level = self.levels[-1]
        level.height = max(level.height, height + 1)
        if not level.mapping:
            level.items.append(node)
        elif level.key is None:
            level.key = self.as_key(node)
        else:
            self.entry(level, level.key, node)
            level.key = None

    def decimal_comma(self, key: Scalar) -> str:
        """The 23,5 of `{wide: 23,5}`, which YAML takes for wide: 23 and a word 5 without a value; else ""."""
        line = self.lines[key.place.line - 1] if key.place.line <= len(self.lines) else ""
        meant = re.search(r"[0-9]+,$", line[: key.place.column - 1])
        return meant[0] + key.text if meant else ""

    def as_key(self, node: Marked) -> Scalar:
        if not isinstance(node, Scalar):
            self.blame(mistake(node.place, "", "a name before the colon, not a list or a group", "a word and a colon"))
            return Scalar("", node.place, True)
        if node.text == "<<" and not node.quoted:
            self.blame(mistake(node.place, "<<", "allowed: groups can't be poured into one another",
                               "the lines out in full"))  # fmt: skip
        return node

    def entry(self, level: _Level, key: Scalar, value: Marked) -> None:
        empty = isinstance(value, Scalar) and not value.text and not value.quoted
        glued = re.fullmatch(r"([^:]+):(\S.*)", key.text)
        if empty and glued and not key.quoted:
            self.blame(mistake(key.place, key.text, "a name, a colon and a value",
                               f"{glued[1]}: {glued[2]}, with a blank"))  # fmt: skip
            return
        if empty and key.text.isdecimal() and (comma := self.decimal_comma(key)):
            self.blame(mistake(key.place, comma, "a number: a comma ends a value here", comma.replace(",", ".")))
            return
        before = level.seen.setdefault(plain(key.text), key)
        if before is not key and key.text:
            says = f"{key.text!r} is written twice in one group: here and in line {before.place.line}."
            self.blame(Finding("twice", Grade.STOP, key.place, says, "Keep one of the two, or give one another name."))
            return
        level.entries.append((key, value))
