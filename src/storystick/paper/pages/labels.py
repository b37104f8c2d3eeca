"""Labels: one for each piece, to be cut out and taped to it as it leaves the saw, or printed on a sheet of labels."""

from collections.abc import Iterator

from storystick.paper.blocks import Block, Figure, NewPage
from storystick.paper.drawing.label import Label, label_page, to_cut_out
from storystick.paper.folder import Folder
from storystick.paper.forms import FullPage
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.spoken import spoken


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A label for each part, in the order of the letters."""
    labels = list(labels_of(folder))
    grid = folder.label_sheet or to_cut_out(paper.room, paper.depth)
    each = grid.rows * grid.columns
    last = -(-len(labels) // grid.columns) % grid.rows
    if folder.label_sheet is None and len(labels) > each and 0 < last < grid.rows / 2:  # as many rows on every page
        pages = -(-len(labels) // each)
        each = -(-len(labels) // (pages * grid.columns)) * grid.columns
    for i in range(0, len(labels), each):
        here = labels[i : i + each]
        if folder.label_sheet is not None:
            yield FullPage(label_page(here, grid, paper.wide, paper.high, lines=False))
            continue
        if i:
            yield NewPage()
        high = grid.down * -(-len(here) // grid.columns)
        yield Figure(label_page(here, grid, paper.room, high + 0.2, lines=True))


def labels_of(folder: Folder) -> Iterator[Label]:
    """What is written on each piece."""
    manner = folder.build.manner
    for letter, parts in folder.letters.items():
        for part in parts:
            bare = manner.unit == "mm"
            size = " x ".join(said(size, manner, bare) for size in part.size) + " mm" * bare
            numbers = folder.joints_of.get(part.name, ())
            joints = f"joint{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}" if numbers else ""
            yield Label(letter, name_on(folder, part.name), size, part.stock.name, joints, code_of(folder, part.name))


def name_on(folder: Folder, name: str) -> str:
    """A part's name on its label: where the plan has one piece only, that goes without saying."""
    inner = name.partition(".")[2]
    return spoken(inner) if inner and len(folder.build.entries) == 1 else folder.short(name)


def code_of(folder: Folder, name: str) -> str:
    """What a part's code says: the address of the part on the page where that is known, else plan, letter and name."""
    letter = folder.letter_of[name]
    if folder.page:
        plan, part = in_address(folder.plan_file), in_address(letter)
        return f"{folder.page.rstrip('/')}/part?plan={plan}&part={part}"
    return " ".join(word for word in (folder.build.title, folder.version, letter, name) if word)


def in_address(text: str) -> str:
    """A text as a part of an address: all but plain letters, figures and - . _ ~ by number (RFC 3986, 2.1 and 2.3)."""
    plain = "-._~"
    return "".join(
        one if one.isascii() and (one.isalnum() or one in plain) else "".join(f"%{byte:02X}" for byte in one.encode())
        for one in text
    )


PAGE = Page("labels", 120, "Labels", make, waits=False)
