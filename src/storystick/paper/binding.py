"""The packet as a PDF, and its drawings one by one."""

from collections.abc import Callable, Sequence

from storystick.paper.drawing.picture import pulled_apart, whole_piece
from storystick.paper.folder import Folder
from storystick.paper.lettering import LEGEND
from storystick.paper.pages import shelf
from storystick.paper.pages.cards import card
from storystick.paper.pages.sheets import sheet_map
from storystick.paper.pages.steps import step_picture
from storystick.paper.press import PAPERS, Section, press


class Stopped(Exception):
    """The person asked to stop; nothing was made."""


def packet(
    folder: Folder,
    *,
    paper: str = "letter",
    pages: Sequence[str] | None = None,
    tell: Callable[[str, float], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> bytes:
    """The packet that goes to the bench, as a PDF.

    paper  "letter" or "a4"
    pages  names of the pages wanted (see `shelf`), None for all; they come in the packet's own order
    tell   is given the title of each page before it is drawn, and the share of them that is done
    stop   is asked before each page; when it says True, Stopped is raised

    Raises KeyError for a paper or a page that there is not.
    """
    known = shelf()
    for name in pages or ():
        known[name]
    size = PAPERS[paper.lower()]
    sections: list[Section] = []
    wanted = [page for name, page in known.items() if pages is None or name in pages]
    for number, page in enumerate(wanted):
        if stop is not None and stop():
            raise Stopped
        if tell is not None:
            tell(page.title or page.name, number / (len(wanted) + 1))
        blocks = tuple(page.make(folder, size))
        if blocks:
            sections.append(Section(page.title, blocks))
    if tell is not None:
        tell("the press", len(wanted) / (len(wanted) + 1))
    legend = LEGEND if folder.build.manner.unit == "inch" else ""
    words = (folder.build.title, f"version {folder.version}" if folder.version else "", folder.dated, legend)
    return press(folder.build.title, "  ·  ".join(word for word in words if word), size, sections, folder.fonts)


def drawings(folder: Folder, *, paper: str = "letter") -> dict[str, str]:
    """Every drawing of the packet as SVG in its true size, by name: piece, apart, card, sheet, step."""
    size = PAPERS[paper.lower()]
    found = {"piece": whole_piece(folder, size.room, size.high * 0.42).svg}
    for one in folder.build.assemblies:
        if sum(part.assembly == one.name for part in folder.build.parts) > 1:
            found[f"apart {one.name}"] = pulled_apart(folder, one.name, size.room, size.depth * 0.5).svg
    for letter in folder.letters:
        for side, drawn in card(folder, letter, size).drawings:
            found[f"card {letter} {side.value}"] = drawn.svg
    for cutting in folder.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            found[f"sheet {cutting.stock.name} {number}"] = sheet_map(folder, cutting, number, tree, size).svg
    for step in folder.order.steps:
        picture = step_picture(folder, step)
        if picture is not None:
            found[f"step {step.number}"] = picture.svg
    return found
