"""Buying list: what to get, what is there already, what it comes to."""

from collections.abc import Iterator

from storystick.model.work import Buy
from storystick.paper.blocks import Block, Column, Heading, Table, Text, Tick
from storystick.paper.folder import Folder
from storystick.paper.lettering import money
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.shop.tables import written

COLUMNS = (
    Column(""), Column("what", 3.6), Column("need", 0.8, "right"), Column("have", 0.6, "right"),
    Column("buy", 0.5, "right"), Column("each", 0, "right"), Column("total", 0, "right"),
)  # fmt: skip


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A table for each kind of thing, and the sum."""
    buying = folder.buying
    if not buying.lines:
        return
    for kind in dict.fromkeys(line.kind for line in buying.lines):
        if kind:
            yield Heading(kind.capitalize())
        yield Table(
            COLUMNS, tuple(row(line, buying.currency) for line in buying.lines if line.kind == kind), dense=True
        )
    unpriced = sum(1 for line in buying.lines if line.price is None)
    left_out = f" {unpriced} line{'s' if unpriced != 1 else ''} without a price not counted." if unpriced else ""
    yield Text(f"All together {money(buying.total, buying.currency)}.", "strong")
    if any(line.guessed for line in buying.lines):
        left_out += " A price with a ~ is a guess: put your own in the plan or the shop file."
    if left_out:
        yield Text(left_out.strip(), "quiet")


def row(line: Buy, currency: str) -> tuple[Tick | str | tuple[str, ...], ...]:
    """One line of the list."""
    name = written(line.what)
    what = f"{name}, {line.size}" if line.size else name
    if line.kind == "fasteners" and line.size.startswith("x "):
        what = f"{name if line.count == 1 else several(name)}, {line.size.removeprefix('x ')} long"
    unit = "" if line.unit == "each" else f" {line.unit if line.count == 1 else several(line.unit)}"
    about = "~ " if line.guessed else ""
    each = "" if line.price is None else about + money(line.price, currency)
    total = "" if line.total is None else about + money(line.total, currency)
    named: str | tuple[str, ...] = what
    if line.used_for:
        use = f"for {line.used_for}"
        named = f"{what}, {use}" if len(what) + len(use) < ONE_LINE else (what, use)
    return (
        Tick(),
        named,
        f"{line.count}{unit}",
        str(line.have) if line.have else "",
        str(max(0, line.count - line.have)),
        each,
        total,
    )


def several(word: str) -> str:
    """More than one of it."""
    if word.endswith(" foot"):
        return f"{word.removesuffix('foot')}feet"
    if word.endswith("³"):
        return word
    return word if word.endswith("s") else f"{word}{'es' if word.endswith(('x', 'ch', 'sh')) else 's'}"


ONE_LINE = 46
"""So many letters go on one line of the list."""

PAGE = Page("buying", 50, "Buying list", make, follows=True)
