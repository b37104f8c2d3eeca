"""Patterns: curves, slopes and recesses in true size, to be stuck or traced on the work."""

from collections.abc import Iterator
from dataclasses import replace

from storystick.paper.blocks import Block, Figure, Text
from storystick.paper.drawing.pattern import Window, pattern_tiles, windows
from storystick.paper.drawing.sight import FLAT
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper

WORDS = (
    "Print without any scaling and prove the line above each pattern. Lay the heavy outline on the board's own edges; "
    "where there is none, draw a line on the board as far from its reference end or edge as the words say, and lay the "
    "dashed one on it. Trace, or prick through. Where a pattern is on several sheets, lay ring on ring."
)

PROVISIONAL = "provisional"
OPEN = (
    "Provisional is what belongs to a part that is cut to what is measured in the dry fit: put the reading into the "
    "plan and print again before it is used."
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """The patterns of all parts, one below the other; those that are alike once."""
    across, up = (float(share) for share in folder.print_off)
    room, high, manner = paper.room * across, (paper.depth - 26.0) * up, folder.build.manner
    found: dict[tuple[str, ...], tuple[Window, dict[str, None]]] = {}
    for letter, parts in folder.letters.items():
        for side in FLAT:
            for window in windows(parts[0], side):
                alike = tuple(drawn.svg for drawn in pattern_tiles(window, "", manner, room, high))
                fit = f", {PROVISIONAL}" if parts[0].fit_to else ""
                found.setdefault(alike, (window, {}))[1][f"{letter} {side.value}{fit}"] = None
    if found:
        is_open = any(PROVISIONAL in name for _, names in found.values() for name in names)
        yield Text(f"{WORDS} {OPEN}" if is_open else WORDS, "quiet")
    for window, names in found.values():
        for drawn in pattern_tiles(window, ", ".join(names), manner, room, high):
            yield Figure(replace(drawn, wide=drawn.wide / across, high=drawn.high / up))


PAGE = Page("patterns", 107, "Patterns, full size", make, waits=False)
