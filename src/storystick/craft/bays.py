"""Bays: columns and rows within a case, nested to any depth.

    columns: [{wide: 8, rows: [drawer 4, drawer, open]}, {rows: [open, fixed shelf, open]}]
    rows:    [drawer 4, fixed shelf, open with lip]          from the top down

A column or row without a size shares what is left; `share: 2` takes twice as much of it. This module reads such words
into a tree; `kinds/case.py` lays out the boards.
"""

import re
from dataclasses import dataclass, field
from typing import Literal

from storystick.ground.arithmetic import Scope, read_sum
from storystick.ground.dim import Dim
from storystick.ground.fields import Field, Fields, Length, Node, Number, Text, fill
from storystick.ground.finding import Finding, Place, mistake
from storystick.ground.marked import Mapping, Marked, Scalar, Sequence
from storystick.ground.misread import nearest, one_of

type Holds = Literal["open", "drawer", "tray", "bays"]
type Shelf = Literal["fixed shelf", "loose shelf"]

SPACES: dict[str, Holds] = {"open": "open", "drawer": "drawer", "tray": "tray", "pull-out": "tray"}
SHELVES: dict[str, Shelf] = {
    "fixed shelf": "fixed shelf", "shelf": "fixed shelf", "loose shelf": "loose shelf",
    "adjustable shelf": "loose shelf",
}  # fmt: skip
BAY = Fields(
    "bay",
    (
        Field("columns", Node, help="bays side by side, from left to right"),
        Field("rows", Node, help="bays and shelves, from the top down"),
        Field("wide", Length, help="clear width of this column"),
        Field("high", Length, help="clear height of this row"),
        Field("share", Number, default="1", help="how much of what is left it takes, against the others"),
        Field("open", Node, help="an open bay, with what it has: a lip"),
        Field("drawer", Node, help="a drawer, with how it is made"),
        Field("tray", Node, help="a pull-out tray, with how it is made", also=("pull-out",)),
        Field("fixed shelf", Node, help="a shelf joined to its sides", also=("shelf",)),
        Field("loose shelf", Node, help="a shelf on pins", also=("adjustable shelf",)),
        Field("lip", Node, help="a strip along the front edge of the board below this bay"),
        Field("doors", Node, help="a door or a pair before this bay", also=("door",)),
        Field("called", Text, help="a name for this bay"),
        Field("joint", Node, help="how the divider to the right of this column is joined"),
    ),
)


@dataclass(frozen=True, slots=True, eq=False)
class Bay:
    """One bay as the plan asks for it. `size` is its clear height in a row, clear width in a column; None: a share."""

    holds: Holds
    place: Place
    size: Dim | None = None
    share: float = 1.0
    columns: "tuple[Bay, ...]" = ()
    rows: "tuple[Bay | Board, ...]" = ()
    how: Marked | None = None  # what the plan says of the drawer or tray
    lip: Marked | None = None
    doors: Marked | None = None  # what the plan says of the doors before it
    called: str = ""

    @property
    def has_doors(self) -> bool:
        """Whether it or any bay within it has doors."""
        inner = (*self.columns, *(row for row in self.rows if isinstance(row, Bay)))
        return self.doors is not None or any(bay.has_doors for bay in inner)

    @property
    def is_used(self) -> bool:
        """Whether it or any bay within it has doors, a drawer or a tray: something that a face frame follows."""
        inner = (*self.columns, *(row for row in self.rows if isinstance(row, Bay)))
        return self.doors is not None or self.holds in ("drawer", "tray") or any(bay.is_used for bay in inner)


@dataclass(frozen=True, slots=True, eq=False)
class Board:
    """A shelf between two rows, as the plan asks for it."""

    kind: Shelf
    place: Place
    how: Marked | None = None
    called: str = ""


_SIZED = re.compile(
    r"^(?P<what>[a-z-]+(?: shelf)?)(?:\s+(?P<size>[^a-z].*?))?"
    r"(?:\s+with (?P<more>lip|a door|door|doors|a pair of doors))?$",
    re.IGNORECASE,
)


def read_bays(node: Marked, scope: Scope, mistakes: list[Finding]) -> Bay | None:
    """The whole tree under `bays:`; None when nothing could be read."""
    if isinstance(node, Sequence):
        return Bay("bays", node.place, rows=_rows(node, scope, mistakes))
    return _bay(node, scope, mistakes, "rows")


def _rows(node: Marked, scope: Scope, mistakes: list[Finding]) -> tuple[Bay | Board, ...]:
    if not isinstance(node, Sequence):
        mistakes.append(mistake(node.place, "", "a list of rows such as [drawer 4, fixed shelf, open]"))
        return ()
    read = [_row(item, scope, mistakes) for item in node.items]
    return tuple(one for one in read if one is not None)


def _row(node: Marked, scope: Scope, mistakes: list[Finding]) -> Bay | Board | None:
    if isinstance(node, Scalar):
        word = " ".join(node.text.lower().split())
        if word in SHELVES:
            return Board(SHELVES[word], node.place)
    elif isinstance(node, Mapping):
        for key, value in node.entries:
            word = " ".join(key.text.lower().split())
            if word in SHELVES:
                called = node.get("called")
                return Board(SHELVES[word], node.place, value, called.text if isinstance(called, Scalar) else "")
    return _bay(node, scope, mistakes, "rows")


def _bay(node: Marked, scope: Scope, mistakes: list[Finding], within: str) -> Bay | None:
    if isinstance(node, Scalar):
        return _bay_in_words(node, scope, mistakes)
    if not isinstance(node, Mapping):
        mistakes.append(mistake(node.place, "", "a bay such as open, drawer 4 or {columns: [...]}"))
        return None
    filled = fill(BAY, node, scope, mistakes)
    if filled is None:
        return None
    word = "high" if within == "rows" else "wide"
    wrong = "wide" if within == "rows" else "high"
    if filled.has(wrong):
        mistakes.append(mistake(filled.place(wrong), wrong, f"{word} here: {within} are sized by it", f"{word}: ..."))
    shared = {
        "place": node.place, "size": filled.maybe_length(word), "share": float(filled.number("share")),
        "lip": filled.node("lip"), "doors": filled.node("doors"), "called": filled.maybe_text("called") or "",
    }  # fmt: skip
    said = [w for w in ("columns", "rows", "open", "drawer", "tray") if filled.has(w)]
    if len(said) > 1:
        mistakes.append(mistake(filled.place(said[1]), said[1], f"one thing in a bay, not {said[0]} and {said[1]} too"))
    if not said:
        return Bay("open", **shared)  # type: ignore[arg-type]
    inner = filled.node(said[0])
    assert inner is not None
    if said[0] == "columns":
        return Bay("bays", columns=_columns(inner, scope, mistakes), **shared)  # type: ignore[arg-type]
    if said[0] == "rows":
        return Bay("bays", rows=_rows(inner, scope, mistakes), **shared)  # type: ignore[arg-type]
    how = inner if isinstance(inner, Mapping) else None
    size = shared["size"]
    if isinstance(inner, Scalar) and inner.text.strip() and within == "rows" and size is None:
        shared["size"] = read_sum(inner, scope, mistakes) if inner.text.strip().lower() not in ("yes", "true") else None
    if said[0] == "open" and isinstance(inner, Mapping):
        shared["lip"] = inner.get("lip")
        shared["doors"] = shared["doors"] or inner.get("doors")
    return Bay(SPACES[said[0]], how=how, **shared)  # type: ignore[arg-type]


def _columns(node: Marked, scope: Scope, mistakes: list[Finding]) -> tuple[Bay, ...]:
    if not isinstance(node, Sequence):
        mistakes.append(mistake(node.place, "", "a list of columns such as [{wide: 8, rows: [...]}, open]"))
        return ()
    read = [_bay(item, scope, mistakes, "columns") for item in node.items]
    return tuple(one for one in read if one is not None)


def _bay_in_words(node: Scalar, scope: Scope, mistakes: list[Finding]) -> Bay | None:
    """`open`, `open 12`, `drawer 4 in`, `drawer`, `tray 3`, `open with lip`, `open 20 with doors`."""
    found = _SIZED.match(" ".join(node.text.split()))
    word = found["what"].lower() if found else node.text
    if found is None or word not in SPACES:
        known = [*SPACES, *SHELVES]
        close = nearest(word, known)
        mistakes.append(mistake(node.place, node.text, f"a bay or shelf: {one_of(known)}", close))
        return None
    size = None
    if found["size"]:
        inner = Scalar(found["size"], node.place, node.quoted)
        size = read_sum(inner, scope, mistakes)
    more = (found["more"] or "").lower()
    lip = Scalar("yes", node.place) if more == "lip" else None
    leaves = {"door": "one", "a door": "one", "doors": "yes", "a pair of doors": "pair"}.get(more)
    doors = Scalar(leaves, node.place) if leaves else None
    return Bay(SPACES[word], node.place, size=size, lip=lip, doors=doors)


@dataclass(slots=True)
class Counted:
    """Numbers bays and boards as they are laid, so that names stay short and unique."""

    seen: dict[str, int] = field(default_factory=dict)

    def name(self, word: str, called: str = "") -> str:
        """`called` if given, else the word with its number: drawer 1, drawer 2."""
        if called:
            return called
        self.seen[word] = self.seen.get(word, 0) + 1
        return f"{word} {self.seen[word]}"


