"""Tools: what is needed, and what each is needed for."""

from collections.abc import Iterator

from storystick.model.work import Setup
from storystick.paper.blocks import Block, Column, Table, Tick
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A row for each tool."""
    if not folder.order.tools:
        return
    yield Table(
        (Column(""), Column("tool", 1.2), Column("what it is for", 2.0)),
        tuple((Tick(), *tool_and_use(folder, tool)) for tool in folder.order.tools),
        dense=True,
    )


def tool_and_use(folder: Folder, tool: str) -> tuple[str, str]:
    """A tool and what it is for; where its own words say that already, those."""
    name, _, use = tool.partition(": ")
    return (name, use) if use else (tool, uses(folder, tool))


def uses(folder: Folder, tool: str) -> str:
    """The steps that a tool is needed in, in the order of work."""
    found: dict[str, None] = {}
    for step in folder.order.steps:
        if tool in step.needs or any(belongs(setup, tool) for setup in step.setups):
            found[step.title] = None
    for way in folder.order.ways:
        if not found and any(belongs(setup, tool) for setup in way.setups):
            found[way.method] = None
    return "; ".join(found)


def belongs(setup: Setup, tool: str) -> bool:
    """True where a set-up is one of this tool."""
    return tool in (setup.machine, setup.tool) or (setup.machine != "" and tool.startswith(setup.machine))


PAGE = Page("tools", 40, "Tools", make)
