"""A finished drawing."""

from dataclasses import dataclass

from storystick.paper.drawing.canvas import Box


@dataclass(frozen=True)
class Drawn:
    """A finished drawing: its SVG, what it shows in words, its scale, and the boxes of its lettering [mm]."""

    svg: str
    alt: str
    scale: float
    wide: float
    high: float
    lettering: tuple[Box, ...] = ()
    left_out: int = 0  # numbers that found no room, and stand in the table only
    crowded: bool = False  # its numbers take up far more room than what they measure
