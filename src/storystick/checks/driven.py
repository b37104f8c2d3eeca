"""Screws, nails and their like as lines in the room, and where such a line is in a board."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from storystick.ground.kept import Kept, This
from storystick.ground.records import quickly_made
from storystick.model.check import Asked
from storystick.model.cut import Bore
from storystick.model.joining import Fastener
from storystick.shapes.pose import Vector, apply, direct, dot, less, plus, times, unit
from storystick.shop.tables import find, screws
from storystick.shop.tables.rows import Screw

_DRIVES: "Kept[tuple[Drive, ...]]" = Kept(2)
END, EDGE, FACE = 0, 1, 2  # a board's own axes: to its ends, to its edges, to its faces


@dataclass(frozen=True, eq=False)
class Drive:
    """A fastener in the room: its head and the way it points. `within`: where it is in boards, as far as was asked."""

    of: Fastener
    head: Vector
    way: Vector
    row: Screw | None
    within: "dict[str, Inside | None]" = field(default_factory=dict)

    @cached_property
    def long(self) -> float:
        """Length [mm]."""
        return float(self.of.length)

    @cached_property
    def tip(self) -> Vector:
        """Where its point ends up."""
        return plus(self.head, times(self.way, self.long))

    @property
    def thread(self) -> float:
        """Length of its thread [mm]: two thirds unless its row says that all of it is; nails hold all along."""
        if self.of.kind in ("nail", "brad", "dowel") or (self.row and self.row.full_thread):
            return self.long
        return self.long * 2 / 3

    @property
    def head_wide(self) -> float:
        """Diameter of its head [mm]."""
        return float(self.row.head_mm) if self.row else 2 * float(self.of.diameter)


@quickly_made
@dataclass(frozen=True, slots=True)
class Inside:
    """Where the line of a fastener is within a board: from `enters` to `leaves`, counted from the head [mm].

    at, tip    in the board's own coordinates: where it enters, and its point or where it leaves
    into       the board's own axis that it runs along most
    size       length, width, thickness of the board [mm]
    """

    enters: float
    leaves: float
    at: Vector
    tip: Vector
    into: int
    size: Vector


def drives(asked: Asked) -> tuple[Drive, ...]:
    """Every fastener of the build as a line in the room."""
    return _DRIVES.of((This(asked.build), This(asked.scene)), lambda: tuple(_drives(asked)))


def screws_and_nails(asked: Asked) -> tuple[Drive, ...]:
    """The same without dowels, which are glued: neither thread nor splitting is asked of them."""
    return tuple(drive for drive in drives(asked) if drive.of.kind != "dowel")


def _drives(asked: Asked) -> Iterator[Drive]:
    for one in asked.build.fasteners:
        pose = asked.scene.poses[one.assembly]
        at = (float(one.at[0]), float(one.at[1]), float(one.at[2]))
        yield Drive(one, apply(pose, at), unit(direct(pose, one.way)), find(screws(), one.row))


def inside(asked: Asked, drive: Drive, part: str) -> Inside | None:
    """Where the line of a fastener is within a board's outline, its cuts not looked at; None where it misses it."""
    if part not in drive.within:
        drive.within[part] = _inside(asked, drive, part)
    return drive.within[part]


def _inside(asked: Asked, drive: Drive, part: str) -> Inside | None:
    board = asked.build.parts_by_name.get(part)
    if board is None:
        return None
    back = asked.scene.back_to_own(part)
    size = (float(board.size[0]), float(board.size[1]), float(board.size[2]))
    head, way = apply(back, drive.head), direct(back, drive.way)
    enters, leaves = 0.0, math.inf
    for axis in range(3):
        if abs(way[axis]) < 1e-9:
            if not -1e-6 <= head[axis] <= size[axis] + 1e-6:
                return None
            continue
        first, last = sorted(((0.0 - head[axis]) / way[axis], (size[axis] - head[axis]) / way[axis]))
        enters, leaves = max(enters, first), min(leaves, last)
    if leaves - enters < 1e-6:
        return None
    into = max(range(3), key=lambda axis: abs(way[axis]))
    end = max(enters, min(leaves, drive.long))
    return Inside(enters, leaves, plus(head, times(way, enters)), plus(head, times(way, end)), into, size)


def is_for_a_fastener(cut: Bore) -> bool:
    """Whether a hole is the pilot or the clearance hole of a screw: its own checks look after it."""
    return any(word in cut.called for word in ("pilot", "clearance"))


def apart(one: Drive, other: Drive) -> float:
    """Least distance between the middle lines of two fasteners [mm]."""
    return lines_apart(one.head, one.tip, other.head, other.tip)


def lines_apart(head: Vector, tip: Vector, other_head: Vector, other_tip: Vector) -> float:
    """Least distance between two stretches of line, each from end to end [mm]."""
    u, v, w = less(tip, head), less(other_tip, other_head), less(head, other_head)
    a, b, c, d, e = dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)
    below = a * c - b * b
    s = _share((b * e - c * d) / below) if below > 1e-9 else 0.0
    t = _share((b * s + e) / c)
    s = _share((b * t - d) / a)
    return math.dist(plus(head, times(u, s)), plus(other_head, times(v, t)))


def _share(value: float) -> float:
    return min(1.0, max(0.0, value))


def alike(found: list[Drive]) -> str:
    """How a group of fasteners is named in a sentence: by its joint, or by the two boards."""
    one = found[0].of
    pairs = {(drive.of.through, drive.of.into) for drive in found}
    called = counted(len(found), one.called) if len(found) > 1 else one.called
    more = f" (and {len(pairs) - 1} more like that)" if len(pairs) > 1 else ""
    return f"{called} from {one.through} into {one.into}{more}"


_SIZE = re.compile(r"(\d[\d./-]*d?(?: (?:mm|in|gauge))?) (.+)")
"""A size before a name that begins with a figure, so that a count before it would run into it."""


def counted(count: int, called: str) -> str:
    """So many of a row of the tables: "16 #8 wood screws", "4 chipboard screws of 4.0 mm", "6 brads of 18 gauge"."""
    sized = _SIZE.fullmatch(called)
    return f"{count} {sized[2]}s of {sized[1]}" if sized else f"{count} {called}s"


def sold_between(row: Screw | None, least: float, most: float) -> tuple[Fraction, ...]:
    """The lengths that a screw is sold in within limits [mm]."""
    return tuple(long for long in (row.lengths_mm if row else ()) if least <= float(long) <= most)
