"""Story sticks: a strip in true size for each part with several cuts along it, to be cut out and glued to a batten."""

from collections.abc import Iterator

from storystick.paper.blocks import Block, Figure, NewPage, Text
from storystick.paper.drawing.stick import PITCH, lengths_of, stick_page, ticks_of
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import twin_of

WORTH_IT = 4  # so many ticks make a stick worth while
WORDS = (
    "Print these pages without any scaling, and measure the line at the top of each before you use it. Cut the strips "
    "out, glue each one's dashed end under the next, and the whole to a straight batten with its heavy end flush. "
    "Lay it to the reference end and mark; do not measure."
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """As many strips on a page as go side by side; mirror images share one stick."""
    done: set[str] = set()
    strips = []
    high = paper.depth - 26.0
    for letter, parts in folder.letters.items():
        twin = twin_of(folder, letter)
        if twin in done or len(ticks_of(parts[0])) < WORTH_IT:
            continue
        done.add(letter)
        strips.extend(lengths_of(f"{letter} {twin}".strip(), parts[0], high))
    each = int((paper.room - 4.0) / PITCH)
    for i in range(0, len(strips), each):
        if i:
            yield NewPage()
        else:
            yield Text(WORDS)
        yield Figure(stick_page(strips[i : i + each], folder.build.manner, paper.room, high))


PAGE = Page("stick", 110, "Story sticks, full size", make)
