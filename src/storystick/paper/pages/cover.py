"""Cover: what it is, what it looks like, how big it is, what it is made of, what is in the packet."""

from collections import Counter
from collections.abc import Iterator

from storystick.paper.blocks import Block
from storystick.paper.drawing.picture import whole_piece
from storystick.paper.folder import Folder
from storystick.paper.forms import Cover
from storystick.paper.lettering import said
from storystick.paper.pages import Page
from storystick.paper.press import Paper


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """The cover's one block."""
    build = folder.build
    outer = [one for one in build.assemblies if not one.inside_of][:5]
    words = ("wide", "deep", "high")
    sizes = tuple(
        (
            one.name if len(outer) > 1 else "",
            tuple((said(s, build.manner), w) for s, w in zip(one.size, words, strict=True)),
        )
        for one in outer
    )
    counts = Counter(part.stock.name for part in build.parts)
    made = tuple(
        f"{stock.name}: {kind}{said(stock.thickness, build.manner)} thick{'' if stock.measured else ' as sold'}, "
        f"{counts[stock.name]} part{'s' if counts[stock.name] != 1 else ''}"
        for stock in build.stock
        if counts[stock.name]
        for kind in (f"{stock.material}, " if stock.material and stock.material != stock.name else "",)
    )
    dated = ", ".join(word for word in (f"Version {folder.version}" if folder.version else "", folder.dated) if word)
    picture = whole_piece(folder, paper.room, paper.high * (0.42 if len(outer) == 1 else 0.38))
    yield Cover(build.title, build.about, picture, sizes, made, dated)


PAGE = Page("cover", 10, "", make, waits=False)
