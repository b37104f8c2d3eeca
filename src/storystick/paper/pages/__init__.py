"""The shelf of pages: every module in this folder that has a `PAGE` is one. Adding a page is adding a file."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from storystick.ground.shelf import taken_from
from storystick.paper.blocks import Block
from storystick.paper.folder import Folder
from storystick.paper.press import Paper


@dataclass(frozen=True, slots=True)
class Page:
    """One part of the packet. `order` says where it comes; a page with nothing on it is left out.

    One that `follows` may begin below the end of the one before, where enough of the page is left. One that `waits` for
    nothing comes out the same before there are layouts, an order of work and findings.
    """

    name: str
    order: int
    title: str
    make: Callable[[Folder, Paper], Iterator[Block]]
    follows: bool = False
    waits: bool = True


@cache
def shelf() -> Mapping[str, Page]:
    """Every page by name, in the order in which they come in the packet."""
    found = taken_from(__path__, __name__, "PAGE", Page)
    return {page.name: page for page in sorted(found, key=lambda p: (p.order, p.name))}
