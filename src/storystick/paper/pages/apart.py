"""Pulled apart: each assembly drawn apart along its joints, and how its parts are held together."""

from collections.abc import Iterator

from storystick.paper.blocks import Block, Column, Figure, Heading, Row, Table, Text, Whole
from storystick.paper.drawing.picture import pulled_apart
from storystick.paper.drawing.triangle import sets_of, triangle
from storystick.paper.folder import Folder
from storystick.paper.pages import Page
from storystick.paper.pages.joints import HOLDS
from storystick.paper.press import Paper
from storystick.paper.remarks import sentence
from storystick.paper.spoken import listed, spoken

WORDS = (
    "The number before a part is that of the joint; both parts have it on their labels. Draw each triangle across the "
    "boards of its set as soon as they are sawn, edges toward you: it closes only when every board is in its place."
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """A picture, the triangles and a table for each assembly of more than one part."""
    first = True
    for one in folder.build.assemblies:
        if sum(part.assembly == one.name for part in folder.build.parts) < 2:
            continue
        rows = rows_of(folder, one.name)
        table = (Table(COLUMNS, rows, dense=True),) if rows else ()
        heading = Heading(sentence(spoken(one.name))[:-1])
        words = (Text(WORDS, "quiet"),) if first else ()  # on the page of the first picture, never alone
        yield Whole((*words, heading, *pictures(folder, one.name, paper), *table), first)
        first = False


def pictures(folder: Folder, assembly: str, paper: Paper) -> Iterator[Block]:
    """The assembly pulled apart, and beside it the sets of its boards that are marked together."""
    sets = sets_of(folder, assembly)[:MOST]
    wide = paper.room - BESIDE if sets else paper.room
    picture = Figure(pulled_apart(folder, assembly, wide, paper.depth * HIGH))
    if not sets:
        yield picture
        return
    beside = Whole(tuple(Figure(triangle(one), one.says) for one in sets))
    yield Row((picture, beside), (wide, BESIDE - 6.0))


BESIDE = 46.0  # of the page's width, for the triangles [mm]
MOST = 3  # triangles beside a picture
HIGH = 0.33  # of a picture, as a share of the page
NO_BREAK = "\N{NO-BREAK SPACE}"
COLUMNS = (Column("part", 1.1), Column("joint", 0.9), Column("goes to", 2.4), Column("held by", 1.1))


def rows_of(folder: Folder, assembly: str) -> tuple[tuple[str, ...], ...]:
    """A row for each part and kind of joint: which parts it goes to, with the joints' numbers, by what it is held."""
    hosts: dict[tuple[str, str, str], list[str]] = {}
    for joint in folder.build.joints:
        if folder.build.part(joint.guest).assembly == assembly:
            guest, host = (f"{folder.letter_of[name]} {name.rpartition('.')[2]}" for name in (joint.guest, joint.host))
            numbered = f"{folder.joint_numbers[joint.name]}: {host}".replace(" ", NO_BREAK)
            held = listed(HOLDS.get(word, word) for word in joint.holds) if joint.holds else ""
            hosts.setdefault((guest, joint.called, held), []).append(numbered)
    return tuple((guest, called, "; ".join(others), holds) for (guest, called, holds), others in hosts.items())


PAGE = Page("apart", 72, "Pulled apart", make, follows=True, waits=False)
