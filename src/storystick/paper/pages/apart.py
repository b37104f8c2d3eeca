"""Pulled apart: each assembly drawn apart along its joints, and how its parts are held together."""

from collections.abc import Iterator

from storystick.paper.blocks import Block, Column, Figure, Heading, Table, Whole
from storystick.paper.drawing.picture import pulled_apart
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.remarks import sentence
from storystick.paper.spoken import listed, spoken


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A picture and a table for each assembly of more than one part."""
    for one in folder.build.assemblies:
        if sum(part.assembly == one.name for part in folder.build.parts) < 2:
            continue
        picture = Figure(pulled_apart(folder, one.name, paper.room, paper.depth * HIGH))
        rows = rows_of(folder, one.name)
        table = (Table(COLUMNS, rows, dense=True),) if rows else ()
        yield Whole((Heading(sentence(spoken(one.name))[:-1]), picture, *table))


HIGH = 0.33  # of a picture, as a share of the page
COLUMNS = (Column("part", 1.1), Column("joint", 0.9), Column("goes to", 2.4), Column("held by", 1.1))


def rows_of(folder: Folder, assembly: str) -> tuple[tuple[str, ...], ...]:
    """A row for each part and kind of joint: which parts it goes to, by what it is held."""
    hosts: dict[tuple[str, str, str], list[str]] = {}
    for joint in folder.build.joints:
        if folder.build.part(joint.guest).assembly == assembly:
            guest, host = (f"{folder.letter_of[name]} {name.rpartition('.')[2]}" for name in (joint.guest, joint.host))
            hosts.setdefault((guest, joint.called, ", ".join(joint.holds)), []).append(host)
    return tuple((guest, called, listed(others), holds) for (guest, called, holds), others in hosts.items())


PAGE = Page("apart", 75, "Pulled apart", make, follows=True)
