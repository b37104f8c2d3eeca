"""What a page is put together from: blocks that say what is on it; the press alone knows how they look.

Every block turns into plain data (`data`), which goes to the press as JSON: text of a plan stays text, never markup.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import Literal, Protocol

from storystick.paper.drawing.drawn import Drawn
from storystick.paper.lettering import closely, runs, set_width

type Data = str | float | bool | Sequence["Data"] | Mapping[str, "Data"] | None
type Tone = Literal["", "caution", "quiet", "strong", "good", "care"]


class Block(Protocol):
    """Anything that can go on a page."""

    def data(self) -> Data:
        """As plain data for the press."""


def rich(text: str) -> Data:
    """A text as runs: plain ones, and numbers with a fraction as four pieces that stay together on a line.

    The four: what stands before the fraction, its upper and lower number, what follows it closely.
    """
    found: list[Data] = []
    rest = list(runs(closely(text)))
    for i, run in enumerate(rest):
        if isinstance(run, str):
            if run:
                found.append(run)
            continue
        before = after = ""
        if found and isinstance(found[-1], str) and (whole := re.search(r"\d+ $", found[-1])):
            before, found[-1] = whole[0], found[-1][: whole.start()]
            if not found[-1]:
                found.pop()
        following = rest[i + 1] if i + 1 < len(rest) else ""
        if isinstance(following, str) and (close := re.match(r"[\"+−,;.:)]+", following)):
            after = close[0]
            rest[i + 1] = following[close.end() :]
        found.append([before, run.upper, run.lower, after])
    return found


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading below the page's own: level 2 or 3."""

    text: str
    level: int = 2

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "heading", "level": self.level, "says": rich(self.text)}


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph."""

    text: str
    tone: Tone = ""

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "text", "says": rich(self.text), "tone": self.tone}


@dataclass(frozen=True, slots=True)
class Points:
    """Sentences one below the other, each with a box to tick or a stroke before it."""

    texts: tuple[str, ...]
    tick: bool = False
    tone: Tone = ""

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "points", "says": [rich(text) for text in self.texts], "tick": self.tick, "tone": self.tone}


@dataclass(frozen=True, slots=True)
class Big:
    """Key numbers in large figures, each with a word under it."""

    pairs: tuple[tuple[str, str], ...]  # number, word

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "big", "pairs": [[rich(number), rich(word)] for number, word in self.pairs]}


@dataclass(frozen=True, slots=True)
class Tick:
    """In a table: so many boxes to tick."""

    count: int = 1


@dataclass(frozen=True, slots=True)
class Blank:
    """In a table or a line: room to write, so long [mm]."""

    long: float = 20.0
    word: str = ""


@dataclass(frozen=True, slots=True)
class Large:
    """In a table: a figure to be read from a distance."""

    text: str


@dataclass(frozen=True, slots=True)
class Strong:
    """In a table: what is to stand out."""

    text: str


@dataclass(frozen=True, slots=True)
class Boxes:
    """In a table: words in a row, a box to tick before each."""

    words: tuple[str, ...]


type Cell = str | Strong | Boxes | Tick | Blank | Large | tuple["Cell", ...]


def _cell(cell: Cell) -> Data:
    match cell:
        case str():
            return {"says": rich(cell)}
        case Tick(count):
            return {"tick": count}
        case Blank(long, word):
            return {"blank": long, "says": rich(word)}
        case Strong(text):
            return {"strong": True, "says": rich(text)}
        case Boxes(words):
            return {"boxes": [rich(word) for word in words]}
        case Large(text):
            return {"large": True, "says": rich(text)}
        case _:
            return {"stack": [_cell(part) for part in cell]}


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, its share of the width (0: as wide as it needs), and how it is aligned."""

    head: str
    share: float = 0.0
    align: Literal["left", "right", "center"] = "left"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; `roomy` ones leave space to write."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    roomy: bool = False

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "table",
            "heads": [rich(column.head) for column in self.columns],
            "shares": [column.share for column in self.columns],
            "aligns": [column.align for column in self.columns],
            "rows": [[_cell(cell) for cell in row] for row in self.rows],
            "roomy": self.roomy,
        }


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing in its true size, and a line below it."""

    drawn: Drawn
    caption: str = ""

    def data(self) -> Data:
        """As plain data for the press."""
        drawn = self.drawn
        return {
            "is": "figure", "svg": drawn.svg, "alt": drawn.alt, "wide": drawn.wide, "high": drawn.high,
            "caption": rich(self.caption),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class CardHead:
    """The head of a part's card: its letter, name, count and size, boxes for each piece, and remarks."""

    letter: str
    name: str
    count: int
    sizes: tuple[tuple[str, str], ...]  # number, word
    remarks: tuple[str, ...] = ()
    provisional: str = ""

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "card", "letter": rich(self.letter), "name": rich(self.name), "count": self.count,
            "sizes": [[rich(number), rich(word)] for number, word in self.sizes],
            "remarks": [rich(remark) for remark in self.remarks], "provisional": rich(self.provisional),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class StepBlock:
    """One step: what to do, at which settings, a picture of the state after it, what to check, what to beware of."""

    number: int
    title: str
    does: tuple[str, ...]
    settings: tuple[tuple[str, str, str], ...] = ()  # what is set, to what, remarks
    picture: Drawn | None = None
    parts: str = ""
    check: str = ""
    caution: str = ""
    reads: tuple[str, ...] = ()
    time: str = ""

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "step", "number": self.number, "title": rich(self.title), "does": [rich(text) for text in self.does],
            "settings": [[rich(word) for word in setting] for setting in self.settings],
            "picture": None if self.picture is None else Figure(self.picture).data(), "parts": rich(self.parts),
            "check": rich(self.check), "caution": rich(self.caution), "reads": [rich(text) for text in self.reads],
            "time": rich(self.time),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cover:
    """The cover: title, what it is, picture, sizes, what it is made of; the list of pages fills itself in."""

    title: str
    about: str
    picture: Drawn
    sizes: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]  # what, (number, word) ...
    made_of: tuple[str, ...]
    dated: str

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "cover", "title": rich(self.title), "about": rich(self.about), "picture": Figure(self.picture).data(),
            "sizes": [[rich(what), [[rich(n), rich(w)] for n, w in pairs]] for what, pairs in self.sizes],
            "made": [rich(text) for text in self.made_of], "dated": rich(self.dated),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Label:
    """What is written on one piece."""

    letter: str
    name: str
    size: str
    stock: str


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels to cut out, side by side."""

    labels: tuple[Label, ...]

    def data(self) -> Data:
        """As plain data for the press."""
        words = ((label.letter, label.name, label.size, label.stock) for label in self.labels)
        return {"is": "labels", "labels": [[rich(word) for word in label] for label in words]}


@dataclass(frozen=True, slots=True)
class NewPage:
    """Go on at the top of a new page."""

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "page"}


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that are kept on one page."""

    blocks: tuple[Block, ...] = field(default=())

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "together", "blocks": [block.data() for block in self.blocks]}


LINE, CAPITAL, INSET = 5.25, 2.75, 3.5  # of a table's rows: pitch of lines, height of the first, above and below [mm]


def depth_of(table: Table, room: float) -> float:
    """About how high a table of plain cells comes out on a page with so much width [mm]."""
    fixed = sum(9.0 for column in table.columns if not column.share)
    whole = sum(column.share for column in table.columns) or 1.0
    high = 6.0 + INSET + 3.0
    for row in table.rows:
        lines = 1
        for column, cell in zip(table.columns, row, strict=True):
            wide = (room - fixed) * column.share / whole - 3.6
            if column.share and isinstance(cell, str):
                lines = max(lines, ceil(set_width(closely(cell), 11.5) * 1.06 / max(5.0, wide)))
        high += CAPITAL + INSET + LINE * (lines - 1)
    return high


def as_data(blocks: Iterable[Block]) -> list[Data]:
    """Blocks as plain data."""
    return [block.data() for block in blocks]
