"""Labels: one for each piece, to be cut out and taped to it as it leaves the saw."""

from collections.abc import Iterator

from storystick.paper.blocks import Block
from storystick.paper.folder import Folder
from storystick.paper.forms import Label, Labels
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A label for each part, in the order of the letters."""
    manner = folder.build.manner
    labels = [
        Label(letter, folder.short(part.name), " x ".join(said(size, manner) for size in part.size), part.stock.name)
        for letter, parts in folder.letters.items()
        for part in parts
    ]
    if labels:
        yield Labels(tuple(labels))


PAGE = Page("labels", 120, "Labels", make)
