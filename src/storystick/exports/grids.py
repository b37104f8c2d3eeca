"""Parts, buying, cutting and steps as plain tables: the same for every format that holds tables.

Every number is a number, in the unit that its column's heading names; beside a length stands what a rule shows.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.exports.export import Piece
from storystick.exports.naming import by_letter
from storystick.exports.sheets import label
from storystick.ground.length import Manner, show
from storystick.model.build import Build
from storystick.model.cutting import Cut, CutTree, Purpose
from storystick.model.part import Part
from storystick.model.work import Buy, Buying, Cutting, Setup, Step, WorkOrder

type Cell = str | int | Fraction | None
type Kind = Literal["text", "count", "mm", "money", "minutes"]

PURPOSES = {Purpose.TRIM: "trim an edge", Purpose.BREAKDOWN: "break down", Purpose.SIZE: "to size"}


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, what its cells are, how wide it wants to be [letters].

    total    summed in the last row
    reckons  how a cell follows from others of its row, with the headings of those in braces: `{price} * {buy}`
    """

    heading: str
    kind: Kind = "text"
    wide: int = 12
    total: bool = False
    reckons: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def grids(piece: Piece) -> Iterator[Grid]:
    """All four tables."""
    yield parts(piece.build)
    yield buying(piece.buying)
    yield cutting(piece.build, piece.cuttings)
    yield steps(piece.build, piece.order)


# --- parts ------------------------------------------------------------------------------------------------------------

PARTS = (
    Column("letter", wide=8), Column("parts", wide=44), Column("count", "count", 8, total=True),
    Column("length mm", "mm"), Column("width mm", "mm"), Column("thickness mm", "mm", 14),
    Column("length", wide=18), Column("width", wide=18), Column("thickness", wide=18),
    Column("stock", wide=14), Column("grain", wide=18), Column("layers", "count", 8), Column("cuts", "count", 8),
    Column("banded", wide=18), Column("fit to", wide=30), Column("notes", wide=40),
)  # fmt: skip


def parts(build: Build) -> Grid:
    """A row for each different part; those that are alike share it. Sizes are finished sizes."""
    rows = (_part(alike, build.manner) for alike in by_letter(build).values())
    return Grid("parts", PARTS, tuple(rows))


def _part(alike: Sequence[Part], manner: Manner) -> tuple[Cell, ...]:
    first = alike[0]
    grain = "" if not first.stock.grain else "either way" if first.turnable else "along the length"
    return (
        first.letter,
        ", ".join(part.name for part in alike),
        len(alike),
        *(size.value for size in first.size),
        *(show(size.value, manner) for size in first.size),
        first.stock.name,
        grain,
        first.layers,
        len(first.cuts),
        ", ".join(first.banded),
        first.fit_to,
        " ".join(first.notes),
    )


# --- buying -----------------------------------------------------------------------------------------------------------

BUYING = (
    Column("kind", wide=16), Column("what", wide=34), Column("size", wide=20), Column("used for", wide=30),
    Column("need", "count", 8), Column("have", "count", 8),
    Column("buy", "count", 8, reckons="MAX(0,{need}-{have})"), Column("unit", wide=10),
    Column("price", "money", 12),
    Column("total", "money", 12, total=True, reckons='IF(ISNUMBER({price}),{buy}*{price},"")'),
    Column("price is", wide=12),
)  # fmt: skip


def buying(bought: Buying) -> Grid:
    """A row for each thing to buy; where the price is not known its cells are empty."""
    return Grid("buying", BUYING, tuple(_buy(line) for line in bought.lines))


def _buy(line: Buy) -> tuple[Cell, ...]:
    buy = max(0, line.count - line.have)
    said = "" if line.price is None else "a guess" if line.guessed else "given"
    return (line.kind, line.what, line.size, line.used_for, line.count, line.have, buy, line.unit, line.price,
            line.total, said)  # fmt: skip


# --- cutting ----------------------------------------------------------------------------------------------------------

CUTTING = (
    Column("stock", wide=14), Column("sheet", "count", 8), Column("size", wide=18), Column("cut", "count", 8),
    Column("way", wide=10), Column("for", wide=14), Column("set to mm", "mm"), Column("set to", wide=18),
    Column("kerf begins mm", "mm", 15), Column("frees", wide=60),
)  # fmt: skip


def cutting(build: Build, cuttings: Sequence[Cutting]) -> Grid:
    """A row for each cut, in the order in which they are made within each sheet."""
    letters = {part.name: part.letter for part in build.parts}
    rows = [
        _cut(one, number, tree, cut, letters, build.manner)
        for one in cuttings
        for number, tree in enumerate(one.layout.trees, 1)
        for cut in sorted(tree.cuts, key=lambda cut: cut.number)
    ]
    return Grid("cutting", CUTTING, tuple(rows))


def _cut(
    one: Cutting, number: int, tree: CutTree, cut: Cut, letters: Mapping[str, str], manner: Manner
) -> tuple[Cell, ...]:
    pieces = {piece.number: piece for piece in tree.pieces}
    frees = []
    for freed in (pieces[n] for n in cut.frees):
        size = f"{show(freed.long, manner)} x {show(freed.wide, manner)}"
        frees.append(label(freed.blank, letters) if freed.blank else f"{'keep' if freed.keep else 'piece'} {size}")
    stands = "" if cut.setting is None else show(cut.setting, manner)
    return (one.stock.name, number, tree.sheet.name, cut.number, cut.way.value, PURPOSES[cut.purpose], cut.setting,
            stands, cut.at, "; ".join(frees))  # fmt: skip


# --- steps ------------------------------------------------------------------------------------------------------------

STEPS = (
    Column("step", "count", 8), Column("stage", wide=20), Column("title", wide=34), Column("does", wide=80),
    Column("letters", wide=18), Column("settings", wide=50), Column("check", wide=40), Column("caution", wide=40),
    Column("hands on min", "minutes", 14, total=True), Column("waits min", "minutes", 12, total=True),
)  # fmt: skip


def steps(build: Build, order: WorkOrder) -> Grid:
    """A row for each step, in order."""
    letters = {part.name: part.letter for part in build.parts}
    return Grid("steps", STEPS, tuple(_step(step, letters, build.manner) for step in order.steps))


def _step(step: Step, letters: Mapping[str, str], manner: Manner) -> tuple[Cell, ...]:
    hands = dict.fromkeys(letters.get(name, name) for name in step.parts)
    settings = "; ".join(_setting(setup, manner) for setup in step.setups)
    return (step.number, step.stage.value, step.title, " ".join(step.does), " ".join(hands), settings, step.check,
            step.caution, step.hands_on, step.waits)  # fmt: skip


def _setting(setup: Setup, manner: Manner) -> str:
    to = "" if setup.to is None else f" {show(setup.to.value, manner)}"
    return ", ".join(word for word in (setup.machine, setup.tool) if word) + f": {setup.name}{to}"
