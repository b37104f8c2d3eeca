"""The cabinetmaker's triangle: boards that belong together laid side by side, one triangle drawn across all of them.

Its point is up, or at the back. Whatever way the boards are mixed up later, the triangle closes only one way: it says
which board is where, which edge is the front, and which end is up. Source: practice.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.model.part import Part
from storystick.paper.drawing.canvas import Box, Canvas, Spot
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.folder import Folder

SIDE = 22.0  # of the square that a set is drawn in [mm]
BOARD = 8.0  # how thick a board's edge is drawn at most, and at least [mm]
SLIM = 5.0
MOST = 6  # boards under one triangle
WORDS = {0: "uprights, front edges", 1: "front, back: top edges", 2: "level, front edges"}


@dataclass(frozen=True)
class Set:
    """Boards that get one triangle: the axis of the assembly that they follow one another along, their letters."""

    axis: int
    letters: tuple[str, ...]

    @property
    def says(self) -> str:
        """Which boards, and which of their edges."""
        return WORDS[self.axis]


def sets_of(folder: Folder, assembly: str) -> tuple[Set, ...]:
    """The sets of an assembly: boards as long and as wide as one another that lie alike, in their order."""
    found: dict[tuple[object, ...], list[Part]] = {}
    for part in folder.build.parts:
        if part.assembly == assembly:
            found.setdefault((part.lies, part.size[0].value), []).append(part)
    sets = []
    for parts in found.values():
        axis = parts[0].lies[2]
        if 2 <= len(parts) <= MOST:
            ordered = sorted(parts, key=lambda part: (part.low(axis), part.name))
            sets.append(Set(axis, tuple(folder.letter_of[part.name] for part in ordered)))
    return tuple(sorted(sets, key=lambda one: (one.axis, one.letters)))


def triangle(one: Set) -> Drawn:
    """A set as it is marked: edges toward you, lettered, the triangle across them."""
    thick = min(BOARD, max(SLIM, SIDE / len(one.letters)))
    broad = thick * len(one.letters)
    wide, high = (broad, SIDE) if one.axis == 0 else (SIDE, broad)
    canvas = Canvas(SIDE + 10.0, high + 2.0)
    frame = Box(1.0, 1.0, 1.0 + wide, 1.0 + high)
    for number, letter in enumerate(one.letters):
        board = _board(frame, number, thick, one.axis)
        canvas.box(board, "edge", "wood")
        at: Spot = ((board.left + board.right) / 2, board.bottom - 2.2)
        if one.axis != 0:
            at = (board.left + 3.4, (board.top + board.bottom) / 2 + 1.3)
        canvas.text(at, letter, 10.0, "middle", "semibold")
    canvas.run(_corners(frame), "new", closed=True)
    order = " ".join(one.letters)
    alt = f"The cabinetmaker's triangle across {one.says}: {order}."
    return Drawn(canvas.svg(alt), alt, 0.0, canvas.wide, canvas.high, tuple(canvas.lettering))


def _board(frame: Box, number: int, thick: float, axis: int) -> Box:
    """Uprights from left to right; level boards from below; boards behind one another with the front one below."""
    if axis == 0:
        return Box(frame.left + number * thick, frame.top, frame.left + (number + 1) * thick, frame.bottom)
    return Box(frame.left, frame.bottom - (number + 1) * thick, frame.right, frame.bottom - number * thick)


def _corners(frame: Box) -> Sequence[Spot]:
    """Across every board, its point up."""
    wide, high = frame.right - frame.left, frame.bottom - frame.top
    middle = (frame.left + frame.right) / 2
    if wide < high:  # uprights: base well inside both outer boards
        low, top = frame.top + 0.62 * high, frame.top + 0.2 * high
        return [(frame.left + 1.2, low), (middle, top), (frame.right - 1.2, low)]
    half, middle = 0.28 * wide, middle + 0.1 * wide
    return [(middle - half, frame.bottom - 1.2), (middle, frame.top + 1.2), (middle + half, frame.bottom - 1.2)]
