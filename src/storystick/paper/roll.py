"""Sticks and drilling strips on one long page for a plotter's roll: each in one piece, nothing to be glued together."""

from collections.abc import Callable
from dataclasses import replace

from storystick.paper.blocks import Block, Figure, Text
from storystick.paper.drawing.full_size import HEAD, LAP
from storystick.paper.drawing.stick import on_pages, stick_page
from storystick.paper.folder import Folder
from storystick.paper.pages.stick import of_openings, of_parts, of_the_piece
from storystick.paper.pages.templates import strips_of, worth_it
from storystick.paper.press import Forme, Paper, Section, lock_up, press

LONGEST = 4900.0
"""A strip longer than this goes on beside itself [mm]: a page of a PDF ends at 14,400 points (ISO 32000-1, annex C)."""
ROUND = 52.0  # of the page's own heading and foot [mm]


def roll_out(folder: Folder, wide: float, *, printed: Callable[[Forme], bytes] = press) -> bytes:
    """All sticks and drilling strips as a PDF of long pages, for a roll so wide [mm]."""
    across, up = (float(share) for share in folder.print_off)
    room = LONGEST * up
    strips = [*of_the_piece(folder, room), *of_openings(folder, room), *of_parts(folder, room)]
    strips += strips_of(folder, worth_it(folder), room)
    long = max((strip.end - strip.start for strip in strips), default=200.0) + HEAD + LAP + 8.0
    paper = Paper("roll", wide, long / up + ROUND)
    blocks: list[Block] = []
    for here in on_pages(strips, paper.room * across, long):
        drawn = stick_page(here, folder.build.manner, paper.room * across, long)
        blocks.append(Figure(replace(drawn, wide=paper.room, high=long / up)))
    section = Section("Sticks and strips, full size", tuple(blocks) or (Text("Nothing here wants a stick."),))
    return printed(lock_up(folder.build.title, folder.build.title, paper, [section], folder.fonts))
