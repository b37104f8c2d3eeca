"""Three views: the whole piece from the front, from above and from one side, with distances from one datum."""

from collections.abc import Iterator

from storystick.paper.blocks import Block, Figure, Text, Whole
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.views import three_views
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper

WORDS = (
    "All widths are measured from the left of the piece, all depths from its front, all heights from the floor: the "
    "black dots. Numbers are where assemblies begin and end, and where the clear openings in them do."
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """One drawing on one page."""
    if not folder.build.parts:
        return
    drawn = three_views(folder, paper.room, paper.depth - 22.0)
    yield Whole((Text(WORDS, "quiet"), Figure(drawn, scale_said(drawn.scale).capitalize() + ".")), first=True)


PAGE = Page("views", 75, "Three views", make, follows=True, waits=False)
