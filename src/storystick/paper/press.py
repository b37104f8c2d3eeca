"""The press: pages as data in, a PDF out. The same pages make the same bytes, on any machine."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files

from storystick.ground.finding import Broken
from storystick.paper.blocks import Block, Data, Heading, Points, Table, Text, as_data, rich
from storystick.paper.glyphs import FAMILY, font_folder
from storystick.paper.typeset import Refusal, typeset


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper and its margins [mm]; the left one holds the stick and, in a folder, the punched holes."""

    name: str
    wide: float
    high: float
    left: float = 24.0
    right: float = 13.0

    @property
    def room(self) -> float:
        """Width between the margins [mm]."""
        return self.wide - self.left - self.right

    @property
    def depth(self) -> float:
        """Height between the margins, less the page's own heading [mm]."""
        return self.high - 34.0 - 18.0


PAPERS = {paper.name: paper for paper in (Paper("letter", 215.9, 279.4), Paper("a4", 210.0, 297.0))}


@dataclass(frozen=True, slots=True)
class Section:
    """One part of the packet: its heading and what is on its pages; one that `follows` may begin below the one before.
    """

    title: str
    blocks: tuple[Block, ...]
    follows: bool = False

    @property
    def is_plain(self) -> bool:
        """True where there is nothing in it but words and lists, which may be set closer."""
        return all(isinstance(block, Heading | Text | Points | Table) for block in self.blocks)


@dataclass(frozen=True, slots=True)
class Forme:
    """All that the press needs: the packet as JSON, and the folder of its typeface ("": the usual one)."""

    packet: str
    fonts: str = ""


def lock_up(title: str, foot: str, paper: Paper, sections: Sequence[Section], fonts: str) -> Forme:
    """Some sections made ready for the press."""
    packet: Data = {
        "title": rich(title), "foot": rich(foot), "wide": paper.wide, "high": paper.high, "left": paper.left,
        "right": paper.right,
        "sections": [
            {
                "title": rich(section.title), "blocks": as_data(section.blocks), "follows": section.follows,
                "plain": section.is_plain,
            }
            for section in sections
        ],
    }  # fmt: skip
    return Forme(json.dumps(packet, ensure_ascii=False), fonts)


def press(forme: Forme) -> bytes:
    """The PDF of what was made ready. Raises Broken when the press refuses what it was given."""
    try:
        return typeset(*plate(forme))
    except Refusal as refused:
        raise Broken(refused.says, list(refused.hints)) from refused


def plate(forme: Forme) -> tuple[str, str, str, str]:
    """All that `typeset` is given: the template, the packet, the folder of the typeface and its name."""
    template = files("storystick.paper").joinpath("template.typ").read_text("utf-8")
    return template, forme.packet, forme.fonts or font_folder(), FAMILY
