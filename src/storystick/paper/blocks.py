"""What a page is put together from: blocks that say what is on it; the press alone knows how they look.

Every block turns into plain data (`data`), which goes to the press as JSON: text of a plan stays text, never markup.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, Protocol

from storystick.paper.drawing.drawn import Drawn
from storystick.paper.height import is_brief, is_short
from storystick.paper.lettering import closely, runs

type Data = str | float | bool | Sequence["Data"] | Mapping[str, "Data"] | None
type Tone = Literal["", "caution", "quiet", "small", "strong", "good", "care"]


class Block(Protocol):
    """Anything that can go on a page."""

    def data(self) -> Data:
        """As plain data for the press."""


def rich(text: str) -> Data:
    """A text as runs: plain ones, numbers with a fraction as four pieces and with a unit as one, kept on a line.

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
    return [part for run in found for part in (with_units(run) if isinstance(run, str) else (run,))]


def with_units(text: str) -> Iterator[Data]:
    """A plain text, each number and its unit in one piece that is not broken between lines: a list of one."""
    at = 0
    for match in _MEASURED.finditer(text):
        if match.start() > at:
            yield text[at : match.start()]
        yield [match[0]]
        at = match.end()
    if at < len(text):
        yield text[at:]


_MEASURED = re.compile(r"(?<![\w.,])[−-]?\d[\d.]* (?:mm|kg)\b[,.;:)]*")


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
        return {"is": "text", "says": rich(self.text), "tone": self.tone, "holds": False}


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
    """In a table: a figure to be read from a distance, and beside it, small, the same as a calliper shows it."""

    text: str
    fine: str = ""
    beside: bool = False  # the small one on the same line


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
        case Large(text, fine, beside):
            return {"large": True, "says": rich(text), "fine": rich(fine), "beside": beside}
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
    """Rows under headings; `roomy` ones leave space to write, `dense` ones keep to a small size."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    roomy: bool = False
    dense: bool = False

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "table",
            "heads": [rich(column.head) for column in self.columns],
            "shares": [column.share for column in self.columns],
            "aligns": [column.align for column in self.columns],
            "rows": [[_cell(cell) for cell in row] for row in self.rows],
            "roomy": self.roomy,
            "dense": self.dense,
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
class NewPage:
    """Go on at the top of a new page."""

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "page"}


@dataclass(frozen=True, slots=True)
class Whole:
    """Blocks that are kept on one page where one page holds them; the `first` of a section stands below its heading."""

    blocks: tuple[Block, ...] = field(default=())
    first: bool = False

    def data(self) -> Data:
        """As plain data for the press."""
        return {"is": "whole", "blocks": as_data(self.blocks), "first": self.first}


@dataclass(frozen=True, slots=True)
class Row:
    """Blocks side by side, each with its share of the width (0: as wide as it is); rows of no blocks are left out."""

    blocks: tuple[Block, ...]
    shares: tuple[float, ...] = ()

    def data(self) -> Data:
        """As plain data for the press."""
        shares = self.shares or (1.0,) * len(self.blocks)
        return {"is": "row", "blocks": as_data(self.blocks), "shares": list(shares)}


def in_columns(table: Table, columns: int, longest: int = 22) -> tuple[Block, ...]:
    """A long narrow table set in columns side by side, in stretches of at most `longest` rows each."""
    found: list[Block] = []
    rows = table.rows
    while rows:
        here, rows = rows[: columns * longest], rows[columns * longest :]
        each = -(-len(here) // columns)
        parts = tuple(replace(table, rows=here[i * each : (i + 1) * each]) for i in range(columns))
        found.append(Row(tuple(part for part in parts if part.rows) + (Points(()),) * (not parts[-1].rows)))
    return tuple(found)


def as_data(blocks: Iterable[Block]) -> list[Data]:
    """Blocks as plain data; with those that are kept together, whether they are surely shorter than a page.

    A text of a line or two below a heading holds on to what follows, as the heading does.
    """
    found: list[Data] = []
    headed = False
    for one in (block.data() for block in blocks):
        what = one["is"] if isinstance(one, Mapping) else ""
        if isinstance(one, Mapping) and what in ("whole", "step"):
            found.append({**one, "short": is_short(one)})
        elif isinstance(one, Mapping) and what == "text":
            found.append({**one, "holds": headed and is_brief(one)})
        else:
            found.append(one)
        headed = what == "heading"
    return found
