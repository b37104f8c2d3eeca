"""A sheet of drawing paper: pens, lettering, and the SVG of what was drawn.

Everything is in millimetres of paper, x to the right and y down. Lettering is sized in points and remembered as
boxes, so that what is placed later can keep clear of it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from storystick.paper.glyphs import CAP, DROP, FAMILY, POINT, Weight
from storystick.paper.lettering import RAISED, SMALL, STROKE, Vulgar, run_width, runs, set_width

type Spot = tuple[float, float]
type Anchor = Literal["start", "middle", "end"]
type Pen = Literal["outline", "edge", "fine", "pencil", "hidden", "dim", "cut", "new", "site", "none"]
type Tint = Literal["", "wood", "shade", "paper", "ink", "hatch"]

INK = "#1f1c19"
GREY = "#7b746b"
FAINT = "#b9b2a7"
RED = "#a8321c"
WOOD = "#f4ecdd"
SHADE = "#ded3c0"
PAPER = "#ffffff"

PENS: Mapping[Pen, tuple[str, float, str]] = {  # colour, width [mm], dashes [mm]
    "outline": (INK, 0.50, ""),
    "edge": (INK, 0.30, ""),
    "fine": (INK, 0.18, ""),
    "pencil": (GREY, 0.13, "0.7 0.7"),
    "hidden": (INK, 0.25, "1.6 0.9"),
    "dim": (INK, 0.18, ""),
    "cut": (RED, 0.55, ""),
    "new": (INK, 0.70, ""),
    "site": (FAINT, 0.22, ""),
    "none": ("none", 0.0, ""),
}
TINTS: Mapping[Tint, str] = {
    "": "none", "wood": WOOD, "shade": SHADE, "paper": PAPER, "ink": INK, "hatch": "url(#hatch)",
}  # fmt: skip
HATCH = (
    '<defs><pattern id="hatch" width="2.4" height="2.4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    f'<line x1="0" y1="0" x2="0" y2="2.4" stroke="{FAINT}" stroke-width="0.4"/></pattern></defs>'
)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the paper, and what is written in it."""

    left: float
    top: float
    right: float
    bottom: float
    says: str = ""
    points: float = 0.0

    def meets(self, other: "Box", gap: float = 0.0) -> bool:
        """True where the two overlap, or come nearer than `gap`."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )

    def within(self, other: "Box") -> bool:
        """True where it lies wholly inside."""
        return (
            self.left >= other.left - 1e-6
            and self.right <= other.right + 1e-6
            and self.top >= other.top - 1e-6
            and self.bottom <= other.bottom + 1e-6
        )


def around(middle: Spot, wide: float, high: float) -> Box:
    """A box about its middle."""
    return Box(middle[0] - wide / 2, middle[1] - high / 2, middle[0] + wide / 2, middle[1] + high / 2)


@dataclass(slots=True)
class Canvas:
    """A drawing in the making."""

    wide: float
    high: float
    marks: list[str] = field(default_factory=list)
    lettering: list[Box] = field(default_factory=list)
    left_out: int = 0

    def line(self, a: Spot, b: Spot, pen: Pen = "edge") -> None:
        """A straight line."""
        self.marks.append(f'<path d="M{_at(a)}L{_at(b)}"{_ink(pen)}/>')

    def run(self, points: Iterable[Spot], pen: Pen = "edge", tint: Tint = "", closed: bool = False) -> None:
        """A line through points; closed and filled where asked for."""
        path = "L".join(_at(point) for point in points)
        self.marks.append(f'<path d="M{path}{"Z" if closed else ""}"{_ink(pen, tint)}/>')

    def areas(self, rings: Iterable[Sequence[Spot]], tint: Tint) -> None:
        """Areas filled without a line round them; a ring inside another is a hole."""
        path = "".join("M" + "L".join(_at(point) for point in ring) + "Z" for ring in rings)
        if path:
            self.marks.append(f'<path d="{path}" fill-rule="evenodd"{_ink("none", tint)}/>')

    def blocks(self, blocks: Iterable[Box], tint: Tint = "ink") -> None:
        """Many rectangles filled as one, without a line round them."""
        path = "".join(f"M{_at((b.left, b.top))}H{_n(b.right)}V{_n(b.bottom)}H{_n(b.left)}Z" for b in blocks)
        if path:
            self.marks.append(f'<path d="{path}"{_ink("none", tint)}/>')

    def box(self, box: Box, pen: Pen = "edge", tint: Tint = "") -> None:
        """A rectangle."""
        size = f'width="{_n(box.right - box.left)}" height="{_n(box.bottom - box.top)}"'
        self.marks.append(f'<rect x="{_n(box.left)}" y="{_n(box.top)}" {size}{_ink(pen, tint)}/>')

    def pill(self, box: Box, pen: Pen = "edge", tint: Tint = "") -> None:
        """A rectangle with round ends."""
        radius = _n((box.bottom - box.top) / 2)
        size = f'width="{_n(box.right - box.left)}" height="{_n(box.bottom - box.top)}" rx="{radius}"'
        self.marks.append(f'<rect x="{_n(box.left)}" y="{_n(box.top)}" {size}{_ink(pen, tint)}/>')

    def ring(self, middle: Spot, radius: float, pen: Pen = "edge", tint: Tint = "") -> None:
        """A circle."""
        self.marks.append(f'<circle cx="{_n(middle[0])}" cy="{_n(middle[1])}" r="{_n(radius)}"{_ink(pen, tint)}/>')

    def curve(self, path: str, pen: Pen = "edge") -> None:
        """A curve given in SVG's own path words, in millimetres of paper."""
        self.marks.append(f'<path d="{path}"{_ink(pen)}/>')

    def arrow(self, tip: Spot, way: Spot, size: float = 2.2) -> None:
        """A slender arrowhead at `tip`, pointing along the unit vector `way`."""
        x, y = tip
        back = (x - way[0] * size, y - way[1] * size)
        aside = (-way[1] * size * 0.2, way[0] * size * 0.2)
        corners = (tip, (back[0] + aside[0], back[1] + aside[1]), (back[0] - aside[0], back[1] - aside[1]))
        self.run(corners, "none", "ink", closed=True)

    def text(
        self,
        at: Spot,
        text: str,
        points: float,
        anchor: Anchor = "start",
        weight: Weight = "regular",
        upright: bool = False,
        ground: bool = False,
        colour: str = INK,
        says: Mapping[str, str] | None = None,
    ) -> Box:
        """Lettering on the line that begins, has its middle or ends at `at`; `upright` reads from the right-hand side.

        `ground` clears the paper behind it. `says` becomes data- attributes, so that a number can be read back.
        """
        box = text_box(at, text, points, anchor, weight, upright)
        if ground:
            self.box(Box(box.left - 0.5, box.top - 0.3, box.right + 0.5, box.bottom + 0.1), "none", "paper")
        data = "".join(f" data-{key}={quoteattr(value)}" for key, value in (says or {}).items())
        turn = f' transform="rotate(-90 {_n(at[0])} {_n(at[1])})"' if upright else ""
        letters = "".join(_set(at, text, points, anchor, weight, colour))
        self.marks.append(f"<g{turn}{data}>{letters}</g>")
        self.lettering.append(box)
        return box

    def inside(self, frame: Box, marks: Iterable[str]) -> None:
        """Marks of another canvas, as far as they lie inside a frame."""
        size = f'width="{_n(frame.right - frame.left)}" height="{_n(frame.bottom - frame.top)}"'
        name = f"frame{len(self.marks)}"
        clip = f'<clipPath id="{name}"><rect x="{_n(frame.left)}" y="{_n(frame.top)}" {size}/></clipPath>'
        self.marks.append(f'{clip}<g clip-path="url(#{name})">{"".join(marks)}</g>')

    def is_free(self, box: Box, gap: float = 0.6) -> bool:
        """True where the box lies on the paper and on no lettering."""
        return box.within(Box(0, 0, self.wide, self.high)) and not any(
            box.meets(other, gap) for other in self.lettering
        )

    def svg(self, title: str) -> str:
        """The drawing as SVG, in its true size."""
        size = f'width="{_n(self.wide)}mm" height="{_n(self.high)}mm" viewBox="0 0 {_n(self.wide)} {_n(self.high)}"'
        head = f'<svg xmlns="http://www.w3.org/2000/svg" {size} font-family="{FAMILY}, sans-serif">'
        hatch = HATCH if any("#hatch" in mark for mark in self.marks) else ""
        return f"{head}<title>{escape(title)}</title>{hatch}{''.join(self.marks)}</svg>"


def text_box(
    at: Spot, text: str, points: float, anchor: Anchor = "start", weight: Weight = "regular", upright: bool = False
) -> Box:
    """The paper that a piece of lettering takes up."""
    x, y = at
    long = set_width(text, points, weight)
    before = {"start": 0.0, "middle": long / 2, "end": long}[anchor]
    top, below = (CAP + 0.06) * points * POINT, DROP * points * POINT
    if upright:
        return Box(x - top, y - (long - before), x + below, y + before, text, points)
    return Box(x - before, y - top, x + long - before, y + below, text, points)


def _set(at: Spot, text: str, points: float, anchor: Anchor, weight: Weight, colour: str) -> Iterable[str]:
    x, y = at
    long = set_width(text, points, weight)
    x -= {"start": 0.0, "middle": long / 2, "end": long}[anchor]
    for run in runs(text):
        if isinstance(run, Vulgar):
            wide = [run_width(run.upper, points * SMALL, weight), run_width(STROKE, points, weight)]
            yield _letters((x, y - RAISED * points * POINT), run.upper, points * SMALL, weight, colour)
            yield _letters((x + wide[0], y), STROKE, points, weight, colour)
            yield _letters((x + sum(wide), y), run.lower, points * SMALL, weight, colour)
        elif run.strip():
            yield _letters((x, y), run, points, weight, colour)
        x += run_width(run, points, weight)


_WEIGHTS: Mapping[Weight, str] = {"regular": "", "semibold": ' font-weight="600"', "light": ' font-weight="300"'}


def _letters(at: Spot, text: str, points: float, weight: Weight, colour: str) -> str:
    where = f'x="{_n(at[0])}" y="{_n(at[1])}" font-size="{_n(points * POINT)}"'
    return f'<text {where}{_WEIGHTS[weight]} fill="{colour}" xml:space="preserve">{escape(text)}</text>'


def _ink(pen: Pen, tint: Tint = "") -> str:
    colour, wide, dashes = PENS[pen]
    if pen == "none":
        return f' fill="{TINTS[tint]}"'
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    round_ends = ' stroke-linecap="round" stroke-linejoin="round"'
    return f' fill="{TINTS[tint]}" stroke="{colour}" stroke-width="{wide}"{dashed}{round_ends}'


def _at(point: Spot) -> str:
    return f"{_n(point[0])} {_n(point[1])}"


def _n(value: float) -> str:
    """A number for SVG: to a thousandth of a millimetre, without trailing zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
