"""The packet as a PDF, and its drawings one by one."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from storystick.model.cut import Side
from storystick.paper.blocks import Block
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.picture import pulled_apart, whole_piece
from storystick.paper.drawing.section import draw_section
from storystick.paper.drawing.side import draw_side
from storystick.paper.drawing.sight import sides_to_draw
from storystick.paper.drawing.views import three_views
from storystick.paper.folder import Folder
from storystick.paper.lettering import legend
from storystick.paper.pages import shelf
from storystick.paper.pages.joints import HIGH, kinds_of
from storystick.paper.pages.sheets import sheet_map
from storystick.paper.pages.steps import step_picture
from storystick.paper.press import PAPERS, Forme, Paper, Section, lock_up, press


class Stopped(Exception):
    """The person asked to stop; nothing was made."""


def packet(
    folder: Folder,
    *,
    paper: str = "letter",
    pages: Sequence[str] | None = None,
    tell: Callable[[str, float], None] | None = None,
    stop: Callable[[], bool] | None = None,
    printed: Callable[[Forme], bytes] = press,
    drawn: Callable[[str], Sequence[Block] | None] = lambda name: None,
) -> bytes:
    """The packet that goes to the bench, as a PDF.

    paper  "letter" or "a4"
    pages  names of the pages wanted (see `shelf`), None for all; they come in the packet's own order
    tell   is given the title of each page before it is drawn, and the share of them that is done
    stop   is asked before each page; when it says True, Stopped is raised
    printed  the press that prints it: this one, or the same in another process
    drawn  gives what is on a page by its name where that was drawn before, by `draw_pages`

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
        blocks = drawn(page.name)
        blocks = tuple(page.make(folder, size) if blocks is None else blocks)
        if blocks:
            sections.append(Section(page.title, blocks, page.follows and len(sections) > 1))
    if tell is not None:
        tell("the press", len(wanted) / (len(wanted) + 1))
    rounding = legend(folder.build.manner)
    words = (folder.build.title, f"version {folder.version}" if folder.version else "", folder.dated, rounding)
    foot = "  ·  ".join(word for word in words if word)
    return printed(lock_up(folder.build.title, foot, size, sections, folder.fonts))


def draw_pages(
    folder: Folder, *, paper: str = "letter", pages: Sequence[str], tell: Callable[[str, float], None] | None = None
) -> dict[str, tuple[Block, ...]]:
    """What is on some pages, by their names, for `packet` to take. Raises KeyError where there is none of a name."""
    size, found = PAPERS[paper.lower()], {}
    for number, name in enumerate(pages):
        page = shelf()[name]
        if tell is not None:
            tell(page.title or page.name, number / len(pages))
        found[name] = tuple(page.make(folder, size))
    return found


def wait_for_nothing() -> tuple[str, ...]:
    """Names of the pages that can be drawn before there are layouts, an order of work and findings."""
    return tuple(name for name, page in shelf().items() if not page.waits)


def drawings(folder: Folder, *, paper: str = "letter", only: Sequence[str] | None = None) -> dict[str, str]:
    """Drawings of the packet as SVG in their true size, by name: piece, views, apart, joint, card, sheet, step.

    only  the names of those that are wanted, None for all; KeyError where there is none of that name
    """
    size = PAPERS[paper.lower()]
    makers = dict(_makers(folder, size))
    found = {name: makers[name]() for name in (makers if only is None else only)}
    return {name: drawn.svg for name, drawn in found.items() if drawn is not None}


def _makers(folder: Folder, size: Paper) -> Iterator[tuple[str, Callable[[], Drawn | None]]]:
    """Each drawing by name, with what makes it."""
    yield "piece", partial(whole_piece, folder, size.room, size.high * 0.42)
    yield "views", partial(three_views, folder, size.room, size.depth - 22.0)
    for one in folder.build.assemblies:
        if sum(part.assembly == one.name for part in folder.build.parts) > 1:
            yield f"apart {one.name}", partial(pulled_apart, folder, one.name, size.room, size.depth * 0.5)
    for alike in reversed(kinds_of(folder)):
        yield f"joint {alike[0].called}", partial(draw_section, folder, alike[0], (size.room - 6.0) / 2, HIGH)
    for letter, parts in folder.letters.items():
        for side in sides_to_draw(parts[0]):
            yield f"card {letter} {side.value}", partial(side_of_card, folder, letter, side, size)
    for cutting in folder.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            yield f"sheet {cutting.stock.name} {number}", partial(sheet_map, folder, cutting, number, tree, size)
    for step in folder.order.steps:
        yield f"step {step.number}", partial(step_picture, folder, step)


def side_of_card(folder: Folder, letter: str, side: Side, size: Paper) -> Drawn:
    """One side of a part, as large as its paper lets it be."""
    return draw_side(folder.letters[letter][0], side, folder.build.manner, size.room, size.depth / 2, letter)
