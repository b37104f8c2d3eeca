"""The press: pages as data in, a PDF out. The same pages make the same bytes, on any machine."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files
from typing import Literal

from storystick.ground.finding import Broken
from storystick.paper.blocks import Block, Data, as_data, rich
from storystick.paper.glyphs import FAMILY, font_folder

ACCESSIBLE: Literal["ua-1"] = "ua-1"  # PDF/UA-1, ISO 14289-1: tagged, titled, every picture told in words


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
            {"title": rich(section.title), "blocks": as_data(section.blocks), "follows": section.follows}
            for section in sections
        ],
    }  # fmt: skip
    return Forme(json.dumps(packet, ensure_ascii=False), fonts)


def press(forme: Forme) -> bytes:
    """The PDF of what was made ready. Raises Broken when the press refuses what it was given."""
    import typst

    fonts = forme.fonts
    typeface = typst.Fonts(include_system_fonts=False, font_paths=[fonts or font_folder()])
    if FAMILY not in typeface.families():
        raise Broken(f"the typeface {FAMILY} is not in {fonts or font_folder()}")
    template = files("storystick.paper").joinpath("template.typ").read_bytes()
    try:
        pdf = typst.compile(
            template,
            font_paths=typeface,
            ignore_system_fonts=True,
            sys_inputs={"packet": forme.packet},
            format="pdf",
            pdf_standards=[ACCESSIBLE],
            timestamp=0,
        )
    except typst.TypstError as refused:
        raise Broken("the press refused a page", [refused.diagnostic, *refused.hints]) from refused
    if not isinstance(pdf, bytes):
        raise Broken("the press gave no single file")
    return pdf
