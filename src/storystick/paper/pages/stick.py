"""Story sticks: strips in true size for the whole piece, and for parts made more than once."""

from collections.abc import Iterator
from dataclasses import replace

from storystick.paper.blocks import Block, Figure, NewPage, Text
from storystick.paper.drawing.stick import Length, lengths_of, on_pages, stick_page, ticks_of
from storystick.paper.drawing.views import distances
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import twin_of

WORTH_IT = 4  # so many ticks make a stick worth while
INTRO = 23.0  # height of the words on the first page [mm]
WORDS = (
    "Print these pages without any scaling and measure both arms of the rule before you use them; where they are out, "
    "print again with --arms and the two lengths that you measured, level and upright. Cut the strips out, "
    "glue each dashed tab under the next strip so that the two rings lie on each other, and the whole to a straight "
    "batten, its heavy end flush. Lay it to the reference end, floor, left or front, and mark; do not measure. What is "
    "cut to fit has no stick."
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """As many strips on a page as its columns hold."""
    high = paper.depth - INTRO
    room = high * float(folder.print_off[1])
    strips = [*of_the_piece(folder, room), *of_openings(folder, room), *of_parts(folder, room)]
    if strips:
        yield Text(WORDS, "quiet")
    yield from pages_of(folder, strips, paper.room, high)


def pages_of(folder: Folder, strips: list[Length], wide: float, high: float) -> Iterator[Block]:
    """Pages of strips."""
    across, up = (float(share) for share in folder.print_off)
    for number, here in enumerate(on_pages(strips, wide * across, high * up)):
        if number:
            yield NewPage()
        drawn = stick_page(here, folder.build.manner, wide * across, high * up)
        yield Figure(replace(drawn, wide=wide, high=high))


def of_the_piece(folder: Folder, high: float) -> Iterator[Length]:
    """Width, depth and height of the piece and of the openings in it."""
    ticks, _ = distances(folder.build)
    for word, row in zip(("width", "depth", "height"), ticks, strict=True):
        if len(row) >= WORTH_IT:
            yield from lengths_of(word, row, high)


def of_openings(folder: Folder, high: float) -> Iterator[Length]:
    """How wide and how high the clear openings are, each size once, all from one end: to try what goes into them."""
    openings = [one for one in folder.build.openings if one.holds]
    if len(openings) < 2:
        return
    for word, axis in (("opening widths", 0), ("opening heights", 2)):
        each = {one.size[axis].value: one.size[axis] for one in openings}
        if len(each) > 1:
            yield from lengths_of(word, [each[value] for value in sorted(each)], high)


def of_parts(folder: Folder, high: float) -> Iterator[Length]:
    """Parts with several cuts along them that are made more than once; mirror images share one stick."""
    done: set[str] = set()
    for letter, parts in folder.letters.items():
        twin = twin_of(folder, letter)
        alone = len(parts) == 1 and not twin
        if alone or twin in done or parts[0].fit_to or len(ticks_of(parts[0])) < WORTH_IT:
            continue
        done.add(letter)
        yield from lengths_of(f"{letter} {twin}".strip(), ticks_of(parts[0]), high)


PAGE = Page("stick", 110, "Story sticks, full size", make, waits=False)
