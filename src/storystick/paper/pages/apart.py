"""Pulled apart: each assembly drawn apart along its joints, and how its parts are held together."""

from collections.abc import Iterator

from storystick.paper.blocks import Block, Column, Figure, Heading, NewPage, Table
from storystick.paper.drawing.picture import pulled_apart
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A page for each assembly of more than one part."""
    first = True
    for one in folder.build.assemblies:
        parts = [part for part in folder.build.parts if part.assembly == one.name]
        if len(parts) < 2:
            continue
        if not first:
            yield NewPage()
        first = False
        yield Heading(one.name)
        yield Figure(pulled_apart(folder, one.name, paper.room, paper.depth * 0.5))
        rows: dict[tuple[str, str, str, str], None] = {}
        for joint in folder.build.joints:
            if folder.build.part(joint.guest).assembly == one.name:
                guest, host = (
                    f"{folder.letter_of[name]} {name.rpartition('.')[2]}" for name in (joint.guest, joint.host)
                )
                rows[guest, host, joint.called, ", ".join(joint.holds)] = None
        if rows:
            yield Table(
                (Column("part", 1.2), Column("goes to", 1.2), Column("joint", 1.2), Column("held by", 1.4)), tuple(rows)
            )


PAGE = Page("apart", 75, "Pulled apart", make)
