"""Drilling strips: rows of holes that come again and again, in true size, to be taped to the work."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import INCH, Manner, down_to
from storystick.model.cut import Bore
from storystick.paper.blocks import Block, Column, Table, Text
from storystick.paper.card import LINE, depth_of
from storystick.paper.drawing.families import families
from storystick.paper.drawing.sight import FLAT
from storystick.paper.drawing.stick import Length, lengths_of
from storystick.paper.folder import Folder
from storystick.paper.lettering import bit, lines_in, said
from storystick.paper.pages import Page
from storystick.paper.pages.stick import pages_of
from storystick.paper.press import Paper
from storystick.paper.spoken import listed

ROW = 4  # so many holes in a row
CLOSE = 80  # holes farther apart than this are as well set out with rule and square [mm]
AGAIN = 4  # a row of fewer or wider holes has a strip where it comes so often
FEWEST = 3  # holes in such a row
LONG = 700  # and is no longer than this [mm]
WORTH_IT = 8  # and so many holes in all such rows of the piece make a strip worth while
MARGIN = 12.0  # of a strip before its first hole and after its last [mm]
LEAST = 5.0  # and after its last where the page ends there [mm]
NEAR = 150.0  # a row that begins nearer than this to its datum has its strip begin there [mm]
WORDS = (
    "Tape a strip to the work: its middle line on the line that the table names, its heavy end on the end or edge that "
    "it is measured from, and prick each cross. A strip without a heavy end begins where the table says."
)

PROVISIONAL = "provisional"
OPEN = (
    "Provisional are the holes of a part that is cut to what is measured in the dry fit: put the reading into the plan "
    "and print again before they are drilled."
)


@dataclass(frozen=True, eq=False)
class Line:
    """Where a row comes: which part and side, how far its line is from which datum."""

    letter: str
    side: str
    at: Dim
    datum: str


@dataclass
class Holes:
    """A row of holes, and where it comes: which part, which side, how far its line is from which datum."""

    called: str
    diameter: Dim
    along: str
    spots: tuple[Dim, ...]
    joint: bool = False  # holes of a joint, which the joint's own parts line up
    where: list[Line] = field(default_factory=list)

ARMS = 144.0
"""A page of strips is at least so high that the upright arm of its rule goes on it [mm]."""


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A table of the strips, then the strips."""
    rows = worth_it(folder)
    if not rows:
        return
    manner = folder.build.manner
    lines = []
    for number, row in enumerate(rows, 1):
        begins = start_of(row, manner)
        starts = f"at the {row.along}" if not begins else f"{said(begins, manner)} from the {row.along}"
        what = f"{row.called}, {bit(row.diameter, manner)} dia."
        lines.append((f"strip {number}", what, starts, "; ".join(told(row.where, folder))))
    columns = (Column("", 0), Column("holes", 1.2), Column("begins", 1.0), Column("middle line", 2.8))
    table = Table(columns, tuple(lines), dense=True)
    is_open = any(folder.letters[line.letter][0].fit_to for row in rows for line in row.where)
    words = f"{WORDS} {OPEN}" if is_open else WORDS
    high = max(ARMS, paper.depth - 5.0 - LINE * lines_in(words, 10.5, paper.room) - depth_of(table, paper.room))
    room = high * float(folder.print_off[1])
    yield Text(words, "quiet")
    yield table
    yield from pages_of(folder, strips_of(folder, rows, room), paper.room, high)


def worth_it(folder: Folder) -> list[Holes]:
    """Rows that a strip is made for: many holes close together, or a few, as a drawer slide has, again and again.

    No hole has two: where it is in a row along the part and in one across it, the closer row has the strip.
    """
    rows = [row for row in rows_of(folder) if len(row.spots) * len(row.where) >= WORTH_IT]
    rows = [row for row in rows if is_close(row) or comes_again(row)]
    taken: set[tuple[object, ...]] = set()
    kept = []
    for row in sorted(rows, key=lambda row: (not is_close(row), row.spots[-1].value - row.spots[0].value)):
        holes = set(_holes(row))
        if len(holes & taken) * 2 < len(holes):
            taken |= holes
            kept.append(row)
    return [row for row in rows if row in kept]


def _holes(row: Holes) -> Iterator[tuple[object, ...]]:
    """Each hole of a row: part, side, how far along and across."""
    for line in row.where:
        for spot in row.spots:
            uv = (spot.value, line.at.value) if row.along == "reference end" else (line.at.value, spot.value)
            yield (line.letter, line.side, *uv)


def comes_again(row: Holes) -> bool:
    """True for a short row of holes of no joint that is bored in many places."""
    again = len(row.where) >= AGAIN and len(row.spots) >= FEWEST
    return again and not row.joint and row.spots[-1].value - row.spots[0].value <= LONG


def is_close(row: Holes) -> bool:
    """True for a row of several holes that are close to one another."""
    return len(row.spots) >= ROW and row.spots[-1].value - row.spots[0].value <= CLOSE * (len(row.spots) - 1)


def strips_of(folder: Folder, rows: Sequence[Holes], room: float) -> list[Length]:
    """A strip for each row, in stretches for pages with so much height [mm]."""
    found: list[Length] = []
    for number, row in enumerate(rows, 1):
        end, start = float(row.spots[-1]) + MARGIN, float(start_of(row, folder.build.manner))
        lengths = lengths_of(f"strip {number}", row.spots, room, start, end, row.diameter)
        if len(lengths) > 1 and not lengths[-1].ticks and lengths[-2].end - float(row.spots[-1]) >= LEAST:
            lengths = [*lengths[:-2], replace(lengths[-2], is_last=True)]  # what would follow is margin only
        found.extend(lengths)
    return found


def start_of(row: Holes, manner: Manner) -> Fraction:
    """Where a strip begins: at the datum if its first hole is near, else at a whole mark before that hole [mm]."""
    first = row.spots[0].value
    if first <= NEAR:
        return Fraction(0)
    whole = INCH / 4 if manner.unit == "inch" else Fraction(5)
    return down_to(first - Fraction(MARGIN), whole)


def rows_of(folder: Folder) -> list[Holes]:
    """Rows of holes along the length or across the width of parts, those alike together."""
    found: dict[tuple[object, ...], Holes] = {}
    manner = folder.build.manner
    for letter, parts in folder.letters.items():
        for family in families(parts[0], manner):
            bores = [cut for cut in family.cuts if isinstance(cut, Bore) and family.side in FLAT]
            for across, along, line in ((0, "reference end", "reference edge"), (1, "reference edge", "reference end")):
                fixed: dict[Fraction, list[Bore]] = {}
                for bore in bores:
                    fixed.setdefault(bore.at[1 - across].value, []).append(bore)
                for group in (one for line_of in fixed.values() for one in in_runs(line_of, across)):
                    spots = tuple(bore.at[across] for bore in group)
                    if len(spots) < 2:
                        continue
                    key = (family.called, group[0].diameter.value, along, tuple(spot.value for spot in spots))
                    of_joint = any(bore.joint for bore in group)
                    row = found.setdefault(key, Holes(family.called, group[0].diameter, along, spots, of_joint))
                    row.where.append(Line(letter, family.side.value, group[0].at[1 - across], line))
    return list(found.values())


def in_runs(bores: Sequence[Bore], across: int) -> list[list[Bore]]:
    """Holes of one line in order; in runs of close ones where it is made up of nothing else."""
    runs: list[list[Bore]] = []
    for bore in sorted(bores, key=lambda bore: bore.at[across].value):
        if runs and bore.at[across].value - runs[-1][-1].at[across].value <= CLOSE:
            runs[-1].append(bore)
        else:
            runs.append([bore])
    return runs if all(len(run) >= ROW for run in runs) else [[bore for run in runs for bore in run]]


def told(where: Sequence[Line], folder: Folder) -> Iterator[str]:
    """The lines of a row in words: from the reference edge: A face, 1 1/2 and 14 1/2."""
    lines: dict[tuple[str, str, str], dict[str, None]] = {}
    for line in where:
        at = said(line.at, folder.build.manner)
        fit = f", {PROVISIONAL}" if folder.letters[line.letter][0].fit_to else ""
        lines.setdefault((line.datum, line.letter, f"{line.side}{fit}"), {})[at] = None
    datum = ""
    for (begins, letter, side), distances in lines.items():
        head = f"from the {begins}: " if begins != datum else ""
        datum = begins
        yield f"{head}{letter} {side}, {listed(distances)}"


PAGE = Page("templates", 105, "Drilling strips, full size", make, waits=False)
